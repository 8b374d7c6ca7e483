"""Moving range chart: the step from each reading to the next, which shows a growing spread."""

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from shotlog.charts.base import Chart, Floats, Point, Run
from shotlog.charts.constants import D2_PAIR, D3_PAIR
from shotlog.charts.individuals import Limits, check_baseline, check_spread
from shotlog.charts.limits import check_alpha, normal_factor, range_factor

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
    chart; neighbouring ranges share a reading, so alarms come in pairs and the average run length is 138 (Crowder
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
        self.sigma = check_spread(self.kind, "sigma", sigma)
        self.baseline = check_baseline(self.kind, baseline, 3)
        self.width = width if width is None else check_spread(self.kind, "width", width)
        self.alpha = check_alpha(self.kind, alpha)
        self.least = check_spread(self.kind, "least", least, zero=True)
        self._learnt: list[float] = []
        self._last = self._sigma = self._upper = math.nan
        self._n = 0
        if not math.isnan(self.sigma):
            self._freeze(self.sigma, 0)

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
        return (D2_PAIR * self._sigma, 0.0, self._upper, self._sigma, self._n) if self.ready else None

    def _freeze(self, sigma: float, n: int) -> None:
        if self.width is not None:
            upper = (D2_PAIR + self.width * D3_PAIR) * sigma
        elif n == 0:
            upper = math.sqrt(2.0) * normal_factor(self.alpha) * sigma
        else:
            upper = range_factor(n, self.alpha) * D2_PAIR * sigma
        self._sigma, self._n, self._upper = sigma, n, max(upper, self.least)

    def _step(self, x: float) -> Point:
        value, self._last = abs(x - self._last), x
        if not self.ready:
            self._learn(x)
            return Point(value, math.nan, math.nan, math.nan)
        fired = ("above",) if value > self._upper else ()
        return Point(value, D2_PAIR * self._sigma, 0.0, self._upper, fired)

    def _learn(self, x: float) -> None:
        self._learnt = [*self._learnt, x][-self.baseline :]
        if len(self._learnt) < self.baseline:
            return
        ranges = [abs(b - a) for a, b in pairwise(self._learnt)]
        sigma = math.fsum(ranges) / len(ranges) / D2_PAIR
        if sigma > 0.0 or self.least > 0.0:
            self._freeze(sigma, self.baseline)
            self._learnt = []
            if self.width is None:
                self._last = math.nan

    def _rest(self, xs: Floats) -> Run:
        value = np.abs(np.diff(xs, prepend=self._last))
        if len(xs):
            self._last = float(xs[-1])
        line = np.ones(len(xs))
        centre = line * (D2_PAIR * self._sigma)
        fired = {"above": value > self._upper}
        return Run(value, centre, line * 0.0, line * self._upper, fired, np.empty((len(xs), 0)))

    def _state(self) -> tuple[float | int | str | None, ...]:
        return (self._last, self._sigma, self._upper, self._n, *self._learnt)

    def _set_state(self, state: Sequence[float]) -> None:
        self._last, self._sigma, self._upper = (float(s) for s in state[:3])
        self._n = int(state[3])
        self._learnt = [float(s) for s in state[4:]]
