"""Run lengths of a MEWMA with known parameters and asymptotic covariance, by integral equation.

In control the length of the EWMA vector alone is a Markov chain (Rigdon 1995, J. Statistical Computation and
Simulation). After a shift there are two numbers: its part along the shift, and the length of the rest (Rigdon 1995,
Statistics & Probability Letters; both from memory). Channels are taken as uncorrelated with unit spread: T2 does not
see the difference, and a shift counts by its Mahalanobis length.
"""

import math
from functools import lru_cache

import numpy as np

from shotlog.charts.base import Floats
from shotlog.charts.passage import Means, Survival
from shotlog.errors import UsageError

__all__ = ["mewma_limit", "mewma_survival"]


def mewma_survival(p: int, lam: float, h: float, means: Means, *, shifted: bool) -> Survival:
    """P(no signal up to shot n). `shifted` False: in control, `means` is not asked."""
    if not shifted:
        kernel, mass = _in_control(p, lam, h)
        while True:
            yield float(mass.sum())
            mass = kernel @ mass
    along, across, weight = _half_disc(lam, h)
    rest = _chi_density(p - 1, across[:, None] / lam, (1.0 - lam) / lam * across[None, :]) / lam
    first = _chi_start(p - 1, across / lam) / lam
    mass = weight * _normal((along / lam) - means(1)) / lam * first
    step = (along[:, None] - (1.0 - lam) * along[None, :]) / lam
    n, kernel, kernel_mean = 1, np.empty((0, 0)), math.nan
    while True:
        yield float(mass.sum())
        n += 1
        if means(n) != kernel_mean:
            kernel_mean = means(n)
            kernel = weight[:, None] * _normal(step - kernel_mean) / lam * rest
        mass = kernel @ mass


@lru_cache(maxsize=64)
def mewma_limit(p: int, lam: float, arl0: float) -> float:
    """Limit of a MEWMA for an in-control average run length; UsageError unless that is 1.5 to 1,000,000."""
    if not 1.5 <= arl0 <= 1e6:
        raise UsageError(f"mewma: given an average run length of {arl0}, allowed: 1.5 to 1,000,000")
    low, high = 0.01, 80.0 + 4.0 * p
    while high - low > 1e-9 * high:
        middle = (low + high) / 2.0
        kernel, start = _in_control(p, lam, middle)
        average = 1.0 + float(np.linalg.solve(np.eye(len(start)) - kernel, start).sum())
        low, high = (middle, high) if average < arl0 else (low, middle)
    return high


def _normal(z: Floats) -> Floats:
    return np.asarray(np.exp(-0.5 * z * z) / math.sqrt(2.0 * math.pi))


def _chi_density(p: int, to: Floats, source: Floats) -> Floats:
    """Density at `to` of the length of a p-vector of unit normals about a point `source` from the origin."""
    from scipy.special import ive

    order = p / 2.0 - 1.0
    source = np.maximum(source, 1e-12)
    return np.asarray(to * (to / source) ** order * ive(order, to * source) * np.exp(-0.5 * (to - source) ** 2))


def _chi_start(p: int, to: Floats) -> Floats:
    """The same about the origin itself."""
    return np.asarray(to ** (p - 1) * np.exp(-0.5 * to * to) / (2.0 ** (p / 2.0 - 1.0) * math.gamma(p / 2.0)))


def _radius(lam: float, h: float) -> float:
    return math.sqrt(h * lam / (2.0 - lam))


def _in_control(p: int, lam: float, h: float) -> tuple[Floats, Floats]:
    """Kernel between lengths of the EWMA, and the mass after the first shot, on Gauss-Legendre nodes."""
    x, w = np.polynomial.legendre.leggauss(max(60, min(200, round(24.0 / math.sqrt(lam)))))
    r, weight = _radius(lam, h) * (1.0 + x) / 2.0, _radius(lam, h) * w / 2.0
    kernel = weight[:, None] * _chi_density(p, r[:, None] / lam, (1.0 - lam) / lam * r[None, :]) / lam
    return kernel, weight * _chi_start(p, r / lam) / lam


def _half_disc(lam: float, h: float) -> tuple[Floats, Floats, Floats]:
    """Nodes (along, across) and weights on the half disc the EWMA lives in; by angle, so that its edge stays smooth."""
    n_along = max(24, min(48, round(12.0 / math.sqrt(lam))))
    n_across = max(16, min(32, round(10.0 / math.sqrt(lam))))
    x, w = np.polynomial.legendre.leggauss(n_along)
    u, v = np.polynomial.legendre.leggauss(n_across)
    angle = x * math.pi / 2.0
    along = np.repeat(_radius(lam, h) * np.sin(angle), n_across)
    reach = np.repeat(_radius(lam, h) * np.cos(angle), n_across)
    across = reach * np.tile((1.0 + u) / 2.0, n_along)
    weight = np.repeat(w * math.pi / 2.0, n_across) * reach * np.tile(v / 2.0, n_along) * reach
    return along, across, weight
