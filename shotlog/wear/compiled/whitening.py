"""Columns over consecutive shots as they are with the noise of one channel taken out of them."""

import math

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.compiled.compiler import compiled

__all__ = ["whiten"]

F = NDArray[np.float64]


@compiled
def whiten(phi: F, wander: F, slow: float, reading: float, table: F, to: F) -> F:
    """Fill `to` (models, n_shots, columns) with the innovations of every column of `table` (n_shots, columns).

    A noise model is a first-order autoregression of variance 1 (`phi`), a wander of variance `wander` that keeps `slow`
    of itself from shot to shot, and `reading` noise. Return the log determinant of its covariance, (models,). A filter
    of two states does in n steps what the inverse Cholesky root of that covariance does in n squared.

    References
    ----------
    Durbin & Koopman 2012, Time Series Analysis by State Space Methods, 4.3 (from memory).
    """
    n, m = table.shape
    logdet = np.zeros(len(phi))
    short, long = np.empty(m), np.empty(m)
    for g in range(len(phi)):
        f, w = phi[g], wander[g]
        aa, ab, bb = 1.0, 0.0, w
        for c in range(m):
            short[c], long[c] = 0.0, 0.0
        for t in range(n):
            variance = aa + 2.0 * ab + bb + reading
            root = math.sqrt(variance)
            a, b = (aa + ab) / variance, (ab + bb) / variance
            logdet[g] += math.log(variance)
            for c in range(m):
                left = table[t, c] - short[c] - long[c]
                to[g, t, c] = left / root
                short[c] = f * (short[c] + a * left)
                long[c] = slow * (long[c] + b * left)
            aa, ab, bb = aa - a * a * variance, ab - a * b * variance, bb - b * b * variance
            aa, ab, bb = f * f * aa + 1.0 - f * f, f * slow * ab, slow * slow * bb + w * (1.0 - slow * slow)
    return logdet
