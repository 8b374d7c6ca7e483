"""Random numbers, one named stream each, so that a run can be changed in one place and stay the same elsewhere.

A stream depends on the seed, the press and its name alone: a cause taken out leaves every other number as it was, and
a longer run begins like a shorter one.
"""

import zlib

import numpy as np
from numpy.typing import NDArray

__all__ = ["Array", "Streams"]

Array = NDArray[np.float64]


class Streams:
    """The streams of one press. With `quiet`, every draw is the middle of its distribution: the noise-free run."""

    def __init__(self, seed: int, press: str, quiet: bool = False) -> None:
        self.seed, self.press, self.quiet = seed, press, quiet

    def normal(self, name: str, n: int, sigma: float = 1.0) -> Array:
        """Return `n` independent normal values with spread `sigma`."""
        if self.quiet or sigma == 0.0:
            return np.zeros(n)
        return self._generator(name).standard_normal(n) * sigma

    def uniform(self, name: str, n: int) -> Array:
        """Return `n` independent values, uniform on 0 to 1."""
        return np.full(n, 0.5) if self.quiet else self._generator(name).random(n)

    def wander(self, name: str, n: int, phi: float, sigma: float) -> Array:
        """Return a first-order autoregression x' = phi x + e, e of spread `sigma`, in its stationary state."""
        steps = self.normal(name, n, sigma)
        if phi == 0.0:
            return steps
        if n and not self.quiet:
            steps[0] /= (1.0 - phi * phi) ** 0.5
        value, out = 0.0, []
        for step in steps.tolist():
            value = phi * value + step
            out.append(value)
        return np.array(out)

    def skewed(self, name: str, n: int, mean: float, sigma: float) -> Array:
        """Return lognormal values with this mean and standard deviation (the mean itself in a quiet run)."""
        if self.quiet or sigma == 0.0:
            return np.full(n, mean)
        log_sigma = float(np.sqrt(np.log1p((sigma / mean) ** 2)))
        values: Array = mean * np.exp(self.normal(name, n, log_sigma) - 0.5 * log_sigma**2)
        return values

    def alternating(self, n: int) -> Array:
        """Return -1/2, +1/2, -1/2... (zeros in a quiet run)."""
        return np.zeros(n) if self.quiet else np.resize([-0.5, 0.5], n)

    def _generator(self, name: str) -> np.random.Generator:
        return np.random.Generator(np.random.PCG64([self.seed, zlib.crc32(f"{self.press}/{name}".encode())]))
