"""Q chart: each reading's normal score against fixed limits, from the third reading of an insert on."""

import math
from collections.abc import Iterator, Sequence

from shotlog.charts.audit.scores import Scores
from shotlog.charts.base import Chart, ChartRun, Floats, Point
from shotlog.charts.change import Change
from shotlog.charts.limits import check_alpha, normal_factor
from shotlog.charts.passage import independent_survival
from shotlog.charts.rules import RunRules

__all__ = ["QChart"]


class QChart(Chart):
    """Q chart of one channel: no baseline, right from the third reading on.

    Keeps its false-alarm rate at any number of shots; slow for small steps, since later readings of a shifted level
    are learnt as normal: see a self-starting CUSUM for those, or add the rule "four-of-five".

    Parameters
    ----------
    centre, sigma: level or spread where known, in the channel's unit; at most one of them.
    alpha: false-alarm probability of each reading.
    least_sigma: no spread estimate is taken to be smaller, in the channel's unit.
    rules: names from `shotlog.charts.rules.RULES`.

    Returns
    -------
    `update` a point, `run` arrays of shape (n_shots,); value and limits in standard deviations.

    Raises
    ------
    UsageError
        A parameter out of range, or an infinite reading.

    Notes
    -----
    State: four numbers, and the memory of the run rules; an update is O(1).
    In control: exactly alpha a reading, independent, so an average run length of 1/alpha, 370.4 at 0.0027, counted
    from the first score (the third reading; the second if level or spread is known). Rounded readings: set
    `least_sigma`.

    Examples
    --------
    >>> chart = QChart()
    >>> [round(chart.update(x).value, 4) for x in (12.31, 12.28, 12.35)]
    [nan, nan, 1.0782]

    References
    ----------
    Quesenberry 1991, J. Quality Technology 23(3) 213-224 (from memory, re-derived).
    """

    kind = "q"

    def __init__(
        self,
        *,
        centre: float | None = None,
        sigma: float | None = None,
        alpha: float = 0.0027,
        least_sigma: float = 0.0,
        rules: Sequence[str] = ("beyond",),
    ) -> None:
        self.alpha = check_alpha(self.kind, alpha)
        self._width = normal_factor(self.alpha)
        self._scores = Scores(self.kind, centre=centre, sigma=sigma, least_sigma=least_sigma)
        self._rules = RunRules(rules)

    @property
    def rule_names(self) -> tuple[str, ...]:
        """ "above", "below", then the run rules in force."""
        return self._rules.names

    @property
    def ready(self) -> bool:
        """Whether the next reading gets a score."""
        return self._scores.ready

    def _step(self, x: float) -> Point:
        score = self._scores.step(x)
        if score != score:
            return Point(math.nan, math.nan, math.nan, math.nan)
        fired = self._rules.step(score, 0.0, -self._width, self._width, 1.0)
        return Point(score, 0.0, -self._width, self._width, fired)

    def _rest(self, xs: Floats) -> ChartRun:
        scores = self._scores.block(xs)
        fired = self._rules.block(scores, 0.0, -self._width, self._width, 1.0)
        return ChartRun.flat(scores, 0.0, -self._width, self._width, fired)

    def survival(self, change: Change) -> Iterator[float] | None:
        """Without a change the scores are independent: that of known level and spread; else none."""
        if not change.none:
            return None
        if self._rules.wanted == ("beyond",):
            return independent_survival(lambda n: self.alpha)
        from shotlog.charts.rules_chain import rules_survival

        return rules_survival(self._rules.wanted, self._width, change.mean) if self._rules.zoned else None

    def readings(self, noise: Floats) -> Floats:
        """Readings about the known level with the known spread (0 and 1 where unknown)."""
        return self._scores.scaled(noise)

    def _state(self) -> tuple[float | int | str | None, ...]:
        return (*self._scores.state(), *self._rules.state())

    def _set_state(self, state: Sequence[float]) -> None:
        self._rules.set_state(self._scores.set_state(state))
