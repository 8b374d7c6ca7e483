"""What one shot's evidence comes to in the units of the channels: weights, change, shots left, whether to swap."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from shotlog.errors import NotEnoughShots
from shotlog.settings import DesignSettings
from shotlog.wear.change.causes import CAUSES, GROUPS, group_weights
from shotlog.wear.change.detector import Filter
from shotlog.wear.change.posterior import Posterior
from shotlog.wear.level.baseline import Prior
from shotlog.wear.life.half import CalledChange, HalfState
from shotlog.wear.life.lifetimes import Weibull
from shotlog.wear.verdict.shots_left import Limit, ShotsLeft, limits_of, shots_left
from shotlog.wear.verdict.swap_cost import SwapCosts, weigh_swap

__all__ = ["FittedChange", "left_of", "level_and_limits", "name_call", "reading_of", "swap_costs"]

_PLANNED_LIFE = 90.0


@dataclass(frozen=True, slots=True)
class FittedChange:
    """What one shot's evidence comes to, in channel units where by channel."""

    weights: Mapping[str, float]
    groups: Mapping[str, float]
    change: Mapping[str, float]
    slope: Mapping[str, float]
    signal_to_noise: float


def reading_of(life: HalfState, post: Posterior) -> FittedChange:
    """Return what a posterior says, in channel units.

    Raises
    ------
    NotEnoughShots
        There is no baseline yet.
    """
    prior = life.stretch.prior
    if prior is None or life.hypotheses is None:
        raise NotEnoughShots("no baseline yet")
    weights = dict(zip(life.hypotheses.names, post.by_cause.tolist(), strict=True))
    change, slope = prior.named(post.effect), prior.named(post.slope)
    return FittedChange(weights, group_weights(weights), change, slope, float(np.sqrt(2 * max(post.log_odds + 4, 0.5))))


def name_call(call: CalledChange, reading: FittedChange) -> None:
    """Name group and cause; a name once given stays until another is clearly likelier."""
    group = max(GROUPS, key=lambda g: reading.groups[g])
    if not call.group or reading.groups[group] > reading.groups[call.group] + 0.2:
        call.group = group
    among = [c for c in reading.weights if CAUSES[c].group == call.group]
    cause = max(among, key=lambda c: reading.weights[c])
    if call.cause not in among or reading.weights[cause] > reading.weights[call.cause] + 0.2:
        call.cause = cause
    call.weight = reading.groups[call.group]


def level_and_limits(prior: Prior, filt: Filter, settings: DesignSettings) -> tuple[dict[str, float], dict[str, Limit]]:
    """Return the own level and the limits it may run up to, by channel in its unit."""
    level = dict(zip(prior.channels, (prior.reference + filt.level()[0] * prior.sigma).tolist(), strict=True))
    spread = dict(zip(prior.channels, prior.sigma.tolist(), strict=True))
    return level, limits_of(settings.limits, level, spread, prior.named(prior.least))


def left_of(
    life: HalfState, settings: DesignSettings, lives: Weibull | None, reading: FittedChange | None, n: int
) -> ShotsLeft:
    """Return the good shots left after shot `n`; without a `reading`, by the lives of sisters alone."""
    prior, filt = life.stretch.prior, life.stretch.filter
    if prior is None or filt is None or reading is None or (life.call is not None and life.call.group != "insert"):
        return shots_left({}, {}, {}, 0.0, n, lives) if lives else ShotsLeft(None, None, None)
    level, limits = level_and_limits(prior, filt, settings)
    now = {c: level[c] + reading.change[c] for c in level}
    return shots_left(now, reading.slope, limits, reading.signal_to_noise, n, lives)


def swap_costs(
    settings: DesignSettings, lives: Weibull | None, reading: FittedChange, left: ShotsLeft
) -> SwapCosts | None:
    """Return what going on and swapping cost, where costs are configured."""
    broken = reading.weights.get("crack or breakage", 0.0)
    soon = (
        1.0 if left.median is not None and left.median <= 1 else 0.5 if left.low is not None and left.low <= 1 else 0.0
    )
    bad = broken + max(reading.groups["insert"] - broken, 0.0) * soon
    return weigh_swap(settings.cost, bad, lives.quantile(0.5) if lives else _PLANNED_LIFE)
