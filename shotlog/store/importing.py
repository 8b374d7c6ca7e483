"""Taking in shots and inspections that were recorded elsewhere, whole or not at all.

A file is looked through first; what it would add, and why it cannot be taken, is known before anything is written. All
of it goes into the log in one transaction whose origin is the file's digest, so that the same file enters once.
"""

import csv
import hashlib
import math
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from sqlalchemy import select

from shotlog import recording
from shotlog.cells import from_cell
from shotlog.clock import parse_utc
from shotlog.errors import RecordingError, UsageError
from shotlog.parts.part import Part
from shotlog.records import Event, InForce, Insert, LoggedShot, Mounting, Removal, Shot
from shotlog.settings import Bound
from shotlog.store.log import schema
from shotlog.store.log.judgements import judge_again
from shotlog.store.log.log import Log
from shotlog.store.log.origins import has_origin
from shotlog.store.log.timeline import piece
from shotlog.store.parts.inspections import add_inspection, measured
from shotlog.store.parts.parts import check_made

__all__ = [
    "PART_COLUMNS",
    "PartsFile",
    "ShotsFile",
    "holds_parts",
    "read_inspected",
    "read_shots",
    "take_parts",
    "take_shots",
]

PART_COLUMNS = (
    "press", "shot", "cavity", "inspected", "quantity", "value", "unit", "low", "high", "finding", "half", "instrument",
    "initials",
)  # fmt: skip
"""The columns of a file of inspections: what the export folder writes and this reads."""


@dataclass(frozen=True, slots=True)
class ShotsFile:
    """The shots of a recording and what they say was entered, ready to be taken; `remarks` on what is not used."""

    shots: tuple[LoggedShot, ...]
    entries: tuple[Mounting | Removal | Event, ...]
    remarks: tuple[str, ...]
    origin: str

    def spans(self) -> dict[str, tuple[int, int, int]]:
        """Return first shot, last shot and number of shots by press."""
        found: dict[str, tuple[int, int, int]] = {}
        for shot in self.shots:
            first, _, n = found.get(shot.press, (shot.shot, 0, 0))
            found[shot.press] = (first, shot.shot, n + 1)
        return found


@dataclass(frozen=True, slots=True)
class PartsFile:
    """The inspections of a file: part, time and the row as it is stored."""

    rows: tuple[tuple[Part, datetime, Mapping[str, Any]], ...]
    origin: str


def holds_parts(path: Path) -> bool:
    """Say whether a file holds inspections of parts rather than shots, by its header."""
    header = next(iter(_table(path)), {})
    return _of_parts(header)


def _of_parts(header: Mapping[str, str]) -> bool:
    return "quantity" in header or "finding" in header


def read_shots(log: Log, path: Path) -> ShotsFile:
    """Read a recording and hold it against the log; nothing is written.

    Raises
    ------
    RecordingError
        The file does not read.
    UsageError
        The log has some of its shots, or an insert of it is mounted otherwise there.
    """
    remarks: list[str] = []
    shots = tuple(recording.read(path, remarks.append))
    if not shots:
        raise RecordingError(f"{path}: it holds no shots")
    entries: list[Mounting | Removal | Event] = []
    for press in dict.fromkeys(shot.press for shot in shots):
        mine = [shot for shot in shots if shot.press == press]
        _refuse_overlap(log, path, press, mine)
        attributed = _attributed(log, path, press, mine)
        entries += [entry for entry in _entries(mine) if isinstance(entry, Event) or not attributed]
    return ShotsFile(shots, tuple(entries), tuple(remarks), _origin(path))


def take_shots(log: Log, file: ShotsFile, time: datetime) -> int:
    """Take the shots of a file into the log, with their mountings and events; returns how many shots.

    Raises
    ------
    UsageError
        The file was taken before.
    """
    with log.transaction(file.origin) as work:
        if has_origin(work.connection, file.origin):
            raise UsageError("file: it was taken into this log before, allowed: each file once")
        for entry in file.entries:
            work.append(entry)
        for shot in file.shots:
            work.append(Shot(shot.press, shot.shot, shot.shot, shot.time, shot.values))
        for press, (first, last, n) in file.spans().items():
            judge_again(work, press, first, f"{n} shots recorded elsewhere, {first} to {last}, were taken in", time)
    return len(file.shots)


def read_inspected(log: Log, path: Path) -> PartsFile:
    """Read a file of inspections and hold it against the log; nothing is written.

    Raises
    ------
    RecordingError
        The file does not read.
    UsageError
        A part was never moulded, or a unit does not fit.
    """
    rows = []
    for number, cells in enumerate(_table(path), 2):
        try:
            rows.append(_inspection(cells))
        except (UsageError, ValueError) as error:
            raise RecordingError(f"{path}, line {number}: {error}") from error
    if not rows:
        raise RecordingError(f"{path}: it holds no inspections")
    with log.reading() as connection:
        check_made(connection, [part for part, _, _ in rows])
    return PartsFile(tuple(rows), _origin(path))


def take_parts(log: Log, file: PartsFile, time: datetime) -> int:
    """Take the inspections of a file into the log; returns how many.

    Raises
    ------
    UsageError
        The file was taken before, or an inspection lies in the future.
    """
    with log.transaction(file.origin) as work:
        if has_origin(work.connection, file.origin):
            raise UsageError("file: it was taken into this log before, allowed: each file once")
        for part, inspected, row in file.rows:
            add_inspection(work, part, time, inspected, **row)
    return len(file.rows)


def _refuse_overlap(log: Log, path: Path, press: str, shots: list[LoggedShot]) -> None:
    table, mine = schema.shots, [shot.shot for shot in shots]
    query = (
        select(table.c.shot)
        .join(schema.presses)
        .where(schema.presses.c.name == press, table.c.shot >= mine[0], table.c.shot <= mine[-1])
    )
    with log.reading() as connection:
        there = set(connection.execute(query).scalars())
    both = sorted(there & set(mine))
    if both:
        raise UsageError(
            f"{path}: the log has {len(both)} of its shots of {press} ({both[0]} to {both[-1]}), allowed: only shots "
            f"the log does not have; cut the file to those"
        )


def _attributed(log: Log, path: Path, press: str, shots: list[LoggedShot]) -> bool:
    """Say whether the log knows already which inserts made these shots, so that the file's own entries add nothing."""
    timeline = log.timeline(press)
    if not any(stay.first <= shots[-1].shot and stay.end > shots[0].shot for stay in timeline.stays):
        return False
    for shot in shots:
        said = {half: held.serial for half, held in shot.halves.items()}
        known = {half: held.serial for half, held in timeline.halves(shot.shot).items()}
        if said and said != known:
            raise UsageError(
                f"{path}: shot {shot.shot} of {press} was made with {', '.join(said.values())}; the log has "
                f"{', '.join(known.values()) or 'none'} mounted there, allowed: the same inserts, or none in the file"
            )
    return True


def _entries(shots: Iterable[LoggedShot]) -> Iterator[Mounting | Removal | Event]:
    """Turn what was in force at each shot back into what was entered."""
    last: dict[str, Mapping[str, InForce]] = {}
    series: dict[tuple[str, str], str] = {}
    for shot in shots:
        before, reasons = last.get(shot.press, {}), dict(shot.removed)
        for half, held in before.items():
            if half not in shot.halves:
                serial = series.pop((shot.press, half), held.serial)
                reason = reasons.get(held.serial, "not in the recording any more")
                yield Removal(shot.press, serial, shot.shot, shot.time, reason)
            elif held.serial in reasons and shot.halves[half].serial != held.serial:
                yield Removal(shot.press, held.serial, shot.shot, shot.time, reasons[held.serial])
        for half, held in shot.halves.items():
            if not _goes_on(before.get(half), held):
                insert = Insert(held.serial, held.design, held.print_batch)
                series[shot.press, half] = held.serial
                yield Mounting(shot.press, half, insert, shot.shot, shot.time, held.single_use)
        for kind, text, half in shot.noted:
            yield Event(shot.press, shot.shot, kind, text, shot.time, half)
        last[shot.press] = shot.halves


def _goes_on(before: InForce | None, held: InForce) -> bool:
    if before is None or before.single_use != held.single_use:
        return False
    if not held.single_use:
        return before.serial == held.serial
    same = (before.design, before.print_batch) == (held.design, held.print_batch)
    return same and piece(before.serial, 1) == held.serial


def _inspection(cells: Mapping[str, str]) -> tuple[Part, datetime, dict[str, Any]]:
    part = Part(cells["press"], _whole(cells, "shot"), _whole(cells, "cavity") if cells.get("cavity") else 1)
    row: dict[str, Any] = {"value": None, "low": None, "high": None, "unit": "", "given": ""}
    quantity, value = cells.get("quantity", ""), cells.get("value", "")
    if value:
        if not quantity:
            raise UsageError(f"quantity: given nothing for the value {value}, allowed: part_weight or a dimension")
        ends = Bound(*(_number(cells, end) if cells.get(end) else None for end in ("low", "high")))
        row |= measured(quantity, _number(cells, "value"), cells.get("unit", ""), ends)
    row |= {name: cells.get(name, "") for name in ("finding", "half", "instrument", "initials")}
    return part, parse_utc(cells["inspected"]), {"quantity": quantity or "look", **row}


def _whole(cells: Mapping[str, str], name: str) -> int:
    if not re.fullmatch("[0-9]{1,18}", cells[name]):
        raise UsageError(f"{name}: given {cells[name]!r}, allowed: a whole number from 0")
    return int(cells[name])


def _number(cells: Mapping[str, str], name: str) -> float:
    if not recording.NUMBER.fullmatch(cells[name]) or not math.isfinite(float(cells[name])):
        raise UsageError(f"{name}: given {cells[name]!r}, allowed: a number with a decimal point")
    return float(cells[name])


def _table(path: Path) -> list[dict[str, str]]:
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            reader = csv.DictReader(file, restkey="")
            heads = [name for name in reader.fieldnames or () if name]
            if len(set(heads)) != len(heads):
                raise RecordingError(f"{path}, line 1: a column appears twice, allowed: each name once")
            rows = [_cells(path, reader.line_num, row) for row in reader]
    except OSError as error:
        raise RecordingError(f"{path}: {error.strerror or error}") from error
    except (UnicodeDecodeError, csv.Error) as error:
        raise RecordingError(f"{path}: it does not read as CSV in UTF-8 ({error})") from error
    needed = {"press", "shot", "inspected"} if rows and _of_parts(rows[0]) else {"press", "shot"}
    if rows and needed - set(rows[0]):
        given = ", ".join(rows[0])
        raise RecordingError(f"{path}, line 1: given {given}, needed: {', '.join(sorted(needed))} and more")
    return rows


def _cells(path: Path, line: int, row: Mapping[str, str | list[str] | None]) -> dict[str, str]:
    beyond = row.get("")
    if isinstance(beyond, list) and any(text.strip() for text in beyond):
        raise RecordingError(f"{path}, line {line}: more cells than the header has columns")
    return {name: from_cell(text.strip()) if isinstance(text, str) else "" for name, text in row.items() if name}


def _origin(path: Path) -> str:
    return f"file:{hashlib.sha256(path.read_bytes()).hexdigest()}"
