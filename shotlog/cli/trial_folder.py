"""One folder for each trial: every table of its record as CSV, and a dictionary that says what each column means.

The same log gives the same bytes: nothing of the moment of writing is in them.
"""

import csv
import hashlib
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from shotlog import __version__, recording
from shotlog.channels import CHANNELS
from shotlog.clock import iso_utc
from shotlog.records import HALVES
from shotlog.settings import DesignSettings
from shotlog.store.asked import missed, state
from shotlog.store.asked.trials import TrialShots, trials
from shotlog.store.inserts import making
from shotlog.store.log.log import Log
from shotlog.store.parts import baths, dispositions, inspections, pictures, places, soaks, weights
from shotlog.wording.parts import why_out, why_stands, wrong_text

__all__ = ["write_folders"]


_PICTURE_FOLDER = "pictures"


@dataclass(frozen=True, slots=True)
class _Column:
    """One column of a file: name, unit (empty if none), meaning, and the cell it has for a row."""

    name: str
    unit: str
    meaning: str
    cell: Callable[[Any], object]


def write_folders(log: Log, designs: Mapping[str, DesignSettings], kept: Path, out: Path) -> list[tuple[str, int]]:
    """Write one folder a trial under `out`, with its pictures, which lie in `kept`; return name and shots of each.

    Raises
    ------
    StoreDamaged
        The log does not verify, or a picture is not there or was changed.
    """
    links, digest = log.verify()
    written = []
    for trial in trials(log):
        folder = out / _folder_name(trial.name)
        folder.mkdir(parents=True, exist_ok=True)
        counts = {"shots.csv": _write_shots(log, trial, folder / "shots.csv")}
        dictionary = list(_shot_columns(folder / "shots.csv"))
        for name, columns, rows in _tables(log, designs, trial):
            counts[name] = _write(folder / name, columns, rows)
            dictionary += [(name, column.name, column.unit, column.meaning) for column in columns]
        counts |= _copy_pictures(log, trial, kept, folder)
        _write_dictionary(folder / "dictionary.csv", dictionary)
        about = f"trial: {trial.name or 'none'}\npart: {trial.part}\nresin: {trial.resin}\n"
        about += f"written by: shotlog {__version__}\ntimes: UTC, ISO 8601\n"
        about += f"log: {links} transactions, last digest {digest}\n\nfile, rows, SHA-256\n"
        about += "".join(f"{name}, {n}, {_digest(folder / name)}\n" for name, n in counts.items())
        (folder / "about.txt").write_text(about, encoding="utf-8", newline="\n")
        written.append((folder.name, counts["shots.csv"]))
    return written


def _folder_name(name: str) -> str:
    kept = "".join(character if character.isalnum() or character in "-_" else "-" for character in name).strip("-")
    return kept or "no-trial"


def _write_shots(log: Log, trial: TrialShots, path: Path) -> int:
    shots = [shot for press, (first, last) in trial.shots.items() for shot in log.logged(press, first - 1, last)]
    present = {name for shot in shots for name in shot.values}
    optional = any(held.single_use or held.print_batch for shot in shots for held in shot.halves.values())
    return recording.write(path, shots, [name for name in CHANNELS if name in present], optional)


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
) -> Iterator[tuple[str, list[_Column], Iterable[Any]]]:
    spans = trial.shots
    yield "parts.csv", _PARTS, _over(spans, lambda p, a, b: dispositions.part_standings(log, p, designs, a, b))
    yield "inspections.csv", _INSPECTIONS, _over(spans, lambda p, a, b: inspections.inspections(log, p, a, b))
    soaked = [soak for press in spans for soak in soaks.soaks(log, press) if _within(spans, press, soak.part.shot)]
    yield "bath.csv", _SOAKS, soaked
    fillings = {soak.bath_id for soak in soaked}
    checked = [(bath, check) for bath in baths.baths(log) if bath.bath_id in fillings for check in bath.checks]
    yield "bath_checks.csv", _CHECKS, checked
    placed = [one for press, (first, last) in spans.items() for one in places.places(log, press)
              if one.first <= last and one.last >= first]  # fmt: skip
    yield "places.csv", _PLACES, placed
    yield "weighings.csv", _WEIGHINGS, _over(spans, lambda p, a, b: weights.weighings_between(log, p, a, b))
    yield "inserts.csv", _INSERTS, _inserts(log, spans)
    yield "stays.csv", _STAYS, _stays(log, spans)
    yield (
        "events.csv",
        _EVENTS,
        _over(spans, lambda p, a, b: [e for e in state.entries(log, p, a, b) if not e.taken_back]),
    )
    yield "verdicts.csv", _VERDICTS, _over(spans, lambda p, a, b: state.verdicts(log, p, a, b))
    yield "gaps.csv", _GAPS, _over(spans, lambda p, a, b: missed.unseen(log, p, a, b))
    yield "pictures.csv", _PICTURES, _over(spans, lambda p, a, b: pictures.pictures(log, p, a, b))


def _copy_pictures(log: Log, trial: TrialShots, kept: Path, folder: Path) -> dict[str, int]:
    """Copy the files of a trial's pictures; return the name of each in the folder, one picture a file."""
    found = _over(trial.shots, lambda p, a, b: pictures.pictures(log, p, a, b))
    copied = {f"{_PICTURE_FOLDER}/{one.file_name}": one for one in found}
    for name, one in copied.items():
        data = pictures.picture_bytes(kept, one)
        (folder / _PICTURE_FOLDER).mkdir(exist_ok=True)
        (folder / name).write_bytes(data)
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


def _write(path: Path, columns: list[_Column], rows: Iterable[Any]) -> int:
    n = 0
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow([column.name for column in columns])
        for row in rows:
            writer.writerow([_cell(column.cell(row)) for column in columns])
            n += 1
    return n


def _write_dictionary(path: Path, rows: Iterable[tuple[str, str, str, str]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(("file", "column", "unit", "meaning"))
        writer.writerows(rows)


def _cell(value: object) -> object:
    if value is None:
        return ""
    if isinstance(value, bool):
        return str(value).lower()
    return iso_utc(value) if isinstance(value, datetime) else value


def _digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def _of(name: str) -> Callable[[Any], object]:
    return lambda row: getattr(row, name)


def _serial(half: str) -> Callable[[Any], object]:
    return lambda standing: standing.made.halves[half].serial if half in standing.made.halves else ""


_PARTS = [
    _Column("press", "", "name of the press", lambda s: s.part.press),
    _Column("shot", "", "shot counter, unwrapped", lambda s: s.part.shot),
    _Column("cavity", "", "cavity, from 1", lambda s: s.part.cavity),
    _Column("time", "", "when it was moulded; empty if nobody saw the shot", lambda s: s.made.time),
    *(_Column(half, "", f"serial in the {half} half", _serial(half)) for half in HALVES),
    _Column("lot", "", "material lot noted last", lambda s: s.made.lot),
    _Column("setup", "", "set-up noted last", lambda s: s.made.setup),
    _Column("state", "", "made (nothing against it), held, released or scrapped", _of("state")),
    _Column("why", "", "reason in words", why_stands),
]
_INSPECTIONS = [
    _Column("press", "", "name of the press", lambda i: i.part.press),
    _Column("shot", "", "shot counter, unwrapped", lambda i: i.part.shot),
    _Column("cavity", "", "cavity, from 1", lambda i: i.part.cavity),
    _Column("inspected", "", "when", _of("inspected")),
    _Column("quantity", "", "part_weight, the name of a dimension, or look", _of("quantity")),
    _Column("value", "as in unit", "measured value", _of("value")),
    _Column("unit", "", "unit of value, low and high", _of("unit")),
    _Column("low", "as in unit", "lower tolerance", _of("low")),
    _Column("high", "as in unit", "upper tolerance", _of("high")),
    _Column("finding", "", "what was wrong", _of("finding")),
    _Column("half", "", "half to blame, where a person said so", _of("half")),
    _Column("instrument", "", "measured with", _of("instrument")),
    _Column("initials", "", "by whom", _of("initials")),
]
_SOAKS = [
    _Column("part", "", "PRESS/SHOT/CAVITY", lambda s: str(s.part)),
    _Column("bath", "", "name of the bath", _of("bath")),
    _Column("went_in", "", "when it went in", _of("went_in")),
    _Column("due", "", "when it was due, as set that day", _of("due")),
    _Column("came_out", "", "when it came out; empty while in", _of("came_out")),
    _Column("cleared", "", "nothing of the half was left", _of("cleared")),
    _Column("remark", "", "in words", _of("remark")),
]
_PLACES = [
    _Column("press", "", "name of the press", _of("press")),
    _Column("first", "", "first shot whose part was put there", _of("first")),
    _Column("last", "", "last shot whose part was put there", _of("last")),
    _Column("cavity", "", "cavity, from 1; empty for all", _of("cavity")),
    _Column("place", "", "bag, box or shelf, in a word", _of("place")),
    _Column("put", "", "when they were put there", _of("put")),
    _Column("due", "", "when something was due with them; empty for nothing", _of("due")),
    _Column("initials", "", "by whom", _of("initials")),
    _Column("entered", "", "when it was written down", _of("entered")),
]
_CHECKS = [
    _Column("bath", "", "name of the bath", lambda pair: pair[0].name),
    _Column("made_up", "", "when it was filled", lambda pair: pair[0].made_up),
    _Column("checked", "", "when it was checked", lambda pair: pair[1].checked),
    _Column("concentration", "mol/l", "sodium hydroxide", lambda pair: pair[1].concentration),
    _Column("temperature", "degC", "of the bath", lambda pair: pair[1].temperature),
    _Column("wrong", "", "what was outside its range", lambda pair: wrong_text(pair[1].wrong)),
]
_WEIGHINGS = [
    _Column("number", "", "number of the weighing", _of("weighing_id")),
    _Column("press", "", "press it weighed for", _of("press")),
    _Column("balance", "", "name of the balance", _of("balance")),
    _Column("time", "", "when", _of("time")),
    _Column("grams", "g", "weight shown", _of("grams")),
    _Column("shot", "", "shot it was taken for; empty if none", _of("shot")),
    _Column("by_hand", "", "a person said which shot", _of("by_hand")),
    _Column("why", "", "reason of the match", _of("why")),
]
_INSERTS = [
    _Column("serial", "", "serial of the insert", _of("serial")),
    *(_Column(name, "", name.replace("_", " "), _of(name)) for name in making.TEXTS),
    *(_Column(name, unit, name.replace("_", " "), _of(name)) for name, unit in making.AMOUNTS.items()),
    _Column("cured", "", "when the post-cure ended", _of("cured")),
    _Column(
        "dimensions",
        "mm",
        "measured, NAME=VALUE separated by ;",
        lambda m: ";".join(f"{n}={v!r}" for n, v in m.dimensions.items()),
    ),
]
_STAYS = [
    _Column("press", "", "name of the press", lambda s: s.mounting.press),
    _Column("half", "", "half of the mould", lambda s: s.mounting.half),
    _Column("serial", "", "serial mounted; the first of a single-use series", lambda s: s.mounting.insert.serial),
    _Column("single_use", "", "each shot took a new piece", lambda s: s.mounting.single_use),
    _Column("first", "", "first shot made with it", _of("first")),
    _Column(
        "last",
        "",
        "last shot made with it; empty while mounted",
        lambda s: None if s.end == float("inf") else int(s.end) - 1,
    ),
    _Column("reason", "", "why it came out", lambda s: why_out(s.reason, s.replaced_by)),
]
_EVENTS = [
    _Column("press", "", "name of the press", lambda e: e.event.press),
    _Column("at_shot", "", "shot from which it holds", lambda e: e.event.at_shot),
    _Column("kind", "", "kind of event", lambda e: e.event.kind),
    _Column("text", "", "in words", lambda e: e.event.text),
    _Column("entered", "", "when it was written down", lambda e: e.event.time),
]
_VERDICTS = [
    *(
        _Column(name, "", meaning, _of(name))
        for name, meaning in (
            ("press", "name of the press"), ("shot", "shot counter, unwrapped"), ("insert", "serial judged"),
            ("settling", "at the start or after a stop: not charted"), ("verdict", "keep, watch or swap"),
            ("cause", "likeliest cause"),
            ("group", "insert, material, press or measurement"), ("weight", "weight of that cause, 0 to 1"),
            ("onset", "shot from which the level changed"), ("onset_low", "its early edge"),
            ("onset_high", "its late edge"), ("left_median", "shots until parts are bad, median"),
            ("sentence", "in words"),
        )
    ),
    _Column("others", "", "other changes that stand open, GROUP:CAUSE:ONSET separated by ;",
            lambda v: ";".join(other.name for other in v.others)),
    _Column("limits", "", "channels beyond an action limit, separated by ;", lambda v: ";".join(v.limits)),
]  # fmt: skip
_GAPS = [
    _Column("press", "", "name of the press", _of("press")),
    _Column("first", "", "first of the shots still missing", _of("first")),
    _Column("last", "", "last of the shots still missing", _of("last")),
    _Column("reason", "", "how it was noticed", _of("reason")),
]
_PICTURES = [
    _Column("number", "", "number of the picture", _of("entry_id")),
    _Column("press", "", "name of the press", _of("press")),
    _Column("shot", "", "shot counter, unwrapped", _of("shot")),
    _Column("cavity", "", "cavity it shows, from 1; empty if the whole shot", _of("cavity")),
    _Column("insert", "", "serial of the insert it shows, where a person said so", _of("insert")),
    _Column("finding", "", "number of the finding it was taken with", _of("event_id")),
    _Column("file", "", "name of the file, SHA-256 of its bytes in hex", lambda p: f"{_PICTURE_FOLDER}/{p.file_name}"),
    _Column("remark", "", "in words", _of("remark")),
    _Column("taken", "", "when, as far as anybody said", _of("taken")),
    _Column("entered", "", "when it came into the log", _of("entered")),
    _Column("initials", "", "by whom", _of("initials")),
]
