"""One folder for each trial: every table of its record as CSV, and a dictionary that says what each column means.

The same log gives the same bytes: nothing of the moment of writing is in them.
"""

import csv
import hashlib
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import Any

from shotlog import __version__, recording
from shotlog.cells import as_cell
from shotlog.channels import CHANNELS
from shotlog.cli.folder_name import folder_name
from shotlog.cli.trial_columns import (
    CHECKS,
    CLOCK,
    ENTRIES,
    EVENTS,
    GAPS,
    INSERTS,
    INSPECTIONS,
    PARTS,
    PICTURE_FOLDER,
    PICTURES,
    PLACES,
    SOAKS,
    STARTS,
    STAYS,
    VERDICTS,
    WEIGHINGS,
    Column,
)
from shotlog.clock import iso_utc
from shotlog.outputs import written_aside
from shotlog.records import MadeEntry
from shotlog.settings import DesignSettings
from shotlog.store.asked import missed, state
from shotlog.store.asked.entries_made import entries_made
from shotlog.store.asked.trials import TrialShots, trials
from shotlog.store.inserts import making
from shotlog.store.keeping.archived import archives_of
from shotlog.store.log.clock_steps import clock_steps
from shotlog.store.log.log import Log
from shotlog.store.log.starts import starts
from shotlog.store.parts import baths, dispositions, inspections, pictures, places, soaks, weights

__all__ = ["write_folders"]

_ABOUT = "about.txt"
"""Says at its top which trial a folder holds."""


def write_folders(log: Log, designs: Mapping[str, DesignSettings], kept: Path, out: Path) -> list[tuple[str, int]]:
    """Write one folder a trial under `out`, with its pictures, which lie in `kept`; return name and shots of each.

    Raises
    ------
    StoreDamaged
        The log does not verify, or a picture is not there or was changed.
    """
    links, digest = log.verify()
    archived = archives_of(log)
    written: list[tuple[str, int]] = []
    done: set[str] = set()
    for trial in trials(log):
        about = f"trial: {trial.name or 'none'}\npart: {trial.part}\nresin: {trial.resin}\n"
        folder = out / folder_name(trial.name, partial(_is_taken, out, about, done))
        folder.mkdir(parents=True, exist_ok=True)
        done.add(folder.name.casefold())
        if not (folder / _ABOUT).exists():  # whose folder it is stands there also when writing it is cut short
            _write_text(folder / _ABOUT, f"{about}not finished: writing this folder was cut short\n")
        counts = {"shots.csv": _write_shots(log, trial, folder / "shots.csv")}
        dictionary = list(_shot_columns(folder / "shots.csv"))
        for name, columns, rows in _tables(log, designs, trial):
            counts[name] = _write(folder / name, columns, rows)
            dictionary += [(name, column.name, column.unit, column.meaning) for column in columns]
        counts |= _copy_pictures(log, trial, kept, folder)
        _write_dictionary(folder / "dictionary.csv", dictionary)
        about += f"written by: shotlog {__version__}\ntimes: UTC, ISO 8601\n"
        about += "".join(
            f"archive: {one.rows} verdicts of no change seen are in {one.file.name} and not in verdicts.csv\n"
            for one in archived
            if one.trial == trial.name
        )
        about += f"log: {links} transactions, last digest {digest}\n\nfile, rows, SHA-256\n"
        about += "".join(f"{name}, {n}, {_digest(folder / name)}\n" for name, n in counts.items())
        _write_text(folder / _ABOUT, about)
        written.append((folder.name, counts["shots.csv"]))
    return written


def _write_text(path: Path, text: str) -> None:
    with written_aside(path) as aside:
        aside.write_text(text, encoding="utf-8", newline="\n")


def _is_taken(out: Path, about: str, done: Collection[str], name: str) -> bool:
    """Say whether a folder under `out` holds something else than the trial that `about` begins with: another trial, of
    this log or another, or files of somebody's own.
    """
    folder = out / name
    if name.casefold() in done:
        return True
    if not folder.is_dir():
        return folder.exists()
    file = folder / _ABOUT
    return not file.read_bytes().startswith(about.encode()) if file.is_file() else any(folder.iterdir())


def _write_shots(log: Log, trial: TrialShots, path: Path) -> int:
    blocks = [block for press, (first, last) in trial.shots.items() for block in log.recorded(press, first - 1, last)]
    present = {name for block in blocks for name in CHANNELS if any(value is not None for value in block[name])}
    optional = any(any(block[name]) for block in blocks for name in recording.OPTIONAL_COLUMNS)
    return recording.write(path, blocks, [name for name in CHANNELS if name in present], optional)


def _shot_columns(path: Path) -> Iterator[tuple[str, str, str, str]]:
    meanings = {
        "press": "name of the press",
        "shot": "its shot counter, unwrapped",
        "time": "when the shot was read",
        "fixed": "serial in the fixed half",
        "moving": "serial in the moving half",
        "core": "serial of the core",
        "design": "design of the inserts",
        "event": "what was noted, KIND:TEXT separated by ;",
        "single_use": "halves that take a new piece every shot",
        "print_batch": "print batch by half, HALF:BATCH",
    }
    with path.open(encoding="utf-8", newline="") as file:
        for name in next(csv.reader(file)):
            channel = CHANNELS.get(name)
            unit, meaning = (channel.unit, channel.definition) if channel else ("", meanings[name])
            yield "shots.csv", name, unit, meaning


def _tables(
    log: Log, designs: Mapping[str, DesignSettings], trial: TrialShots
) -> Iterator[tuple[str, list[Column], Iterable[Any]]]:
    spans = trial.shots
    yield "parts.csv", PARTS, _over(spans, lambda p, a, b: dispositions.part_standings(log, p, designs, a, b))
    yield "inspections.csv", INSPECTIONS, _over(spans, lambda p, a, b: inspections.inspections(log, p, a, b))
    soaked = [soak for press in spans for soak in soaks.soaks(log, press) if _within(spans, press, soak.part.shot)]
    yield "bath.csv", SOAKS, soaked
    fillings = {soak.bath_id for soak in soaked}
    checked = [(bath, check) for bath in baths.baths(log) if bath.bath_id in fillings for check in bath.checks]
    yield "bath_checks.csv", CHECKS, checked
    placed = [one for press, (first, last) in spans.items() for one in places.places(log, press)
              if one.first <= last and one.last >= first]  # fmt: skip
    yield "places.csv", PLACES, placed
    yield "weighings.csv", WEIGHINGS, _over(spans, lambda p, a, b: weights.weighings_between(log, p, a, b))
    yield "inserts.csv", INSERTS, _inserts(log, spans)
    yield "stays.csv", STAYS, _stays(log, spans)
    yield (
        "events.csv",
        EVENTS,
        _over(spans, lambda p, a, b: [e for e in state.entries(log, p, a, b) if not e.taken_back]),
    )
    yield "entries.csv", ENTRIES, _entries(log, spans)
    yield "verdicts.csv", VERDICTS, _over(spans, lambda p, a, b: state.verdicts(log, p, a, b))
    yield "gaps.csv", GAPS, _over(spans, lambda p, a, b: missed.unseen(log, p, a, b))
    yield "starts.csv", STARTS, starts(log)
    yield "clock.csv", CLOCK, clock_steps(log)
    yield "pictures.csv", PICTURES, _over(spans, lambda p, a, b: pictures.pictures(log, p, a, b))


def _copy_pictures(log: Log, trial: TrialShots, kept: Path, folder: Path) -> dict[str, int]:
    """Copy the files of a trial's pictures; return the name of each in the folder, one picture a file."""
    found = _over(trial.shots, lambda p, a, b: pictures.pictures(log, p, a, b))
    copied = {f"{PICTURE_FOLDER}/{one.file_name}": one for one in found}
    for name, one in copied.items():
        data = pictures.picture_bytes(kept, one)
        (folder / PICTURE_FOLDER).mkdir(exist_ok=True)
        with written_aside(folder / name) as aside:
            aside.write_bytes(data)
    return dict.fromkeys(copied, 1)


def _over(spans: Mapping[str, tuple[int, int]], read: Callable[[str, int, int], Iterable[Any]]) -> list[Any]:
    return [row for press, (first, last) in spans.items() for row in read(press, first, last)]


def _within(spans: Mapping[str, tuple[int, int]], press: str, shot: int) -> bool:
    first, last = spans.get(press, (1, 0))
    return first <= shot <= last


def _stays(log: Log, spans: Mapping[str, tuple[int, int]]) -> list[Any]:
    return [
        stay
        for press, (first, last) in spans.items()
        for stay in log.timeline(press).stays
        if stay.first <= last and stay.end > first
    ]


def _inserts(log: Log, spans: Mapping[str, tuple[int, int]]) -> list[Any]:
    used = {
        held.serial
        for press, (first, last) in spans.items()
        for shot in log.logged(press, first - 1, last)
        for held in shot.halves.values()
    }
    return [made for serial, made in making.makings(log).items() if serial in used]


def _entries(log: Log, spans: Mapping[str, tuple[int, int]]) -> list[Any]:
    """Return what people entered about these shots, and about no press: baths, dimensions of inserts."""
    return [
        one
        for one in entries_made(log)
        if not one.press or (one.press in spans and (one.first is None or _touches(spans[one.press], one)))
    ]


def _touches(span: tuple[int, int], one: MadeEntry) -> bool:
    first, last = one.first or 0, one.last or one.first or 0
    return first <= span[1] + 1 and last >= span[0]


def _write(path: Path, columns: list[Column], rows: Iterable[Any]) -> int:
    n = 0
    with written_aside(path) as aside, aside.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow([column.name for column in columns])
        for row in rows:
            writer.writerow([_cell(column.cell(row)) for column in columns])
            n += 1
    return n


def _write_dictionary(path: Path, rows: Iterable[tuple[str, str, str, str]]) -> None:
    with written_aside(path) as aside, aside.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(("file", "column", "unit", "meaning"))
        writer.writerows(rows)


def _cell(value: object) -> object:
    if value is None:
        return ""
    if isinstance(value, bool):
        return str(value).lower()
    return iso_utc(value) if isinstance(value, datetime) else as_cell(value)


def _digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()
