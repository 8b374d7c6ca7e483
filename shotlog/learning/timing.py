"""When a number changes, held against the shot counter. Pure.

The values of a shot change once a count, at their own place in the cycle: some presses write them before they count,
some after. What changes several times a count is a live reading, what never changes is a set-point, or stands behind
nothing. A shot is looked at in the middle between two counts, where what comes early or late has come.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil
from statistics import median

from shotlog.collectors.register_map import Cell
from shotlog.learning.counting import Counting, nearest_count, pace_of
from shotlog.learning.history import History, Moment

__all__ = ["Looked", "Timing", "looks", "settle_s", "timing_of"]

_STEADY = 0.15
"""How far from its usual place in the cycle a change may lie, as a share of the cycle."""


@dataclass(frozen=True, slots=True)
class Looked:
    """A shot by the counter's number, and the time at which its values are taken."""

    number: int
    at: float


@dataclass(frozen=True, slots=True)
class Timing:
    """How a number moves: ``shot`` once a count, ``seldom`` at few of them, ``live`` between them as well, ``still``.

    `late_s`: how long after the count was seen it was complete at the latest; `early`: it was there before the count.
    """

    kind: str
    late_s: float = 0.0
    early: bool = False


def looks(history: History, counting: Counting) -> list[Looked]:
    """Return each shot that was seen whole, in order; the first is the one that stood there at first."""
    counts = counting.counts
    pace = pace_of(counts)
    began = history.began or 0.0
    found = [Looked(counting.first, max(began, counts[0].middle - pace / 2))]
    for n, count in enumerate(counts):
        gap = counts[n + 1].middle - count.middle if n + 1 < len(counts) else pace
        at = count.middle + min(gap, pace) / 2
        if n + 1 < len(counts) or history.ended >= count.by + 0.3 * pace:
            found.append(Looked(int(count.raw), at))
    return found


def timing_of(history: History, cell: Cell, counts: Sequence[Moment]) -> Timing:
    """Return how a number moves with the counts."""
    pace = pace_of(counts)
    moments = history.moments(cell)
    if not moments:
        return Timing("still")
    windows: dict[int, list[Moment]] = {}
    for moment in moments:
        nearest = nearest_count(counts, moment)
        if abs(counts[nearest].middle - moment.middle) <= pace:
            windows.setdefault(nearest, []).append(moment)
    if not windows:
        return Timing("seldom")
    single = {n: found[0] for n, found in windows.items() if len(found) == 1}
    lags = {n: moment.middle - counts[n].middle for n, moment in single.items()}
    usual = median(lags.values()) if lags else 0.0
    slack = max(_STEADY * pace, 2 * max(count.by - count.after for count in counts))
    steady = [n for n, lag in lags.items() if abs(lag - usual) <= slack]
    if len(steady) < 0.6 * len(windows):
        return Timing("live")
    late = max(0.0, *(single[n].by - counts[n].by for n in steady))
    early = sum(single[n].by <= counts[n].after for n in steady) > len(steady) / 2
    kind = "shot" if len(windows) >= 0.3 * len(counts) else "seldom"
    return Timing(kind, late, early)


def settle_s(timings: Sequence[Timing], sweep_s: float, pace_s: float) -> float:
    """Return how long to wait after the count until all of these are there, in seconds; 0 where none was seen late.

    `sweep_s`: time between two readings; `pace_s`: between two counts, of which less than half is waited for.
    """
    late = max((timing.late_s for timing in timings if timing.kind in ("shot", "seldom")), default=0.0)
    return 0.0 if late <= 0.0 else min(10.0, ceil(20 * min(1.25 * late + sweep_s, 0.45 * pace_s)) / 20)
