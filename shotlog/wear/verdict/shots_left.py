"""Shots left: first passage of the fitted change to the action limits, together with how long sister inserts lived.

The fitted change goes on at its present slope, whose relative error is 1/z with z the signal-to-noise ratio of the
change (own: a size a with estimate a and standard error a/z). The passage after k shots has probability P(slope >
distance / k), a normal tail; the worst channel counts. Sister lives enter as a conditional survival. The two are taken
as independent, and the product of survivals is read at 10, 50 and 90 %. Always an interval, and "no end in sight" where
the median lies beyond the horizon.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from shotlog.errors import NotEnoughShots
from shotlog.facts import PassedLimit
from shotlog.parts.bad import beyond
from shotlog.settings import Bound, DesignSettings
from shotlog.wear.change.detector import Filter
from shotlog.wear.compiled.passage import passage
from shotlog.wear.constants import DERIVED_LEAST, DERIVED_SIGMA, HORIZON, LEFT_SHARES
from shotlog.wear.level.baseline import Prior
from shotlog.wear.life.changes import OpenChange
from shotlog.wear.life.fitted import FittedChange
from shotlog.wear.life.half import HalfState
from shotlog.wear.life.lifetimes import Weibull
from shotlog.wear.verdict.ageing_left import ageing_left
from shotlog.wear.verdict.bad_chance import Rooms

__all__ = ["Limit", "ShotsLeft", "left_of", "level_and_limits", "limits_of", "rooms_of", "shots_left"]

_SHARES = np.array(LEFT_SHARES)


@dataclass(frozen=True, slots=True)
class Limit:
    """Action limits of a channel in its unit, and whether they were derived from the baseline rather than given."""

    low: float | None
    high: float | None
    derived: bool


@dataclass(frozen=True, slots=True)
class ShotsLeft:
    """Good shots left: median and 80 % interval; None stands for beyond the horizon. `passed`: the limit the level is
    beyond, where none is left.
    """

    median: float | None
    low: float | None
    high: float | None
    passed: PassedLimit | None = None


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


def shots_left(
    now: Mapping[str, float],
    slope: Mapping[str, float],
    limits: Mapping[str, Limit],
    z: float,
    made: int,
    lives: Weibull | None,
) -> ShotsLeft:
    """Return the shots left.

    Parameters
    ----------
    now, slope: fitted level at this shot and its change per shot, by channel, in its unit (no noise in them).
    z: signal-to-noise ratio of the fitted change; 0 where nothing was called. made: shots made on the insert so far.
    lives: life distribution of sister inserts, if known.
    """
    means = []
    for name, limit in limits.items():
        if name not in now:
            continue
        passed = beyond(limit.low, limit.high, now[name])
        if passed is not None:
            return ShotsLeft(0.0, 0.0, 0.0, PassedLimit(name, passed, limit.derived))
        bound = limit.high if slope.get(name, 0.0) > 0 else limit.low
        if bound is None:
            continue
        rate = abs(slope.get(name, 0.0))
        if rate > 0 and z > 0:
            means.append(abs(bound - now[name]) / rate)
    if not means and lives is None:
        return ShotsLeft(None, None, None)
    scale, shape = (lives.scale, lives.shape) if lives is not None else (0.0, 1.0)
    reached = np.empty(len(_SHARES))
    passage(np.array(means), z, float(made), scale, shape, _SHARES, HORIZON, reached)
    low, median, high = (None if k < 0 else k for k in reached.tolist())
    return ShotsLeft(median, low, high)


def level_and_limits(
    prior: Prior, filt: Filter, settings: DesignSettings, standing: Iterable[OpenChange] = ()
) -> tuple[dict[str, float], dict[str, Limit]]:
    """Return the own level, as aged by the last shot, and the limits it may run up to, by channel in its unit.

    Where limits are derived, it is from the sound level: before the `standing` changes that are laid to the insert.
    """
    level = dict(zip(prior.channels, (prior.reference + filt.level(filt.last)[0] * prior.sigma).tolist(), strict=True))
    spread = dict(zip(prior.channels, prior.sigma.tolist(), strict=True))
    moved = [one.effect for one in standing if one.group == "insert"]
    sound = {name: at - sum(effect.get(name, 0.0) for effect in moved) for name, at in level.items()}
    return level, limits_of(settings.limits, sound, spread, prior.named(prior.least))


def rooms_of(life: HalfState, settings: DesignSettings, without: OpenChange) -> Rooms:
    """Return how far the level may move either way from where it were without a change, in spreads.

    Raises
    ------
    NotEnoughShots
        There is no baseline yet.
    """
    prior, filt = life.stretch.prior, life.stretch.filter
    if prior is None or filt is None:
        raise NotEnoughShots("no baseline yet")
    level, limits = level_and_limits(prior, filt, settings, life.standing)
    gone = {} if without is life.call else without.effect
    at = np.array([level[name] - gone.get(name, 0.0) for name in prior.channels])
    low = np.array([_end(limits[name].low, -np.inf) for name in prior.channels])
    high = np.array([_end(limits[name].high, np.inf) for name in prior.channels])
    return (at - low) / prior.sigma, (high - at) / prior.sigma


def _end(limit: float | None, none: float) -> float:
    return none if limit is None else limit


def left_of(
    life: HalfState, settings: DesignSettings, lives: Weibull | None, reading: FittedChange | None, n: int
) -> ShotsLeft:
    """Return the good shots left after shot `n`; without a `reading`, by the ageing or the lives of sisters alone."""
    prior, filt = life.stretch.prior, life.stretch.filter
    by_ageing = ageing_left(life.stretch, settings.limits, n) if reading is None else None
    if by_ageing is not None:
        low, median, high = by_ageing
        return ShotsLeft(median, low, high)
    if prior is None or filt is None or reading is None:
        return shots_left({}, {}, {}, 0.0, life.made + n, lives) if lives else ShotsLeft(None, None, None)
    level, limits = level_and_limits(prior, filt, settings, life.standing)
    now = {c: level[c] + reading.change.get(c, 0.0) for c in level}
    # the level ages on towards a limit that was given; one derived from the baseline goes with it
    ageing = prior.named(filt.drift()[0])
    slope = {c: reading.slope.get(c, 0.0) + (0.0 if limits[c].derived else ageing[c]) for c in level}
    return shots_left(now, slope, limits, reading.signal_to_noise, life.made + n, lives)
