"""Lives by group: each design, resin, print batch or moulded material with its curve.

Its distribution and its planned swap.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from shotlog.errors import NotEnoughShots
from shotlog.parts import renewal
from shotlog.parts.renewal import SwapPlan
from shotlog.review import replacement, survival
from shotlog.review.lives import Life
from shotlog.review.survival import Comparison, Curve, WeibullLife

__all__ = ["FACTORS", "Group", "group_lives", "grouped"]

FACTORS = ("design", "resin family", "print batch", "moulded material")
"""What lives are compared by, within a design except for the design itself."""


@dataclass(frozen=True, slots=True)
class Group:
    """Lives alike in one factor.

    `weibull` is None where too few have gone off; `why_not` says so. `plan` swaps after so many shots when failures
    are noticed, `blind_plan` when nobody sees them before inspection; None without costs. `bad_a_failure`: bad parts a
    failure is reckoned to make.
    """

    factor: str
    name: str
    serials: tuple[str, ...]
    n_failed: int
    curve: Curve
    weibull: WeibullLife | None
    why_not: str
    plan: SwapPlan | None
    blind_plan: SwapPlan | None
    bad_a_failure: float


def grouped(
    lives: Sequence[Life], names: Mapping[str, Mapping[str, str]], costs: Mapping[str, Mapping[str, float]]
) -> tuple[tuple[Group, ...], tuple[Comparison, ...]]:
    """Return the groups by every factor, and the factors compared.

    Parameters
    ----------
    names
        Each life's group by factor and serial; a life without a name is left out.
    costs
        The configured costs by design: a group by another factor mixes designs and so has none.
    """
    by_factor = ((factor, costs if factor == "design" else {}) for factor in FACTORS)
    groups = [group for factor, own in by_factor for group in group_lives(factor, names[factor], lives, own)]
    compared = (compare_groups(factor, names[factor], lives) for factor in FACTORS)
    return tuple(groups), tuple(one for one in compared if one is not None)


def group_lives(
    factor: str, names: Mapping[str, str], lives: Sequence[Life], costs: Mapping[str, Mapping[str, float]]
) -> list[Group]:
    """Return the groups of a factor in order of name; lives without a name are left out.

    Parameters
    ----------
    names
        Each life's group, by serial.
    costs
        The configured costs, by group; a group without gets no plan.
    """
    members: dict[str, list[Life]] = {}
    for life in lives:
        if names[life.serial]:
            members.setdefault(names[life.serial], []).append(life)
    return [_group(factor, name, members[name], costs.get(name, {})) for name in sorted(members)]


def compare_groups(factor: str, names: Mapping[str, str], lives: Sequence[Life]) -> Comparison | None:
    """Compare how long the groups of a factor live; None where there is nothing to compare."""
    named = [life for life in lives if names[life.serial]]
    try:
        return survival.compare(
            factor,
            [life.sound for life in named],
            [life.failed for life in named],
            [names[life.serial] for life in named],
        )
    except NotEnoughShots:
        return None


def _group(factor: str, name: str, lives: Sequence[Life], costs: Mapping[str, float]) -> Group:
    shots, failed = [float(life.sound) for life in lives], [life.failed for life in lives]
    ended = [life for life in lives if life.failed]
    late = sum(life.n_shots - life.sound for life in ended) / len(ended) if ended else 0.0
    why_not, fitted, plan, blind = "", None, None, None
    try:
        fitted = survival.weibull(shots, failed)
    except NotEnoughShots as error:
        why_not = str(error)
    if fitted is not None:
        both = renewal.plan_costs(costs, late)
        if both is not None:
            shape, scale = fitted.shape.value, fitted.scale.value
            plan = renewal.age_replacement(shape, scale, *both)
            blind = replacement.unwatched_plan(shape, scale, costs)
    serials = tuple(life.serial for life in lives)
    return Group(
        factor,
        name,
        serials,
        len(ended),
        survival.kaplan_meier(shots, failed),
        fitted,
        why_not,
        plan,
        blind,
        max(late, 1.0),
    )
