"""Swap: go on while the next shot is expected to cost less than the long-run cost per accepted part of swapping now.

The expected cost of the next shot is the chance that it is bad times what a bad part costs, including the day lost
before anybody sees it. Swapping now costs the insert and the change, spread over the parts a fresh insert is expected
to give. Own, after the usual age-replacement argument: stop at the first shot whose marginal cost exceeds the average
cost.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from shotlog.settings import DesignSettings
from shotlog.wear.constants import PLANNED_LIFE, RATE_FACTORS, SOON_LEFT, SOON_SHARE, TYPICAL_RATIO
from shotlog.wear.life.fitted import FittedChange
from shotlog.wear.life.lifetimes import Weibull
from shotlog.wear.verdict.shots_left import ShotsLeft

__all__ = ["SwapCosts", "call_rate", "swap_costs", "weigh_swap"]


@dataclass(frozen=True, slots=True)
class SwapCosts:
    """The two sides of the rule, free of currency; `swap` says which is smaller."""

    next_shot: float
    per_part: float
    chance_bad: float
    expected_life: float

    @property
    def swap(self) -> bool:
        """Whether swapping now is the cheaper."""
        return self.next_shot > self.per_part


def weigh_swap(costs: Mapping[str, float], chance_bad: float, expected_life: float) -> SwapCosts | None:
    """Weigh going on against swapping now; None where costs of insert and bad parts are not configured.

    `chance_bad`: probability that the next shot is a bad part because of the insert. `expected_life`: shots of a fresh
    insert.
    """
    bad = costs.get("part", 0.0) + costs.get("late_find", 0.0)
    new = costs.get("insert", 0.0) + costs.get("changeover", 0.0)
    if bad <= 0 or new <= 0:
        return None
    life = max(expected_life, 1.0)
    return SwapCosts(chance_bad * bad, new / life, chance_bad, life)


def call_rate(base: float, costs: Mapping[str, float]) -> float:
    """Return the false calls per 100 lives to aim at: more where a swap is cheap beside a bad part, at most twice the
    base.
    """
    bad = costs.get("part", 0.0) + costs.get("late_find", 0.0)
    new = costs.get("insert", 0.0) + costs.get("changeover", 0.0)
    if bad <= 0 or new <= 0:
        return base
    return base * min(max((bad / new) / TYPICAL_RATIO, RATE_FACTORS[0]), RATE_FACTORS[1])


def swap_costs(
    settings: DesignSettings, lives: Weibull | None, reading: FittedChange, left: ShotsLeft
) -> SwapCosts | None:
    """Return what going on and swapping cost, where costs are configured."""
    broken = reading.weights.get("crack or breakage", 0.0)
    soon = 0.0
    if left.median is not None and left.median <= SOON_LEFT:
        soon = 1.0
    elif left.low is not None and left.low <= SOON_LEFT:
        soon = SOON_SHARE
    bad = broken + max(reading.groups["insert"] - broken, 0.0) * soon
    return weigh_swap(settings.cost, bad, lives.quantile(0.5) if lives else PLANNED_LIFE)
