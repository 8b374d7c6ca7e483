"""Trend (regression) chart: shots against a straight line of expected wear, not against a level."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from shotlog.charts.base import Chart, ChartRun, Floats, Point
from shotlog.charts.baseline import check_baseline, check_positive
from shotlog.charts.limits import check_alpha
from shotlog.errors import NotEnoughShots, UsageError

__all__ = ["Trend", "TrendLine"]


@dataclass(frozen=True, slots=True)
class TrendLine:
    """A least-squares line through readings at shots 1, 2, ... n.

    `intercept` and `slope` per shot in the channel's unit; `spread` is the residual standard deviation, n - 2 degrees
    of freedom.
    """

    n: int
    intercept: float
    slope: float
    spread: float

    @classmethod
    def through(cls, readings: ArrayLike) -> "TrendLine":
        """Fit the line; NotEnoughShots with fewer than three readings."""
        y = np.asarray(readings, dtype=float)
        if len(y) < 3:
            raise NotEnoughShots(f"trend: {len(y)} shots, 3 are needed")
        t = np.arange(1.0, len(y) + 1.0) - (len(y) + 1.0) / 2.0
        slope = math.fsum(t * y) / cls._sxx(len(y))
        mean = math.fsum(y) / len(y)
        left = y - mean - slope * t
        if float(np.abs(left).max()) <= 1e-12 * float(np.abs(y).max()):
            left = np.zeros(len(y))
        return cls(len(y), mean - slope * (len(y) + 1.0) / 2.0, slope, math.sqrt(math.fsum(left * left) / (len(y) - 2)))

    @staticmethod
    def _sxx(n: int) -> float:
        return n * (n * n - 1.0) / 12.0

    @property
    def slope_error(self) -> float:
        """Standard error of the slope."""
        return self.spread / math.sqrt(self._sxx(self.n))

    def slope_p(self) -> float:
        """Two-sided p-value of the slope: a line without a significant one is no trend. NaN without any spread."""
        if self.slope_error == 0.0:
            return math.nan
        from scipy.special import stdtr

        return 2.0 * float(stdtr(self.n - 2, -abs(self.slope / self.slope_error)))

    def at(self, shot: float) -> float:
        """The line at a shot."""
        return self.intercept + self.slope * shot

    def reaches(self, limit: float) -> float:
        """The shot at which the line meets a limit, infinite without a slope; its error grows with the distance."""
        return math.inf if self.slope == 0.0 else (limit - self.intercept) / self.slope


class Trend(Chart):
    """Trend chart of one channel: prediction limits about a line through the first shots.

    For a channel that is expected to wear steadily: sees wear that quickens, stops or jumps. Extrapolates, so the
    limits open with the distance from the baseline.

    Parameters
    ----------
    baseline: how many first readings the line is fitted to, at least 4. None of them is judged.
    width: None: exact limits, see `alpha`; else lines parallel to the fit, that many residual standard deviations away
        (Mandel draws 2, usual is 3), whose false-alarm rate is only right for a long baseline.
    alpha: with `width` None, the false-alarm probability of each later shot.
    least: half-width below which no limit goes, in the channel's unit.

    Returns
    -------
    `update` a point whose centre is the line, `run` arrays of shape (n_shots,), in the channel's unit.

    Raises
    ------
    UsageError
        A parameter out of range, or an infinite reading.

    Notes
    -----
    State: the baseline while learning, then the line and a count; an update is O(1). Shots are counted by readings: a
    missing one does not move the line on.
    In control: exactly alpha a shot on average over baselines. A baseline that lies on a line without any residual is
    none: unless `least` is above 0 the chart goes on learning with the latest readings.

    Examples
    --------
    >>> chart = Trend(baseline=4)
    >>> points = [chart.update(x) for x in (1.0, 2.1, 2.9, 4.0, 5.0)]
    >>> round(points[-1].centre, 2), points[-1].rules
    (4.95, ())

    References
    ----------
    Mandel 1969, J. Quality Technology 1(1) 1-9 (from memory); the exact limits: regression prediction limits.
    """

    kind = "trend"

    def __init__(
        self, *, baseline: int = 15, width: float | None = None, alpha: float = 0.0027, least: float = 0.0
    ) -> None:
        self.baseline = check_baseline(self.kind, baseline, 4)
        self.width = width if width is None else check_positive(self.kind, "width", width)
        self.alpha = check_alpha(self.kind, alpha)
        self.least = check_positive(self.kind, "least", least, zero=True)
        self._learnt: list[float] = []
        self._line: TrendLine | None = None
        self._shot = 0

    @property
    def rule_names(self) -> tuple[str, ...]:
        """ "above" and "below"."""
        return ("above", "below")

    @property
    def ready(self) -> bool:
        """Whether the line stands."""
        return self._line is not None

    @property
    def line(self) -> TrendLine:
        """The fitted line; NotEnoughShots while learning."""
        if self._line is None:
            raise NotEnoughShots(f"trend: {len(self._learnt)} shots, a baseline of {self.baseline} is needed")
        return self._line

    def _half_widths(self, line: TrendLine, shots: Floats) -> Floats:
        if self.width is not None:
            return np.full(len(shots), max(self.width * line.spread, self.least))
        from scipy.special import stdtrit

        off = shots - (line.n + 1.0) / 2.0
        error = np.sqrt(1.0 + 1.0 / line.n + off * off / (line.n * (line.n * line.n - 1.0) / 12.0))
        factor = -float(stdtrit(line.n - 2, self.alpha / 2.0)) * line.spread
        return np.maximum(factor * error, self.least)

    def _step(self, x: float) -> Point:
        if self._line is None:
            self._learn(x)
            return Point(x, math.nan, math.nan, math.nan)
        return self._rest(np.array([x])).points()[0]

    def _learn(self, x: float) -> None:
        self._learnt = [*self._learnt, x][-self.baseline :]
        if len(self._learnt) < self.baseline:
            return
        line = TrendLine.through(self._learnt)
        if line.spread > 0.0 or self.least > 0.0:
            self._line, self._shot, self._learnt = line, self.baseline, []

    def _rest(self, xs: Floats) -> ChartRun:
        line = self.line
        shots = np.arange(self._shot + 1.0, self._shot + len(xs) + 1.0)
        self._shot += len(xs)
        half = self._half_widths(line, shots)
        centre = line.intercept + line.slope * shots
        lower, upper = centre - half, centre + half
        fired = {"above": xs > upper, "below": xs < lower}
        return ChartRun(xs, centre, lower, upper, fired, np.empty((len(xs), 0)))

    def _state(self) -> tuple[float | int | str | None, ...]:
        line = self._line
        if line is None:
            return (0, *self._learnt)
        return (line.n, line.intercept, line.slope, line.spread, self._shot)

    def _set_state(self, state: Sequence[float]) -> None:
        n = int(state[0])
        if n == 0:
            self._line, self._shot, self._learnt = None, 0, [float(s) for s in state[1:]]
            return
        if len(state) != 5:
            raise UsageError(f"{self.kind}: given a state of {len(state)} entries, allowed: what save() gave")
        self._line = TrendLine(n, float(state[1]), float(state[2]), float(state[3]))
        self._shot, self._learnt = int(state[4]), []
