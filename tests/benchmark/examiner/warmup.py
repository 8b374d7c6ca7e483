"""How the values of a fresh insert come to rest: more kinds of curves than any one press has.

Trade notes: "insert warm-up: 1-exp(-n/tau), tau 6-12 shots; steel 5-10 shots in all"; "bedding of a new insert:
cushion falls 0.05-0.2 mm in its first 3-8 shots"; "a swing with every change of rhythm".
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["KINDS", "WarmUp", "draw_warm_up"]

KINDS = ("exponential", "two-stage", "slow", "overshooting")


@dataclass(frozen=True, slots=True)
class WarmUp:
    """What is left of the cold start at each shot, 1 at shot 1. `tau`, `second`: in shots; `share`: of the second."""

    kind: str
    tau: float
    second: float = 1.0
    share: float = 0.0

    def curve(self, n_shots: int, stretch: float = 1.0) -> NDArray[np.float64]:
        """Return shape (n_shots,); `stretch` makes the insert slower (> 1) or quicker than its sisters."""
        age = np.arange(n_shots, dtype=float) / stretch
        if self.kind == "overshooting":
            return np.asarray(np.exp(-age / self.tau) * (1.0 - self.share * age / self.tau))
        first = np.exp(-age / self.tau)
        return np.asarray((1.0 - self.share) * first + self.share * np.exp(-age / self.second))


def draw_warm_up(rng: np.random.Generator, kind: str = "") -> WarmUp:
    """Draw a curve, of `kind` where it is given."""
    kind = kind or str(rng.choice(KINDS, p=(0.5, 0.2, 0.15, 0.15)))
    if kind == "two-stage":
        return WarmUp(kind, rng.uniform(1.2, 4.0), rng.uniform(8.0, 18.0), rng.uniform(0.2, 0.5))
    if kind == "slow":
        return WarmUp(kind, rng.uniform(12.0, 22.0))
    if kind == "overshooting":
        return WarmUp(kind, rng.uniform(3.0, 7.0), share=rng.uniform(0.3, 1.0))
    return WarmUp(kind, rng.uniform(1.5, 12.0))
