"""Self-starting CUSUM: the tabular CUSUM of normal scores, for an insert whose level and spread nobody knows yet."""

import math
from collections.abc import Iterator, Sequence

import numpy as np

from shotlog.charts.audit.cusum import CusumSums
from shotlog.charts.audit.scores import Scores
from shotlog.charts.base import Chart, ChartRun, Floats, Point
from shotlog.charts.baseline import check_positive
from shotlog.charts.change import Change
from shotlog.charts.passage import two_sided_cusum_survival
from shotlog.errors import UsageError

__all__ = ["SelfStartingCusum"]


class SelfStartingCusum(Chart):
    """Self-starting CUSUM of one channel, two-sided.

    Sees a sustained shift that comes after some ten healthy shots; a shift in the first few, or a slow drift from the
    first shot on, is learnt as the level.

    Parameters
    ----------
    k, h: reference value and decision interval, in standard deviations of a score; the tables of the CUSUM apply.
    centre, sigma: level or spread where known, in the channel's unit; at most one of them.
    head_start: both sums start here, from 0 up to h.
    least_sigma: no spread estimate is taken to be smaller, in the channel's unit.

    Returns
    -------
    `update` a point, `run` arrays of shape (n_shots,), in standard deviations. The value is the larger of the two
    sums, the lower one with its sign turned; `detail` is both sums and the score: high, low, score.

    Raises
    ------
    UsageError
        A parameter out of range, or an infinite reading.

    Notes
    -----
    State: four numbers for the scores, four for the sums; an update is O(1). Every reading is learnt, a suspect one
    too: after a signal start a new chart.
    In control: that of the CUSUM with known level and spread, exactly, counted from the first score (the third
    reading): average run length 465 at k 0.5, h 5.

    Examples
    --------
    >>> chart = SelfStartingCusum(k=0.5, h=4.0)
    >>> [round(float(high), 4) for high in chart.run((12.31, 12.28, 12.35, 12.30, 12.33)).detail[2:, 0]]
    [0.5782, 0.0, 0.0442]

    References
    ----------
    Hawkins 1987, The Statistician 36 299-315; Hawkins & Olwell 1998, chapter 7 (from memory, re-derived).
    """

    kind = "self-starting"
    detail_names = ("high", "low", "score")

    def __init__(
        self,
        *,
        k: float = 0.5,
        h: float = 5.0,
        centre: float | None = None,
        sigma: float | None = None,
        head_start: float = 0.0,
        least_sigma: float = 0.0,
    ) -> None:
        self.k = check_positive(self.kind, "k", k, zero=True)
        self.h = check_positive(self.kind, "h", h)
        if not 0.0 <= head_start <= h:
            raise UsageError(f"{self.kind}: given head start {head_start}, allowed: 0 to h, {h}")
        self.head_start = float(head_start)
        self._scores = Scores(self.kind, centre=centre, sigma=sigma, least_sigma=least_sigma)
        self._sums = CusumSums(self.k, self.head_start)

    @property
    def rule_names(self) -> tuple[str, ...]:
        """ "above" for the high sum, "below" for the low one."""
        return ("above", "below")

    @property
    def ready(self) -> bool:
        """Whether the next reading gets a score."""
        return self._scores.ready

    @property
    def since(self) -> tuple[int, int]:
        """How many readings ago the high and the low sum left zero; the onset estimate, as in `Cusum`."""
        return self._sums.high_run, self._sums.low_run

    def _step(self, x: float) -> Point:
        score = self._scores.step(x)
        if score != score:
            return Point(math.nan, math.nan, math.nan, math.nan)
        high, low = self._sums.step(score)
        fired = (("above",) if high > self.h else ()) + (("below",) if low > self.h else ())
        return Point(high if high >= low else -low, 0.0, -self.h, self.h, fired, (high, low, score))

    def _rest(self, xs: Floats) -> ChartRun:
        scores = self._scores.block(xs)
        high, low = self._sums.block(scores)
        fired = {"above": high > self.h, "below": low > self.h}
        value = np.where(high >= low, high, -low)
        return ChartRun.flat(value, 0.0, -self.h, self.h, fired, np.column_stack((high, low, scores)))

    def survival(self, change: Change) -> Iterator[float] | None:
        """Without a change that of the CUSUM with known level and spread; else none."""
        if not change.none:
            return None
        return two_sided_cusum_survival(self.k, self.h, change.mean, start=self.head_start)

    def readings(self, noise: Floats) -> Floats:
        """Readings about the known level with the known spread (0 and 1 where unknown)."""
        return self._scores.scaled(noise)

    def _state(self) -> tuple[float | int | str | None, ...]:
        return (*self._scores.state(), *self._sums.state())

    def _set_state(self, state: Sequence[float]) -> None:
        self._sums.set_state(self._scores.set_state(state))
