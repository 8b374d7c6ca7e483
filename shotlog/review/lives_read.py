"""A press read for its swaps and lives alone: what a log of years is asked as a whole.

Report and pages read a window with all that was said in it. Lives want every shot ever made, but of its verdict only
whether it called a change, which and since when, and of its time nothing: that is read a hundred times faster.
"""

from bisect import bisect_left
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from shotlog.channels import ALWAYS_CHARTED, CHANNELS
from shotlog.facts import SwapFinding
from shotlog.records import EVER, Gap, Stay
from shotlog.review.episodes import BriefCall, by_serial, withdrawn
from shotlog.review.source import MountedStretch, Seen, silent, stretches_of
from shotlog.review.swaps import Swap, swaps_of
from shotlog.store.asked import state
from shotlog.store.asked.brief import Brief, each_brief, swap_found
from shotlog.store.asked.missed import unseen
from shotlog.store.asked.state import EntryRow
from shotlog.store.log.log import Log
from shotlog.store.log.shots import columns
from shotlog.store.log.timeline import Timeline

__all__ = ["LivesRead", "read_lives"]


@dataclass(frozen=True, slots=True)
class BriefRecord(Seen):
    """Shots of a press with what swaps and lives are told from, as in `PressRecord`.

    `turns`: runs of shots of which the same was said of the same insert: their last shots, first shots and inserts.
    """

    press: str
    shots: NDArray[np.int64]
    channels: tuple[str, ...]
    values: NDArray[np.float64]
    timeline: Timeline
    stretches: tuple[MountedStretch, ...]
    episodes: tuple[BriefCall, ...]
    settling: frozenset[int]
    entries: tuple[EntryRow, ...]
    gaps: tuple[Gap, ...]
    found: tuple[SwapFinding, ...]
    turns: tuple[Sequence[int], Sequence[int], Sequence[str]]

    def judged(self, first: int, last: int) -> str:
        """Return the insert that the first judged shot of `first` to `last` was judged on, empty where none was."""
        ends, starts, inserts = self.turns
        at = bisect_left(ends, first)
        return inserts[at] if at < len(ends) and starts[at] <= last else ""


@dataclass(frozen=True, slots=True)
class LivesRead:
    """A press with what was worked out of it, as a `History` has it."""

    record: BriefRecord
    swaps: tuple[Swap, ...]


class _Said:
    """What verdicts come to, rows of `each_brief`, all of a press in order; see `source.Said`."""

    def __init__(self, press: str, verdicts: Iterable[tuple[Any, ...]], stays: Sequence[Stay]) -> None:
        self.calls: list[BriefCall] = []
        self.settling: list[int] = []
        self.found: list[SwapFinding] = []
        self.turns: tuple[list[int], list[int], list[str]] = [], [], []
        ends, starts, inserts = self.turns
        mounted, run = by_serial(stays), list[Brief]()
        before: tuple[str, bool, str] | None = None
        shot = 0
        for row in verdicts:
            said = row[1:4]
            if said != before:
                insert, _, verdict = said
                if before is not None:
                    ends.append(shot)
                starts.append(row[0])
                inserts.append(insert)
                before = said
                if run and (verdict == "keep" or insert != run[0].insert):
                    self.calls.append(_call(press, run, withdrawn(run[0].insert, Brief._make(row), mounted)))
                    run = []
            shot = row[0]
            if said[2] != "keep":
                run.append(Brief._make(row))
            if said[1]:
                self.settling.append(shot)
            if row[-1] is not None and (finding := swap_found(row[-1])) is not None:
                self.found.append(finding)
        if before is not None:
            ends.append(shot)
        if run:
            self.calls.append(_call(press, run, False))


def _call(press: str, run: Sequence[Brief], is_withdrawn: bool) -> BriefCall:
    dated = next((one for one in reversed(run) if one.onset is not None), None)
    return BriefCall(
        press,
        run[0].insert,
        run[0].shot,
        run[-1].shot,
        "swap" if any(one.verdict == "swap" for one in run) else "watch",
        next((one.shot for one in run if one.verdict == "swap"), None),
        dated.onset if dated else None,
        dated.onset_low if dated else None,
        dated.onset_high if dated else None,
        next((one.group for one in reversed(run) if one.cause or one.group), ""),
        is_withdrawn,
    )


def read_lives(
    log: Log,
    press: str,
    first: int = 0,
    last: int = EVER,
    *,
    timeline: Timeline | None = None,
    tell: Callable[[str], None] = silent,
) -> LivesRead:
    """Read shots `first` to `last` of a press and work out its swaps; parameters as of `source.read_press`."""
    tell(f"{press}: shots and verdicts")
    names = tuple(name for name in CHANNELS if name in ALWAYS_CHARTED)
    with log.reading() as connection:
        shots, _, values = columns(connection, press, names, first, last, timed=False)
    present = [n for n in range(len(names)) if np.isfinite(values[:, n]).any()]
    begin, end = (int(shots[0]), int(shots[-1])) if len(shots) else (1, 0)
    within = (log.timeline(press) if timeline is None else timeline).within(first, last)
    said = _Said(press, each_brief(log, press, first, last), within.stays)
    tell(f"{press}: swaps and lives")
    record = BriefRecord(
        press,
        shots,
        tuple(names[n] for n in present),
        values[:, present],
        within,
        stretches_of(within.stays, begin, end),
        tuple(said.calls),
        frozenset(said.settling),
        tuple(state.entries(log, press, first, last)),
        tuple(unseen(log, press, first, last)),
        tuple(said.found),
        said.turns,
    )
    return LivesRead(record, swaps_of(record))
