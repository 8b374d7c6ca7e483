"""Tabular CUSUM: the sum of what exceeds an allowance, on each side, never below zero.

Order of additions and rounding: each increment is put on a binary grid of 2^-34 sigma (6e-11). Sums of such numbers are
exact, so the array form, which takes a running sum less its running minimum, gives the very bits of the loop. Where a
sum grows so large that the grid no longer fits (some 500,000 sigma) the array form falls back to the loop.
"""

import math
from collections.abc import Iterator, Sequence

import numpy as np

from shotlog.charts.base import Chart, ChartRun, Floats, Point
from shotlog.charts.baseline import OwnBaseline, check_positive
from shotlog.charts.change import Change
from shotlog.charts.passage import two_sided_cusum_survival
from shotlog.errors import UsageError

__all__ = ["Cusum", "CusumSums"]

_TO_GRID = 1.5 * 2.0**18
"""Adding and taking away this number rounds to a multiple of 2^-34 (its last place), ties to even."""
_FARTHEST = 1e5
"""A reading more sigma away than this counts as this far: the grid holds to 131072."""
_BLOCK = 16384
"""Readings taken at once: what the processor's cache holds."""
_EXACT = 2.0**18


class CusumSums:
    """The two sums of a CUSUM of standardised readings, with where each last was zero.

    State: two sums and two counts. `high` and `low` are in sigma.
    """

    def __init__(self, k: float, head_start: float) -> None:
        self.k = k
        self.high = self.low = (head_start + _TO_GRID) - _TO_GRID
        self.high_run = self.low_run = 0
        """Readings since the sum was last zero: the estimate of how long the change has lasted."""

    def step(self, z: float) -> tuple[float, float]:
        """Take one standardised reading; the sums after it."""
        z = min(max(z, -_FARTHEST), _FARTHEST)
        self.high = max(0.0, self.high + ((z - self.k + _TO_GRID) - _TO_GRID))
        self.low = max(0.0, self.low + ((-z - self.k + _TO_GRID) - _TO_GRID))
        self.high_run = self.high_run + 1 if self.high > 0.0 else 0
        self.low_run = self.low_run + 1 if self.low > 0.0 else 0
        return self.high, self.low

    def block(self, z: Floats) -> tuple[Floats, Floats]:
        """The sums after each of many readings; the array form of `step`."""
        if not -_FARTHEST < z.min(initial=0.0) <= z.max(initial=0.0) < _FARTHEST:
            z = np.clip(z, -_FARTHEST, _FARTHEST)
        high = _one_side(z - self.k, self.high)
        low = _one_side(-z - self.k, self.low)
        if len(z):
            self.high, self.low = float(high[-1]), float(low[-1])
        self.high_run = _run_after(high, self.high_run)
        self.low_run = _run_after(low, self.low_run)
        return high, low

    def state(self) -> tuple[float | int, ...]:
        """All sums, flat."""
        return (self.high, self.low, self.high_run, self.low_run)

    def set_state(self, state: Sequence[float]) -> None:
        """Take the sums back."""
        high, low, high_run, low_run = state
        self.high, self.low, self.high_run, self.low_run = float(high), float(low), int(high_run), int(low_run)


def _one_side(increment: Floats, start: float) -> Floats:
    """max(0, sum + increment) along an array, from a sum of `start`."""
    increment += _TO_GRID
    increment -= _TO_GRID
    sums = np.cumsum(increment)
    sums += start
    lowest = np.minimum.accumulate(sums)
    if len(sums) and lowest[-1] > -_EXACT and sums.max() < _EXACT:
        np.minimum(lowest, 0.0, out=lowest)
        sums -= lowest
        return sums
    for i, step in enumerate(increment.tolist()):
        start = max(0.0, start + step)
        sums[i] = start
    return sums


def _run_after(sums: Floats, before: int) -> int:
    """Readings since a sum was last zero, `before` at the start of the array."""
    for back in range(0, len(sums), _BLOCK):
        end = len(sums) - back
        zeros = np.flatnonzero(sums[max(0, end - _BLOCK) : end] == 0.0)
        if len(zeros):
            return len(sums) - 1 - (max(0, end - _BLOCK) + int(zeros[-1]))
    return before + len(sums)


class Cusum(Chart):
    """Tabular CUSUM of one channel, two-sided.

    Sees a sustained shift sooner than an individuals chart; blind to a growing spread.

    Parameters
    ----------
    k, h: reference value and decision interval, in sigma; k is half the shift to be seen soonest.
    centre, sigma: level and spread in control, in the channel's unit; None: learnt from the first `baseline` readings.
    baseline, estimate: as in `Individuals`; none of the baseline is judged.
    head_start: both sums start here, in sigma, from 0 up to h; h/2 is usual where the first shots are in doubt.

    Returns
    -------
    `update` a point, `run` arrays of shape (n_shots,). Sums are in the channel's unit (sigma times the standardised
    sum). The value is the larger of the two sums, the lower one with its sign turned, between limits -h sigma and +h
    sigma; `detail` is both sums, high and low.

    Raises
    ------
    UsageError
        A parameter out of range, or an infinite reading.

    Notes
    -----
    State: two sums, two counts, level and spread; an update is O(1). A sum goes on after a signal. Readings are put on
    a grid of 2^-34 sigma, and one more than 100,000 sigma away counts as that.
    In control: with known level and spread, average run length 465 at k 0.5, h 5, two-sided. Level and spread learnt
    from a short baseline shorten it: use the self-starting CUSUM there.

    Examples
    --------
    >>> chart = Cusum(k=0.5, h=5.0, centre=10.0, sigma=1.0)
    >>> [round(chart.update(x).detail[0], 2) for x in (9.45, 7.99, 9.29, 11.66, 12.16)]
    [0.0, 0.0, 0.0, 1.16, 2.82]

    References
    ----------
    Page 1954; ISO 7870-4; Lucas & Crosier 1982, Technometrics 24 199-205 (head start); NIST/SEMATECH e-Handbook
    6.3.2.3.
    """

    kind = "cusum"
    detail_names = ("high", "low")

    def __init__(
        self,
        *,
        k: float = 0.5,
        h: float = 5.0,
        centre: float | None = None,
        sigma: float | None = None,
        baseline: int = 12,
        estimate: str = "mr",
        head_start: float = 0.0,
    ) -> None:
        self.k = check_positive(self.kind, "k", k, zero=True)
        self.h = check_positive(self.kind, "h", h)
        if not 0.0 <= head_start <= h:
            raise UsageError(f"{self.kind}: given head start {head_start}, allowed: 0 to h, {h}")
        self.head_start = float(head_start)
        self.base = OwnBaseline(self.kind, centre=centre, sigma=sigma, n=baseline, estimate=estimate)
        self._sums = CusumSums(self.k, self.head_start)

    @property
    def rule_names(self) -> tuple[str, ...]:
        """ "above" for the high sum, "below" for the low one."""
        return ("above", "below")

    @property
    def ready(self) -> bool:
        """Whether level and spread stand."""
        return self.base.ready

    @property
    def since(self) -> tuple[int, int]:
        """How many readings ago the high and the low sum left zero: the sums' estimates of the shots since onset.

        0 where the sum is zero. The last good shot is the newest less this count. Under a slow drift the true onset is
        earlier, by 4 shots at 0.1 sigma a shot and 9 at 0.05 on average.
        """
        return self._sums.high_run, self._sums.low_run

    @property
    def shifted_to(self) -> tuple[float, float]:
        """The level since the high and since the low sum left zero, in the channel's unit (Montgomery); NaN at zero."""
        sums, base = self._sums, self.base
        up = base.centre + base.sigma * (self.k + sums.high / sums.high_run) if sums.high_run else math.nan
        down = base.centre - base.sigma * (self.k + sums.low / sums.low_run) if sums.low_run else math.nan
        return up, down

    def _step(self, x: float) -> Point:
        if not self.base.ready:
            self.base.learn(x)
            return Point(math.nan, math.nan, math.nan, math.nan)
        sigma = self.base.sigma
        high, low = self._sums.step((x - self.base.centre) / sigma)
        fired = (("above",) if high > self.h else ()) + (("below",) if low > self.h else ())
        value = high * sigma if high >= low else -(low * sigma)
        limit = self.h * sigma
        return Point(value, 0.0, -limit, limit, fired, (high * sigma, low * sigma))

    def _rest(self, xs: Floats) -> ChartRun:
        n, sigma, limit = len(xs), self.base.sigma, self.h * self.base.sigma
        detail, value = np.empty((2, n)), np.empty(n)
        above, below = np.empty(n, dtype=bool), np.empty(n, dtype=bool)
        for start in range(0, n, _BLOCK):
            part = slice(start, start + _BLOCK)
            high, low = self._sums.block((xs[part] - self.base.centre) / sigma)
            np.greater(high, self.h, out=above[part])
            np.greater(low, self.h, out=below[part])
            np.multiply(high, sigma, out=detail[0, part])
            np.multiply(low, sigma, out=detail[1, part])
            value[part] = np.where(high >= low, detail[0, part], -detail[1, part])
        return ChartRun.flat(value, 0.0, -limit, limit, {"above": above, "below": below}, detail.T)

    def survival(self, change: Change) -> Iterator[float] | None:
        """With known level and spread: both sides' integral equations, untangled."""
        if not self.base.known:
            return None
        return two_sided_cusum_survival(self.k, self.h, change.mean, start=self.head_start, steady=change.steady)

    def readings(self, noise: Floats) -> Floats:
        """Readings about the given level with the given spread (0 and 1 where learnt)."""
        return self.base.scaled(noise)

    def _state(self) -> tuple[float | int | str | None, ...]:
        return (*self.base.state(), *self._sums.state())

    def _set_state(self, state: Sequence[float]) -> None:
        self._sums.set_state(self.base.set_state(state))
