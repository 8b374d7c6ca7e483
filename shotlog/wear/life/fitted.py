"""What one shot's evidence comes to in the units of the channels, and the name a called change goes by."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from shotlog.errors import NotEnoughShots
from shotlog.wear.change.causes import CAUSES, GROUPS, group_weights
from shotlog.wear.change.posterior import Posterior
from shotlog.wear.change.tempering import tempered
from shotlog.wear.constants import LEAST_DRIFT, LEAST_NOISE, NAME_MARGIN, NOISE_OFFSET
from shotlog.wear.life.changes import OpenChange
from shotlog.wear.life.half import HalfState
from shotlog.wear.life.stretch import Stretch

__all__ = ["FittedChange", "fitted_of", "likeliest", "name_call", "standing_of"]


@dataclass(frozen=True, slots=True)
class FittedChange:
    """What one shot's evidence comes to, in channel units where by channel."""

    weights: Mapping[str, float]
    groups: Mapping[str, float]
    change: Mapping[str, float]
    slope: Mapping[str, float]
    signal_to_noise: float


def fitted_of(life: HalfState, post: Posterior, on: Stretch | None = None) -> FittedChange:
    """Return what a posterior says, in channel units; `on`: the stretch it is of, by default the one followed.

    Raises
    ------
    NotEnoughShots
        There is no baseline yet.
    """
    prior = (life.stretch if on is None else on).prior
    if prior is None or life.hypotheses is None:
        raise NotEnoughShots("no baseline yet")
    weights = tempered(life.hypotheses.names, post.by_cause)
    change, slope = prior.named(post.effect), prior.named(post.slope)
    return FittedChange(
        weights,
        group_weights(weights),
        change,
        slope,
        float(np.sqrt(2 * max(post.log_odds + NOISE_OFFSET, LEAST_NOISE))),
    )


def standing_of(life: HalfState, change: OpenChange) -> FittedChange:
    """Return what is known of a change that is followed no longer.

    The level it left is that of the stretch, so there is no change beside it; what the level drifts by is its slope,
    where there is a baseline: an insert that comes back may have none.
    """
    prior, filt = life.stretch.prior, life.stretch.filter
    if prior is None or filt is None:
        return FittedChange(change.weights, group_weights(change.weights), {}, {}, 0.0)
    mean, variance = filt.drift()
    sure = float((np.abs(mean) / np.sqrt(np.maximum(variance, LEAST_DRIFT**2))).max())
    return FittedChange(change.weights, group_weights(change.weights), {}, prior.named(mean), sure)


def likeliest(reading: FittedChange) -> tuple[str, str]:
    """Return the likeliest group, and the likeliest cause within it."""
    group = max(GROUPS, key=lambda g: reading.groups[g])
    among = [c for c in reading.weights if CAUSES[c].group == group]
    return group, max(among, key=lambda c: reading.weights[c])


def name_call(life: HalfState, reading: FittedChange) -> None:
    """Name group and cause; a name once given stays until another is clearly likelier."""
    call = life.call
    if call is None:
        return
    group, _ = likeliest(reading)
    if call.group and reading.groups[group] <= reading.groups[call.group] + NAME_MARGIN:
        group = call.group
    among = [c for c in reading.weights if CAUSES[c].group == group]
    cause = max(among, key=lambda c: reading.weights[c])
    if call.cause in among and reading.weights[cause] <= reading.weights[call.cause] + NAME_MARGIN:
        cause = call.cause
    life.name(group, cause, reading.weights, reading.change)
