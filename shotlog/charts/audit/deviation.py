"""Deviation from the insert's own start, with the spread known from sister inserts.

Sister inserts differ in level while each is stable, and share their spread. So the level is learnt from the insert's
first shots and the spread pooled over lives: limits far narrower than its own few shots allow, with the same
false-alarm rate.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shotlog.charts.base import Chart, ChartRun, Floats, Point
from shotlog.charts.baseline import check_baseline, check_positive
from shotlog.charts.change import Change
from shotlog.charts.constants import D2_PAIR
from shotlog.charts.limits import check_alpha
from shotlog.charts.passage import independent_survival, normal_chance
from shotlog.errors import NotEnoughShots, UsageError

__all__ = ["DeviationFromStart", "PooledSpread", "equal_levels", "equal_spreads", "pooled_spread"]


@dataclass(frozen=True, slots=True)
class PooledSpread:
    """Spread within inserts: `sigma` with `freedom` degrees of freedom; `sigma_mr` from `n_ranges` moving ranges."""

    sigma: float
    freedom: int
    sigma_mr: float
    n_ranges: int


def _lives(lives: Sequence[ArrayLike]) -> list[NDArray[np.float64]]:
    rows = [np.asarray(life, dtype=float) for life in lives]
    rows = [life[~np.isnan(life)] for life in rows]
    rows = [life for life in rows if len(life) >= 2]
    if not rows:
        raise NotEnoughShots("pooled spread: no insert has two shots")
    return rows


def pooled_spread(lives: Sequence[ArrayLike]) -> PooledSpread:
    """Pool the spread within inserts, the level of each its own; no moving range goes from one insert to the next.

    Parameters
    ----------
    lives: the readings of each insert in shot order, in the channel's unit; missing ones are left out.

    Raises
    ------
    NotEnoughShots
        No insert has two readings.

    References
    ----------
    Bothe 1989, Pyzdek 1993, Montgomery, short runs (from memory).
    """
    rows = _lives(lives)
    freedom = sum(len(life) - 1 for life in rows)
    squares = sum(float(((life - life.mean()) ** 2).sum()) for life in rows)
    ranges = np.concatenate([np.abs(np.diff(life)) for life in rows])
    return PooledSpread(math.sqrt(squares / freedom), freedom, float(ranges.mean()) / D2_PAIR, len(ranges))


def equal_spreads(lives: Sequence[ArrayLike]) -> tuple[float, float]:
    """Bartlett's statistic and its p-value: do inserts share their spread? Pool only if they may.

    NotEnoughShots with fewer than two inserts of two shots, UsageError if one has no spread. Bartlett 1937.
    """
    rows = _lives(lives)
    if len(rows) < 2:
        raise NotEnoughShots("equal spreads: two inserts of two shots are needed")
    freedom = np.array([len(life) - 1.0 for life in rows])
    variance = np.array([life.var(ddof=1) for life in rows])
    if (variance == 0.0).any():
        raise UsageError("equal spreads: given an insert whose readings are all equal, allowed: inserts with a spread")
    from scipy.special import chdtrc

    total, k = freedom.sum(), len(rows)
    raw = total * math.log(float(freedom @ variance) / total) - float(freedom @ np.log(variance))
    statistic = raw / (1.0 + (float((1.0 / freedom).sum()) - 1.0 / total) / (3.0 * (k - 1.0)))
    return statistic, float(chdtrc(k - 1, statistic))


def equal_levels(lives: Sequence[ArrayLike]) -> tuple[float, float]:
    """F statistic of the levels of inserts and its p-value: two can differ in level while each is stable.

    NotEnoughShots with fewer than two inserts of two shots, UsageError without any spread. One-way analysis of
    variance.
    """
    rows = _lives(lives)
    pool = pooled_spread(lives)
    if len(rows) < 2:
        raise NotEnoughShots("equal levels: two inserts of two shots are needed")
    if pool.sigma == 0.0:
        raise UsageError("equal levels: given inserts without any spread, allowed: one with two different readings")
    from scipy.special import fdtrc

    grand = float(np.concatenate(rows).mean())
    between = sum(len(life) * (float(life.mean()) - grand) ** 2 for life in rows) / (len(rows) - 1)
    statistic = between / pool.sigma**2
    return statistic, float(fdtrc(len(rows) - 1, pool.freedom, statistic))


class DeviationFromStart(Chart):
    """Deviation of each shot from the level of the insert's first shots, in limits from a pooled spread.

    Asks "changed since its start?", with five shots where an individuals chart with its own limits wants thirty. Blind
    to an insert that was wrong from its first shot: see `target` for that question.

    Parameters
    ----------
    sigma: spread within inserts pooled over sisters, in the channel's unit; None: no sister is known yet.
    freedom: degrees of freedom of `sigma` (see `pooled_spread`); 0 with `sigma` None; None: sigma is known exactly.
    start: how many first shots make the level, 1 or more (3 or more without sisters). None of them is judged.
    join: the spread of the start joins the pool, its `start` - 1 degrees of freedom with it.
    target: a level to deviate from instead of the start: then every shot is judged, and the question is "on target?".
    alpha: false-alarm probability of each judged shot.
    least: half-width below which no limit goes, in the channel's unit.

    Returns
    -------
    `update` a point whose value is the deviation, `run` arrays of shape (n_shots,), in the channel's unit.

    Raises
    ------
    UsageError
        A parameter out of range, or an infinite reading.

    Notes
    -----
    State: the start while learning, three numbers afterwards; an update is O(1).
    In control: exactly alpha a shot on average over inserts and pools: the half-width is t(freedom, 1 - alpha/2) sigma
    sqrt(1 + 1/start). Given one pool the shots of all its inserts share its luck. Equal spread must hold over sisters
    (`equal_spreads`). A start without spread where nothing else is known is none: the chart goes on with the latest
    shots unless `least` is above 0.

    Examples
    --------
    >>> chart = DeviationFromStart(sigma=0.02, freedom=60, start=4)
    >>> [round(chart.update(x).value, 3) for x in (12.31, 12.28, 12.35, 12.30, 12.41)]
    [nan, nan, nan, nan, 0.1]

    References
    ----------
    Bothe 1989, Pyzdek 1993 (deviation from target, from memory); the limits: t prediction limits, Hahn & Meeker 1991.
    """

    kind = "deviation"

    def __init__(
        self,
        *,
        sigma: float | None = None,
        freedom: int | None = 0,
        start: int = 5,
        join: bool = True,
        target: float | None = None,
        alpha: float = 0.0027,
        least: float = 0.0,
    ) -> None:
        self.sigma = 0.0 if sigma is None else check_positive(self.kind, "sigma", sigma)
        if freedom is not None and (freedom < 0 or (freedom == 0) != (sigma is None)):
            raise UsageError(
                f"{self.kind}: given {freedom} degrees of freedom with sigma {sigma}, "
                "allowed: 1 or more with a sigma, 0 without, None for a sigma known exactly"
            )
        self.freedom = freedom
        alone = sigma is None
        if alone and (target is not None or not join):
            raise UsageError(f"{self.kind}: given a target, or no join, without sigma, allowed: with a pooled sigma")
        self.start = check_baseline(self.kind, start, 3 if alone else 1)
        self.join = bool(join) and target is None and freedom is not None
        self.target = target
        self.alpha = check_alpha(self.kind, alpha)
        self.least = check_positive(self.kind, "least", least, zero=True)
        self._learnt: list[float] = []
        self._level = math.nan if target is None else float(target)
        self._half = math.nan if target is None else self._half_width(self.sigma, freedom, 0.0)

    @property
    def rule_names(self) -> tuple[str, ...]:
        """ "above" and "below"."""
        return ("above", "below")

    @property
    def ready(self) -> bool:
        """Whether level and limits stand."""
        return self._half == self._half

    def _half_width(self, sigma: float, freedom: int | None, of_level: float) -> float:
        from scipy.special import ndtri, stdtrit

        factor = -float(ndtri(self.alpha / 2.0) if freedom is None else stdtrit(freedom, self.alpha / 2.0))
        return max(factor * sigma * math.sqrt(1.0 + of_level), self.least)

    def _learn(self, x: float) -> None:
        self._learnt = [*self._learnt, x][-self.start :]
        if len(self._learnt) < self.start:
            return
        level = math.fsum(self._learnt) / self.start
        sigma, freedom = self.sigma, self.freedom
        if self.join and freedom is not None and self.start + freedom > 1:
            squares = math.fsum((x - level) * (x - level) for x in self._learnt) + sigma * sigma * freedom
            freedom += self.start - 1
            sigma = math.sqrt(squares / freedom)
        if sigma > 0.0 or self.least > 0.0:
            self._level, self._half = level, self._half_width(sigma, freedom, 1.0 / self.start)
            self._learnt = []

    def _step(self, x: float) -> Point:
        if not self.ready:
            self._learn(x)
            return Point(math.nan, math.nan, math.nan, math.nan)
        value = x - self._level
        fired = ("above",) if value > self._half else ("below",) if value < -self._half else ()
        return Point(value, 0.0, -self._half, self._half, fired)

    def _rest(self, xs: Floats) -> ChartRun:
        value = xs - self._level
        fired = {"above": value > self._half, "below": value < -self._half}
        return ChartRun.flat(value, 0.0, -self._half, self._half, fired)

    def survival(self, change: Change) -> Iterator[float] | None:
        """About a target with a spread known exactly shots are independent; else there is no equation."""
        if self.target is None or self.freedom is not None:
            return None
        width = self._half / self.sigma
        return independent_survival(lambda n: normal_chance(width, change.mean(n)))

    def readings(self, noise: Floats) -> Floats:
        """Readings about the target (else 0) with the pooled spread (else 1); a spread with few degrees of freedom is
        itself only an estimate, which this does not vary."""
        return (self.target or 0.0) + (self.sigma or 1.0) * noise

    def _state(self) -> tuple[float | int | str | None, ...]:
        return (self._level, self._half, *self._learnt)

    def _set_state(self, state: Sequence[float]) -> None:
        self._level, self._half = float(state[0]), float(state[1])
        self._learnt = [float(s) for s in state[2:]]
