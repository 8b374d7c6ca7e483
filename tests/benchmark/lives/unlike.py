"""Presses whose noise is none that the filter knows: what the start of the bars is read off.

Short-term noise with tails from normal to heavy, a melt that moves all channels together, and something slow that is
another on every press: a level that wanders back in 5 to 60 shots, a cycle of 12 to 80, a walk. No size or time in it
is one of the call's, or of the examiner's: all are drawn over wide ranges. Settling, levels, digits and faults are
those of `Press`.
"""

import numpy as np
from numpy.typing import NDArray

from tests.benchmark.lives.faults import CHANNELS
from tests.benchmark.lives.press import Press

__all__ = ["UnlikePress"]

F = NDArray[np.float64]


class UnlikePress(Press):
    """A press with noise of its own kind, the same over all its lives; shares are of the spread of a channel."""

    def __init__(self, rng: np.random.Generator, name: str, n_channels: int, design: str = "d1") -> None:
        super().__init__(rng, name, n_channels, design)
        n = len(CHANNELS)
        self._freedom = float(rng.choice((np.inf, np.inf, 12.0, 6.0, 4.0)))
        self._phi = rng.uniform(-0.5, 0.6, n)
        self._together = rng.uniform(-0.6, 0.6, n) * (rng.random(n) < 0.5)
        self._slow = str(rng.choice(("none", "wander", "wander", "cycle", "walk")))
        self._over = float(np.exp(rng.uniform(np.log(12.0), np.log(80.0))))
        self._loads = rng.uniform(0.0, 0.7) * rng.uniform(-1.0, 1.0, n)

    def _noise(self, n: int) -> F:
        alone = self._short(n, self._phi, len(CHANNELS)) @ np.linalg.cholesky(self.habits.correlation).T
        melt = self._short(n, np.array([0.3]), 1)
        own = np.sqrt(1.0 - self._together**2)
        return np.asarray(own * alone + melt * self._together + self._course(n)[:, None] * self._loads)

    def _short(self, n: int, phi: F, width: int) -> F:
        """Return first-order noise of spread 1 with the press's tails, shape (n, width)."""
        shocks = self.rng.normal(size=(n, width))
        if np.isfinite(self._freedom):
            scale = np.sqrt((self._freedom - 2.0) / self._freedom)
            shocks = self.rng.standard_t(self._freedom, (n, width)) * scale
        out = shocks.copy()
        for i in range(1, n):
            out[i] = phi * out[i - 1] + np.sqrt(1.0 - phi**2) * shocks[i]
        return out

    def _course(self, n: int) -> F:
        """Return one life's course of what is slow, shape (n,), of spread 1; a walk has that after 50 shots."""
        if self._slow == "cycle":
            at = self.rng.uniform(0.0, 1.0) + np.arange(n) / self._over
            return np.asarray(np.sqrt(2.0) * np.sin(2.0 * np.pi * at))
        if self._slow == "walk":
            return np.asarray(np.cumsum(self.rng.normal(size=n)) / np.sqrt(50.0))
        if self._slow == "wander":
            return self._short(n, np.array([np.exp(-2.5 / self._over)]), 1)[:, 0]
        return np.zeros(n)
