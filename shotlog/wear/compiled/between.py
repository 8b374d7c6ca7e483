"""What lies between sister inserts: mean and spread of their levels and warm-up curves, one channel at a time."""

import math

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.compiled.compiler import compiled

__all__ = ["between"]

F = NDArray[np.float64]


@compiled
def between(
    betas: F, covs: F, level_sd: float, free_sd: float, share_sd: float, worth: float, rounds: int
) -> tuple[F, F]:
    """Return mean and covariance of (level, warm-up) for the next insert.

    `betas` (n, K), `covs` (n, K, K): what each sister showed, and how well. Inserts differ in their level by about
    `level_sd`; the warm-up curve varies as a whole, by a share of itself of about `share_sd`, and by `free_sd` freely.
    Every sister weighs by its information, 1 / (its own covariance + what lies between): a short one, whose level and
    warm-up cannot be told apart, tells what they come to together. Both defaults count as `worth` sisters, and a sister
    that says nothing of one of them leaves it alone. `rounds`: of mean and spread in turn.

    References
    ----------
    Restricted maximum likelihood by expectation and maximisation: Laird & Ware 1982, Biometrics 38 (from memory; the
    priors are scaled inverse chi-squared).
    """
    n, k = betas.shape
    level_var, share_var, free_var = level_sd * level_sd, share_sd * share_sd, free_sd * free_sd
    weights: F = np.zeros((n, k, k))
    mean: F = np.zeros(k)
    mean_cov: F = np.zeros((k, k))
    for _ in range(rounds):
        spread = _spread(mean, level_var, free_var, share_var)
        total: F = np.zeros((k, k))
        weighted: F = np.zeros(k)
        for i in range(n):
            _invert(covs[i] + spread, weights[i])
            total += weights[i]
            weighted += _times(weights[i], betas[i])
        _invert(total, mean_cov)
        curve = mean.copy()
        curve[0] = 0.0
        mean = _times(mean_cov, weighted)
        levels, shares = 0.0, 0.0
        for i in range(n):
            off = _times(weights[i], betas[i] - mean)
            # what is left of a sister's weight beside a mean that it has moved itself
            left = weights[i][0, 0] - _product(weights[i][0], _times(mean_cov, weights[i][0]))
            moved = level_var * off[0]
            levels += moved * moved + level_var - level_var * level_var * left
            told = _times(weights[i], curve)
            left = _product(curve, told) - _product(told, _times(mean_cov, told))
            moved = share_var * _product(curve, off)
            shares += moved * moved + share_var - share_var * share_var * left
        level_var = (worth * level_sd * level_sd + levels) / (worth + n)
        share_var = (worth * share_sd * share_sd + shares) / (worth + n)
    return mean, _spread(mean, level_var, free_var, share_var) + mean_cov


@compiled
def _invert(matrix: F, to: F) -> None:
    """Fill `to` with the inverse of a covariance, by its Cholesky root."""
    k = len(matrix)
    root = np.zeros((k, k))
    for i in range(k):
        for j in range(i + 1):
            left = matrix[i, j]
            for m in range(j):
                left -= root[i, m] * root[j, m]
            root[i, j] = math.sqrt(left) if i == j else left / root[j, j]
    for c in range(k):
        for i in range(k):
            left = 1.0 if i == c else 0.0
            for m in range(i):
                left -= root[i, m] * to[m, c]
            to[i, c] = left / root[i, i]
        for i in range(k - 1, -1, -1):
            left = to[i, c]
            for m in range(i + 1, k):
                left -= root[m, i] * to[m, c]
            to[i, c] = left / root[i, i]


@compiled
def _product(a: F, b: F) -> float:
    total = 0.0
    for i in range(len(a)):
        total += a[i] * b[i]
    return total


@compiled
def _times(matrix: F, vector: F) -> F:
    out = np.zeros(len(vector))
    for r in range(len(vector)):
        for c in range(len(vector)):
            out[r] += matrix[r, c] * vector[c]
    return out


@compiled
def _spread(mean: F, level_var: float, free_var: float, share_var: float) -> F:
    k = len(mean)
    spread = np.zeros((k, k))
    spread[0, 0] = level_var
    for r in range(1, k):
        for c in range(1, k):
            spread[r, c] = share_var * mean[r] * mean[c]
        spread[r, r] += free_var
    return spread
