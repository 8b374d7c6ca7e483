"""Whitening: what the shot-to-shot noise of one channel looks like, learnt and pooled over inserts.

Model of one channel about its level: a first-order autoregression (lag-1 `phi`, marginal variance sigma^2) plus a slow
harmless wander (lag-1 0.95, variance `wander` x sigma^2) plus a little white reading noise. Real presses show lag-1
values from -0.7 to +0.7 by channel, and means that wander by real amounts too small to matter; a detector that takes
either for independent noise calls far too often. Both are chosen on a grid by profile likelihood; the sums of squares
at each point of the grid add up over sister inserts, so pooling is an addition.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.compiled.whitening import whiten
from shotlog.wear.constants import (
    PHI_GRID,
    PHI_PRIOR,
    PHI_PRIOR_END,
    READING,
    SLOW_PHI,
    WANDER_CAUTION,
    WANDER_GRID,
    WANDER_PRIOR,
)

__all__ = ["GRID", "Noise", "Profile", "beside", "choose", "profile", "resolution", "whitened"]

F = NDArray[np.float64]

GRID: tuple[tuple[float, float], ...] = tuple((phi, w) for phi in PHI_GRID for w in WANDER_GRID)
"""The noise models tried: (phi, wander)."""

_LOG_PRIOR = np.array(
    [-0.5 * (min(abs(phi), PHI_PRIOR_END) / PHI_PRIOR) ** 2 + np.log(w) for phi in PHI_GRID for w in WANDER_PRIOR]
)
_PHI = np.array([g[0] for g in GRID])
_WANDER = np.array([g[1] for g in GRID])
_WHITE = int(np.argmin(np.abs(_PHI) + _WANDER))


@dataclass(frozen=True, slots=True)
class Profile:
    """Likelihood profile of one channel over GRID: sums of squares (unit squared), log determinants, degrees of
    freedom.
    """

    squares: F
    logdet: F
    dof: float

    def __add__(self, other: "Profile") -> "Profile":
        return Profile(self.squares + other.squares, self.logdet + other.logdet, self.dof + other.dof)


def profile(values: F, columns: F, spreads: F) -> list[Profile]:
    """Profile the noise of channels seen at the same shots, the columns taken out as far as they are free.

    `values`: (n_shots, n_channels). `columns`: (n_shots, n_columns), the first being the level; the coefficient of each
    is normal about zero with `spreads` (n_columns,), in spreads of the channel, infinite where it is free. Degrees of
    freedom are those that white noise would leave beside the columns as far as they can be told: on a short life
    columns that are alike take fewer, and what a large warm-up leaves counts as noise. So the spread is never said too
    small on average. Shots missed are passed over as if they had not been: a few of them hardly change what neighbours
    have in common.
    """
    n_columns = columns.shape[1]
    table = np.hstack([columns, values - values.mean(axis=0)])
    white = np.empty((len(GRID), *table.shape))
    logdet = whiten(_PHI, _WANDER, SLOW_PHI, READING, table, white)
    products = np.swapaxes(white, 1, 2) @ white
    seen, explained = products[:, :n_columns, :n_columns], products[:, :n_columns, n_columns:]
    gram = seen + np.diag(np.maximum(spreads**-2.0, 1e-3))
    left = np.diagonal(products, axis1=1, axis2=2)[:, n_columns:]
    squares = left - (explained * np.linalg.solve(gram, explained)).sum(axis=1)
    logdet += np.linalg.slogdet(gram)[1]
    fitted = float(np.trace(np.linalg.solve(gram[_WHITE], seen[_WHITE])))
    dof = max(len(values) - fitted, 0.0)
    return [Profile(np.maximum(squares[:, c], 0.0), logdet, dof) for c in range(values.shape[1])]


@dataclass(frozen=True, slots=True)
class Noise:
    """Noise of one channel: `at` is the likeliest point of GRID.

    The others are averages over GRID, weighted by likelihood.
    """

    at: int
    sigma: float
    phi: float
    wander: float


def choose(pooled: Profile, floor: float) -> Noise:
    """Return the noise a profile speaks for, its spread not below `floor`.

    Averages are taken because a few shots cannot tell neighbouring models apart, and the likeliest one flatters itself.
    """
    dof = max(pooled.dof, 1.0)
    mean_square = np.maximum(pooled.squares / dof, floor**2)
    score = -0.5 * dof * np.log(mean_square) - 0.5 * pooled.logdet + _LOG_PRIOR
    weight = np.exp(score - score.max())
    weight /= weight.sum()
    sigma = float(np.sqrt(weight @ mean_square))
    wander = float(weight @ _WANDER)
    unsure = float(np.sqrt(weight @ (_WANDER - wander) ** 2))
    return Noise(int(np.argmax(score)), sigma, float(weight @ _PHI), wander + WANDER_CAUTION * unsure)


def _white(table: F, at: int) -> F:
    """Return columns over consecutive shots, (n_shots, columns), as the noise of a grid point leaves them white."""
    white = np.empty((1, *table.shape))
    whiten(_PHI[at : at + 1], _WANDER[at : at + 1], SLOW_PHI, READING, table, white)
    return np.asarray(white[0])


def beside(values: F, columns: F, courses: F, at: int) -> tuple[F, F]:
    """Return what is left of some courses, and last of the values, beside the columns: their products over the shots of
    one channel, white, (courses + 1, courses + 1); and what of the columns is in each, (n_columns, courses + 1).

    Each course alone then has the coefficient [k, -1] / [k, k], known with the variance 1 / [k, k] for unit sigma.
    """
    n = columns.shape[1]
    table = _white(np.column_stack([columns, courses, values - values.mean()]), at)
    gram = table.T @ table + 1e-4 * np.eye(table.shape[1])
    in_columns = np.linalg.solve(gram[:n, :n], gram[:n, n:])
    return np.asarray(gram[n:, n:] - gram[n:, :n] @ in_columns), np.asarray(in_columns)


def whitened(values: F, columns: F, at: int) -> tuple[F, F, F, F]:
    """Return residual innovations, coefficients and their covariance (both for unit sigma) of one channel at a grid
    point, and what share of the variance of each innovation the columns leave, (n_shots,).

    `values`: (n_shots,), without missing ones; the first column is the level. The coefficients are those of a weak
    ridge about the mean: collinear columns do no harm.
    """
    centre = float(values.mean())
    table = _white(np.column_stack([columns, values - centre]), at)
    z, y = table[:, :-1], table[:, -1]
    gram = z.T @ z
    along = np.arange(len(gram))
    gram[along, along] += 1e-4
    cov = np.linalg.inv(gram)
    beta = cov @ (z.T @ y)
    residual = y - z @ beta
    beta[0] += centre
    return residual, beta, np.asarray(cov), 1.0 - np.einsum("ij,jk,ik->i", z, cov, z)


def resolution(values: F) -> float:
    """Return the step in which a channel is reported: the smallest difference between distinct values.

    A constant channel shows no difference; its step is then that of its last decimal.
    """
    shown = np.sort(np.round(values[np.isfinite(values)], 6))
    if not len(shown):
        return 0.0
    if shown[0] < shown[-1]:
        apart = shown[1:] - shown[:-1]
        return float(apart[apart > 0.0].min())
    digits = f"{shown[0]:.6f}".rstrip("0").partition(".")[2]
    return float(10.0 ** -len(digits))
