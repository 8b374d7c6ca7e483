"""Residual chart: what is left of a reading after its neighbour has been allowed for."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from shotlog.charts.base import Chart, ChartRun, Floats, Point
from shotlog.charts.baseline import check_baseline, check_level, check_positive
from shotlog.charts.change import Change
from shotlog.charts.limits import check_alpha
from shotlog.charts.passage import independent_survival, normal_chance
from shotlog.errors import NotEnoughShots, UsageError

__all__ = ["LagOne", "Residual"]


@dataclass(frozen=True, slots=True)
class LagOne:
    """Lag-one model of autocorrelated readings: x_t - level = phi (x_(t-1) - level) + e_t.

    `level` and `spread` (of the residuals e) are in the channel's unit; `n` readings made it, 0 if it was given.
    """

    level: float
    phi: float
    spread: float
    n: int = 0

    @classmethod
    def of(cls, readings: ArrayLike) -> "LagOne":
        """Fit by least squares about the mean; the spread has n - 3 degrees of freedom.

        NotEnoughShots with fewer than five readings.
        """
        x = np.asarray(readings, dtype=float)
        if len(x) < 5:
            raise NotEnoughShots(f"lag-one model: {len(x)} shots, 5 are needed")
        level = math.fsum(x) / len(x)
        d = x - level
        base = math.fsum(d[:-1] * d[:-1])
        phi = math.fsum(d[1:] * d[:-1]) / base if base > 0.0 else 0.0
        phi = min(max(phi, -0.99), 0.99)
        left = d[1:] - phi * d[:-1]
        return cls(level, phi, math.sqrt(math.fsum(left * left) / (len(x) - 3)), len(x))


class Residual(Chart):
    """Residual chart of one autocorrelated channel.

    For a channel whose neighbouring shots resemble each other (phi above 0) or alternate (below 0), where an ordinary
    chart alarms far too often or too seldom. Slow for small steps when phi is above 0: after the first residual a step
    shows only (1 - phi) of itself.

    Parameters
    ----------
    level, phi, spread: the lag-one model in control: level and residual spread in the channel's unit, phi between -1
        and 1; all three or none, then it is fitted to the first `baseline` readings.
    baseline: how many first readings the model is fitted to, at least 8. None of them is judged.
    alpha: false-alarm probability of each judged residual.

    Returns
    -------
    `update` a point whose value is the residual (NaN at the first reading of a given model), `run` arrays of shape
    (n_shots,), in the channel's unit.

    Raises
    ------
    UsageError
        A parameter out of range, or an infinite reading.

    Notes
    -----
    State: the last reading, the model, or the baseline while learning; an update is O(1). A missing shot breaks the
    chain: the next residual is then taken from the last reading there was.
    In control: exactly alpha with a given model, independent, average run length 1/alpha. Fitted, the limits are those
    of a regression, t(n-3) with the leverage of the mean, right only for a long baseline.
    Measured at the fifth shot after it, alpha 0.01: with phi 0.5, 1.6 % at 12 shots, 1.2 % at 24, 1.1 % at 60; with
    phi -0.4, 0.9 %, 1.1 % and 1.1 %. A baseline that the model fits without residual is none; the chart goes on
    learning with the latest readings.

    Examples
    --------
    >>> chart = Residual(level=10.0, phi=0.5, spread=0.1)
    >>> [round(chart.update(x).value, 3) for x in (10.2, 10.2)]
    [nan, 0.1]

    References
    ----------
    Alwan & Roberts 1988 (from memory); the limits of a fitted model: own, from regression.
    """

    kind = "residual"

    def __init__(
        self,
        *,
        level: float | None = None,
        phi: float | None = None,
        spread: float | None = None,
        baseline: int = 24,
        alpha: float = 0.0027,
    ) -> None:
        given = [v is not None for v in (level, phi, spread)]
        if any(given) and not all(given):
            raise UsageError(f"{self.kind}: given a part of level, phi and spread, allowed: all three or none")
        self.baseline = check_baseline(self.kind, baseline, 8)
        self.alpha = check_alpha(self.kind, alpha)
        self._learnt: list[float] = []
        self._last = math.nan
        self.model: LagOne | None = None
        if level is not None and phi is not None and spread is not None:
            if not -1.0 < phi < 1.0:
                raise UsageError(f"{self.kind}: given phi {phi}, allowed: between -1 and 1, both excluded")
            self.model = LagOne(
                check_level(self.kind, "level", level), float(phi), check_positive(self.kind, "spread", spread)
            )

    @property
    def rule_names(self) -> tuple[str, ...]:
        """ "above" and "below"."""
        return ("above", "below")

    @property
    def ready(self) -> bool:
        """Whether the model stands."""
        return self.model is not None

    def _half_width(self, model: LagOne) -> float:
        from scipy.special import ndtri, stdtrit

        if model.n == 0:
            return -float(ndtri(self.alpha / 2.0)) * model.spread
        return -float(stdtrit(model.n - 3, self.alpha / 2.0)) * model.spread * math.sqrt(1.0 + 2.0 / model.n)

    def _step(self, x: float) -> Point:
        if self.model is None:
            self._learn(x)
            return Point(math.nan, math.nan, math.nan, math.nan)
        return self._rest(np.array([x])).points()[0]

    def _learn(self, x: float) -> None:
        self._learnt = [*self._learnt, x][-self.baseline :]
        if len(self._learnt) < self.baseline:
            return
        model = LagOne.of(self._learnt)
        if model.spread > 0.0:
            self.model, self._last, self._learnt = model, x, []

    def _rest(self, xs: Floats) -> ChartRun:
        model = self.model
        if model is None or not len(xs):
            return ChartRun.of([], self.rule_names, 0)
        d = np.concatenate(((self._last - model.level,), xs - model.level))
        self._last = float(xs[-1])
        value = d[1:] - model.phi * d[:-1]
        half = self._half_width(model)
        return ChartRun.flat(value, 0.0, -half, half, {"above": value > half, "below": value < -half})

    def survival(self, change: Change) -> Iterator[float] | None:
        """With a given model residuals are independent; of a step all but the first show 1 - phi."""
        if self.model is None or self.model.n:
            return None
        phi, width = self.model.phi, self._half_width(self.model) / self.model.spread

        def chance(n: int) -> float:
            return 0.0 if n == 1 else normal_chance(width, change.mean(n) - phi * change.mean(n - 1))

        return independent_survival(chance)

    def _state(self) -> tuple[float | int | str | None, ...]:
        if self.model is None:
            return (-1, *self._learnt)
        return (self.model.n, self._last, self.model.level, self.model.phi, self.model.spread)

    def _set_state(self, state: Sequence[float]) -> None:
        n = int(state[0])
        if n < 0:
            self.model, self._learnt = None, [float(s) for s in state[1:]]
            return
        last, level, phi, spread = (float(s) for s in state[1:])
        self.model, self._last, self._learnt = LagOne(level, phi, spread, n), last, []
