"""The level of an insert without what has changed, and the limits it may run up to: those given, else derived ones."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from shotlog.errors import NotEnoughShots
from shotlog.settings import Bound, DesignSettings
from shotlog.wear.change.posterior import Posterior
from shotlog.wear.constants import DERIVED_LEAST, DERIVED_SIGMA
from shotlog.wear.life.changes import OpenChange
from shotlog.wear.life.half import HalfState
from shotlog.wear.verdict.bad_chance import Rooms
from shotlog.wear.verdict.pulled import pulled

__all__ = ["Bounds", "Limit", "level_and_limits", "limits_of", "rooms_of"]


@dataclass(frozen=True, slots=True)
class Limit:
    """Action limits of a channel in its unit, and whether they were derived from the baseline rather than given."""

    low: float | None
    high: float | None
    derived: bool

    def wider(self, times: float) -> "Limit":
        """Return it so many times as wide about its middle; as it is where one end is missing."""
        if self.low is None or self.high is None:
            return self
        middle, reach = (self.low + self.high) / 2.0, (self.high - self.low) / 2.0 * times
        return replace(self, low=middle - reach, high=middle + reach)


Bounds = tuple[Mapping[str, float], Mapping[str, Limit]]
"""(level, limits): the own level without the change that is followed, and the limits, by channel in its unit."""


def limits_of(
    given: Mapping[str, Bound], level: Mapping[str, float], spread: Mapping[str, float], least: Mapping[str, float]
) -> dict[str, Limit]:
    """Return the limits of each channel: those given, else the level -+ six spreads, or three times the least change
    if wider.
    """
    out: dict[str, Limit] = {}
    for name, centre in level.items():
        if name in given:
            out[name] = Limit(given[name].low, given[name].high, False)
        else:
            reach = max(DERIVED_SIGMA * spread[name], DERIVED_LEAST * least[name])
            out[name] = Limit(centre - reach, centre + reach, True)
    return out


def level_and_limits(life: HalfState, settings: DesignSettings, post: Posterior | None) -> Bounds:
    """Return the own level without the change that is followed, as aged by the last shot, and the limits it may run up
    to, by channel in its unit.

    `post`: what the shots say of that change, None for none; the filter, which knows of no change, has taken some of it
    for level. Where limits are derived, it is from the sound level: before the standing changes that are laid to the
    insert.

    Raises
    ------
    NotEnoughShots
        There is no baseline yet.
    """
    prior, filt = life.stretch.prior, life.stretch.filter
    if prior is None or filt is None:
        raise NotEnoughShots("no baseline yet")
    own = filt.level(filt.last)[0]
    if post is not None and life.hypotheses is not None:
        own = own - pulled(post, life.hypotheses, filt)
    level = dict(zip(prior.channels, (prior.reference + own * prior.sigma).tolist(), strict=True))
    spread = dict(zip(prior.channels, prior.sigma.tolist(), strict=True))
    moved = [one.effect for one in life.standing if one.group == "insert"]
    sound = {name: at - sum(effect.get(name, 0.0) for effect in moved) for name, at in level.items()}
    return level, limits_of(settings.limits, sound, spread, prior.named(prior.least))


def rooms_of(life: HalfState, bounds: Bounds, without: OpenChange) -> Rooms:
    """Return how far the level may move either way from where it were without a change, in spreads.

    Raises
    ------
    NotEnoughShots
        There is no baseline yet.
    """
    prior, (level, limits) = life.stretch.prior, bounds
    if prior is None:
        raise NotEnoughShots("no baseline yet")
    gone = {} if without is life.call else without.effect
    at = np.array([level[name] - gone.get(name, 0.0) for name in prior.channels])
    low = np.array([_end(limits[name].low, -np.inf) for name in prior.channels])
    high = np.array([_end(limits[name].high, np.inf) for name in prior.channels])
    return (at - low) / prior.sigma, (high - at) / prior.sigma


def _end(limit: float | None, none: float) -> float:
    return none if limit is None else limit
