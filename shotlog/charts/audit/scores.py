"""Normal scores of readings whose level and spread are unknown: what every self-starting chart is made of.

A reading is compared with the mean and spread of those before it; the Student t statistic that gives is turned into the
normal deviate of the same probability. In control these scores are independent standard normal, exactly, from the
first on, whatever level and spread are: so charts for known parameters apply to them with their tables unchanged.
"""

import math
from collections.abc import Sequence

import numpy as np

from shotlog.charts.base import Floats
from shotlog.charts.baseline import check_level, check_positive

__all__ = ["Scores"]

_SMALLEST = 1e-300
"""A probability below this counts as this; its score is 37."""

_TINY = 1e-160
"""No spread is smaller once two readings differ."""


class Scores:
    """Scores of one channel's readings, one for each reading from the first that can be compared.

    Parameters
    ----------
    kind: the chart that uses them, for messages.
    centre, sigma: level and spread where known, in the channel's unit; None where not. Both known is not a case for
        this.
    least_sigma: no spread estimate is taken to be smaller, in the channel's unit; for channels that report in coarse
        steps.

    Notes
    -----
    Level and spread unknown, r >= 3: Q_r = Phi^-1(F_(r-2)(sqrt((r-1)/r) (x_r - m_(r-1)) / s_(r-1))); spread known,
    r >= 2: sqrt((r-1)/r) (x_r - m_(r-1)) / sigma; level known, r >= 2: Phi^-1(F_(r-1)((x_r - mu) / rms_(r-1))).
    There is no score while all readings so far are equal: they have no spread.
    State: the first reading, a count, a sum and a sum of squares about the first reading, which loses no digits
    because that reading is in the sample. Both forms add in the same order and use the same quantile routine.

    References
    ----------
    Quesenberry 1991, J. Quality Technology 23(3) 213-224 (from memory, re-derived).
    """

    def __init__(self, kind: str, *, centre: float | None, sigma: float | None, least_sigma: float) -> None:
        self.centre = None if centre is None else check_level(kind, "centre", centre)
        self.sigma = None if sigma is None else check_positive(kind, "sigma", sigma)
        self.least_sigma = check_positive(kind, "least sigma", least_sigma, zero=True)
        self.n = 0
        self._origin = math.nan if self.centre is None else self.centre
        self._sum = self._squares = 0.0

    @property
    def _needed(self) -> int:
        """Readings before the first score."""
        return 2 if self.centre is None and self.sigma is None else 1

    @property
    def ready(self) -> bool:
        """Whether the next reading can be scored."""
        return self.n >= self._needed and (self.sigma is not None or self._squares > 0.0 or self.least_sigma > 0.0)

    def scaled(self, noise: Floats) -> Floats:
        """Unit normal readings moved to the known level and spread; 0 and 1 stand where unknown."""
        return (self.centre or 0.0) + (self.sigma or 1.0) * noise

    def step(self, x: float) -> float:
        """The score of a reading, which is then learnt; NaN if there is none yet."""
        if self.n == 0 and self.centre is None:
            self._origin = x
        d = x - self._origin
        score = self._score(d) if self.ready else math.nan
        self.n += 1
        self._sum += d
        self._squares += d * d
        return score

    def _score(self, d: float) -> float:
        n = float(self.n)
        mean = 0.0 if self.centre is not None else self._sum / n
        root = 1.0 if self.centre is not None else math.sqrt(n / (n + 1.0))
        if self.sigma is not None:
            return root * (d - mean) / self.sigma
        freedom = n if self.centre is not None else n - 1.0
        spread = math.sqrt(max((self._squares - self._sum * mean) / freedom, 0.0))
        spread = max(spread, self.least_sigma, _TINY)
        return float(_to_normal(freedom, root * (d - mean) / spread))

    def block(self, xs: Floats) -> Floats:
        """The scores of many readings; the array form of `step`."""
        head: list[float] = []
        while len(head) < len(xs) and not self.ready:
            head.append(self.step(float(xs[len(head)])))
        if len(head) == len(xs):
            return np.array(head, dtype=float)
        d = xs[len(head) :] - self._origin
        sums = np.cumsum(np.concatenate(((self._sum,), d)))
        squares = np.cumsum(np.concatenate(((self._squares,), d * d)))
        n = self.n + np.arange(len(d), dtype=float)
        self.n += len(d)
        self._sum, self._squares = float(sums[-1]), float(squares[-1])
        return np.concatenate((head, self._score_block(d, n, sums[:-1], squares[:-1])))

    def _score_block(self, d: Floats, n: Floats, sums: Floats, squares: Floats) -> Floats:
        mean = np.zeros(len(d)) if self.centre is not None else sums / n
        root = np.ones(len(d)) if self.centre is not None else np.sqrt(n / (n + 1.0))
        if self.sigma is not None:
            return root * (d - mean) / self.sigma
        freedom = n if self.centre is not None else n - 1.0
        spread = np.sqrt(np.maximum((squares - sums * mean) / freedom, 0.0))
        spread = np.maximum(spread, max(self.least_sigma, _TINY))
        return np.asarray(_to_normal(freedom, root * (d - mean) / spread), dtype=float)

    def state(self) -> tuple[float | int, ...]:
        """All that was learnt, flat."""
        return (self.n, self._origin, self._sum, self._squares)

    def set_state(self, state: Sequence[float]) -> Sequence[float]:
        """Take `state` back from the front of a longer one; the remainder is returned."""
        self.n, self._origin = int(state[0]), float(state[1])
        self._sum, self._squares = float(state[2]), float(state[3])
        return state[4:]


def _to_normal(freedom: Floats | float, t: Floats | float) -> Floats:
    """Normal deviate of a Student t statistic's probability, from the nearer tail, where it keeps its digits."""
    from scipy.special import ndtri, stdtr

    tail = np.maximum(stdtr(freedom, -np.abs(t)), _SMALLEST)
    return np.copysign(-ndtri(tail), t)
