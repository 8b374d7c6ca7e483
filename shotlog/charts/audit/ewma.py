"""EWMA chart: the exponentially weighted mean of the readings against limits about the level."""

import math
from collections.abc import Iterator, Sequence

import numpy as np

from shotlog.charts.base import Chart, ChartRun, Floats, Point
from shotlog.charts.baseline import OwnBaseline, check_positive
from shotlog.charts.change import Change
from shotlog.charts.passage import ewma_survival
from shotlog.errors import UsageError

__all__ = ["Ewma"]

_GONE = 2.0**-108
"""Below this, 1 - q and 1 - sqrt(q) are 1 to the last bit: the limits have reached the asymptotic ones."""

_BLOCK = 16384
"""Readings filtered at once: what the processor's cache holds."""


class Ewma(Chart):
    """EWMA chart of one channel, two-sided.

    Sees a sustained shift or drift of half to two sigma well before an individuals chart; smooths a single far-off
    shot away.

    Parameters
    ----------
    lam: weight of the newest reading, above 0 and up to 1; 0.1 to 0.3 is usual, smaller for smaller shifts.
    width: half-width of the limits in standard deviations of the EWMA.
    centre, sigma: level and spread in control, in the channel's unit; None: learnt from the first `baseline` readings.
    baseline, estimate: as in `Individuals`; none of the baseline is judged, and the EWMA starts at its level.
    varying: limits widen from the first reading on as the variance of the EWMA does; False: asymptotic limits
        throughout, which miss an early fault more often.
    head_start: share of the limits, 0 to 1, at which two EWMAs start, one on each side (fast initial response): the
        same as limits that begin nearer by that share. With it `varying` must be False.
    phi: lag-one correlation of the readings, -1 to 1 excluded; widens the asymptotic limits as it must. With phi
        other than 0 the limits are asymptotic and `varying` must be False.

    Returns
    -------
    `update` a point whose value is the EWMA, `run` arrays of shape (n_shots,), in the channel's unit.

    Raises
    ------
    UsageError
        A parameter out of range, or an infinite reading.

    Notes
    -----
    State: the EWMA, the share of the start still in it, the level and spread; an update is O(1). The array form runs
    the same recursion in a compiled filter: bit for bit on builds that do not fuse multiply and add.
    In control: with known level and spread, average run length 500 at lam 0.2, width 2.962, asymptotic limits
    (Lucas & Saccucci). Level and spread learnt from a short baseline shorten it: use a self-starting chart there.

    Examples
    --------
    >>> chart = Ewma(lam=0.3, width=3.0, centre=50.0, sigma=2.0539, varying=False)
    >>> point = chart.update(52.0)
    >>> round(point.value, 2), round(point.upper, 4)
    (50.6, 52.5884)

    References
    ----------
    Roberts 1959; Lucas & Saccucci 1990, Technometrics 32; NIST/SEMATECH e-Handbook 6.3.2.4. With phi: Schmid 1997,
    Zhang 1998 (formula from memory): Var = sigma^2 lam/(2-lam) (1 + phi(1-lam)) / (1 - phi(1-lam)).
    """

    kind = "ewma"

    def __init__(
        self,
        *,
        lam: float = 0.2,
        width: float = 2.962,
        centre: float | None = None,
        sigma: float | None = None,
        baseline: int = 12,
        estimate: str = "mr",
        varying: bool = True,
        head_start: float = 0.0,
        phi: float = 0.0,
    ) -> None:
        if not 0.0 < lam <= 1.0:
            raise UsageError(f"{self.kind}: given lam {lam}, allowed: above 0 and up to 1")
        if not -1.0 < phi < 1.0 or (phi != 0.0 and varying):
            raise UsageError(f"{self.kind}: given phi {phi}, allowed: between -1 and 1, and 0 with varying limits")
        if not 0.0 <= head_start < 1.0 or (head_start and varying):
            raise UsageError(
                f"{self.kind}: given head start {head_start}, allowed: 0 up to but not 1, and 0 with varying limits"
            )
        self.lam = float(lam)
        self.head_start = float(head_start)
        self.width = check_positive(self.kind, "width", width)
        self.varying = bool(varying)
        self.phi = float(phi)
        self.base = OwnBaseline(self.kind, centre=centre, sigma=sigma, n=baseline, estimate=estimate)
        self._deviation = 0.0
        self._start_share = 1.0 if varying or head_start else 0.0

    @property
    def rule_names(self) -> tuple[str, ...]:
        """ "above" and "below"."""
        return ("above", "below")

    @property
    def ready(self) -> bool:
        """Whether level and spread stand."""
        return self.base.ready

    @property
    def _asymptotic(self) -> float:
        keep = self.phi * (1.0 - self.lam)
        return self.width * self.base.sigma * math.sqrt(self.lam / (2.0 - self.lam) * (1.0 + keep) / (1.0 - keep))

    def _narrower(self, share: float) -> float:
        """Limits as a part of the asymptotic ones while that share of the start is left (squared)."""
        return math.sqrt(1.0 - share) if self.varying else 1.0 - self.head_start * math.sqrt(share)

    def _step(self, x: float) -> Point:
        if not self.base.ready:
            self.base.learn(x)
            return Point(x, math.nan, math.nan, math.nan)
        keep = 1.0 - self.lam
        self._deviation = keep * self._deviation + self.lam * (x - self.base.centre)
        self._start_share = 0.0 if self._start_share < _GONE else self._start_share * (keep * keep)
        half = self._asymptotic * self._narrower(self._start_share)
        return self._point(self.base.centre + self._deviation, half)

    def _point(self, value: float, half: float) -> Point:
        lower, upper = self.base.centre - half, self.base.centre + half
        fired = ("above",) if value > upper else ("below",) if value < lower else ()
        return Point(value, self.base.centre, lower, upper, fired)

    def _rest(self, xs: Floats) -> ChartRun:
        if not len(xs):
            return ChartRun.of([], self.rule_names, 0)
        from scipy.signal import lfilter

        keep, n = 1.0 - self.lam, len(xs)
        value, above, below = np.empty(n), np.empty(n, dtype=bool), np.empty(n, dtype=bool)
        lower, upper = self._limit_lines(n)
        for start in range(0, n, _BLOCK):
            part = slice(start, start + _BLOCK)
            carried = [keep * self._deviation]
            deviation, _ = lfilter([self.lam], [1.0, -keep], xs[part] - self.base.centre, zi=carried)
            self._deviation = float(deviation[-1])
            here = np.add(deviation, self.base.centre, out=value[part])
            np.greater(here, upper[part], out=above[part])
            np.less(here, lower[part], out=below[part])
        centre = np.broadcast_to(self.base.centre, value.shape)
        return ChartRun(value, centre, lower, upper, {"above": above, "below": below}, np.empty((n, 0)))

    def _limit_lines(self, n: int) -> tuple[Floats, Floats]:
        """Both limits at the next n readings; only the first few differ from the asymptotic ones."""
        keep = 1.0 - self.lam
        shares: list[float] = []
        while len(shares) < n and self._start_share > 0.0:
            self._start_share = 0.0 if self._start_share < _GONE else self._start_share * (keep * keep)
            shares.append(self._start_share)
        halves = [self._asymptotic * self._narrower(share) for share in shares]
        last = self._asymptotic
        if not halves:
            return np.broadcast_to(self.base.centre - last, (n,)), np.broadcast_to(self.base.centre + last, (n,))
        lower, upper = np.full(n, self.base.centre - last), np.full(n, self.base.centre + last)
        lower[: len(halves)] = [self.base.centre - half for half in halves]
        upper[: len(halves)] = [self.base.centre + half for half in halves]
        return lower, upper

    def survival(self, change: Change) -> Iterator[float] | None:
        """With known level and spread and no correlation: the integral equation."""
        if not self.base.known or self.phi != 0.0:
            return None
        return ewma_survival(self.lam, self.width, change.mean, varying=self.varying, head_start=self.head_start)

    def readings(self, noise: Floats) -> Floats:
        """Readings about the given level with the given spread (0 and 1 where learnt)."""
        return self.base.scaled(noise)

    def _state(self) -> tuple[float | int | str | None, ...]:
        return (*self.base.state(), self._deviation, self._start_share)

    def _set_state(self, state: Sequence[float]) -> None:
        deviation, share = self.base.set_state(state)
        self._deviation, self._start_share = float(deviation), float(share)
