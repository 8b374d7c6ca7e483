"""Individuals chart: each reading against limits about a level, given or learnt from the first readings."""

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from shotlog.charts.base import Chart, Floats, Point, Run
from shotlog.charts.constants import D2_PAIR
from shotlog.charts.limits import check_alpha, normal_factor, prediction_factor
from shotlog.charts.rules import RunRules
from shotlog.errors import UsageError

__all__ = ["Individuals", "Limits", "check_baseline", "check_spread", "spread_of"]

Limits = tuple[float, float, float, float, int]
"""centre, lower, upper, sigma, and the number of readings they come from (0 where they were given)."""


def check_spread(kind: str, name: str, value: float | None, zero: bool = False) -> float:
    """`value` as a finite number above zero (or at least zero); NaN for None; else UsageError."""
    if value is None:
        return math.nan
    if not math.isfinite(value) or value < 0.0 or (value == 0.0 and not zero):
        raise UsageError(f"{kind}: given {name} {value}, allowed: finite and {'not below' if zero else 'above'} 0")
    return float(value)


def check_baseline(kind: str, baseline: int, least: int) -> int:
    """`baseline` itself if it is at least `least`; else UsageError."""
    if baseline < least:
        raise UsageError(f"{kind}: given a baseline of {baseline} shots, allowed: {least} or more")
    return int(baseline)


def spread_of(readings: Sequence[float], estimate: str, centre: float) -> float:
    """Spread of a baseline: mean moving range over d2 ("mr"), or standard deviation with divisor n - 1 ("sd")."""
    if estimate == "mr":
        ranges = [abs(b - a) for a, b in pairwise(readings)]
        return math.fsum(ranges) / len(ranges) / D2_PAIR
    return math.sqrt(math.fsum((x - centre) ** 2 for x in readings) / (len(readings) - 1))


class Individuals(Chart):
    """Individuals chart of one channel.

    The chart to look at first: it sees a single far-off shot, and a sustained small shift only slowly.

    Parameters
    ----------
    centre, sigma: level and spread in control, in the channel's unit; given both, nothing is learnt. One alone may
        be given too; the other is then learnt.
    baseline: how many first readings level and spread are learnt from, at least 3. None of them is judged.
    estimate: "mr", the mean moving range over d2, which a slow drift inflates little; or "sd", the standard deviation.
    width: half-width in sigma; the textbook chart is 3. None: prediction limits, see `alpha`.
    alpha: with `width` None, the false-alarm probability of each later shot, whatever the length of the baseline.
    least: half-width below which no limit goes, in the channel's unit: the smallest change that matters.
    rules: names from `shotlog.charts.rules.RULES`; "beyond" is the limits themselves, named "above" and "below" in a
        point.

    Returns
    -------
    `update` a point, `run` arrays of shape (n_shots,), in the channel's unit.

    Raises
    ------
    UsageError
        A parameter out of range, or an infinite reading.

    Notes
    -----
    State: the baseline while learning, four numbers and the memory of the run rules afterwards; an update is O(1).
    In control: with known level and spread the average run length is 370.4 at width 3. With textbook limits from a
    short baseline a false alarm is far likelier: 1.9 % a shot for "sd" at a baseline of 10. `width=None` keeps `alpha`
    at any baseline (on average over baselines; a given baseline may have drawn lucky or unlucky limits).
    A baseline without spread is none: unless `least` is above 0, the chart goes on learning with the latest readings.
    Zones of the run rules are thirds of the half-width where `width` is None, multiples of sigma elsewhere.

    Examples
    --------
    >>> chart = Individuals(centre=10.0, sigma=0.5)
    >>> chart.update(11.6)
    Point(value=11.6, centre=10.0, lower=8.5, upper=11.5, rules=('above',), detail=())

    References
    ----------
    ISO 7870-2, individuals chart; NIST/SEMATECH e-Handbook 6.3.2.2. Prediction limits: Hahn & Meeker 1991 (from
    memory).
    """

    kind = "individuals"

    def __init__(
        self,
        *,
        centre: float | None = None,
        sigma: float | None = None,
        baseline: int = 12,
        estimate: str = "mr",
        width: float | None = 3.0,
        alpha: float = 0.0027,
        least: float = 0.0,
        rules: Sequence[str] = ("beyond",),
    ) -> None:
        if estimate not in ("mr", "sd"):
            raise UsageError(f"{self.kind}: given estimate {estimate!r}, allowed: mr, sd")
        if centre is not None and not math.isfinite(centre):
            raise UsageError(f"{self.kind}: given centre {centre}, allowed: a finite number")
        self.centre = math.nan if centre is None else float(centre)
        self.sigma = check_spread(self.kind, "sigma", sigma)
        self.baseline = check_baseline(self.kind, baseline, 3)
        self.estimate = estimate
        self.width = width if width is None else check_spread(self.kind, "width", width)
        self.alpha = check_alpha(self.kind, alpha)
        self.least = check_spread(self.kind, "least", least, zero=True)
        self._rules = RunRules(rules)
        self._learnt: list[float] = []
        self._centre = self._half = self._sigma = math.nan
        self._n = 0
        if not (math.isnan(self.centre) or math.isnan(self.sigma)):
            self._freeze(self.centre, self.sigma, 0)

    @property
    def rule_names(self) -> tuple[str, ...]:
        """ "above", "below", then the run rules in force."""
        return self._rules.names

    @property
    def ready(self) -> bool:
        """Whether the limits stand."""
        return self._half == self._half

    @property
    def limits(self) -> Limits | None:
        """Centre, lower and upper limit, spread, and the number of readings they come from; None while learning."""
        if not self.ready:
            return None
        return self._centre, self._centre - self._half, self._centre + self._half, self._sigma, self._n

    def _freeze(self, centre: float, sigma: float, n: int) -> None:
        if self.width is not None:
            half = self.width * sigma
        elif n == 0:
            half = normal_factor(self.alpha) * sigma
        else:
            half = self._factor(n) * sigma
        self._centre, self._sigma, self._n = centre, sigma, n
        self._half = max(half, self.least)

    def _factor(self, n: int) -> float:
        """Prediction factor: of the mean too only where the mean was learnt; of the spread only where that was."""
        if math.isnan(self.centre) and math.isnan(self.sigma):
            return prediction_factor(n, self.alpha, self.estimate)
        if math.isnan(self.centre):
            return normal_factor(self.alpha) * math.sqrt(1.0 + 1.0 / n)
        return prediction_factor(n, self.alpha, self.estimate, known_level=True)

    @property
    def _zone(self) -> float:
        return self._half / (3.0 if self.width is None else self.width)

    def _step(self, x: float) -> Point:
        if not self.ready:
            self._learn(x)
            return Point(x, math.nan, math.nan, math.nan)
        lower, upper = self._centre - self._half, self._centre + self._half
        fired = self._rules.step(x, self._centre, lower, upper, self._zone)
        return Point(x, self._centre, lower, upper, fired)

    def _learn(self, x: float) -> None:
        self._learnt = [*self._learnt, x][-self.baseline :]
        if len(self._learnt) < self.baseline:
            return
        centre = math.fsum(self._learnt) / self.baseline if math.isnan(self.centre) else self.centre
        if math.isnan(self.sigma):
            level_lost = math.isnan(self.centre) or self.estimate == "mr"
            sigma = spread_of(self._learnt, self.estimate, centre) if level_lost else self._about_known(centre)
        else:
            sigma = self.sigma
        if sigma > 0.0 or self.least > 0.0:
            self._freeze(centre, sigma, self.baseline)
            self._learnt = []

    def _about_known(self, centre: float) -> float:
        """Root mean square about a given level: all readings count, none is spent on the mean."""
        return math.sqrt(math.fsum((x - centre) ** 2 for x in self._learnt) / self.baseline)

    def _rest(self, xs: Floats) -> Run:
        lower, upper = self._centre - self._half, self._centre + self._half
        fired = self._rules.block(xs, self._centre, lower, upper, self._zone)
        line = np.ones(len(xs))
        return Run(xs, line * self._centre, line * lower, line * upper, fired, np.empty((len(xs), 0)))

    def _state(self) -> tuple[float | int | str | None, ...]:
        return (self._n, self._centre, self._half, self._sigma, len(self._learnt), *self._learnt, *self._rules.state())

    def _set_state(self, state: Sequence[float]) -> None:
        self._n = int(state[0])
        self._centre, self._half, self._sigma = (float(s) for s in state[1:4])
        end = 5 + int(state[4])
        self._learnt = [float(s) for s in state[5:end]]
        self._rules.set_state(state[end:])
