"""The planned swap: after how many shots to swap an insert that still looks sound.

From its life distribution and costs. Two plans. *Watched*: a failure is noticed soon and costs `cost_failure` once;
this is age replacement. *Unwatched*: a failure is found only when parts are inspected a day later, so every part from
the failure to the planned swap is bad.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["SwapPlan", "age_replacement", "plan_costs", "unwatched_costs", "unwatched_plan"]

F = NDArray[np.float64]

_LONGEST = 20_000


@dataclass(frozen=True, slots=True)
class SwapPlan:
    """A planned swap after `shots` shots and the cost it leads to; None where no plan beats running to the failure."""

    shots: int | None
    cost: float
    cost_unplanned: float


def _failed_by(shape: float, scale: float, upto: int) -> F:
    """Return F(n), the share of inserts gone off by shot n, for n = 0 to `upto` (Weibull)."""
    n = np.arange(upto + 1, dtype=np.float64)
    return np.asarray(-np.expm1(-((n / scale) ** shape)))


def _reach(shape: float, scale: float) -> int:
    """Return a number of shots nearly every insert has gone off by, to search no farther."""
    return int(min(_LONGEST, np.ceil(scale * 14.0 ** (1.0 / shape)) + 1))


def age_replacement(shape: float, scale: float, cost_planned: float, cost_failure: float) -> SwapPlan:
    """Return the planned life in whole shots with the least long-run cost per shot, failures being noticed at once.

    The cost rate of a plan of T shots is (cp R(T) + cf F(T)) / sum over n < T of R(n), with R = 1 - F.

    References
    ----------
    Barlow & Proschan 1965, Mathematical Theory of Reliability, chapter 4 (age replacement; from memory), in whole
    shots.
    """
    gone = _failed_by(shape, scale, _reach(shape, scale))
    used = np.cumsum(1.0 - gone)[:-1]
    rate = (cost_planned * (1.0 - gone[1:]) + cost_failure * gone[1:]) / used
    best, last = int(np.argmin(rate)), len(rate) - 1
    shots = None if best == last or rate[best] >= rate[last] * (1.0 - 1e-6) else best + 1
    return SwapPlan(shots, float(rate[best]), float(rate[last]))


def unwatched_costs(shape: float, scale: float, costs: Mapping[str, float]) -> F:
    """Return the cost per accepted part of plans of N = 1, 2, ... shots when nobody sees a failure before the swap.

    It is (insert + changeover + N part + late_find sum F) / (N - sum F), sums over n = 1 to N.

    References
    ----------
    Own, after the worked example of trade practice: every part from the failure on is bad and costs `late_find` more.
    """
    reach = _reach(shape, scale)
    n = np.arange(1, reach + 1, dtype=np.float64)
    bad = np.cumsum(_failed_by(shape, scale, reach)[1:])
    new = costs.get("insert", 0.0) + costs.get("changeover", 0.0)
    spent = new + n * costs.get("part", 0.0) + costs.get("late_find", 0.0) * bad
    return np.asarray(spent / np.maximum(n - bad, 1e-9))


def unwatched_plan(shape: float, scale: float, costs: Mapping[str, float]) -> SwapPlan:
    """Return the plan with the least of `unwatched_costs`; `cost_unplanned` is the cost at twice the scale."""
    cost = unwatched_costs(shape, scale, costs)
    best = int(np.argmin(cost))
    return SwapPlan(best + 1, float(cost[best]), float(cost[min(len(cost) - 1, int(2 * scale))]))


def plan_costs(costs: Mapping[str, float], bad_parts_a_failure: float) -> tuple[float, float] | None:
    """Return (cost of a planned swap, cost of a failure), or None where insert, changeover and bad parts have no cost.

    A planned swap costs the insert and the changeover; a failure also the bad parts made until the insert is out.
    """
    planned = costs.get("insert", 0.0) + costs.get("changeover", 0.0)
    bad = costs.get("part", 0.0) + costs.get("late_find", 0.0)
    if planned <= 0.0 or bad <= 0.0:
        return None
    return planned, planned + max(bad_parts_a_failure, 1.0) * bad
