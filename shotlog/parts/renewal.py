"""Renewal: what parts cost in the long run where inserts are swapped before or after they have gone off.

Every insert begins the same story anew, so the long-run cost per accepted part is what one insert is expected to cost
over the parts it is expected to give (renewal-reward). Where failures are noticed soon, a plan to swap after so many
shots at the latest is age replacement; the plan that costs least gives the cost that any further shot must be worth.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

__all__ = ["SwapPlan", "age_replacement", "failed_by", "plan_costs", "reach"]

F = NDArray[np.float64]

_LONGEST = 20_000


@dataclass(frozen=True, slots=True)
class SwapPlan:
    """A planned swap after `shots` shots and the cost it leads to; None where no plan beats running to the failure."""

    shots: int | None
    cost: float
    cost_unplanned: float


def failed_by(shape: float, scale: float, upto: int) -> F:
    """Return F(n), the share of inserts gone off by shot n, for n = 0 to `upto` (Weibull)."""
    n = np.arange(upto + 1, dtype=np.float64)
    return np.asarray(-np.expm1(-((n / scale) ** shape)))


def reach(shape: float, scale: float) -> int:
    """Return a number of shots nearly every insert has gone off by, to search no farther."""
    return int(min(_LONGEST, np.ceil(scale * 14.0 ** (1.0 / shape)) + 1))


@lru_cache(maxsize=64)
def age_replacement(shape: float, scale: float, cost_planned: float, cost_failure: float) -> SwapPlan:
    """Return the planned life in whole shots with the least long-run cost per shot, failures being noticed at once.

    The cost rate of a plan of T shots is (cp R(T) + cf F(T)) / sum over n < T of R(n), with R = 1 - F.

    References
    ----------
    Barlow & Proschan 1965, Mathematical Theory of Reliability, chapter 4 (age replacement; from memory), in whole
    shots.
    """
    gone = failed_by(shape, scale, reach(shape, scale))
    used = np.cumsum(1.0 - gone)[:-1]
    rate = (cost_planned * (1.0 - gone[1:]) + cost_failure * gone[1:]) / used
    best, last = int(np.argmin(rate)), len(rate) - 1
    shots = None if best == last or rate[best] >= rate[last] * (1.0 - 1e-6) else best + 1
    return SwapPlan(shots, float(rate[best]), float(rate[last]))


def plan_costs(costs: Mapping[str, float], bad_parts_a_failure: float) -> tuple[float, float] | None:
    """Return (cost of a planned swap, cost of a failure), or None where insert, changeover and bad parts have no cost.

    A planned swap costs the insert and the changeover; a failure also the bad parts made until the insert is out.
    """
    planned = costs.get("insert", 0.0) + costs.get("changeover", 0.0)
    bad = costs.get("part", 0.0) + costs.get("late_find", 0.0)
    if planned <= 0.0 or bad <= 0.0:
        return None
    return planned, planned + max(bad_parts_a_failure, 1.0) * bad
