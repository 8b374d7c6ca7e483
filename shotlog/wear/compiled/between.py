"""What lies between sister inserts: mean and spread of their levels and warm-up curves, one channel at a time."""

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
    level_var, share_var = level_sd**2, share_sd**2
    weights: F = np.zeros((n, k, k))
    mean: F = np.zeros(k)
    mean_cov: F = np.zeros((k, k))
    for _ in range(rounds):
        spread = _spread(mean, level_var, free_sd**2, share_var)
        total: F = np.zeros((k, k))
        weighted: F = np.zeros(k)
        for i in range(n):
            weights[i] = np.linalg.inv(covs[i] + spread)
            total += weights[i]
            weighted += _times(weights[i], betas[i])
        mean_cov[:] = np.linalg.inv(total)
        curve = mean.copy()
        curve[0] = 0.0
        mean = _times(mean_cov, weighted)
        levels, shares = 0.0, 0.0
        for i in range(n):
            off = _times(weights[i], betas[i] - mean)
            # what is left of a sister's weight beside a mean that it has moved itself
            left = weights[i][0, 0] - _product(weights[i][0], _times(mean_cov, weights[i][0]))
            levels += (level_var * off[0]) ** 2 + level_var - level_var**2 * left
            told = _times(weights[i], curve)
            left = _product(curve, told) - _product(told, _times(mean_cov, told))
            shares += (share_var * _product(curve, off)) ** 2 + share_var - share_var**2 * left
        level_var = (worth * level_sd**2 + levels) / (worth + n)
        share_var = (worth * share_sd**2 + shares) / (worth + n)
    return mean, _spread(mean, level_var, free_sd**2, share_var) + mean_cov


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
