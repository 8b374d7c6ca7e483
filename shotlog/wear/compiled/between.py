"""What lies between sister inserts: mean and spread of their levels and warm-up curves, one channel at a time."""

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.compiled.compiler import compiled

__all__ = ["between"]

F = NDArray[np.float64]


@compiled
def between(
    betas: F, covs: F, level_sd: float, free_sd: float, share_sd: float, worth: float, telling: float, rounds: int
) -> tuple[F, F]:
    """Return mean and covariance of (level, warm-up) for the next insert.

    `betas` (n, K), `covs` (n, K, K): what each sister showed, and how well. The level spread is a method-of-moments
    estimate shrunk to `level_sd`; the warm-up curve varies as a whole, by a share of itself that is shrunk to
    `share_sd`, and by `free_sd` freely. Both defaults count as `worth` sisters. A curve whose signal is below `telling`
    says nothing of its share. `rounds`: of mean and spread in turn.
    """
    n, k = betas.shape
    level_var, share_var = level_sd**2, share_sd**2
    mean, mean_cov = betas[n - 1].copy(), covs[n - 1].copy()
    for _ in range(rounds):
        spread = _spread(mean, level_var, free_sd**2, share_var)
        weights, weighted = np.zeros((k, k)), np.zeros(k)
        for i in range(n):
            weight = np.linalg.inv(covs[i] + spread)
            weights += weight
            for r in range(k):
                for c in range(k):
                    weighted[r] += weight[r, c] * betas[i, c]
        mean_cov = np.linalg.inv(weights)
        for r in range(k):
            mean[r] = 0.0
            for c in range(k):
                mean[r] += mean_cov[r, c] * weighted[c]
        moments = 0.0
        for i in range(n):
            moments += (betas[i, 0] - mean[0]) ** 2 - covs[i, 0, 0] * (1.0 - 1.0 / n)
        level_var = (worth * level_sd**2 + max(moments, 0.0)) / (worth + n - 1.0)
        share_var = _share_variance(betas, covs, mean, share_sd, worth, telling)
    return mean, _spread(mean, level_var, free_sd**2, share_var) + mean_cov


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


@compiled
def _share_variance(betas: F, covs: F, mean: F, share_sd: float, worth: float, telling: float) -> float:
    """Return the variance between inserts of the share of the warm-up curve; the default where a curve says little."""
    n, k = betas.shape
    excess = 0.0
    for i in range(n):
        info = np.linalg.inv(np.ascontiguousarray(covs[i, 1:, 1:]))
        power, along = 0.0, 0.0
        for r in range(k - 1):
            for c in range(k - 1):
                power += mean[r + 1] * info[r, c] * mean[c + 1]
                along += mean[r + 1] * info[r, c] * betas[i, c + 1]
        if power < telling:
            return share_sd**2
        excess += (along / power - 1.0) ** 2 - (1.0 - 1.0 / n) / power
    return float((worth * share_sd**2 + max(excess, 0.0)) / (worth + n - 1.0))
