"""Individuals chart: each reading against limits about a level, given or learnt from the first readings."""

import math
from collections.abc import Iterator, Sequence

from shotlog.charts.base import Chart, ChartRun, Floats, Point
from shotlog.charts.baseline import OwnBaseline, check_positive
from shotlog.charts.change import Change
from shotlog.charts.limits import check_alpha, normal_factor, prediction_factor
from shotlog.charts.passage import independent_survival, normal_chance
from shotlog.charts.rules import RunRules

__all__ = ["Individuals", "Limits"]

Limits = tuple[float, float, float, float, int]
"""centre, lower, upper, sigma, and the number of readings they come from (0 where they were given)."""


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
        self.base = OwnBaseline(
            self.kind, centre=centre, sigma=sigma, n=baseline, estimate=estimate, allow_flat=least > 0.0
        )
        self.width = width if width is None else check_positive(self.kind, "width", width)
        self.alpha = check_alpha(self.kind, alpha)
        self.least = check_positive(self.kind, "least", least, zero=True)
        self._rules = RunRules(rules)
        self._half = self._half_width() if self.base.ready else math.nan

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
        base = self.base
        return base.centre, base.centre - self._half, base.centre + self._half, base.sigma, base.n

    def _half_width(self) -> float:
        return max(self.factor(self.base.n) * self.base.sigma, self.least)

    @property
    def only_limits(self) -> bool:
        """Whether nothing but the limits as they were estimated decides what signals."""
        return self._rules.wanted == ("beyond",) and self.least == 0.0

    def factor(self, n: int) -> float:
        """Half-width in sigma after learning from `n` readings, 0 for none; a prediction factor pays only for what was
        learnt: the level, the spread or both.
        """
        base = self.base
        if self.width is not None:
            return self.width
        if n == 0:
            return normal_factor(self.alpha)
        if base.given_sigma is not None:
            return normal_factor(self.alpha) * math.sqrt(1.0 + 1.0 / n)
        return prediction_factor(n, self.alpha, base.estimate, known_level=base.given_centre is not None)

    @property
    def _zone(self) -> float:
        return self._half / (3.0 if self.width is None else self.width)

    def _step(self, x: float) -> Point:
        if not self.ready:
            if self.base.learn(x):
                self._half = self._half_width()
            return Point(x, math.nan, math.nan, math.nan)
        centre = self.base.centre
        lower, upper = centre - self._half, centre + self._half
        return Point(x, centre, lower, upper, self._rules.step(x, centre, lower, upper, self._zone))

    def _rest(self, xs: Floats) -> ChartRun:
        centre = self.base.centre
        lower, upper = centre - self._half, centre + self._half
        fired = self._rules.block(xs, centre, lower, upper, self._zone)
        return ChartRun.flat(xs, centre, lower, upper, fired)

    def survival(self, change: Change) -> Iterator[float] | None:
        """With known level and spread: independent shots, or the Markov chain of the zone rules in force."""
        if not self.base.known:
            return None
        unit = self.base.sigma / self._zone
        if self._rules.wanted == ("beyond",):
            width = self._half / self.base.sigma
            return independent_survival(lambda n: normal_chance(width, change.mean(n)))
        if abs(unit - 1.0) > 1e-12 or not self._rules.zoned:
            return None
        from shotlog.charts.rules_chain import rules_survival

        return rules_survival(self._rules.wanted, self._half / self.base.sigma, change.mean)

    def readings(self, noise: Floats) -> Floats:
        """Readings about the given level with the given spread (0 and 1 where learnt)."""
        return self.base.scaled(noise)

    def _state(self) -> tuple[float | int | str | None, ...]:
        return (*self.base.state(), *self._rules.state())

    def _set_state(self, state: Sequence[float]) -> None:
        self._rules.set_state(self.base.set_state(state))
        self._half = self._half_width() if self.base.ready else math.nan
