"""A change of level, for asking how soon a chart sees it."""

import math
from dataclasses import dataclass

from shotlog.errors import UsageError

__all__ = ["NO_CHANGE", "Change"]


@dataclass(frozen=True, slots=True)
class Change:
    """None, a step, or a linear drift, beginning after `after` judged shots.

    `size` is in sigma (step) or sigma per shot (drift: the first affected shot is `size` off, the next twice that).
    """

    kind: str = "none"
    size: float = 0.0
    after: int = 0

    def __post_init__(self) -> None:
        if self.kind not in ("none", "step", "drift"):
            raise UsageError(f"change: given {self.kind!r}, allowed: none, step, drift")
        if not math.isfinite(self.size) or self.after < 0:
            raise UsageError(f"change: given size {self.size} after {self.after}, allowed: finite, after 0 or more")

    @property
    def none(self) -> bool:
        """Whether nothing changes at all."""
        return self.kind == "none" or self.size == 0.0

    @property
    def steady(self) -> bool:
        """Whether all judged shots have the same mean."""
        return self.none or (self.kind == "step" and self.after == 0)

    def mean(self, n: int) -> float:
        """Mean of the n-th judged shot, in sigma, n from 1."""
        if self.none or n <= self.after:
            return 0.0
        return self.size if self.kind == "step" else self.size * (n - self.after)


NO_CHANGE = Change()
