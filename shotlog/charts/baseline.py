"""Level and spread of a channel: given, or learnt from the first readings and then frozen."""

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from shotlog.charts.constants import D2_PAIR
from shotlog.errors import UsageError

__all__ = ["OwnBaseline", "check_baseline", "check_level", "check_positive", "spread_of"]


def check_positive(kind: str, name: str, value: float, zero: bool = False) -> float:
    """`value` itself if it is finite and above zero (or at least zero); else UsageError."""
    if not math.isfinite(value) or value < 0.0 or (value == 0.0 and not zero):
        raise UsageError(f"{kind}: given {name} {value}, allowed: finite and {'not below' if zero else 'above'} 0")
    return float(value)


def check_level(kind: str, name: str, value: float) -> float:
    """`value` itself if it is finite; else UsageError."""
    if not math.isfinite(value):
        raise UsageError(f"{kind}: given {name} {value}, allowed: a finite number")
    return float(value)


def check_baseline(kind: str, baseline: int, least: int) -> int:
    """`baseline` itself if it is at least `least`; else UsageError."""
    if baseline < least:
        raise UsageError(f"{kind}: given a baseline of {baseline} shots, allowed: {least} or more")
    return int(baseline)


def spread_of(readings: Sequence[float], estimate: str, level: float | None = None) -> float:
    """Spread of some readings, in their unit.

    "mr": mean moving range over 1.12838. "sd": standard deviation with divisor n - 1, or about a given `level` with n.
    """
    if estimate == "mr":
        ranges = [abs(b - a) for a, b in pairwise(readings)]
        return math.fsum(ranges) / len(ranges) / D2_PAIR
    about = math.fsum(readings) / len(readings) if level is None else level
    squares = math.fsum((x - about) * (x - about) for x in readings)
    return math.sqrt(squares / (len(readings) - (level is None)))


class OwnBaseline:
    """Level and spread of one channel, each given or learnt from the first `n` readings.

    Readings that are all equal have no spread and make no baseline: unless `allow_flat`, the latest `n` go on being
    collected until two differ. State: the readings while learning, three numbers afterwards.
    """

    def __init__(
        self,
        kind: str,
        *,
        centre: float | None,
        sigma: float | None,
        n: int,
        estimate: str = "mr",
        allow_flat: bool = False,
    ) -> None:
        if estimate not in ("mr", "sd"):
            raise UsageError(f"{kind}: given estimate {estimate!r}, allowed: mr, sd")
        self.given_centre = None if centre is None else check_level(kind, "centre", centre)
        self.given_sigma = None if sigma is None else check_positive(kind, "sigma", sigma)
        self.n_wanted = check_baseline(kind, n, 3)
        self.estimate = estimate
        self.allow_flat = allow_flat
        self.centre = self.sigma = math.nan
        self.n = 0
        self._learnt: list[float] = []
        if self.given_centre is not None and self.given_sigma is not None:
            self.centre, self.sigma = self.given_centre, self.given_sigma

    @property
    def ready(self) -> bool:
        """Whether level and spread stand."""
        return self.sigma == self.sigma

    @property
    def known(self) -> bool:
        """Whether both level and spread were given."""
        return self.given_centre is not None and self.given_sigma is not None

    def scaled(self, noise: NDArray[np.float64]) -> NDArray[np.float64]:
        """Unit normal readings moved to the given level and spread; 0 and 1 stand where not given."""
        sigma = 1.0 if self.given_sigma is None else self.given_sigma
        return (0.0 if self.given_centre is None else self.given_centre) + sigma * noise

    def learn(self, x: float) -> bool:
        """Take one more reading of the baseline; True when it is the last."""
        self._learnt = [*self._learnt, x][-self.n_wanted :]
        if len(self._learnt) < self.n_wanted:
            return False
        level = self.given_centre
        sigma = spread_of(self._learnt, self.estimate, level) if self.given_sigma is None else self.given_sigma
        if sigma == 0.0 and not self.allow_flat:
            return False
        self.centre = math.fsum(self._learnt) / self.n_wanted if level is None else level
        self.sigma, self.n, self._learnt = sigma, self.n_wanted, []
        return True

    def state(self) -> tuple[float | int, ...]:
        """All that was learnt, flat; its length comes first."""
        return (3 + len(self._learnt), self.n, self.centre, self.sigma, *self._learnt)

    def set_state(self, state: Sequence[float]) -> Sequence[float]:
        """Take `state` back from the front of a longer one; the remainder is returned."""
        end = 1 + int(state[0])
        self.n, self.centre, self.sigma = int(state[1]), float(state[2]), float(state[3])
        self._learnt = [float(s) for s in state[4:end]]
        return state[end:]
