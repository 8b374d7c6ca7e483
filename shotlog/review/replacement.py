"""The planned swap: after how many shots to swap an insert that still looks sound.

From its life distribution and costs, when nobody sees a failure before parts are inspected a day later, so that every
part from the failure to the planned swap is bad. Where failures are noticed soon, see `parts.renewal`.
"""

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from shotlog.parts.renewal import SwapPlan, failed_by, reach

__all__ = ["unwatched_costs", "unwatched_plan"]

F = NDArray[np.float64]


def unwatched_costs(shape: float, scale: float, costs: Mapping[str, float]) -> F:
    """Return the cost per accepted part of plans of N = 1, 2, ... shots when nobody sees a failure before the swap.

    It is (insert + changeover + N part + late_find sum F) / (N - sum F), sums over n = 1 to N.

    References
    ----------
    Own, after the worked example of trade practice: every part from the failure on is bad and costs `late_find` more.
    """
    upto = reach(shape, scale)
    n = np.arange(1, upto + 1, dtype=np.float64)
    bad = np.cumsum(failed_by(shape, scale, upto)[1:])
    new = costs.get("insert", 0.0) + costs.get("changeover", 0.0)
    spent = new + n * costs.get("part", 0.0) + costs.get("late_find", 0.0) * bad
    return np.asarray(spent / np.maximum(n - bad, 1e-9))


def unwatched_plan(shape: float, scale: float, costs: Mapping[str, float]) -> SwapPlan:
    """Return the plan with the least of `unwatched_costs`; `cost_unplanned` is the cost at twice the scale."""
    cost = unwatched_costs(shape, scale, costs)
    best = int(np.argmin(cost))
    return SwapPlan(best + 1, float(cost[best]), float(cost[min(len(cost) - 1, int(2 * scale))]))
