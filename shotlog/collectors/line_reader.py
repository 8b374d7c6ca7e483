"""What a printed line says: a shot, nothing, or something to be rejected. Pure; nothing is read here.

A printed line carries no checksum: whatever looks damaged is rejected whole, by name and with its bytes, instead of
being half believed.
"""

import re
import unicodedata
from collections.abc import Mapping
from decimal import Decimal

from shotlog.channels import CHANNELS
from shotlog.collectors.lines import Doubt, Line, LineFormat, Rejection, number, unread
from shotlog.collectors.set_points import set_points_of

__all__ = ["LineReader"]

# What a printer port sends around lines: NUL of a break, start of text, flow control.
_AROUND = b"\x00\x01\x02\x04\x11\x13"


class _Reject(Exception):
    def __init__(self, kind: str, detail: str) -> None:
        super().__init__(detail)
        self.kind, self.detail = kind, detail


class LineReader:
    """Reads lines of one format.

    State: the columns by the last header, the number of fields seen, the header lines seen. What stands where a
    set-point does never decides whether a line is taken: it is read from it, or said not to be.
    """

    def __init__(self, form: LineFormat) -> None:
        self._form = form
        self._columns: dict[str, int] | None = None if form.by_header else {}
        self._set_columns: dict[str, int] = {}
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
        fields |= {f"set-point {each.name}": each.place for each in self._form.set_points}
        at = {name: field if isinstance(field, int) else self._number(field) for name, field in fields.items()}
        return {number: name for name, number in at.items() if number is not None}

    def _number(self, header: str) -> int | None:
        columns = (self._columns or {}) | self._set_columns
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
        self._notice_set_points(fields)
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
        settings = {each.name: groups.get(each.name) for each in self._form.set_points}
        return self._line(_count(groups["shot_counter"]), groups, settings, raw)

    def _by_fields(self, text: str, fields: list[str], raw: bytes) -> Line | None:
        counter = self._field(self._form.counter, fields)
        tokens = {name: self._field(field, fields) for name, (field, _) in self._form.channels.items()}
        if counter is not None and not any(c.isdigit() for c in counter) and not any(map(_has_number, tokens.values())):
            self._pass_header(fields)
            return None
        short = [name for name, token in {"shot_counter": counter, **tokens}.items() if token is None]
        if short:
            raise _Reject("field count", f"has {_fields(len(fields))}, too few for {', '.join(short)}")
        count = _count(counter or "")
        self._check_length(len(fields))
        settings = {each.name: self._setting(each.place, fields) for each in self._form.set_points}
        return self._line(count, {name: token or "" for name, token in tokens.items()}, settings, raw)

    def _field(self, field: int | str, fields: list[str]) -> str | None:
        at = field - 1 if isinstance(field, int) else (self._columns or {})[field]
        return fields[at] if at < len(fields) else None

    def _setting(self, field: int | str, fields: list[str]) -> str | None:
        at = field - 1 if isinstance(field, int) else self._set_columns.get(field, len(fields))
        return fields[at] if at < len(fields) else None

    def _notice_set_points(self, fields: list[str]) -> None:
        """Take from a header where the set-points stand that are found by its text."""
        names = self._form.set_names
        if any(name in fields for name in names):
            self._set_columns = {name: fields.index(name) for name in names if fields.count(name) == 1}

    def _check_length(self, n_fields: int) -> None:
        if self._n_fields is None:
            self._n_fields = n_fields if self._learning else None
        elif n_fields == self._n_fields or n_fields == self._rival:
            self._n_fields, self._rival, self._agreed = n_fields, None, True
        else:
            if not self._agreed:
                # One line against one: either may be the damaged one, so a third decides.
                self._rival = n_fields
            raise _Reject("field count", f"has {_fields(n_fields)}, expected {self._n_fields}")

    def _line(self, counter: int, tokens: Mapping[str, str], settings: Mapping[str, str | None], raw: bytes) -> Line:
        values: dict[str, float] = {}
        doubts: list[Doubt] = []
        for name, (_, scaling) in self._form.channels.items():
            try:
                written = number(tokens[name], self._form.decimal)
            except ValueError as error:
                raise _Reject("no number", f"{name}: {error}") from error
            if written is None:
                doubts.append(Doubt(name, unread(tokens[name]), _came_as(name, tokens[name])))
                continue
            value = scaling.value(written)
            if scaling.believable(value):
                values[name] = value
            else:
                low, high, unit = scaling.channel.low, scaling.channel.high, scaling.channel.unit
                detail = f"{name} is {value:g} {unit}, allowed: {low:g} to {high:g} {unit}, printed {tokens[name]!r}"
                doubts.append(Doubt(name, "range", detail))
        self._headers_known = bool(self._headers)
        found, untaken = set_points_of(
            self._form.set_points, lambda one: _written(settings[one.name], one.is_text, self._form.decimal)
        )
        return Line(counter, values, raw, tuple(doubts), found, tuple(untaken))

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


def _fields(n: int) -> str:
    return f"{n} field" if n == 1 else f"{n} fields"


def _came_as(channel: str, token: str) -> str:
    what = CHANNELS[channel].label.lower()
    return f"{what} came as {token.strip()!r}" if token.strip() else f"{what} came as a blank"


def _written(token: str | None, is_text: bool, decimal: str) -> Decimal | str:
    """Return what is written where a set-point stands.

    Raises
    ------
    ValueError
        Nothing that can be taken is.
    """
    if token is None:
        raise ValueError("the line has no such field")
    if is_text:
        return token
    written = number(token, decimal)
    if written is None:
        raise ValueError(f"it came as {token.strip()!r}" if token.strip() else "it came as a blank")
    return written


def _has_number(token: str | None) -> bool:
    return token is not None and any(c.isdigit() for c in token)


def _count(token: str) -> int:
    if not re.fullmatch(r"[0-9]{1,18}", token.strip()):
        raise _Reject("no counter", f"the shot counter reads {token.strip()!r}, allowed: digits")
    return int(token)
