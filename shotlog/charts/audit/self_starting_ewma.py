"""Self-starting EWMA: the EWMA of normal scores, for an insert whose level and spread nobody knows yet."""

import math
from collections.abc import Iterator, Sequence

from shotlog.charts.audit.ewma import Ewma
from shotlog.charts.audit.scores import Scores
from shotlog.charts.base import Chart, ChartRun, Floats, Point
from shotlog.charts.change import Change

__all__ = ["SelfStartingEwma"]


class SelfStartingEwma(Chart):
    """Self-starting EWMA of one channel, two-sided.

    Between the Q chart and the self-starting CUSUM: sees moderate shifts after some ten healthy shots, and one far-off
    shot.

    Parameters
    ----------
    lam, width, varying: as in `Ewma`, applied to scores of standard deviation 1.
    centre, sigma: level or spread where known, in the channel's unit; at most one of them.
    least_sigma: no spread estimate is taken to be smaller, in the channel's unit.

    Returns
    -------
    `update` a point, `run` arrays of shape (n_shots,), in standard deviations of a score; `detail` is the score.

    Raises
    ------
    UsageError
        A parameter out of range, or an infinite reading.

    Notes
    -----
    State: four numbers for the scores, two for the EWMA; an update is O(1). Every reading is learnt, a suspect one too.
    In control: that of the EWMA with known level and spread, exactly, counted from the first score (the third
    reading): average run length 500 at lam 0.2, width 2.966 with varying limits.

    Examples
    --------
    >>> chart = SelfStartingEwma(lam=0.2)
    >>> [round(chart.update(x).value, 4) for x in (12.31, 12.28, 12.35)]
    [nan, nan, 0.2156]

    References
    ----------
    Quesenberry 1991 and 1993 (EWMA of Q, from memory); Hawkins & Olwell 1998, chapter 7.
    """

    kind = "self-starting-ewma"
    detail_names = ("score",)

    def __init__(
        self,
        *,
        lam: float = 0.2,
        width: float = 2.966,
        varying: bool = True,
        centre: float | None = None,
        sigma: float | None = None,
        least_sigma: float = 0.0,
    ) -> None:
        self._scores = Scores(self.kind, centre=centre, sigma=sigma, least_sigma=least_sigma)
        self.ewma = Ewma(lam=lam, width=width, varying=varying, centre=0.0, sigma=1.0)

    @property
    def rule_names(self) -> tuple[str, ...]:
        """ "above" and "below"."""
        return self.ewma.rule_names

    @property
    def ready(self) -> bool:
        """Whether the next reading gets a score."""
        return self._scores.ready

    def _step(self, x: float) -> Point:
        score = self._scores.step(x)
        if score != score:
            return Point(math.nan, math.nan, math.nan, math.nan)
        p = self.ewma.update(score)
        return Point(p.value, p.centre, p.lower, p.upper, p.rules, (score,))

    def _rest(self, xs: Floats) -> ChartRun:
        scores = self._scores.block(xs)
        run = self.ewma.run(scores)
        return ChartRun(run.value, run.centre, run.lower, run.upper, run.fired, scores[:, None])

    def survival(self, change: Change) -> Iterator[float] | None:
        """Without a change that of the EWMA with known level and spread; else none."""
        return self.ewma.survival(change) if change.none else None

    def readings(self, noise: Floats) -> Floats:
        """Readings about the known level with the known spread (0 and 1 where unknown)."""
        return self._scores.scaled(noise)

    def _state(self) -> tuple[float | int | str | None, ...]:
        return (*self._scores.state(), *self.ewma.save()[1:])

    def _set_state(self, state: Sequence[float]) -> None:
        self.ewma.restore((self.ewma.kind, *self._scores.set_state(state)))
