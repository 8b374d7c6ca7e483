"""When a number changes, held against the shot counter. Pure.

The values of a shot change once a count, at their own place in the cycle: some presses write them while the shot is
made and count when it is done, some count first and write after. What changes several times a count is a live reading,
what never changes is a set-point, or stands behind nothing. A change half a cycle after a count is as well one half a
cycle before the next, so a shot is looked at three times: at its count, midway to the next, and just before that.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil
from statistics import median

from shotlog.collectors.register_map import Cell
from shotlog.learning.counting import Counting
from shotlog.learning.history import Moment, WordHistory
from shotlog.learning.pace import nearest_count, pace_of, usual_lag

__all__ = ["Looked", "Timing", "looks", "seen_at", "settle_s", "shares", "timing_of"]

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

    `lag_s`: its usual time after the count, negative before it. `late_s`: how long after the count was seen it was
    complete at the latest; 0 where it is there by then. `rarity`: how rare such a place in the cycle is. `place`: where
    in the cycle it changes, as a share of it from the nearest count, whichever shot it is laid to; `laid`: to the
    nearest count 0, to the next 1, to the one before -1.
    """

    kind: str
    lag_s: float = 0.0
    late_s: float = 0.0
    rarity: float = 0.0
    place: float = 0.0
    laid: int = 0

    @property
    def early(self) -> bool:
        """Whether it is there before the count."""
        return self.lag_s < 0


def shares(counts: Sequence[Moment]) -> tuple[float, float, float]:
    """Return the places in the cycle at which shots are looked at, as shares of it."""
    reading_s = median(count.by - count.after for count in counts)
    return min(0.2, 2 * reading_s / pace_of(counts)), 0.5, 0.95


def looks(history: WordHistory, counting: Counting, share: float = 0.5) -> list[Looked]:
    """Return each shot that was seen whole, in order, with the time that `share` of the cycle after its count is.

    The first is the one that stood there at first.
    """
    counts = counting.counts
    pace = pace_of(counts)
    found = [Looked(counting.first, max(history.began or 0.0, counts[0].middle + (share - 1) * pace))]
    for n, count in enumerate(counts):
        last = n + 1 == len(counts)
        gap = pace if last else counts[n + 1].middle - count.middle
        at = max(count.by, count.middle + share * min(gap, pace))
        if not last or history.ended >= count.by + 0.3 * pace:
            found.append(Looked(int(count.raw), at if last else min(at, counts[n + 1].after)))
    return found


def timing_of(history: WordHistory, cell: Cell, counts: Sequence[Moment]) -> Timing:
    """Return how a number moves with the counts."""
    pace = pace_of(counts)
    moments = history.moments(cell)
    if not moments:
        return Timing("still")
    usual = usual_lag(counts, moments)
    windows: dict[int, list[Moment]] = {}
    for moment in moments:
        nearest = nearest_count(counts, moment.middle - usual)
        if abs(counts[nearest].middle - moment.middle + usual) <= pace:
            windows.setdefault(nearest, []).append(moment)
    if not windows:
        return Timing("seldom")
    single = {n: found[0] for n, found in windows.items() if len(found) == 1}
    slack = max(_STEADY * pace, 2 * max(count.by - count.after for count in counts))
    steady = [n for n, one in single.items() if abs(one.middle - counts[n].middle - usual) <= slack]
    if len(steady) < 0.6 * len(windows):
        return Timing("live")
    kind = "shot" if len(windows) >= 0.3 * len(counts) else "seldom"
    early = sum(single[n].by <= counts[n].after for n in steady) > len(steady) / 2
    late = max(0.0, *(single[n].by - counts[n].by for n in steady))
    lag = min(usual, -1e-9) if early else max(usual, 0.0)
    return Timing(kind, lag, 0.0 if early else late, place=lag / pace)


def seen_at(timing: Timing, share: float, counts: Sequence[Moment]) -> Timing | None:
    """Return what a number's timing means where its value is taken at this share of the cycle after the count.

    What changes after that belongs to the next shot, and is there long before the next count. None where it changes
    just then, so that some shots would be the next ones'.
    """
    if timing.kind not in ("shot", "seldom"):
        return timing
    pace_s = pace_of(counts)
    lag, at = timing.lag_s, share * pace_s
    if min(abs(lag - at), abs(lag + pace_s - at)) <= 2 * median(count.by - count.after for count in counts):
        return None
    if lag > at:
        return replace(timing, lag_s=lag - pace_s, late_s=0.0, laid=1, rarity=0.5 if lag > 0.3 * pace_s else 4.0)
    if lag + pace_s <= at:
        late = lag + pace_s
        return replace(timing, lag_s=late, late_s=late, laid=-1, rarity=1.5 if lag < -0.3 * pace_s else 4.0)
    return replace(timing, rarity=0.5 if lag > 0.3 * pace_s else 0.0)


def settle_s(timings: Sequence[Timing], sweep_s: float, pace_s: float) -> float:
    """Return how long to wait after the count until all of these are there, in seconds; 0 where none was seen late.

    `sweep_s`: time between two readings. It is never longer than until what is there early changes for the next shot.
    """
    shot = [timing for timing in timings if timing.kind in ("shot", "seldom")]
    late = max((timing.late_s for timing in shot), default=0.0)
    room = min((pace_s + timing.lag_s if timing.early else pace_s for timing in shot), default=pace_s)
    return 0.0 if late <= 0.0 else min(10.0, ceil(20 * min(1.25 * late + sweep_s, 0.5 * (late + room))) / 20)
