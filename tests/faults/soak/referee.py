"""The referee: what stands in the log, read with SQLite alone, against what the presses really made.

A shot of the log is matched by the number its press showed and by its values, decoded anew; the log's own numbers are
only used to look whether a gap lies between two shots.
"""

import json
import sqlite3
from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from contextlib import closing
from dataclasses import dataclass, field
from itertools import pairwise
from pathlib import Path
from typing import Any

from tests.faults.soak.truth import CHANNELS, Made, TruePress, true_values

__all__ = ["Count", "Gap", "Stored", "count", "rows_of"]

READ = 6
"""As many right answers while a shot was on display, and nothing wrong with the wire: it could be read."""


@dataclass(frozen=True, slots=True)
class Stored:
    """A shot as a log holds it. `file`: which of the files that were the log in its time."""

    file: str
    press: str
    shot: int
    counter: int
    values: tuple[float | None, ...]
    judged: bool


@dataclass(frozen=True, slots=True)
class Gap:
    """A gap as a log holds it. `sure`: its size is said to be certain."""

    press: str
    first: int
    last: int
    least: int
    most: int
    sure: bool
    reason: str


@dataclass
class Count:
    """The figures. `waited`: told as waiting in the journal first; `lost`: told, either way, and in no log;
    `unsaid`: made, neither stored nor in a gap; `missed`: could be read and is in a gap all the same; `twice_told`:
    acknowledged twice.
    """

    offered: int = 0
    acknowledged: int = 0
    waited: int = 0
    stored: int = 0
    judged: int = 0
    in_gaps: int = 0
    uncertain: int = 0
    lost: list[str] = field(default_factory=list)
    doubled: list[str] = field(default_factory=list)
    changed: list[str] = field(default_factory=list)
    unsaid: list[str] = field(default_factory=list)
    overstated: list[str] = field(default_factory=list)
    missed: list[str] = field(default_factory=list)
    twice_told: int = 0

    @property
    def broken(self) -> list[str]:
        """What must not be."""
        out = [f"lost: {one}" for one in self.lost] + [f"doubled: {one}" for one in self.doubled]
        out += [f"changed: {one}" for one in self.changed] + [
            f"neither stored nor in a gap: {one}" for one in self.unsaid
        ]
        out = list(dict.fromkeys(out))  # a log that was copied says the same twice
        return out + [f"a gap where nothing is missing: {one}" for one in self.overstated]


def rows_of(file: Path) -> tuple[list[Stored], list[Gap], dict[str, list[tuple[Any, ...]]]]:
    """Return the shots, gaps, and what else was said (faults, links, clock steps) of one file, read only."""
    with closing(sqlite3.connect(f"file:{file.as_posix()}?mode=ro", uri=True, timeout=20)) as log:
        presses = dict(log.execute("SELECT id, name FROM presses"))
        judged = set(log.execute("SELECT press_id, shot FROM verdicts"))
        wanted = ", ".join(CHANNELS)
        shots = [
            Stored(file.name, presses[row[0]], row[1], row[2], row[3:], (row[0], row[1]) in judged)
            for row in log.execute(f"SELECT press_id, shot, counter, {wanted} FROM shots ORDER BY id")
        ]
        named = {row[1] for row in log.execute("PRAGMA table_info(gaps)")}
        sizes = "least, most" if {"least", "most"} <= named else "NULL, NULL"
        gaps = []
        for press, first, last, reason, least, most in log.execute(
            f"SELECT press_id, first, last, reason, {sizes} FROM gaps ORDER BY id"
        ):
            size = last - first + 1
            sure = least is None and most is None
            low, high = size if least is None else least, size if most is None else most
            gaps.append(Gap(presses[press], first, last, low, high, sure, reason))
        tables = {row[0] for row in log.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
        said = {
            table: list(log.execute(f"SELECT * FROM {table} ORDER BY id"))
            for table in ("faults", "links", "clock_steps", "starts", "logs")
            if table in tables
        }
    return shots, gaps, said


def count(
    presses: Sequence[TruePress],
    acknowledged: Iterable[tuple[str, int]],
    waiting: Iterable[tuple[str, int]],
    files: Sequence[Path],
    listening: Callable[[str, Made], bool],
) -> Count:
    """Return the figures over all files that were the log in their time, the one in use last.

    `listening` tells whether the logger could have heard a printed line.
    """
    out = Count()
    logs = [rows_of(file)[:2] for file in files]
    shots = [one for these, _ in logs for one in these]
    told = list(acknowledged)
    out.acknowledged, out.twice_told = len(set(told)), len(told) - len(set(told))
    held = {(one.press, one.shot) for one in shots}
    waited = set(waiting)
    out.waited = len(waited)
    out.lost = [f"{press} shot {shot}" for press, shot in sorted(set(told) - held)]
    out.lost += [f"{press} shot {shot}, told as waiting" for press, shot in sorted(waited - set(told) - held)]
    out.stored, out.judged = len(held), len({(one.press, one.shot) for one in shots if one.judged})
    for press in presses:
        out.offered += press.ledger[-1].n
        mine = [
            ([s for s in these if s.press == press.name], [g for g in those if g.press == press.name])
            for these, those in logs
        ]
        everywhere = {n for these, _ in mine for n, _ in _matched(press, these)[0]}
        in_gaps: set[int] = set()
        uncertain: set[int] = set()
        told_of: set[int] = set()
        for these, those in mine:
            _count_log(out, press, these, those, everywhere, in_gaps, uncertain)
            numbers = [n for n, _ in _matched(press, these)[0]]
            told_of.update(range(min(numbers), max(numbers) + 1) if numbers else ())
        between = sorted(set(range(min(everywhere, default=0), max(everywhere, default=0))) - told_of)
        if between:
            out.unsaid.append(f"{press.name} {between[0]} to {between[-1]}, {len(between)} of them: between two files")
        out.in_gaps += len(in_gaps - everywhere)
        out.uncertain += len(uncertain - everywhere)
        out.missed += [
            f"{press.name} {made.n} (counter {made.counter}, read {made.answers} times)"
            for made in press.ledger[:-1]
            if made.n not in everywhere and not made.spoilt and _readable(press, made, listening)
        ]
    return out


def _readable(press: TruePress, made: Made, listening: Callable[[str, Made], bool]) -> bool:
    return listening(press.name, made) if press.name == "LINE" else made.answers >= READ


def _same(stored: Stored, made: Made) -> bool:
    truth = true_values(made.n)
    for name, value in zip(CHANNELS, stored.values, strict=True):
        if value is None:
            if name not in made.unreadable:
                return False
        elif name in made.unreadable or abs(value - truth[name]) > 1e-6 * abs(truth[name]):
            return False
    return True


def _matched(press: TruePress, shots: list[Stored]) -> tuple[list[tuple[int, Stored]], list[str]]:
    by_counter: dict[int, list[Made]] = defaultdict(list)
    for made in press.ledger:
        by_counter[made.counter].append(made)
    matched, wrong = [], []
    for one in shots:
        fitting = [made.n for made in by_counter.get(one.counter, []) if _same(one, made)]
        if fitting:
            matched.append((fitting[0], one))
        else:
            wrong.append(f"{press.name} shot {one.shot} (counter {one.counter}) stored as {json.dumps(one.values)}")
    return matched, wrong


def _count_log(
    out: Count,
    press: TruePress,
    shots: list[Stored],
    gaps: list[Gap],
    everywhere: set[int],
    in_gaps: set[int],
    uncertain: set[int],
) -> None:
    """Count one press in one file. What is missing in it may stand in another file that was the log in its time."""
    matched, wrong = _matched(press, shots)
    out.changed += wrong
    as_shots: dict[int, set[int]] = defaultdict(set)
    for n, one in matched:
        as_shots[n].add(one.shot)
    out.doubled += [f"{press.name} {n} as shots {sorted(as_)}" for n, as_ in as_shots.items() if len(as_) > 1]
    number = dict(sorted((n, one.shot) for n, one in matched))
    truth = list(number)
    gaps = sorted(gaps, key=lambda gap: gap.first)
    firsts = [gap.first for gap in gaps]
    for before, after in pairwise(truth):
        inside = gaps[bisect_right(firsts, number[before]) : bisect_left(firsts, number[after])]
        least, most = sum(gap.least for gap in inside), sum(gap.most for gap in inside)
        missing = range(before + 1, after)
        began_anew = any(before < n <= after for n in press.resets)
        told_anew = any(not gap.sure or "reset" in gap.reason or "anew" in gap.reason for gap in inside)
        span = f"{press.name} {before + 1} to {after - 1} (log {number[before]} to {number[after]})"
        span += f": {len(missing)} missed, said {least} to {most}: {[gap.reason for gap in inside]}"
        if not missing:
            if least > 0 and not began_anew:
                out.overstated.append(span)
        elif least <= len(missing) <= most:
            in_gaps.update(missing)
            uncertain.update(missing if least < most else ())
        elif began_anew and told_anew:  # how many were made before a count began anew nobody can know
            in_gaps.update(missing)
            uncertain.update(missing)
        elif not everywhere.issuperset(missing):
            out.unsaid.append(span)
