"""From the bytes of a serial line to lines, and from a line to a counter and values. Pure; nothing is read here.

Bytes come in pieces that have nothing to do with lines, seconds apart if need be, so lines are put together here and
nowhere else. A printed line carries no checksum: whatever looks damaged is rejected whole, by name and with its
bytes, instead of being half believed.
"""

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from shotlog.collectors.scaling import Scaling

__all__ = ["Line", "LineFormat", "LineReader", "LineSplitter", "Piece", "Rejection", "number"]

# A form feed, a vertical tab or an end-of-text mark ends a line as well as CR and LF do; empty lines are dropped, so
# that CR LF is one end and not two.
_ENDS = re.compile(rb"[\r\n\f\v\x03]")
# What a printer port sends around lines: NUL of a break, start of text, flow control.
_AROUND = b"\x00\x01\x02\x04\x11\x13"


@dataclass(frozen=True, slots=True)
class Piece:
    """The bytes of one line without its end; not `whole` if it ran over the longest length and was given up."""

    raw: bytes
    whole: bool = True


class LineSplitter:
    """Puts lines together from chunks. Gives the same lines however the bytes are cut into chunks.

    State: the unfinished line, at most `longest` bytes.
    """

    def __init__(self, longest: int = 1024) -> None:
        self._longest = longest
        self._rest = bytearray()
        self._giving_up = False

    def feed(self, chunk: bytes) -> list[Piece]:
        """Take bytes and return the lines they finish. The tail of an overlong line is dropped up to its end."""
        pieces: list[Piece] = []
        parts = _ENDS.split(chunk)
        for n, part in enumerate(parts):
            if not self._giving_up:
                self._rest += part
                if len(self._rest) > self._longest:
                    pieces.append(Piece(bytes(self._rest[: self._longest]), whole=False))
                    self._rest.clear()
                    self._giving_up = True
            if n < len(parts) - 1:
                if self._rest:
                    pieces.append(Piece(bytes(self._rest)))
                self._rest.clear()
                self._giving_up = False
        return pieces

    def rest(self) -> bytes:
        """Hand over the unfinished line and start afresh."""
        rest = bytes(self._rest)
        self._rest.clear()
        self._giving_up = False
        return rest


_GROUPS = {",": "[.' ]", ".": "[,' ]"}
_NUMBERS = {
    mark: re.compile(rf"([+-]?) *((?:[0-9]+|[1-9][0-9]{{0,2}}(?:{groups}[0-9]{{3}})+)?)(?:{re.escape(mark)}([0-9]*))?")
    for mark, groups in _GROUPS.items()
}
_NOT_MEASURED = re.compile(r"[!-/:-~ ]{0,16}|[<>] *[+-]?[0-9.,]+")


def number(token: str, decimal: str) -> Decimal | None:
    """Return the number written in `token`; None where it says "not measured": empty, ``----``, ``>999``, no digit.

    `decimal` is the decimal mark; thousands may be set apart by the other mark, a blank or an apostrophe.

    Raises
    ------
    ValueError
        It holds digits and is no number.

    Examples
    --------
    >>> number("1.234,5", ","), number("-0,02", ","), number("****", ",")
    (Decimal('1234.5'), Decimal('-0.02'), None)
    """
    text = token.strip()
    if _NOT_MEASURED.fullmatch(text):
        return None
    found = _NUMBERS[decimal].fullmatch(text)
    if found is None or not (found[2] or found[3]):
        raise ValueError(f"{text!r} is no number with decimal mark {decimal!r}")
    whole = re.sub(r"[^0-9]", "", found[2])
    return Decimal(f"{found[1]}{whole or '0'}.{found[3] or '0'}")


@dataclass(frozen=True, slots=True)
class LineFormat:
    """How a press writes its lines.

    `counter` and `channels` give for each quantity its field: a number counting from 1, the header's text, or, with a
    `pattern`, the name of the group. `n_fields` is the expected number of fields, None to take it from the lines.
    """

    counter: int | str
    channels: Mapping[str, tuple[int | str, Scaling]]
    delimiter: str = ";"
    decimal: str = "."
    skip: re.Pattern[str] | None = None
    pattern: re.Pattern[str] | None = None
    n_fields: int | None = None
    encoding: str = "latin-1"

    @property
    def by_header(self) -> bool:
        """Whether fields are found by the text of a header line."""
        return self.pattern is None and any(isinstance(each, str) for each in self._fields)

    @property
    def last_field(self) -> int:
        """The highest field number in use; 0 where none is given by number."""
        return max((field for field in self._fields if isinstance(field, int)), default=0)

    @property
    def _fields(self) -> list[int | str]:
        return [self.counter, *(field for field, _ in self.channels.values())]

    def split(self, text: str) -> list[str]:
        """Return the fields of a line without blanks around them; a blank as delimiter means any run of blanks."""
        return text.split() if self.delimiter == " " else [field.strip() for field in text.split(self.delimiter)]

    def header_names(self) -> list[str]:
        """Return the header texts that are looked for."""
        return [field for field in self._fields if isinstance(field, str)]


@dataclass(frozen=True, slots=True)
class Line:
    """A line of a shot: the counter as printed, each channel that was measured, and what was out of range."""

    counter: int
    values: Mapping[str, float]
    raw: bytes
    out_of_range: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Rejection:
    """Why a line was not taken; `kind` counts, `raw` holds its bytes."""

    kind: str
    detail: str
    raw: bytes


class _Reject(Exception):
    def __init__(self, kind: str, detail: str) -> None:
        super().__init__(detail)
        self.kind, self.detail = kind, detail


class LineReader:
    """Reads lines of one format.

    State: the columns by the last header, the number of fields seen, the header lines seen.
    """

    def __init__(self, form: LineFormat) -> None:
        self._form = form
        self._columns: dict[str, int] | None = None if form.by_header else {}
        self._n_fields = form.n_fields
        self._agreed = form.n_fields is not None
        self._rival: int | None = None
        self._headers: set[tuple[str, ...]] = set()
        self._headers_known = False
        self._learning = True

    def named_fields(self) -> dict[int, str]:
        """Return what each field is taken for, by its number from 1; fewer before the header they are found by."""
        fields = {name: field for name, (field, _) in self._form.channels.items()} | {
            "shot_counter": self._form.counter
        }
        at = {name: field if isinstance(field, int) else self._number(field) for name, field in fields.items()}
        return {number: name for name, number in at.items() if number is not None}

    def _number(self, header: str) -> int | None:
        columns = self._columns or {}
        return columns[header] + 1 if header in columns else None

    def read(self, raw: bytes, may_be_cut: bool = False) -> Line | Rejection | None:
        """Return what a line says; None for one that says nothing: blank, skipped, header, ruler.

        From a line that may be cut nothing is learnt about how long the others should be.
        """
        self._learning = not may_be_cut
        try:
            return self._read(raw)
        except _Reject as reject:
            return Rejection(reject.kind, reject.detail, raw)

    def _read(self, raw: bytes) -> Line | None:
        text = raw.strip(_AROUND).decode(self._form.encoding, errors="replace")
        if not text.strip() or (self._form.skip is not None and self._form.skip.search(text)):
            return None
        odd = next((c for c in text if c == "\ufffd" or (unicodedata.category(c) == "Cc" and c != "\t")), None)
        if odd is not None:
            raise _Reject("damaged", f"holds a byte that is no {self._form.encoding} text")
        if self._form.pattern is not None:
            return self._by_pattern(text, raw)
        fields = self._form.split(text)
        if self._form.by_header and self._takes_header(fields):
            return None
        if not any(c.isdigit() for c in text):
            self._pass_header(fields)
            return None
        if self._columns is None:
            raise _Reject("no header", f"no header line with {', '.join(self._form.header_names())} was seen yet")
        return self._by_fields(text, fields, raw)

    def _by_pattern(self, text: str, raw: bytes) -> Line | None:
        found = self._form.pattern.search(text) if self._form.pattern is not None else None
        if found is None:
            if not any(c.isdigit() for c in text):
                return None
            raise _Reject("no match", "does not match the pattern")
        groups = {name: value or "" for name, value in found.groupdict().items()}
        return self._line(_count(groups["shot_counter"]), groups, raw)

    def _by_fields(self, text: str, fields: list[str], raw: bytes) -> Line | None:
        counter = self._field(self._form.counter, fields)
        tokens = {name: self._field(field, fields) for name, (field, _) in self._form.channels.items()}
        if counter is not None and not any(c.isdigit() for c in counter) and not any(map(_has_number, tokens.values())):
            self._pass_header(fields)
            return None
        short = [name for name, token in {"shot_counter": counter, **tokens}.items() if token is None]
        if short:
            raise _Reject("field count", f"has {len(fields)} fields, too few for {', '.join(short)}")
        count = _count(counter or "")
        self._check_length(len(fields))
        return self._line(count, {name: token or "" for name, token in tokens.items()}, raw)

    def _field(self, field: int | str, fields: list[str]) -> str | None:
        at = field - 1 if isinstance(field, int) else (self._columns or {})[field]
        return fields[at] if at < len(fields) else None

    def _check_length(self, n_fields: int) -> None:
        if self._n_fields is None:
            self._n_fields = n_fields if self._learning else None
        elif n_fields == self._n_fields or n_fields == self._rival:
            self._n_fields, self._rival, self._agreed = n_fields, None, True
        else:
            if not self._agreed:
                # One line against one: either may be the damaged one, so a third decides.
                self._rival = n_fields
            raise _Reject("field count", f"has {n_fields} fields, expected {self._n_fields}")

    def _line(self, counter: int, tokens: Mapping[str, str], raw: bytes) -> Line:
        values: dict[str, float] = {}
        beyond: list[str] = []
        for name, (_, scaling) in self._form.channels.items():
            try:
                written = number(tokens[name], self._form.decimal)
            except ValueError as error:
                raise _Reject("no number", f"{name}: {error}") from error
            if written is None:
                continue
            value = scaling.value(written)
            if scaling.believable(value):
                values[name] = value
            else:
                low, high, unit = scaling.channel.low, scaling.channel.high, scaling.channel.unit
                beyond.append(
                    f"{name} is {value:g} {unit}, allowed: {low:g} to {high:g} {unit}, printed {tokens[name]!r}"
                )
        self._headers_known = bool(self._headers)
        return Line(counter, values, raw, tuple(beyond))

    def _pass_header(self, fields: list[str]) -> None:
        """Pass over a line of words, unless it is a header unlike those before the first shot under a header."""
        if self._form.by_header or self._n_fields not in (None, len(fields)):
            return
        new = tuple(fields) not in self._headers
        self._headers.add(tuple(fields))
        if new and self._headers_known and any(c.isalpha() for field in fields for c in field):
            raise _Reject("header changed", "a header line not seen before: have the columns changed?")

    def _takes_header(self, fields: list[str]) -> bool:
        names = self._form.header_names()
        if not any(name in fields for name in names) or (
            isinstance(self._form.counter, str) and self._form.counter not in fields
        ):
            return False
        wrong = [name for name in names if fields.count(name) != 1]
        if wrong:
            self._columns = None
            raise _Reject("header changed", f"the header does not show once: {', '.join(wrong)}")
        before, self._columns = self._columns, {name: fields.index(name) for name in names}
        if self._form.n_fields is None:
            self._n_fields, self._rival, self._agreed = len(fields), None, True
        if before is not None and before != self._columns:
            raise _Reject("header changed", "columns moved; fields are taken by the new header from here on")
        return True


def _has_number(token: str | None) -> bool:
    return token is not None and any(c.isdigit() for c in token)


def _count(token: str) -> int:
    if not re.fullmatch(r"[0-9]{1,18}", token.strip()):
        raise _Reject("no counter", f"the shot counter reads {token.strip()!r}, allowed: digits")
    return int(token)
