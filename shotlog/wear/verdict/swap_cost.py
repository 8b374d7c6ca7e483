"""Swap: go on while the next shot is expected to cost less than an accepted part costs in the long run.

The expected cost of the next shot is the chance that it gives a bad part times what a bad part costs, including the day
lost before anybody sees it. What an accepted part costs in the long run is that of the best plan for inserts of the
design (`parts.renewal`): an insert costs itself and its change, one that goes off also the bad parts that are made
before it is noticed.

References
----------
Stopping where the next step costs more than the long-run average earns: Aven & Bergman 1986, J. Appl. Prob. 23, 432;
with an unseen state and its posterior: Makis 2008, Operations Research 56, 487 (both from memory). The rule is exact
where waiting teaches nothing more. Right after the first signs it does, so it is asked of called changes only.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import log

from shotlog.parts.renewal import age_replacement, plan_costs
from shotlog.settings import DesignSettings
from shotlog.wear.constants import BAD_BEFORE_CALL, LIFE_SHAPE, PLANNED_LIFE, RATE_FACTORS, TYPICAL_RATIO
from shotlog.wear.life.lifetimes import Weibull

__all__ = ["SwapCosts", "call_rate", "swap_costs"]


@dataclass(frozen=True, slots=True)
class SwapCosts:
    """The two sides of the rule, free of currency; `swap` says which is smaller."""

    next_shot: float
    per_part: float

    @property
    def swap(self) -> bool:
        """Whether swapping now is the cheaper."""
        return self.next_shot > self.per_part


def swap_costs(settings: DesignSettings, lives: Weibull | None, chance: float) -> SwapCosts | None:
    """Weigh going on against swapping now; None where costs of insert and bad parts are not configured.

    `chance`: that the next shot gives a bad part because of the insert. `lives`: of sisters, where they are known.
    """
    both = plan_costs(settings.cost, BAD_BEFORE_CALL)
    if both is None:
        return None
    known = lives or Weibull(PLANNED_LIFE / log(2.0) ** (1.0 / LIFE_SHAPE), LIFE_SHAPE)
    bad = settings.cost.get("part", 0.0) + settings.cost.get("late_find", 0.0)
    return SwapCosts(chance * bad, age_replacement(known.shape, known.scale, *both).cost)


def call_rate(base: float, costs: Mapping[str, float]) -> float:
    """Return the false calls per 100 lives to aim at: more where a swap is cheap beside a bad part, at most twice the
    base.
    """
    bad = costs.get("part", 0.0) + costs.get("late_find", 0.0)
    new = costs.get("insert", 0.0) + costs.get("changeover", 0.0)
    if bad <= 0 or new <= 0:
        return base
    return base * min(max((bad / new) / TYPICAL_RATIO, RATE_FACTORS[0]), RATE_FACTORS[1])
