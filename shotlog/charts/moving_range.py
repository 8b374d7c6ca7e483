"""Moving range chart: the step from each reading to the next, which shows a growing spread."""

import math
from collections.abc import Iterator, Sequence

import numpy as np

from shotlog.charts.base import Chart, ChartRun, Floats, Point
from shotlog.charts.baseline import OwnBaseline, check_positive
from shotlog.charts.change import Change
from shotlog.charts.constants import D2_PAIR, D3_PAIR
from shotlog.charts.individuals import Limits
from shotlog.charts.limits import check_alpha, normal_factor, range_factor
from shotlog.charts.passage import range_survival

__all__ = ["MovingRange"]


class MovingRange(Chart):
    """Moving range chart of one channel, ranges of two readings, upper limit only.

    Sees a growing spread, and a sudden jump once; blind to a drift.

    Parameters
    ----------
    sigma: spread of the readings in control, in the channel's unit; None: learnt from the first `baseline` readings.
    baseline: how many first readings the mean range is learnt from, at least 3. None of their ranges is judged.
    width: upper limit in standard deviations of the range above its mean; the textbook chart is 3 (D4 = 3.267).
        None: a limit exceeded with probability `alpha` at each later range; the one range that shares its first
        reading with the baseline is then not judged.
    alpha: with `width` None, the false-alarm probability of each range.
    least: the upper limit is never lower, in the channel's unit.

    Returns
    -------
    `update` a point whose value is the range (NaN at the first reading), `run` arrays of shape (n_shots,).

    Raises
    ------
    UsageError
        A parameter out of range, or an infinite reading.

    Notes
    -----
    State: the last reading and the limits, the sum of ranges while learning; an update is O(1).
    In control: D4 limits alarm falsely once in 109 ranges (probability 0.00915), far from the 370 of the individuals
    chart; neighbouring ranges share a reading, so alarms come in pairs and the average run length is 120 (Crowder
    1987's integral equation, see `runlength`). The rule is named "above".
    A baseline without a single range above zero is none: unless `least` is above 0 the chart goes on learning.

    Examples
    --------
    >>> chart = MovingRange(sigma=1.0)
    >>> [round(chart.update(x).upper, 4) for x in (0.0, 1.0)]
    [3.6859, 3.6859]

    References
    ----------
    ISO 7870-2, moving range chart; the probability limit: own, see `limits.range_factor`.
    """

    kind = "mr"

    def __init__(
        self,
        *,
        sigma: float | None = None,
        baseline: int = 12,
        width: float | None = 3.0,
        alpha: float = 0.0027,
        least: float = 0.0,
    ) -> None:
        self.base = OwnBaseline(self.kind, centre=0.0, sigma=sigma, n=baseline, allow_flat=least > 0.0)
        self.width = width if width is None else check_positive(self.kind, "width", width)
        self.alpha = check_alpha(self.kind, alpha)
        self.least = check_positive(self.kind, "least", least, zero=True)
        self._last = math.nan
        self._upper = self._limit() if self.base.ready else math.nan

    @property
    def rule_names(self) -> tuple[str, ...]:
        """ "above" only: with two readings no lower limit exists."""
        return ("above",)

    @property
    def ready(self) -> bool:
        """Whether the limit stands."""
        return self._upper == self._upper

    @property
    def limits(self) -> Limits | None:
        """Centre, 0, upper limit, spread of the readings, and how many they come from; None while learning."""
        sigma = self.base.sigma
        return (D2_PAIR * sigma, 0.0, self._upper, sigma, self.base.n) if self.ready else None

    def _limit(self) -> float:
        if self.width is not None:
            factor = D2_PAIR + self.width * D3_PAIR
        elif self.base.n == 0:
            factor = math.sqrt(2.0) * normal_factor(self.alpha)
        else:
            factor = range_factor(self.base.n, self.alpha) * D2_PAIR
        return max(factor * self.base.sigma, self.least)

    def _step(self, x: float) -> Point:
        value, self._last = abs(x - self._last), x
        if not self.ready:
            if self.base.learn(x):
                self._upper = self._limit()
                if self.width is None:
                    self._last = math.nan
            return Point(value, math.nan, math.nan, math.nan)
        return Point(value, D2_PAIR * self.base.sigma, 0.0, self._upper, ("above",) if value > self._upper else ())

    def _rest(self, xs: Floats) -> ChartRun:
        value = np.abs(np.diff(xs, prepend=self._last))
        if len(xs):
            self._last = float(xs[-1])
        return ChartRun.flat(value, D2_PAIR * self.base.sigma, 0.0, self._upper, {"above": value > self._upper})

    def survival(self, change: Change) -> Iterator[float] | None:
        """With a known spread: Crowder's integral equation, counted in shots; the first has no range."""
        if self.base.given_sigma is None:
            return None
        return range_survival(math.inf, self._upper / self.base.sigma, change.mean)

    def readings(self, noise: Floats) -> Floats:
        """Readings about the given level with the given spread (0 and 1 where learnt)."""
        return self.base.scaled(noise)

    def _state(self) -> tuple[float | int | str | None, ...]:
        return (*self.base.state(), self._last)

    def _set_state(self, state: Sequence[float]) -> None:
        (last,) = self.base.set_state(state)
        self._last = float(last)
        self._upper = self._limit() if self.base.ready else math.nan
