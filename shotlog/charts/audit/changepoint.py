"""Change-point chart with unknown level and spread: the largest two-sample t over all splits, after every shot."""

import math
from collections.abc import Iterator, Sequence

import numpy as np

from shotlog.charts.audit.changepoint_limits import FIRST_TESTED, changepoint_limit
from shotlog.charts.base import Chart, Point
from shotlog.charts.baseline import check_positive
from shotlog.charts.change import Change
from shotlog.charts.passage import independent_survival
from shotlog.errors import UsageError

__all__ = ["ChangePoint"]


class ChangePoint(Chart):
    """Change-point chart of one channel: no baseline, no target, and an onset with every signal.

    Sees a sustained step of unknown size at an unknown shot, without anything known beforehand; slower than a CUSUM
    that was tuned to the very step, and little power before some ten healthy shots.

    Parameters
    ----------
    alpha: false-alarm probability of each tested reading given none before, 0.001 to 0.05.
    first: the first reading tested, 10 or 3.
    window: how many latest splits are tried, 20 or more; earlier readings then count as one block of the old level.
    least_sigma: no spread estimate is taken to be smaller, in the channel's unit; for channels that report in coarse
        steps.

    Returns
    -------
    `update` a point, `run` arrays of shape (n_shots,), without unit. The value is the largest |t|; `detail` is the
    number of readings before the likeliest split (the first suspect reading is the next), and the levels before and
    after it.

    Raises
    ------
    UsageError
        A parameter out of range, or an infinite reading.

    Notes
    -----
    State: a count, two sums, and one sum a split, at most `window` of them; an update is O(window), about 20 us at 200,
    whatever the history. The array form is the loop: splits are vectorised within each shot.
    In control: average run length 1/alpha from the first tested reading on, 370.4 at 0.0027. Limits by own Monte
    Carlo, see `changepoint_limits`. Readings that are all equal have no t: the point is not ready.

    Examples
    --------
    >>> chart = ChangePoint(first=3)
    >>> [round(chart.update(x).value, 4) for x in (12.31, 12.28, 12.35, 12.30)]
    [nan, nan, 2.117, 1.029]

    References
    ----------
    Hawkins, Qiu & Kang 2003, J. Quality Technology 35(4) 355-366.
    """

    kind = "changepoint"
    detail_names = ("before", "level before", "level after")

    def __init__(self, *, alpha: float = 0.0027, first: int = 10, window: int = 200, least_sigma: float = 0.0) -> None:
        if first not in FIRST_TESTED:
            raise UsageError(f"{self.kind}: given first {first}, allowed: {' or '.join(map(str, FIRST_TESTED))}")
        if window < 20:
            raise UsageError(f"{self.kind}: given a window of {window} splits, allowed: 20 or more")
        changepoint_limit(first, alpha, first)
        self.alpha, self.first, self.window = float(alpha), int(first), int(window)
        self.least_sigma = check_positive(self.kind, "least sigma", least_sigma, zero=True)
        self._n = 0
        self._origin = math.nan
        self._sum = self._squares = 0.0
        self._splits: list[float] = []
        """Sum of the first j readings about the origin, for the latest j; the last entry is j = n."""

    @property
    def rule_names(self) -> tuple[str, ...]:
        """ "above" where the later level is above the earlier one, else "below"."""
        return ("above", "below")

    @property
    def ready(self) -> bool:
        """Whether the next reading will be tested."""
        return self._n >= self.first - 1

    def _step(self, x: float) -> Point:
        if self._n == 0:
            self._origin = x
        d = x - self._origin
        self._n += 1
        self._sum += d
        self._squares += d * d
        self._splits = [*self._splits, self._sum][-self.window - 1 :]
        if self._n < 3 or self._n < self.first:
            return Point(math.nan, math.nan, math.nan, math.nan)
        return self._judge()

    def _judge(self) -> Point:
        n = self._n
        sums = np.array(self._splits[:-1])
        j = np.arange(n - len(sums), n, dtype=float)
        mean = self._sum / n
        off = sums - j * mean
        between = n / (j * (n - j)) * off * off
        at = int(np.argmax(between))
        left = self._squares - self._sum * mean - float(between[at])
        floor = (n - 2) * self.least_sigma**2
        limit = changepoint_limit(n, self.alpha, self.first)
        before = float(j[at])
        levels = float(sums[at]) / before, (self._sum - float(sums[at])) / (n - before)
        if not max(left, floor) > 1e-12 * self._squares:
            # all equal, or two flat levels with no spread in between to measure their step by
            return Point(math.nan, 0.0, 0.0, limit)
        value = math.sqrt((n - 2) * float(between[at]) / max(left, floor))
        fired = () if value <= limit else ("above",) if levels[1] > levels[0] else ("below",)
        detail = (before, levels[0] + self._origin, levels[1] + self._origin)
        return Point(value, 0.0, 0.0, limit, fired, detail)

    def survival(self, change: Change) -> Iterator[float] | None:
        """Without a change alpha a reading, given none before; else none."""
        return independent_survival(lambda n: self.alpha) if change.none else None

    def _state(self) -> tuple[float | int | str | None, ...]:
        return (self._n, self._origin, self._sum, self._squares, *self._splits)

    def _set_state(self, state: Sequence[float]) -> None:
        self._n = int(state[0])
        self._origin, self._sum, self._squares = (float(s) for s in state[1:4])
        self._splits = [float(s) for s in state[4:]]
