"""Shots left: how many shots an insert still makes until its parts are bad, as a median and an 80 % interval.

Three cases, and nothing counts in two of them. While a wear is followed, its passage to the nearest action limit
(`outlook`) against sudden breaks. Where a change is followed no longer, or inserts age alike, what the filter expects
of the level (`ageing_left`) against sudden breaks. Where neither leads to a limit, how long sisters lived, given the
shots made. "No end in sight" where the median lies beyond the horizon.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil, log

import numpy as np
from numpy.typing import NDArray

from shotlog.facts import PassedLimit
from shotlog.parts.bad import beyond
from shotlog.settings import DesignSettings
from shotlog.wear.change.posterior import Posterior
from shotlog.wear.constants import GIVEN_COUNTS, HORIZON, LEFT_SHARES
from shotlog.wear.level.baseline import Prior
from shotlog.wear.life.changes import OpenChange
from shotlog.wear.life.ends import Ends
from shotlog.wear.life.half import HalfState
from shotlog.wear.life.lifetimes import Weibull
from shotlog.wear.verdict.ageing_left import ageing_left, drift_left
from shotlog.wear.verdict.bounds import Bounds, Limit
from shotlog.wear.verdict.outlook import Room, reached

__all__ = ["ShotsLeft", "left_of", "lives_left"]

F = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class ShotsLeft:
    """Shots left: median and 80 % interval; None stands for beyond the horizon. `passed`: the limit the level is
    beyond, where none is left. `next_bad`: chance that the next part is beyond a limit that counts, or its insert
    broken; `given`: how far a limit that was given decides, from 0 to 1.
    """

    median: float | None
    low: float | None
    high: float | None
    passed: PassedLimit | None = None
    next_bad: float = 0.0
    given: float = 0.0

    def no_better_than(self, chance: float) -> "ShotsLeft":
        """Return it with none left where the next part is bad with a `chance` that leaves none."""
        low, median, high = (
            0.0 if 1.0 - chance <= share else left
            for left, share in zip((self.low, self.median, self.high), LEFT_SHARES, strict=True)
        )
        return replace(self, low=low, median=median, high=high)


def lives_left(lives: Weibull | None, made: int) -> ShotsLeft:
    """Return the shots left after `made` of them by how long sisters lived, None for too few."""
    if lives is None:
        return ShotsLeft(None, None, None)
    by_now = (made / lives.scale) ** lives.shape
    ends = [ceil(lives.scale * (by_now - log(share)) ** (1.0 / lives.shape) - made) for share in LEFT_SHARES]
    low, median, high = (None if k > HORIZON else float(k) for k in ends)
    return ShotsLeft(median, low, high)


def left_of(
    life: HalfState,
    settings: DesignSettings,
    ends: Ends,
    change: OpenChange | None,
    followed: Posterior | None,
    bounds: Bounds | None,
    n: int,
) -> ShotsLeft:
    """Return the shots left after shot `n`.

    `change`: that counts, where one is laid to the insert; `followed`: what the shots say of it, None where it is
    followed no longer. `bounds`: see `level_and_limits`; None before a baseline.
    """
    prior, filt, made = life.stretch.prior, life.stretch.filter, life.made + n
    if change is None:
        by_ageing = ageing_left(life.stretch, settings.limits, ends, made, n)
        return _left(by_ageing) if by_ageing is not None else lives_left(ends.lives, made)
    # of one that is going off, how long the sisters lasted that were; of one that is not, how long they stayed sound
    if prior is None or filt is None or bounds is None:
        return lives_left(ends.kept, made)
    level, limits = bounds
    moved = prior.named(followed.effect) if followed is not None else change.effect
    limits, given = _counting(prior, limits, moved)
    now = {name: level[name] + (moved[name] if followed is not None else 0.0) for name in limits}
    for name, limit in limits.items():
        passed = beyond(limit.low, limit.high, now[name])
        if passed is not None:
            decides = 0.0 if limit.derived else 1.0
            return ShotsLeft(0.0, 0.0, 0.0, PassedLimit(name, passed, limit.derived), 1.0, decides)
    if followed is not None:
        ahead = reached(life, _rooms(prior, level, limits, moved, filt.level(n)[0]), ends, n)
    else:
        ahead = drift_left(life.stretch, limits, ends, made, n)
    if ahead is None or (followed is None and ahead[0][1] is None):
        return lives_left(ends.kept, made)
    return replace(_left(ahead[0]), next_bad=ahead[1], given=given)


def _counting(prior: Prior, limits: Mapping[str, Limit], moved: Mapping[str, float]) -> tuple[dict[str, Limit], float]:
    """Return the limits that end an insert whose channels have `moved`, and how far the given ones decide, 0 to 1: a
    derived one stands in where no given one lies ahead of the change, in the channel that moves most or nearly so.

    The nearer that channel comes to moving most, the farther off the derived ones lie: what counts never jumps from one
    shot to the next.
    """
    by = {name: abs(moved.get(name, 0.0)) / sigma for name, sigma in zip(prior.channels, prior.sigma, strict=True)}
    most = max(by.values(), default=0.0)
    ahead = [
        by[name] / most
        for name, one in limits.items()
        if not one.derived and by[name] > 0.0 and (one.high if moved[name] > 0.0 else one.low) is not None
    ]
    none, full = GIVEN_COUNTS
    share = max(ahead, default=0.0)
    if share >= full:
        return {name: one for name, one in limits.items() if not one.derived}, 1.0
    times = max((full - none) / (full - share), 1.0)
    decide = max((share - none) / (full - none), 0.0)
    return {name: one.wider(times) if one.derived else one for name, one in limits.items()}, decide


def _left(shots: Sequence[float | None]) -> ShotsLeft:
    low, median, high = shots
    return ShotsLeft(median, low, high)


def _rooms(
    prior: Prior, level: Mapping[str, float], limits: Mapping[str, Limit], moved: Mapping[str, float], own: F
) -> dict[str, Room]:
    """Return by channel how far a change may still go that has `moved` it; `own`: the filter's level, in spreads."""
    rooms = {}
    for c, name in enumerate(prior.channels):
        limit, up = limits.get(name), moved[name] > 0.0
        bound = None if limit is None else limit.high if up else limit.low
        if limit is None or bound is None or moved[name] == 0.0:
            continue
        sign = 1.0 if up else -1.0
        sound = sign * (bound - level[name]) / prior.sigma[c]
        now = sign * ((bound - prior.reference[c]) / prior.sigma[c] - own[c])
        rooms[name] = Room(up, float(sound), float(now), not limit.derived)
    return rooms
