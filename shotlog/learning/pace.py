"""The cycle as the counts give it, and where in it something usually happens. Pure."""

from bisect import bisect_left, bisect_right
from cmath import exp, phase
from collections.abc import Sequence
from itertools import pairwise
from math import pi
from statistics import median

from shotlog.learning.history import Moment

__all__ = ["nearest_count", "pace_of", "usual_lag"]


def pace_of(counts: Sequence[Moment]) -> float:
    """Return the usual time between two counts, in seconds."""
    return median(b.middle - a.middle for a, b in pairwise(counts))


def nearest_count(counts: Sequence[Moment], at: float) -> int:
    """Return which count a time lies nearest to."""
    after = bisect_left(counts, at, key=lambda count: count.middle)
    around = [n for n in (after - 1, after) if 0 <= n < len(counts)]
    return min(around, key=lambda n: abs(counts[n].middle - at))


def usual_lag(counts: Sequence[Moment], changes: Sequence[Moment]) -> float:
    """Return how long after a count these changes usually come, in seconds; from half a cycle before to half after.

    The mean of directions (Mardia and Jupp, Directional Statistics, 2000, section 2.2), for a change just before a
    count and one just after the count before are the same place in the cycle.
    """
    pace = pace_of(counts)
    total = 0j
    for change in changes:
        before = bisect_right(counts, change.middle, key=lambda count: count.middle) - 1
        start = counts[max(before, 0)].middle
        total += exp(2j * pi * (change.middle - start) / pace)
    return phase(total) / (2 * pi) * pace
