"""Run-length distributions of charts with known parameters, as first-passage probabilities.

A chart's state is carried forward shot by shot as a density that loses what has crossed a limit. For EWMA and CUSUM
that is the integral equation of Crowder 1987 and of Page, discretised on Gauss-Legendre nodes (Nystrom), where a
smooth kernel gives many digits with few nodes; for the moving range Crowder's equation, whose kernel has edges, on a
fine grid. All in sigma units; `means` gives the mean of shot 1, 2, ... Going forward, and not solving for the average
only, gives percentiles and drift with the same code.
"""

import math
from collections.abc import Callable, Iterator
from functools import lru_cache

import numpy as np

from shotlog.charts.base import Floats

__all__ = [
    "Means",
    "Survival",
    "cusum_survival",
    "ewma_survival",
    "independent_survival",
    "normal_chance",
    "range_survival",
    "two_sided_cusum_survival",
]

Means = Callable[[int], float]
"""Mean of the n-th judged shot, in sigma, n from 1."""
Survival = Iterator[float]
"""P(no signal up to shot n) for n = 1, 2, ..., without end."""

_ROOT = 1.0 / math.sqrt(2.0 * math.pi)


def _phi(z: Floats) -> Floats:
    return np.asarray(_ROOT * np.exp(-0.5 * z * z))


@lru_cache(maxsize=16)
def _nodes(n: int) -> tuple[Floats, Floats]:
    x, w = np.polynomial.legendre.leggauss(n)
    return x, w


def independent_survival(chance: Callable[[int], float]) -> Survival:
    """Each shot signals on its own with probability `chance(n)`."""
    alive, n = 1.0, 0
    while True:
        n += 1
        alive *= 1.0 - chance(n)
        yield alive


def normal_chance(width: float, mean: float) -> float:
    """Chance that a unit normal reading of a mean lies beyond +- width."""
    return 0.5 * (math.erfc((width - mean) / math.sqrt(2.0)) + math.erfc((width + mean) / math.sqrt(2.0)))


def ewma_survival(
    lam: float, width: float, means: Means, *, varying: bool = False, head_start: float = 0.0
) -> Survival:
    """EWMA of unit normal readings. Crowder 1987; Lucas & Saccucci 1990.

    `head_start`: two EWMAs that start at that share of their limits; the same as limits that start nearer by it.
    """
    unit = math.sqrt(lam / (2.0 - lam))
    x, w = _nodes(max(64, min(400, round(24.0 / math.sqrt(lam)))))
    keep = 1.0 - lam
    n, share, z, mass, old = 0, 1.0, np.zeros(1), np.array([1.0]), 0.0
    kernel, kernel_mean = np.empty((0, 0)), math.nan
    while True:
        n += 1
        share = share * keep * keep if share > 1e-34 else 0.0
        narrower = math.sqrt(1.0 - share) if varying else 1.0 - head_start * math.sqrt(share)
        half, mean = width * unit * narrower, means(n)
        y = half * x
        if n <= 2 or half != old or mean != kernel_mean:
            kernel, kernel_mean = half * w[:, None] * _phi((y[:, None] - keep * z) / lam - mean) / lam, mean
        z, mass, old = y, kernel @ mass, half
        yield float(mass.sum())


class _CusumSide:
    """States of a one-sided upper CUSUM: zero, then nodes on (0, h]; the kernel that moves mass between them."""

    def __init__(self, k: float, h: float) -> None:
        x, w = _nodes(max(48, min(200, round(16.0 * h))))
        self.k, self.y, self.weight = k, h * (1.0 + x) / 2.0, h * w / 2.0
        self.states = np.concatenate(((0.0,), self.y))
        self._mean, self._kernel = math.nan, np.empty((0, 0))

    def first(self, start: float, mean: float) -> Floats:
        """Mass on the states after one reading from a sum of `start`."""
        return self._from(np.array([start]), mean)[:, 0]

    def kernel(self, mean: float) -> Floats:
        """The matrix for readings of a mean; the last one asked for is kept."""
        if mean != self._mean:
            self._mean, self._kernel = mean, self._from(self.states, mean)
        return self._kernel

    def _from(self, z: Floats, mean: float) -> Floats:
        from scipy.special import ndtr

        density = _phi(self.y[:, None] - z + self.k - mean)
        return np.vstack((ndtr(self.k - mean - z), self.weight[:, None] * density))


def cusum_survival(k: float, h: float, means: Means, *, start: float = 0.0) -> Survival:
    """One-sided upper CUSUM of unit normal readings from a sum of `start`. Page 1954; Brook & Evans 1972."""
    side = _CusumSide(k, h)
    mass, n = side.first(start, means(1)), 1
    while True:
        yield float(mass.sum())
        n += 1
        mass = side.kernel(means(n)) @ mass


def two_sided_cusum_survival(k: float, h: float, means: Means, *, start: float = 0.0, steady: bool = True) -> Survival:
    """Both sides of a CUSUM. When one side signals the other is at zero, so the first signals of the sides untangle.

    With u_n, d_n the chances that the pair first signals at n on the high or the low side, and p the passage of one
    side
    alone: p_high(n) = u_n + sum_(j<n) d_j p_high,0(j, n), where p_high,0(j, n) starts from zero after shot j; and the
        same with sides turned. Own; the averages it gives are those of Lucas & Crosier 1982. `steady`: the mean never
        changes, which makes p_0(j, n) a function of n - j.
    """
    sides = [_Restarts(k, h, means, start, steady), _Restarts(k, h, lambda n: -means(n), start, steady)]
    alive = 1.0
    found: list[list[float]] = [[], []]
    while True:
        own = [side.step() for side in sides]
        new = [own[i] - sides[i].restarted(found[1 - i]) for i in (0, 1)]
        for i in (0, 1):
            found[i].append(new[i])
        alive -= new[0] + new[1]
        yield alive


class _Restarts:
    """Passage of one side from its start, and from zero after each earlier shot."""

    def __init__(self, k: float, h: float, means: Means, start: float, steady: bool) -> None:
        self._side, self._means, self._start, self._steady = _CusumSide(k, h), means, start, steady
        self._n = 0
        zero = np.zeros((len(self._side.states), 1))
        zero[0] = 1.0
        self._zero, self._masses = zero, zero[:, :0]
        self._mass = np.empty(0)
        self._passage: list[float] = []
        """Chance of passage from zero at each number of shots, where the mean is steady."""
        self._from_each = np.empty(0)

    def step(self) -> float:
        """Chance that the side, left alone, first signals at the next shot."""
        self._n += 1
        mean = self._means(self._n)
        before = float(self._mass.sum()) if self._n > 1 else 1.0
        self._mass = self._side.kernel(mean) @ self._mass if self._n > 1 else self._side.first(self._start, mean)
        if self._steady:
            masses = self._masses if self._n > 1 else self._zero
        else:
            masses = np.hstack((self._masses, self._zero)) if self._n > 1 else self._zero[:, :0]
        self._masses = self._side.kernel(mean) @ masses
        lost = masses.sum(axis=0) - self._masses.sum(axis=0)
        if self._steady:
            self._passage.append(float(lost[0]))
        else:
            self._from_each = lost
        return before - float(self._mass.sum())

    def restarted(self, other: list[float]) -> float:
        """Chance of passage now after the other side signalled earlier, `other[j]` its chance at shot j + 1."""
        if not other:
            return 0.0
        each = self._passage[len(other) - 1 :: -1] if self._steady else self._from_each
        return float(np.dot(other, each))


def range_survival(width: float, upper: float, means: Means) -> Survival:
    """Individuals with limits +- `width` together with moving ranges below `upper`, in sigma; an infinite width
    leaves the ranges alone. Crowder 1987, J. Quality Technology 19 98-102.
    """
    from scipy.special import ndtr

    half = min(width, 7.5)
    x = np.linspace(-half, half, 3001)
    step = x[1] - x[0]
    # without limits the grid goes along with the mean, or a drift would leave it
    origin = means(1) if math.isinf(width) else 0.0
    mass = _phi(x + origin - means(1))
    n = 1
    yield float(ndtr(width - means(1)) - ndtr(-width - means(1)))
    while True:
        n += 1
        area = np.concatenate(((0.0,), np.cumsum((mass[1:] + mass[:-1]) * step / 2.0)))
        moved = means(n) - origin if math.isinf(width) else 0.0
        origin += moved
        near = np.interp(x + moved + upper, x, area) - np.interp(x + moved - upper, x, area)
        mass = _phi(x + origin - means(n)) * near
        yield float((mass[1:] + mass[:-1]).sum() * step / 2.0)
