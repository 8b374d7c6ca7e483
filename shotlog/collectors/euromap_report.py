"""What a line of a report says: a header, a shot, or nothing that can be taken. Pure; nothing is read here.

Values are found by the names in the header, which may come in another order than they were asked for, and may change in
the middle of a report. ``?`` stands for a value that the press could not read: it is absent, and said once until the
value is there again.
"""

import re
import unicodedata
from codecs import BOM_UTF8
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal

from shotlog.collectors.euromap_rows import fields_of, is_absent, token_key
from shotlog.collectors.lines import Doubt, Line, Rejection
from shotlog.collectors.scaling import Scaling
from shotlog.collectors.set_points import ChosenSetPoint, Raw, Untaken, set_points_of
from shotlog.records import SetPoint

__all__ = ["ReportReader", "ReportRow", "SetToken", "TokenMap", "moment_of"]

SetToken = ChosenSetPoint[str]
"""A set-point that is found under a token."""

_NUMBER = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?")
_NO_HEADER = (
    "came before any line of names: order the report anew, or give its names in their order, "
    'header = "DATE,TIME,..." (passive way)'
)
_COUNT = re.compile(r"([0-9]{1,18})(?:\.0*)?")


@dataclass(frozen=True, slots=True)
class TokenMap:
    """The tokens that are read: of the shot counter, of each channel with what its number means, of each set-point.

    `units`: those that the press tells, by the key of a token.
    """

    counter: str
    channels: Mapping[str, tuple[str, Scaling]]
    set_points: Sequence[SetToken] = ()
    units: Mapping[str, str] = field(default_factory=dict)

    @property
    def tokens(self) -> list[str]:
        """Every token that is asked for, once, as it is spelt."""
        named = ["DATE", "TIME", self.counter, *(token for token, _ in self.channels.values())]
        named += [each.place for each in self.set_points]
        return list({token_key(token): token for token in reversed(named)}.values())[::-1]


@dataclass(frozen=True, slots=True)
class ReportRow:
    """A line of a shot; `moment`: date and time as the press has them, without a zone; `fields`: by a token's key."""

    line: Line
    moment: datetime | None
    fields: Mapping[str, str] = field(default_factory=dict)


class ReportReader:
    """Reads the lines of a press's reports. State: the columns by the last header, and which values are absent now."""

    def __init__(self, tokens: TokenMap, encoding: str) -> None:
        self.map, self.encoding = tokens, encoding
        self.columns: list[str] | None = None
        """The keys of the columns, in their order; None before a header was seen."""
        self.notes: list[tuple[str, str]] = []
        """What is to be said of a header: kind and detail, for whoever reads to take away."""
        self._absent: set[str] = set()
        self._wanted = {token_key(token) for token in tokens.tokens}

    @property
    def lacks_counter(self) -> bool:
        """Whether the report has columns, and none of them is the shot counter."""
        return self.columns is not None and token_key(self.map.counter) not in self.columns

    def begin_with(self, names: Sequence[str]) -> None:
        """Take these for the columns as long as no header says any."""
        if self.columns is None and names:
            self.columns = [token_key(name) for name in names]

    def twin(self) -> "ReportReader":
        """Return one that reads as this one does now, for lines that are only looked at."""
        twin = ReportReader(self.map, self.encoding)
        twin.columns = self.columns
        return twin

    def read(self, raw: bytes, is_cut: bool = False) -> ReportRow | Rejection | None:
        """Return what a line says; None for a header or a blank line; `is_cut`: its last field may go on."""
        text = raw.removeprefix(BOM_UTF8).decode(self.encoding, errors="replace").strip("\x1a\ufeff")
        if not text.strip():
            return None
        if any(unicodedata.category(letter) == "Cc" and letter != "\t" for letter in text):
            return Rejection("damaged", "holds bytes that are no text", raw)
        text = text.strip().removesuffix(";")
        names = [token_key(one) for one in fields_of(text)]
        if self._is_header(names):
            return self._take_header(names, raw)
        if self.columns is None:
            return Rejection("no header", _NO_HEADER, raw)
        fields = fields_of(text, brackets=False)
        if len(fields) == len(self.columns) + 1 and not fields[-1]:
            fields.pop()
        if len(fields) != len(self.columns):
            detail = f"has {len(fields)} fields, and the header of the report {len(self.columns)}"
            return Rejection("field count", detail, raw)
        if is_cut:
            return self._row(dict(zip(self.columns[:-1], fields[:-1], strict=True)), raw)
        return self._row(dict(zip(self.columns, fields, strict=True)), raw)

    def _is_header(self, names: Sequence[str]) -> bool:
        return any(name in self._wanted for name in names) and not any(_NUMBER.fullmatch(name) for name in names)

    def _take_header(self, names: list[str], raw: bytes) -> Rejection | None:
        while names and not names[-1]:
            names.pop()
        twice = sorted({name for name in names if name in self._wanted and names.count(name) > 1})
        before, self.columns = self.columns, None if twice else names
        if twice:
            return Rejection("header", f"the header shows more than once: {', '.join(twice)}", raw)
        lacking = [(name, token) for name, (token, _) in self.map.channels.items() if token_key(token) not in names]
        if before != names:
            self.notes += [
                (f"{name} missing", f"the report has no {token}: {name} is absent") for name, token in lacking
            ]
        if before is not None and before != names:
            self.notes.append(("header changed", "other columns; values are taken by the new header from here on"))
        return None

    def _row(self, fields: Mapping[str, str], raw: bytes) -> ReportRow | Rejection:
        counted = fields.get(token_key(self.map.counter), "")
        count = _COUNT.fullmatch(counted)
        if count is None:
            return Rejection(
                "no counter", f"the shot counter {self.map.counter} reads {counted!r}, allowed: digits", raw
            )
        values: dict[str, float] = {}
        doubts: list[Doubt] = []
        for name, (token, scaling) in self.map.channels.items():
            came = fields.get(token_key(token))
            if came is None:
                continue  # said at the header
            said = _value(name, token, came, scaling)
            if isinstance(said, float):
                values[name] = said
                self._absent.discard(name)
            elif said.how != "absent" or name not in self._absent:
                doubts.append(said)
                self._absent |= {name} if said.how == "absent" else set()
        found, untaken = self._set_points(fields)
        line = Line(int(count[1]), values, raw, tuple(doubts), found, untaken)
        return ReportRow(line, moment_of(fields.get("date", ""), fields.get("time", "")), fields)

    def _set_points(self, fields: Mapping[str, str]) -> tuple[Mapping[str, SetPoint], tuple[Untaken, ...]]:
        def raw_of(one: SetToken) -> Raw:
            came = fields.get(token_key(one.place))
            if came is None:
                raise ValueError(f"the report has no {one.place}")
            if is_absent(came):
                raise ValueError(f"{one.place} came as {came!r}")
            return came

        units = self.map.units
        found, untaken = set_points_of(self.map.set_points, raw_of, lambda one: units.get(token_key(one.place), ""))
        news = tuple(one for one in untaken if one.subject not in self._absent)
        self._absent -= {f"set-point {name}" for name in found}
        self._absent |= {one.subject for one in untaken}
        return found, news


def _value(name: str, token: str, came: str, scaling: Scaling) -> float | Doubt:
    if is_absent(came):
        what = repr(came) if came else "a blank"
        return Doubt(name, "absent", f"{name}: {token} came as {what}; told once until it is there again")
    if not _NUMBER.fullmatch(came):
        return Doubt(name, "text", f"{name}: {token} came as {came[:60]!r}, which is no number")
    value = scaling.value(Decimal(came))
    if not scaling.believable(value):
        low, high, unit = scaling.channel.low, scaling.channel.high, scaling.channel.unit
        detail = f"{name} is {value:g} {unit}, allowed: {low:g} to {high:g} {unit}; {token} came as {came[:60]!r}"
        return Doubt(name, "range", detail)
    return value


def moment_of(date: str, time: str) -> datetime | None:
    """Return date and time as a press writes them (``20261128``, ``12:00:00``); None where they are none.

    Examples
    --------
    >>> moment_of("20261128", "12:00:01")
    datetime.datetime(2026, 11, 28, 12, 0, 1)
    """
    try:
        return datetime.strptime(f"{date.strip()} {time.strip()}", "%Y%m%d %H:%M:%S")
    except ValueError:
        return None
