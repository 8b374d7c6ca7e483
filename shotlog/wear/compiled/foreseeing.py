"""How much the shots to come would tell of a step, by what is known now."""

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.compiled.compiler import compiled

__all__ = ["step_information"]

F = NDArray[np.float64]


@compiled
def step_information(loadings: F, ar: F, slow: float, cov: F, wander: F, reading: float) -> F:
    """Return the information, (p,), that the next shots would have of a step that begins with the first of them.

    1 / the variance of its size, in spreads, by one channel alone: of a step of 1 the filter leaves some in each
    innovation and takes the rest for level, warm-up or wander. `loadings` (shots, p, K) of the states on each of these
    shots; `cov` (p, K, K) of the states now. `ar` (p,), `slow`: what is left of short-term noise and wander after a
    shot; `wander` (p,) and `reading`: variances.
    """
    shots, p, k = loadings.shape
    info = np.zeros(p)
    for c in range(p):
        fade = np.ones(k)
        fade[k - 2], fade[k - 1] = ar[c], slow
        known, taken = cov[c].copy(), np.zeros(k)
        for at in range(shots):
            h, gain = loadings[at, c], np.zeros(k)
            for i in range(k):
                taken[i] *= fade[i]
                for j in range(k):
                    known[i, j] *= fade[i] * fade[j]
            known[k - 2, k - 2] += 1.0 - ar[c] * ar[c]
            known[k - 1, k - 1] += wander[c] * (1.0 - slow * slow)
            variance, left = reading, 1.0
            for i in range(k):
                for j in range(k):
                    gain[i] += known[i, j] * h[j]
                variance += gain[i] * h[i]
                left -= h[i] * taken[i]
            info[c] += left * left / variance
            for i in range(k):
                taken[i] += gain[i] * left / variance
                for j in range(k):
                    known[i, j] -= gain[i] * gain[j] / variance
    return info
