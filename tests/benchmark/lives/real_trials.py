"""The open moulding trials, 7861 shots: read, cut at every change that is known, and fed as insert lives.

Source: West, N., cross-process chain data (MIT), see the README beside the data. One steel mould ran for eight days, so
every insert here is made up: one steady stretch, or two with a known change between them, is the life of one insert.
What is known was read off the data itself: the set-points (the values follow one shot after the set-point column), and
level steps of the pressure that nobody logged, 20 to 60 shot-to-shot spreads large.
"""

import csv
import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from functools import cache
from itertools import pairwise
from pathlib import Path

from shotlog.records import InForce, LoggedShot, Verdict
from shotlog.wear.monitor import Monitor

SHARED = Path(os.environ.get("SHOTLOG_SHARED", Path(__file__).parents[4] / "shared"))
REAL = SHARED / "datasets" / "moulding_trials_7861_shots" / "data.csv"

MM_PER_CM3 = 10.0 / 15.904
"""Screw travel per volume on the 45 mm screw (taken from the dose; the source gives volumes)."""

COLUMNS = {
    "cushion": ("cushion_cm3", MM_PER_CM3),
    "peak_pressure": ("peak_pressure_bar", 1.0),
    "fill_time": ("fill_time_s", 1.0),
    "switchover_pressure": ("switchover_pressure_bar", 1.0),
    "recovery_time": ("dosing_time_s", 1.0),
    "cycle_time": ("cycle_time_s", 1.0),
    "melt_temperature": ("barrel_zone_6_degC", 1.0),
    "part_weight": ("part_weight_g", 1.0),
}
THREE = ("cushion", "peak_pressure", "fill_time")
ALL = tuple(COLUMNS)


@dataclass(frozen=True)
class Change:
    """A known change: first shot made after it, and what it was."""

    shot: int
    what: str
    kind: str


def _kind(kind: str, table: Mapping[int, str]) -> list[Change]:
    return [Change(shot, what, kind) for shot, what in table.items()]


CHANGES = sorted(
    [
        *_kind(
            "pressure step, not logged",
            {
                130: "592 to 514 bar",
                835: "522 to 462 bar",
                1000: "595 to 518 bar",
                1280: "522 to 461 bar",
                1641: "596 to 504 bar",
                1915: "502 to 594 bar",
                1970: "594 to 511 bar",
                1977: "511 to 593 bar, after a stop",
                2376: "637 to 614 bar",
            },
        ),
        *_kind(
            "switchover",
            {
                2361: "22 to 20 cm3",
                2466: "20 to 18",
                2516: "18 to 17",
                2566: "17 to 16",
                2643: "16 to 15",
                2694: "15 to 14",
                2748: "14 to 13",
                2796: "13 to 22",
                2847: "22 to 24",
                2896: "24 to 26",
                2945: "26 to 28",
                2996: "28 to 30",
                3048: "30 to 32",
            },
        ),
        *_kind(
            "speed",
            {
                3287: "30 to 50 cm3/s",
                3338: "50 to 70",
                3387: "70 to 90",
                3442: "90 to 110",
                3491: "110 to 130",
                3558: "130 to 150",
                3608: "150 to 170",
                3662: "170 to 30",
                3712: "30 to 25",
                3779: "25 to 20",
                3836: "20 to 15, after a stop",
                3888: "15 to 30",
            },
        ),
        *_kind(
            "cooling time",
            {262: "25 to 26 s", 382: "26 to 27", 501: "27 to 28", 622: "28 to 29", 722: "29 to 30", 802: "30 to 25"},
        ),
        *_kind("mould temperature", {1032: "30 to 35 degC", 1112: "35 to 45", 1412: "55 to 65"}),
        *_kind("glass fibre", {1666: "30 to 25 %", 1802: "25 to 20", 1942: "20 to 15", 2071: "15 to 10, after a stop"}),
    ],
    key=lambda change: change.shot,
)
SLOW = ("mould temperature", "glass fibre")
"""Changes that take tens of shots: what comes after them is no steady stretch."""

UNSEEN = ("cooling time",)
"""Changes that show in the cycle time only, which the monitor carries and does not judge: to stay quiet is right."""

EVENTS = {3127: "the cushion falls by 1.6 mm in four shots, then the press is stopped"}
"""What went wrong on the press and is no change of a setting: to call it is right."""

STARTS = (1, 121, 902, 1502, 2182, 3102, 5030)
"""First shots after a night or a longer stop."""

LONG = ((3917, 5028), (5060, 7861))
"""The two long runs at one setting, without the first shots after their stop."""


@cache
def rows() -> dict[int, tuple[datetime, dict[str, float]]]:
    """Time and values by shot number; a shot whose log was missed is absent."""
    out: dict[int, tuple[datetime, dict[str, float]]] = {}
    time = datetime(2024, 6, 5, 15, 51, tzinfo=UTC)
    for row in csv.DictReader(REAL.read_text("utf-8").splitlines()):
        if row["time"]:
            time = datetime.fromisoformat(f"{row['date']}T{row['time']}+00:00")
        else:
            time += timedelta(seconds=float(row["cycle_time_s"] or 37.2))
        values = {ours: float(row[theirs]) * scale for ours, (theirs, scale) in COLUMNS.items() if row[theirs]}
        if "cushion" in values:
            out[int(row["shot_no"])] = (time, values)
    return out


def shots(first: int, last: int, channels: tuple[str, ...], serial: str) -> list[LoggedShot]:
    """Shots `first` to `last` as made with one insert."""
    held = {"moving": InForce(serial, "mould")}
    return [
        LoggedShot("real", n, time, {c: values[c] for c in channels if c in values}, held)
        for n, (time, values) in rows().items()
        if first <= n <= last
    ]


@dataclass(frozen=True)
class Steady:
    """A steady stretch and the calls made in it, each by the shot at which it was raised."""

    first: int
    last: int
    calls: tuple[Verdict, ...]


@dataclass(frozen=True)
class Found:
    """What was made of one known change. `early`: a call was in force before it came; None: not called."""

    change: Change
    before: int
    after: int
    early: bool
    call: Verdict | None
    final: Verdict | None

    @property
    def delay(self) -> int | None:
        """Shots from the change to the call, both counted."""
        return None if self.call is None else self.call.shot - self.change.shot + 1

    @property
    def error(self) -> int | None:
        """Onset said at the call, less the true one."""
        return None if self.call is None or self.call.onset is None else self.call.onset - self.change.shot

    @property
    def last_error(self) -> int | None:
        """Onset said at the end of the stretch, less the true one."""
        return None if self.final is None or self.final.onset is None else self.final.onset - self.change.shot


def explained(shot: int, within: int = 12) -> bool:
    """Whether something is known to have happened shortly before."""
    return any(at <= shot < at + within for at in (*EVENTS, *(c.shot for c in CHANGES if c.kind not in UNSEEN)))


def after_stop(shot: int, within: int = 12) -> bool:
    """Whether the log missed shots not long before, which it did at stops: the first shots after them are wild."""
    return any(n not in rows() for n in range(max(shot - within, 1), shot))


def stretches() -> list[tuple[int, int, str]]:
    """First shot, last shot, and the kind of change that began it, of every stretch between two changes or stops."""
    kinds = {change.shot: change.kind for change in CHANGES}
    edges = sorted({*STARTS, *kinds})
    return [
        (first, after - 1, kinds.get(first, "start"))
        for first, after in zip(edges, [*edges[1:], max(rows()) + 1], strict=True)
    ]


def raised(verdicts: list[Verdict]) -> tuple[Verdict, ...]:
    """The verdicts at which a call was raised."""
    before = ["keep", *(v.verdict for v in verdicts)]
    return tuple(v for v, last in zip(verdicts, before, strict=False) if v.verdict != "keep" and last == "keep")


def steady(channels: tuple[str, ...], least: int = 40) -> list[Steady]:
    """Each stretch of at least `least` shots at one setting as one insert life, the first of its design."""
    out = []
    for first, last, kind in stretches():
        if last - first + 1 >= least and kind not in SLOW:
            monitor = Monitor("real", {})
            out.append(Steady(first, last, raised([monitor.step(s) for s in shots(first, last, channels, "A")])))
    return out


def as_inserts(channels: tuple[str, ...], length: int = 90) -> list[Steady]:
    """The long runs cut into lives of `length` shots, as if an insert of one design had been changed for the next."""
    out = []
    for first, last in LONG:
        monitor = Monitor("real", {})
        for k, start in enumerate(range(first, last - length + 2, length)):
            made = shots(start, start + length - 1, channels, f"A-{k + 1}")
            out.append(Steady(start, start + length - 1, raised([monitor.step(s) for s in made])))
    return out


def as_logged(channels: tuple[str, ...]) -> list[Steady]:
    """Each day as the life of one insert, with every set-point change logged as it would be, and nothing else."""
    kinds = dict.fromkeys(("switchover", "speed", "cooling time", "mould temperature"), "setup") | {
        "glass fibre": "lot"
    }
    logged = {c.shot: ((kinds[c.kind], c.what),) for c in CHANGES if c.kind in kinds}
    out = []
    for first, after in pairwise((*STARTS, max(rows()) + 1)):
        monitor = Monitor("real", {})
        made = [replace(s, events=logged.get(s.shot, ())) for s in shots(first, after - 1, channels, "A")]
        out.append(Steady(first, after - 1, raised([monitor.step(s) for s in made])))
    return out


def changes(channels: tuple[str, ...], most_before: int = 120) -> list[Found]:
    """Each known change in the life of one insert, the first of its design, between a stretch before and one after."""
    return list(_changes(channels, most_before))


def _changes(channels: tuple[str, ...], most_before: int) -> Iterator[Found]:
    pieces = stretches()
    for (first, last, _), (at, end, _) in pairwise(pieces):
        change = next((c for c in CHANGES if c.shot == at), None)
        if change is None or last - first + 1 < 20:
            continue
        start = max(first, at - most_before)
        monitor = Monitor("real", {})
        verdicts = [monitor.step(s) for s in shots(start, min(end, at + 120), channels, "A")]
        early = any(v.verdict != "keep" for v in verdicts if v.shot < at)
        calls = [v for v in verdicts if v.shot >= at and v.verdict != "keep"]
        yield Found(change, at - start, end - at + 1, early, calls[0] if calls else None, calls[-1] if calls else None)


@dataclass(frozen=True)
class Second:
    """What was made of the second of two sudden steps in one life: `said` is the first shot at which an open change has
    its onset within three shots of it; None where there is none. `closed`: it undid the first, and both were closed.
    """

    first: Change
    second: Change
    said: int | None
    closed: bool


def seconds(channels: tuple[str, ...], most_before: int = 120) -> Iterator[Second]:
    """Two sudden changes one after the other in the life of one insert, the first of its design, nothing logged."""
    sudden = {c.shot: c for c in CHANGES if c.kind not in (*SLOW, *UNSEEN)}
    pieces = stretches()
    for (start, *_), (first, *_), (second, last, _) in zip(pieces, pieces[1:], pieces[2:], strict=False):
        if first not in sudden or second not in sudden:
            continue
        monitor = Monitor("real", {})
        made = shots(max(start, first - most_before), min(last, second + 120), channels, "A")
        verdicts = [v for v in map(monitor.step, made) if v.shot >= second]
        onsets = [(v.shot, o) for v in verdicts for o in (v.onset, *(one.onset for one in v.others)) if o is not None]
        said = next((shot for shot, onset in onsets if abs(onset - second) <= 3), None)
        closed = said is None and verdicts[-1].verdict == "keep"
        yield Second(sudden[first], sudden[second], said, closed)
