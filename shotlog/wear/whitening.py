"""Whitening: what the shot-to-shot noise of one channel looks like, learnt and pooled over inserts.

Model of one channel about its level: a first-order autoregression (lag-1 `phi`, marginal variance sigma^2) plus a slow
harmless wander (lag-1 0.95, variance `wander` x sigma^2) plus a little white reading noise. Real presses show lag-1 values
from -0.7 to +0.7 by channel, and means that wander by real amounts too small to matter; a detector that takes either for
independent noise calls far too often. Both are chosen on a grid by profile likelihood; the sums of squares at each point
of the grid add up over sister inserts, so pooling is an addition.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["GRID", "READING", "SLOW_PHI", "Profile", "choose", "profile", "resolution", "whitened"]

F = NDArray[np.float64]

SLOW_PHI = 0.95
READING = 0.02
_PHIS = (-0.7, -0.5, -0.35, -0.2, 0.0, 0.2, 0.35, 0.5, 0.7)
_WANDERS = (0.02, 0.1, 0.25, 0.6)
_WANDER_PRIOR = (0.35, 0.4, 0.2, 0.05)

GRID: tuple[tuple[float, float], ...] = tuple((phi, w) for phi in _PHIS for w in _WANDERS)
"""The noise models tried: (phi, wander)."""

_LOG_PRIOR = np.array([-0.5 * (phi / 0.35) ** 2 + np.log(w) for phi in _PHIS for w in _WANDER_PRIOR])
_PHI = np.array([g[0] for g in GRID])
_WANDER = np.array([g[1] for g in GRID])


@dataclass(frozen=True, slots=True)
class Profile:
    """Likelihood profile of one channel over GRID: sums of squares (unit squared), log determinants, degrees of freedom."""

    squares: F
    logdet: F
    dof: float

    def __add__(self, other: "Profile") -> "Profile":
        return Profile(self.squares + other.squares, self.logdet + other.logdet, self.dof + other.dof)


def covariance(positions: F, at: int | None = None) -> F:
    """Return the noise covariance over shots in units of sigma^2, for all of GRID or the point `at`."""
    lag = np.abs(positions[:, None] - positions[None, :]).astype(int)
    phi, wander = (_PHI, _WANDER) if at is None else (_PHI[at : at + 1], _WANDER[at : at + 1])
    powers = phi[:, None] ** np.arange(lag.max() + 1 if lag.size else 1)
    slow = SLOW_PHI ** np.arange(powers.shape[1])
    matrix = (powers + wander[:, None] * slow)[:, lag]
    matrix[:, np.arange(len(positions)), np.arange(len(positions))] += READING
    return matrix if at is None else matrix[0]


def profile(positions: F, values: F, columns: F) -> list[Profile]:
    """Profile the noise of channels seen at the same shots, the columns projected out.

    Parameters
    ----------
    positions: shots on the insert, shape (n_shots,). values: shape (n_shots, n_channels). columns: (n_shots, n_columns).
    """
    root = np.linalg.cholesky(covariance(positions))
    white = np.linalg.solve(root, np.broadcast_to(np.hstack([columns, values]), (len(GRID), *values.shape[:1], columns.shape[1] + values.shape[1])))
    z, y = white[:, :, : columns.shape[1]], white[:, :, columns.shape[1] :]
    gram = np.swapaxes(z, 1, 2) @ z + 1e-3 * np.eye(z.shape[2])
    fitted = z @ np.linalg.solve(gram, np.swapaxes(z, 1, 2) @ y)
    squares = ((y - fitted) ** 2).sum(axis=1)
    logdet = 2 * np.log(np.diagonal(root, axis1=1, axis2=2)).sum(axis=1) + np.linalg.slogdet(gram)[1]
    dof = max(len(positions) - columns.shape[1], 1)
    return [Profile(squares[:, c], logdet, float(dof)) for c in range(values.shape[1])]


def choose(pooled: Profile, floor: float) -> tuple[int, float]:
    """Return the best point of GRID (its index) and the spread sigma there, not below `floor`."""
    mean_square = np.maximum(pooled.squares / pooled.dof, floor**2)
    score = -0.5 * pooled.dof * np.log(mean_square) - 0.5 * pooled.logdet + _LOG_PRIOR
    best = int(np.argmax(score))
    return best, float(np.sqrt(mean_square[best]))


def whitened(positions: F, values: F, columns: F, at: int) -> tuple[F, F, F]:
    """Return residual innovations, coefficients and their covariance (both for unit sigma) of one channel at a grid point.

    `values`: shape (n_shots,). The coefficients are those of a weak ridge, so that collinear columns do no harm.
    """
    root = np.linalg.cholesky(covariance(positions, at))
    white = np.linalg.solve(root, np.column_stack([columns, values]))
    z, y = white[:, :-1], white[:, -1]
    gram = z.T @ z
    gram[np.diag_indices_from(gram)] += 1e-4
    cov = np.linalg.inv(gram)
    beta = cov @ (z.T @ y)
    return y - z @ beta, beta, cov


def resolution(values: F) -> float:
    """Return the step in which a channel is reported: the smallest difference between distinct values.

    A constant channel shows no difference; its step is then that of its last decimal.
    """
    distinct = np.unique(np.round(values[np.isfinite(values)], 6))
    if len(distinct) > 1:
        return float(np.diff(distinct).min())
    if not len(distinct):
        return 0.0
    digits = f"{distinct[0]:.6f}".rstrip("0").partition(".")[2]
    return float(10.0 ** -len(digits))
