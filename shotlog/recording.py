"""The recording: shots with what was in force, as CSV. What `export` writes and `replay` reads.

Columns: ``press,shot,time``, then ``fixed,moving,core`` (serials in force), ``design``, ``event`` (``KIND:TEXT``,
``;``-separated, ``KIND@HALF:TEXT`` where a half was named; why an insert was taken out is ``removed:SERIAL:REASON`` at
the first shot made without it), the optional ``single_use`` (halves that take a new piece every shot) and
``print_batch`` (``HALF:BATCH``, ``;``-separated), then a column a channel, in its unit. An empty cell is not known.

Numbers are written with as many digits as it takes to read the same number back; texts as `cells` says.
"""

import csv
import math
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import datetime
from pathlib import Path

from shotlog.cells import as_cell, from_cell
from shotlog.channels import CHANNELS
from shotlog.clock import iso_utc, parse_utc
from shotlog.entries import KINDS, REMOVED
from shotlog.errors import RecordingError
from shotlog.outputs import written_aside
from shotlog.records import HALVES, InForce, LoggedShot

__all__ = ["FIXED_COLUMNS", "NUMBER", "OPTIONAL_COLUMNS", "one_line", "read", "row", "write"]

FIXED_COLUMNS = ("press", "shot", "time", *HALVES, "design", "event")
OPTIONAL_COLUMNS = ("single_use", "print_batch")
_REQUIRED = ("press", "shot", "time")
NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?|nan", re.ASCII | re.IGNORECASE)
"""A number, or the mark other programs write where there is none; Python's own reader takes 1_000 as well."""


def row(shot: LoggedShot) -> dict[str, object]:
    """Return a shot as the cells of one row; channels not measured are absent."""
    halves = {half: shot.halves[half] for half in HALVES if half in shot.halves}
    designs = [piece.design for piece in halves.values()]
    return {
        "press": shot.press,
        "shot": shot.shot,
        "time": iso_utc(shot.time),
        **{half: halves[half].serial if half in halves else "" for half in HALVES},
        "design": ";".join(designs) if len(set(designs)) > 1 else "".join(designs[:1]),
        "event": ";".join((*_removals(shot), *_noted(shot))),
        "single_use": ";".join(half for half, piece in halves.items() if piece.single_use),
        "print_batch": ";".join(f"{half}:{piece.print_batch}" for half, piece in halves.items() if piece.print_batch),
        **shot.values,
    }


def _removals(shot: LoggedShot) -> Iterator[str]:
    return (f"{REMOVED}:{serial}:{reason}" for serial, reason in shot.removed)


def _noted(shot: LoggedShot) -> Iterator[str]:
    for kind, text, half in shot.noted:
        yield f"{kind}{half and f'@{half}'}:{one_line(text)}"


def one_line(text: str) -> str:
    """Return the text of an event as a cell keeps it: on one line, without the mark that separates events."""
    return " ".join(text.replace(";", ",").split())


def write(path: Path, shots: Iterable[LoggedShot], channels: Iterable[str], optional: bool) -> int:
    """Write a recording; return the number of shots.

    Parameters
    ----------
    channels
        The channels that get a column, in order.
    optional
        Whether the optional columns are written.
    """
    columns = [*FIXED_COLUMNS, *(OPTIONAL_COLUMNS if optional else ()), *channels]
    n = 0
    with written_aside(path) as aside, aside.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(columns)
        for shot in shots:
            cells = row(shot)
            writer.writerow([as_cell(cells.get(name, "")) for name in columns])
            n += 1
    return n


def read(path: Path, remark: Callable[[str], None] = lambda _: None) -> Iterator[LoggedShot]:
    """Yield the shots of a recording in the file's order; within a press, shot numbers must rise.

    `remark` is told, once each, of columns that are no channel and of values outside what is physically believable;
    neither is used.

    Raises
    ------
    RecordingError
        The file does not read: says line, column, what was given and what is allowed.
    """
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            reader = csv.DictReader(file)
            try:
                yield from _shots(path, reader, remark)
            except csv.Error as error:
                raise RecordingError(f"{path}, line {reader.line_num + 1}: {error}") from error
    except OSError as error:
        raise RecordingError(f"{path}: {error.strerror or error}") from error
    except UnicodeDecodeError as error:
        raise RecordingError(f"{path}: {error.reason} at byte {error.start}, allowed: text in UTF-8") from error


def _shots(path: Path, reader: "csv.DictReader[str]", remark: Callable[[str], None]) -> Iterator[LoggedShot]:
    header = tuple(reader.fieldnames or ())
    for name in _REQUIRED:
        if name not in header:
            raise RecordingError(f"{path}, line 1: no column {name!r}, needed: {', '.join(_REQUIRED)} and channels")
    if len(set(header)) != len(header):
        raise RecordingError(f"{path}, line 1: a column appears twice, allowed: each name once")
    for name in header:
        if name not in (*FIXED_COLUMNS, *OPTIONAL_COLUMNS, *CHANNELS):
            remark(f"{path}: column {name!r} is no channel and is not used")
    channels = [(name, channel) for name, channel in CHANNELS.items() if name in header]
    last: dict[str, int] = {}
    remarked: set[str] = set()
    for cells in reader:
        line = _Line(path, reader.line_num, cells)
        press, shot = line.text("press"), line.whole("shot")
        if not press:
            raise line.wrong("press", "a name")
        if press in last and shot <= last[press]:
            raise line.wrong("shot", f"a number above {last[press]}, the shot before on {press}")
        last[press] = shot
        values = {}
        for name, channel in channels:
            value = line.number(name)
            if value is None:
                continue
            if channel.low <= value <= channel.high:
                values[name] = value
            elif name not in remarked:
                remarked.add(name)
                remark(f"{line.place}: {name} {value:g} is outside {channel.low:g} to {channel.high:g}; not used")
        yield LoggedShot(press, shot, line.time("time"), values, line.halves(), *line.events())


class _Line:
    """One row of a recording, read cell by cell."""

    def __init__(self, path: Path, number: int, cells: Mapping[str | None, object]) -> None:
        self.place = f"{path}, line {number}"
        if None in cells:
            raise RecordingError(f"{self.place}: more cells than the header has columns")
        self._cells = cells

    def text(self, name: str) -> str:
        value = self._cells.get(name)
        return from_cell(value.strip()) if isinstance(value, str) else ""

    def wrong(self, name: str, allowed: str) -> RecordingError:
        return RecordingError(f"{self.place}: {name}: given {self.text(name)!r}, allowed: {allowed}")

    def whole(self, name: str) -> int:
        text = self.text(name)
        if not re.fullmatch("[0-9]{1,18}", text):
            raise self.wrong(name, "a whole number from 0")
        return int(text)

    def number(self, name: str) -> float | None:
        text = self.text(name)
        if not text:
            return None
        if not NUMBER.fullmatch(text):
            raise self.wrong(name, "a number with a decimal point, or an empty cell")
        value = float(text)
        if math.isinf(value):
            raise self.wrong(name, "a finite number, or an empty cell")
        return None if math.isnan(value) else value

    def time(self, name: str) -> datetime:
        try:
            return parse_utc(self.text(name))
        except ValueError:
            raise self.wrong(name, "ISO 8601, such as 2026-01-05T06:00:00Z") from None

    def events(self) -> tuple[tuple[tuple[str, str], ...], tuple[tuple[str, str], ...], tuple[str, ...]]:
        """Return what was noted, what was taken out with the reason, and the half that each note is about."""
        found, removed, about = [], [], []
        for item in filter(None, self.text("event").split(";")):
            noted, colon, words = item.strip().partition(":")
            kind, at, half = noted.partition("@")
            serial, said, reason = words.partition(":")
            if kind == REMOVED and said:
                removed.append((serial.strip(), reason.strip()))
            elif kind in KINDS and colon and (half in HALVES if at else True):
                found.append((kind, words.strip()))
                about.append(half)
            else:
                kinds, halves = ", ".join(KINDS), ", ".join(HALVES)
                allowed = f"KIND:TEXT or KIND@HALF:TEXT with KIND one of {kinds}, HALF one of {halves}, or "
                raise self.wrong("event", f"{allowed}{REMOVED}:SERIAL:REASON")
        return tuple(found), tuple(removed), tuple(about) if any(about) else ()

    def halves(self) -> dict[str, InForce]:
        serials = {half: self.text(half) for half in HALVES if self.text(half)}
        designs = self.text("design").split(";")
        if len(designs) == 1:
            designs *= len(serials)
        if len(designs) != len(serials) and serials:
            raise self.wrong("design", f"one design, or {len(serials)} separated by ;")
        single_use = self._halves_listed("single_use")
        batches = self._batches()
        return {
            half: InForce(serial, design.strip(), batches.get(half, ""), half in single_use)
            for (half, serial), design in zip(serials.items(), designs, strict=False)
        }

    def _batches(self) -> dict[str, str]:
        found = {}
        for item in self._items("print_batch"):
            half, _, batch = item.partition(":")
            if half not in HALVES or not batch.strip():
                raise self.wrong("print_batch", f"HALF:BATCH with HALF one of {', '.join(HALVES)}, separated by ;")
            found[half] = batch.strip()
        return found

    def _items(self, name: str) -> list[str]:
        return [item.strip() for item in self.text(name).split(";") if item.strip()]

    def _halves_listed(self, name: str) -> list[str]:
        found = self._items(name)
        for half in found:
            if half not in HALVES:
                raise self.wrong(name, f"halves out of {', '.join(HALVES)}, separated by ;")
        return found
