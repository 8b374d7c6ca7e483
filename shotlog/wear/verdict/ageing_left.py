"""Ageing as it is said: how far an insert moves a shot as its sisters do, and the shots until that reaches a limit.

What the filter expects of the level at a later shot, with its uncertainty (level and rate together), is held against
the limits that the technician gave. The chance that a limit has not been reached by then is a normal tail; the worst
channel counts. A limit derived from the baseline ends no insert that only ages, and the lives of sisters, which end by
the same ageing, are not counted beside it.
"""

from collections.abc import Mapping
from dataclasses import replace
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from shotlog.facts import Ageing, Facts
from shotlog.settings import Bound
from shotlog.wear.constants import AGEING_WITHIN, HORIZON, LEFT_SHARES
from shotlog.wear.life.stretch import Stretch

__all__ = ["ageing_left", "with_ageing"]

F = NDArray[np.float64]

_AHEAD = np.arange(HORIZON + 1.0)
_TAILS = [NormalDist().inv_cdf(share) for share in LEFT_SHARES]


def ageing_left(stretch: Stretch, bounds: Mapping[str, Bound], n: int) -> list[float | None] | None:
    """Return the shots after shot `n` at which the chance of being within every limit falls below LEFT_SHARES.

    None where sisters share no ageing, or no limit lies ahead of it; None in the list for beyond the horizon.
    """
    room = _room(stretch, bounds, n)
    return [_reached(np.min(list(room.values()), axis=0), tail) for tail in _TAILS] if room else None


def with_ageing(facts: Facts, stretch: Stretch, bounds: Mapping[str, Bound], n: int) -> Facts:
    """Return facts with the ageing that sisters share, of the channels that it moves by a practical size."""
    prior, filt = stretch.prior, stretch.filter
    if prior is None or filt is None or not prior.ages:
        return facts
    room, drift = _room(stretch, bounds, n), filt.drift()[0]
    moved = [c for c in range(len(drift)) if abs(prior.drift_mean[c]) * AGEING_WITHIN >= prior.least[c]]
    said = []
    for c in moved:
        name = prior.channels[c]
        left = _reached(room[name], 0.0) if name in room else None
        said.append(Ageing(name, float(drift[c] * prior.sigma[c]), prior.n_sisters, left))
    return replace(facts, ageing=tuple(said))


def _room(stretch: Stretch, bounds: Mapping[str, Bound], n: int) -> dict[str, F]:
    """Return by channel how far inside its limit the level lies 0, 1, ... shots after shot `n`, in standard errors of
    that level, where it drifts towards the limit.
    """
    prior, filt = stretch.prior, stretch.filter
    if prior is None or filt is None or not prior.ages:
        return {}
    drift, (level, variance) = filt.drift()[0], filt.level(n + _AHEAD[:, None])
    room = {}
    for c, name in enumerate(prior.channels):
        bound = bounds.get(name, Bound())
        limit = bound.high if drift[c] > 0 else bound.low
        if limit is not None:
            inside = np.sign(drift[c]) * ((limit - prior.reference[c]) / prior.sigma[c] - level[:, c])
            room[name] = inside / np.sqrt(variance[:, c])
    return room


def _reached(room: F, tail: float) -> float | None:
    """Return the first shot from which the room is no more than `tail` standard errors."""
    over = np.flatnonzero(room <= tail)
    return float(over[0]) if over.size else None
