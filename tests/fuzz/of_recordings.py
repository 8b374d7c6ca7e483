"""Files of shots and of inspections as `replay` and `import` read them, damaged: the bytes of one file.

What is taken is held against a reader of CSV of our own, which knows quotes, commas and ends of lines, and nothing
else; a recording that is taken is written once more and must read back the same.
"""

import csv
import io
import re
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from math import isfinite
from pathlib import Path
from random import Random
from typing import Any

from shotlog import recording
from shotlog.cells import as_cell, from_cell
from shotlog.channels import CHANNELS
from shotlog.entries import KINDS
from shotlog.errors import RecordingError, UsageError
from shotlog.records import LoggedShot, Shot
from shotlog.store import importing
from shotlog.store.log.log import Log, open_log
from tests.fuzz.damage import NUMBERS, TEXTS, damaged, damaged_text
from tests.fuzz.kind import Kind, one_line
from tests.recorded_shots import columns_of

__all__ = ["Imports", "Recordings"]

_HEADS = ("press", "shot", "time", "fixed", "moving", "core", "design", "event", "single_use", "print_batch", "cushion",
          "peak_pressure", "part_weight")  # fmt: skip
_PARTS = importing.PART_COLUMNS
_WORDS = [
    *(one.encode("utf-8", "replace") for one in (*NUMBERS, *TEXTS)), b'"', b'""', b",", b"\n", b"\r\n", b"\xff\xfe",
    b"press,shot,time\n", b",,,,,,,,,,,", b"2026-01-05T06:00:00Z", b"2026-01-05", b"0001-01-01T00:00:00+14:00",
    b"9999-12-31T23:59:59-14:00", b"lot:L2;pause:", b"removed:F-1:flash", b"finding@core:x", b'"a\nb"',
]  # fmt: skip


class _InMemory:
    """Stands in for a path: millions of files are quicker made here than on a disk."""

    def __init__(self, data: bytes) -> None:
        self._data = data

    def open(self, encoding: str, newline: str) -> io.TextIOWrapper:
        return io.TextIOWrapper(io.BytesIO(self._data), encoding=encoding, newline=newline)

    def __str__(self) -> str:
        return "r.csv"


class Recordings(Kind):
    """A recording, as `replay` reads it and `import` begins to."""

    name = "recordings"
    most_s = 0.5

    def __init__(self, folder: Path) -> None:
        super().__init__(folder)
        self._n = 0
        self._again = folder / "again.csv"

    def make(self, random: Random) -> bytes:
        return damaged(random, _shots_file(random), _WORDS)

    def judge(self, given: bytes) -> str:
        file: Any = _InMemory(given)
        remarks: list[str] = []
        taken: list[LoggedShot] = []
        became = "taken"
        try:
            for shot in recording.read(file, remarks.append):
                taken.append(shot)
        except RecordingError as error:
            one_line(str(error))
            became = "refused"
        for remark in remarks:
            one_line(remark, 20_000)
        _hold_shots(given, taken, " ".join(remarks))
        self._n += 1
        if became == "taken" and taken and self._n % 20 == 0:
            recording.write(self._again, [columns_of(taken)], CHANNELS, optional=True)
            again = list(recording.read(self._again))
            assert [_kept(shot) for shot in again] == [_kept(shot) for shot in taken]
        return became if taken or became == "refused" else "empty"


class Imports(Kind):
    """Inspections and shots, held against a log that has shots 1 to 40 of P25; some of what can be is taken, twice."""

    name = "imports"
    most_s = 1.0

    def __init__(self, folder: Path) -> None:
        super().__init__(folder)
        self._file = folder / "i.csv"
        self._taken = 0
        self._log = self._fresh()

    def make(self, random: Random) -> bytes:
        made = _shots_file(random, 41) if random.random() < 0.3 else _parts_file(random)
        return damaged(random, made, _WORDS)

    def judge(self, given: bytes) -> str:
        self._file.write_bytes(given)
        now = datetime(2026, 2, 1, tzinfo=UTC)
        try:
            if importing.holds_parts(self._file):
                parts = importing.read_inspected(self._log, self._file)
                _hold_parts(given, parts)
                return (
                    "inspections"
                    if self._not_now()
                    else self._twice(lambda: importing.take_parts(self._log, parts, now))
                )
            shots = importing.read_shots(self._log, self._file)
            _hold_shots(given, list(shots.shots), " ".join(shots.remarks))
            return "shots" if self._not_now() else self._twice(lambda: importing.take_shots(self._log, shots, now))
        except (RecordingError, UsageError) as error:
            one_line(str(error))
            return "refused"

    def close(self) -> None:
        self._log.close()

    def _not_now(self) -> bool:
        """Say whether what could be taken is not: a transaction costs more than all the rest."""
        self._taken += 1
        return self._taken % 50 != 0

    def _twice(self, take: object) -> str:
        """Take a file; a second time it is refused, and the log as it was before is as it is again."""
        assert callable(take)
        take()
        try:
            take()
        except UsageError as error:
            one_line(str(error))
        else:
            raise AssertionError("a file was taken twice")
        self._log.close()
        self._log = self._fresh()
        return "taken"

    def _fresh(self) -> Log:
        file = self._folder / "trial.db"
        first = self._folder / "first.db"
        if not first.exists():
            start = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)
            with open_log(f"sqlite:///{first.as_posix()}", read_only=False) as log:
                log.append(Shot("P25", n, n, start + timedelta(minutes=n), {"cushion": 4.9}) for n in range(1, 41))
        for one in file.parent.glob("trial.db*"):
            one.unlink()
        file.write_bytes(first.read_bytes())
        return open_log(f"sqlite:///{file.as_posix()}", read_only=False)


def _csv(rows: list[list[str]]) -> bytes:
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows([as_cell(cell) for cell in row] for row in rows)
    return out.getvalue().encode("utf-8", "replace")


def _shots_file(random: Random, first: int = 1) -> bytes:
    heads = [*_HEADS] if random.random() < 0.8 else random.sample(_HEADS, random.randrange(3, len(_HEADS) + 1))
    rows = [heads]
    for n in range(first, first + random.choice((0, 1, 2, 4))):
        cells = {
            "press": "P25", "shot": str(n), "time": f"2026-01-05T06:{n:02d}:00Z", "fixed": "F-1",
            "moving": f"S-{n:03d}", "core": "", "design": "cap-r2",
            "event": random.choice(("", f"{random.choice(list(KINDS))}:L2", "lot:1;dry:x")),
            "single_use": random.choice(("", "moving")), "print_batch": random.choice(("", "moving:B7")),
            "cushion": f"{random.uniform(0, 9):.2f}", "peak_pressure": f"{random.uniform(0, 900):.1f}",
            "part_weight": random.choice(("", "10.2")),
        }  # fmt: skip
        for name in heads:
            if random.random() < 0.04:
                cells[name] = damaged_text(random, cells[name])
        rows.append([cells[name] for name in heads])
    return _csv(rows)


def _parts_file(random: Random) -> bytes:
    rows = [list(_PARTS)]
    for _ in range(random.choice((1, 1, 2, 4))):
        cells = {
            "press": "P25", "shot": str(random.randrange(1, 41)), "cavity": "1", "inspected": "2026-01-06T06:00:00Z",
            "quantity": random.choice(("wall", "part_weight", "look")), "value": f"{random.uniform(0, 9):.3f}",
            "unit": random.choice(("mm", "g", "")), "low": random.choice(("", "1.1")),
            "high": random.choice(("", "1.3")), "finding": random.choice(("", "flash", "=1+1")),
            "half": random.choice(("", "core")), "instrument": "scale",
            "initials": "AB",
        }  # fmt: skip
        for name in _PARTS:
            if random.random() < 0.05:
                cells[name] = damaged_text(random, cells[name])
        rows.append([cells[name] for name in _PARTS])
    return _csv(rows)


def _plain_rows(data: bytes) -> Iterator[dict[str, str]]:
    """Read a table character by character: a quote opens and closes where a cell begins with it, doubled it is one."""
    text = data.decode("utf-8-sig", "replace")
    rows: list[list[str]] = [[]]
    at, size = 0, len(text)
    while at < size:
        cell = ""
        if text[at] == '"':
            at += 1
            while at < size and not (text[at] == '"' and text[at + 1 : at + 2] != '"'):
                cell += text[at]
                at += 2 if text[at] == '"' else 1
            at += 1
        while at < size and text[at] not in ",\r\n":
            cell += text[at]
            at += 1
        rows[-1].append(cell)
        if text[at : at + 1] == ",":
            at += 1
            if at == size or text[at] in "\r\n":
                rows[-1].append("")
        if at < size and text[at] in "\r\n":
            at += 1
            rows.append([])
            while at < size and text[at] in "\r\n":
                at += 1
    heads, *others = [row for row in rows if row] or [[]]
    for row in others:
        yield {head: from_cell(cell.strip()) for head, cell in zip(heads, row, strict=False)}


def _hold_shots(data: bytes, taken: list[LoggedShot], remarks: str) -> None:
    if not taken:
        return
    seen: dict[str, int] = {}
    for shot in taken:
        assert shot.shot > seen.get(shot.press, -1), f"shot {shot.shot} twice or out of order"
        seen[shot.press] = shot.shot
    rows = list(_plain_rows(data))
    assert len(rows) >= len(taken), f"{len(taken)} shots from {len(rows)} rows"
    for shot, cells in zip(taken, rows, strict=False):
        assert (shot.press, shot.shot) == (cells["press"], int(cells["shot"])), cells
        moment = datetime.fromisoformat(cells["time"])
        assert shot.time == (moment if moment.tzinfo else moment.replace(tzinfo=UTC)), cells
        for half, held in shot.halves.items():
            assert held.serial == cells[half], cells
        for name, channel in CHANNELS.items():
            written = cells.get(name, "")
            if name in shot.values:
                assert shot.values[name] == float(written), f"{name} of {cells}"
            elif written and written.lower() not in ("nan", "+nan", "-nan"):
                number = float(written)
                assert not channel.low <= number <= channel.high, f"{name} was left out of {cells}"
                assert name in remarks, f"{name} was left out of {cells}, and nothing said"
        events = [one for one in cells.get("event", "").split(";") if one]
        assert len(shot.noted) + len(shot.removed) == len(events), cells


def _hold_parts(data: bytes, parts: importing.PartsFile) -> None:
    rows = list(_plain_rows(data))
    assert len(rows) == len(parts.rows), f"{len(parts.rows)} inspections from {len(rows)} rows"
    for (part, _, row), cells in zip(parts.rows, rows, strict=True):
        assert (part.press, part.shot, part.cavity) == (
            cells["press"],
            int(cells["shot"]),
            int(cells.get("cavity") or 1),
        )
        assert re.fullmatch("[0-9]+", cells["shot"]), cells
        if row["value"] is not None:
            assert isfinite(row["value"]), cells
            assert cells.get("unit", "") not in ("mm", "g", "") or row["value"] == float(cells["value"]), cells
        else:
            assert not cells.get("value"), f"a value was left out of {cells}"


def _kept(shot: LoggedShot) -> tuple[object, ...]:
    """Return what a recording keeps of a shot: blanks in a text are one, and a ; in it is a comma."""
    noted = [(kind, recording.one_line(text), half) for kind, text, half in shot.noted]
    return shot.press, shot.shot, shot.time, shot.values, shot.halves, noted, shot.removed
