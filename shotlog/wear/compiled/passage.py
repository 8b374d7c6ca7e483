"""The shot at which the chance that an insert is still good falls below a share."""

import math

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.compiled.compiler import compiled

__all__ = ["passage"]

F = NDArray[np.float64]


@compiled
def passage(means: F, z: float, made: float, scale: float, shape: float, shares: F, horizon: int, out: F) -> None:
    """Fill `out` (as long as `shares`, which fall) with the first k at which survival is at most a share, -1 for none.

    `means`: shots until each limit at the fitted slope, whose relative error is 1 / `z`; the chance that it is not
    reached within k shots is a normal tail (logistic form). `scale`, `shape`: Weibull of sister lives, given `made`
    shots; scale 0 for none.
    """
    out[:] = -1.0
    at = 0
    for k in range(horizon + 1):
        survival = 1.0
        if k > 0:
            for i in range(len(means)):
                x = z * (means[i] / k - 1.0)
                x = min(max(1.5976 * x + 0.07056 * x * x * x, -700.0), 700.0)
                survival = min(survival, 1.0 / (1.0 + math.exp(-x)))
        if scale > 0.0:
            survival *= math.exp(math.pow(made / scale, shape) - math.pow((made + k) / scale, shape))
        while survival <= shares[at]:
            out[at] = k
            at += 1
            if at == len(shares):
                return
