"""From the bytes of a serial line to lines, and how a press writes them. Pure; nothing is read here.

Bytes come in pieces that have nothing to do with lines, seconds apart if need be, so lines are put together here and
nowhere else. What a line says is worked out in `line_reader`.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from shotlog.collectors.scaling import Scaling
from shotlog.collectors.set_points import ChosenSetPoint, Untaken
from shotlog.records import SetPoint

__all__ = ["Doubt", "Line", "LineFormat", "LineSplitter", "Piece", "Rejection", "number", "unread"]

# A form feed, a vertical tab or an end-of-text mark ends a line as well as CR and LF do; empty lines are dropped, so
# that CR LF is one end and not two.
_ENDS = re.compile(rb"[\r\n\f\v\x03]")
_TOLD_BYTES = 1 << 20


@dataclass(frozen=True, slots=True)
class Piece:
    """The bytes of one line without its end; not `whole` if it ran over the longest length and was given up.

    `dropped`: how many bytes of a line given up before came since and were dropped; such a piece has none itself.
    """

    raw: bytes
    whole: bool = True
    dropped: int = 0


class LineSplitter:
    """Puts lines together from chunks. Gives the same lines however the bytes are cut into chunks.

    State: the unfinished line, at most `longest` bytes, and how many were dropped since.
    """

    def __init__(self, longest: int = 1024) -> None:
        self._longest = longest
        self._rest = bytearray()
        self._giving_up = False
        self._dropped = 0

    def feed(self, chunk: bytes) -> list[Piece]:
        """Take bytes and return the lines they finish. The tail of an overlong line is dropped up to its end.

        A tail without an end is told of every megabyte.
        """
        pieces: list[Piece] = []
        parts = _ENDS.split(chunk)
        for n, part in enumerate(parts):
            if self._giving_up:
                self._dropped += len(part)
            else:
                self._rest += part
                if len(self._rest) > self._longest:
                    pieces.append(Piece(bytes(self._rest[: self._longest]), whole=False))
                    self._dropped = len(self._rest) - self._longest
                    self._rest.clear()
                    self._giving_up = True
            while self._dropped >= _TOLD_BYTES:
                pieces.append(Piece(b"", whole=False, dropped=_TOLD_BYTES))
                self._dropped -= _TOLD_BYTES
            if n < len(parts) - 1:
                if self._rest:
                    pieces.append(Piece(bytes(self._rest)))
                self._rest.clear()
                self._giving_up, self._dropped = False, 0
        return pieces

    def rest(self) -> bytes:
        """Hand over the unfinished line and start afresh."""
        rest = bytes(self._rest)
        self._rest.clear()
        self._giving_up, self._dropped = False, 0
        return rest


_GROUPS = {",": "[.' ]", ".": "[,' ]"}
_NUMBERS = {
    mark: re.compile(rf"([+-]?) *((?:[0-9]+|[1-9][0-9]{{0,2}}(?:{groups}[0-9]{{3}})+)?)(?:{re.escape(mark)}([0-9]*))?")
    for mark, groups in _GROUPS.items()
}
_ENDLESS = re.compile(r"[+-]?(inf|infinity|nan|[0-9.]*#(inf|ind|nan))", re.IGNORECASE)
_CODE = re.compile(r"[A-Za-z]{2,}[ -]?[0-9]{1,3}")
_NOT_MEASURED = re.compile(rf"[!-/:-~ ]{{0,16}}|[<>] *[+-]?[0-9.,]+|{_CODE.pattern}")


def number(token: str, decimal: str) -> Decimal | None:
    """Return the number written in `token`; None where it says "not measured": no digit, ``>999``, ``inf``, ``ERR 5``.

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
    if _NOT_MEASURED.fullmatch(text) or _ENDLESS.fullmatch(text):
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
    `pattern`, the name of the group; each of `set_points` has it as its place. `n_fields` is the expected number of
    fields, None to take it from the lines.
    """

    counter: int | str
    channels: Mapping[str, tuple[int | str, Scaling]]
    delimiter: str = ";"
    decimal: str = "."
    skip: re.Pattern[str] | None = None
    pattern: re.Pattern[str] | None = None
    n_fields: int | None = None
    encoding: str = "latin-1"
    set_points: tuple[ChosenSetPoint[int | str], ...] = ()

    @property
    def by_header(self) -> bool:
        """Whether fields are found by the text of a header line."""
        return self.pattern is None and any(isinstance(each, str) for each in self._fields)

    @property
    def last_field(self) -> int:
        """The highest field number in use; 0 where none is given by number."""
        used = (*self._fields, *(each.place for each in self.set_points))
        return max((one for one in used if isinstance(one, int)), default=0)

    @property
    def set_names(self) -> list[str]:
        """The header texts that set-points stand under; a shot is taken without them."""
        return [] if self.pattern else [each.place for each in self.set_points if isinstance(each.place, str)]

    @property
    def _fields(self) -> list[int | str]:
        return [self.counter, *(field for field, _ in self.channels.values())]

    def split(self, text: str) -> list[str]:
        """Return the fields of a line without blanks around them; a blank as delimiter means any run of blanks."""
        return text.split() if self.delimiter == " " else [field.strip() for field in text.split(self.delimiter)]

    def header_names(self) -> list[str]:
        """Return the header texts that are looked for."""
        return [field for field in self._fields if isinstance(field, str)]


def unread(token: str) -> str:
    """Return in one word how a field that holds no number is written, for counting.

    Examples
    --------
    >>> [unread(token) for token in ("", " -- ", ">999", "+inf", "****", "ERR")]
    ['blank', 'dashes', 'beyond', 'infinite', 'marks', 'text']
    """
    text = token.strip()
    if not text:
        return "blank"
    if text[0] in "<>":
        return "beyond"
    if _ENDLESS.fullmatch(text):
        return "infinite"
    if any(c.isalpha() for c in text):
        return "text"
    return "marks" if text.strip("-._= ") else "dashes"


@dataclass(frozen=True, slots=True)
class Doubt:
    """Why a channel has no value in a line: `how` it was written or that it is out of ``range``, and more of it."""

    channel: str
    how: str
    detail: str

    @property
    def kind(self) -> str:
        """The kind of the fault: a channel at a time, so that each is counted for itself."""
        return f"{self.channel} {self.how}"


@dataclass(frozen=True, slots=True)
class Line:
    """A line of a shot: the counter as printed, each channel that was measured, and why others were not.

    `set_points`: each that could be taken; `untaken`: why each other could not.
    """

    counter: int
    values: Mapping[str, float]
    raw: bytes
    doubts: tuple[Doubt, ...] = ()
    set_points: Mapping[str, SetPoint] = field(default_factory=dict)
    untaken: tuple[Untaken, ...] = ()


@dataclass(frozen=True, slots=True)
class Rejection:
    """Why a line was not taken; `kind` counts, `raw` holds its bytes."""

    kind: str
    detail: str
    raw: bytes
