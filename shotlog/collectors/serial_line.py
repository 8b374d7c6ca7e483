"""The collector kind ``serial-line``: a press that prints one line of text per shot on a serial port."""

import codecs
import re
import warnings
from dataclasses import dataclass, replace
from datetime import datetime

import serial

from shotlog.clock import Clock
from shotlog.collectors.base import Collector, Reading, Resume
from shotlog.collectors.line_probe import rows
from shotlog.collectors.line_reader import LineReader
from shotlog.collectors.line_shots import LineShots
from shotlog.collectors.lines import Line, LineFormat, LineSplitter, Piece, Rejection
from shotlog.collectors.pace import Pace
from shotlog.collectors.scaling import Scaling, read_scaling
from shotlog.collectors.serial_port import PORT_ERRORS, Opener, PortSettings, open_port, read_port, read_waiting
from shotlog.collectors.set_points import ChosenSetPoint, read_set_points
from shotlog.errors import PressUnreachable, SettingsError
from shotlog.records import Fault, Gap, Shot
from shotlog.settings import Section

__all__ = ["SerialLine", "SerialLineOptions", "options"]

Records = list[Shot | Gap | Fault]

_MOST_BYTES = 1 << 16
# A pause of 20 characters does not happen inside a line that is being printed.
_SILENT_CHARACTERS = 20
# Nine digits: more than any press counts, so a narrower counter is told by `last_count`.
_LAST_COUNT = 999_999_999


@dataclass(frozen=True, slots=True)
class SerialLineOptions:
    """The checked keys of a ``serial-line`` collector. `timeout_s` is how long a probe waits for a line, in seconds."""

    port: PortSettings
    form: LineFormat
    last_count: int
    poll_s: float
    timeout_s: float
    opener: Opener = open_port

    def describe(self) -> list[str]:
        form = self.form
        how = "matched by a pattern" if form.pattern is not None else f"split at {form.delimiter!r}"
        lines = [f"serial line {self.port}, {how}, decimal mark {form.decimal!r}, text in {form.encoding}"]
        lines.append(f"shot_counter: {self._where(form.counter)}, up to {self.last_count}")
        lines += [f"{name}: {self._where(field)}, {scaling}" for name, (field, scaling) in form.channels.items()]
        return lines + [each.described(self._where(each.place)) for each in form.set_points]

    def _where(self, field: int | str) -> str:
        if self.form.pattern is not None:
            return f"group {field!r}"
        return f"field {field}" if isinstance(field, int) else f"the field under {field!r}"

    def build(self, press: str, clock: Clock, resume: Resume | None) -> Collector:
        return SerialLine(press, clock, resume, self)


class SerialLine:
    """A collector over printed lines (see `collectors.base.Collector`)."""

    def __init__(self, press: str, clock: Clock, resume: Resume | None, chosen: SerialLineOptions) -> None:
        self._press, self._clock, self._chosen = press, clock, chosen
        self._port: serial.Serial | None = None
        self._wait_s = min(max(_SILENT_CHARACTERS * chosen.port.character_s, 0.02), 0.2)
        self._early = b""
        self._splitter = LineSplitter()
        self._reader = LineReader(chosen.form)
        self._shots = LineShots(press, chosen.last_count, resume)
        self._pace = Pace(clock, resume)

    def open(self) -> None:
        if self._port is not None:
            return
        port = self._chosen.opener(self._chosen.port, self._wait_s)
        try:
            self._early = port.read(1)
        except PORT_ERRORS as error:
            port.close()
            raise self._lost(error) from error
        self._port = port
        self._shots.connected(in_mid_line=bool(self._early))

    def close(self) -> Records:
        port, self._port = self._port, None
        if port is not None:
            port.close()
        now = self._clock.now()
        records = self._shots.flush(now)
        rest = self._early + self._splitter.rest()
        self._early = b""
        if rest:
            records.append(Fault(self._press, now, "half line", "the connection ended within a line", rest))
        return records

    def poll(self) -> Records:
        now = self._clock.now()
        records: Records = []
        chunk = self._read()
        self._shots.expect(self._pace.expected())
        for piece in self._splitter.feed(chunk):
            records += self._records(piece, now)
        self._pace.took(records, self._shots.watched)
        return records

    def probe(self) -> list[Reading]:
        splitter = LineSplitter()
        reader = LineReader(self._chosen.form)
        quiet = n_bytes = 0
        seen: tuple[Piece, Line | Rejection | None] | None = None
        while quiet * self._wait_s < self._chosen.timeout_s and n_bytes < _MOST_BYTES:
            chunk = self._read()
            quiet += not chunk
            n_bytes += len(chunk)
            for piece in splitter.feed(chunk):
                seen = (piece, reader.read(piece.raw))
                if isinstance(seen[1], Line):
                    return rows(self._chosen.form, reader.named_fields(), *seen)
        if seen is not None:
            return rows(self._chosen.form, reader.named_fields(), *seen)
        rest = splitter.rest()
        remark = f"no line came in {self._chosen.timeout_s:g} s: does the press print, and at these settings?"
        if rest:
            remark = "bytes came and no end of a line: check baudrate, parity and bytesize"
        return [Reading("line", self._chosen.port.name, repr(rest[:200])[2:-1], None, "", remark)]

    def _records(self, piece: Piece, now: datetime) -> Records:
        if not piece.whole:
            self._shots.passed()
            detail = "a line without an end: check baudrate, parity and bytesize"
            if piece.dropped:
                detail = f"{piece.dropped:,} more bytes without the end of a line: check baudrate, parity and bytesize"
            return [Fault(self._press, now, "too long", detail, piece.raw)]
        said = self._reader.read(piece.raw, self._shots.may_be_cut)
        if isinstance(said, Line):
            return self._shots.take(said, now)
        cut = self._shots.passed()
        if said is None:
            return []
        if cut:
            detail = f"the port was opened within this line; it {said.detail}"
            return [Fault(self._press, now, "cut line", detail, said.raw)]
        return [Fault(self._press, now, said.kind, said.detail, said.raw)]

    def _read(self) -> bytes:
        """Return the bytes at hand, after waiting a moment for the first of them."""
        port = self._port
        if port is None:
            raise PressUnreachable(f"serial port {self._chosen.port} is not open")
        data = bytearray(self._early)
        self._early = b""
        try:
            read_waiting(port, data)
        except PORT_ERRORS as error:
            if not data:
                raise self._lost(error) from error
            # What came before the line broke is kept; the next read meets the same error.
        return bytes(data)

    def _lost(self, error: Exception) -> PressUnreachable:
        return PressUnreachable(f"serial port {self._chosen.port} was lost: {error}")


def options(section: Section) -> SerialLineOptions:
    """Read and check the keys.

    Raises
    ------
    SettingsError
        A key is missing or wrong.
    """
    pattern = _expression(section, "pattern")
    counter = section.section("shot_counter", optional=pattern is not None)
    if pattern is not None and "shot_counter" not in pattern.groupindex:
        raise section.wrong("pattern", "a group named shot_counter: (?P<shot_counter>[0-9]+)")
    form = LineFormat(
        "shot_counter" if pattern is not None else _field(counter),
        _channels(section, pattern),
        "" if pattern is not None else section.text("delimiter", ";"),
        section.choice("decimal", (".", ","), "."),
        _expression(section, "skip"),
        pattern,
        None,
        _encoding(section),
        _set_points(section, pattern),
    )
    if form.delimiter == form.decimal:
        raise section.wrong("delimiter", "another mark than the decimal one")
    if pattern is None and section.has("fields"):
        form = replace(form, n_fields=section.integer("fields", 1, 500))
        if form.n_fields is not None and form.n_fields < form.last_field:
            raise section.wrong("fields", f"at least {form.last_field}")
    last_count = counter.integer("last_count", 9, _LAST_COUNT, _LAST_COUNT)
    counter.finish()
    return SerialLineOptions(
        read_port(section, 9600, "N"),
        form,
        last_count,
        section.number("poll_s", 0.01, 60.0, 0.2),
        section.number("timeout_s", 0.1, 600.0, 3.0),
    )


def _channels(section: Section, pattern: re.Pattern[str] | None) -> dict[str, tuple[int | str, Scaling]]:
    parent = section.section("channels")
    channels: dict[str, tuple[int | str, Scaling]] = {}
    for name, table in parent.items():
        scaling = read_scaling(parent, name, table)
        if pattern is not None and name not in pattern.groupindex:
            raise section.wrong("pattern", f"a group named {name}")
        channels[name] = (name if pattern is not None else _field(table), scaling)
        table.finish()
    if not channels:
        raise section.wrong("channels", "at least one channel")
    return channels


def _set_points(section: Section, pattern: re.Pattern[str] | None) -> tuple[ChosenSetPoint[int | str], ...]:
    channels = section.section("channels").keys()

    def place(name: str, table: Section) -> int | str:
        if pattern is None:
            return _field(table)
        if name not in pattern.groupindex or name in (*channels, "shot_counter"):
            raise section.wrong("pattern", f"a group named {name}, of no channel, for the set-point of that name")
        return name

    return read_set_points(section, place, texts=True)


def _field(section: Section) -> int | str:
    """Read ``field``: its number from 1, or its text in the header."""
    allowed = "field number from 1, or its text in the header line"
    try:
        return section.integer("field", 1, 500)
    except SettingsError:
        try:
            return section.text("field")
        except SettingsError as error:
            raise section.wrong("field", allowed) from error


def _expression(section: Section, key: str) -> re.Pattern[str] | None:
    if not section.has(key):
        return None
    text = section.text(key)
    try:
        with warnings.catch_warnings():  # of what a later Python may read otherwise; this one reads it as it always did
            warnings.simplefilter("ignore")
            return re.compile(text)
    except (re.error, RecursionError, OverflowError) as error:
        raise section.wrong(key, f"a regular expression ({error})") from error


def _encoding(section: Section) -> str:
    name = section.text("encoding", "latin-1")
    try:
        return codecs.lookup(name).name
    except LookupError as error:
        raise section.wrong("encoding", "a text encoding such as latin-1, cp437, cp850, utf-8") from error
