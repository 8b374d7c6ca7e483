"""Level that drifts as the filter knows it: how far an insert ages with every shot as its sisters do, or how a change
goes on that is followed no longer, and the shots until that reaches a limit.

What the filter expects of the level at a later shot, with its uncertainty (level and rate together), is held against
the limits. The chance that a limit has not been reached by then is a normal tail; the worst channel counts, and a
sudden break stands beside it. A limit derived from the baseline ends no insert that only ages, and the lives of
sisters, which end by the same ageing, are not counted beside it.
"""

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from shotlog.facts import Ageing, Facts
from shotlog.settings import Bound
from shotlog.wear.constants import AGEING_WITHIN, HORIZON, LEFT_SHARES
from shotlog.wear.life.ends import Ends
from shotlog.wear.life.stretch import Stretch
from shotlog.wear.replacing import replaced
from shotlog.wear.verdict.bounds import Limit

__all__ = ["ageing_left", "drift_left", "with_ageing"]

F = NDArray[np.float64]

_AHEAD = np.arange(HORIZON + 1.0)


def ageing_left(
    stretch: Stretch, bounds: Mapping[str, Bound], ends: Ends, made: int, n: int
) -> list[float | None] | None:
    """Return the shots after shot `n` at which the chance to be good falls to LEFT_SHARES, of an insert that only ages.

    None where sisters share no ageing, or no limit lies ahead of it; None in the list for beyond the horizon.
    """
    found = drift_left(stretch, _given(stretch, bounds), ends, made, n)
    return None if found is None else found[0]


def drift_left(
    stretch: Stretch, limits: Mapping[str, Limit], ends: Ends, made: int, n: int
) -> tuple[list[float | None], float] | None:
    """Return the same of a level that drifts as the filter has it, towards any of these `limits`, and the chance to be
    bad at the next shot.

    `made`: shots on the insert, those of earlier stays counted in.
    """
    good = _good(stretch, limits, n)
    if not good:
        return None
    worst = np.min(list(good.values()), axis=0) * ends.unbroken(made, _AHEAD)
    return [_reached(worst, share) for share in LEFT_SHARES], float(1.0 - worst[1])


def with_ageing(facts: Facts, stretch: Stretch, bounds: Mapping[str, Bound], ends: Ends, made: int, n: int) -> Facts:
    """Return facts with the ageing that sisters share, of the channels that it moves by a practical size."""
    prior, filt = stretch.prior, stretch.filter
    if prior is None or filt is None or not prior.ages:
        return facts
    good, drift = _good(stretch, _given(stretch, bounds), n), filt.drift()[0]
    unbroken = ends.unbroken(made, _AHEAD)
    moved = [c for c in range(len(drift)) if abs(prior.drift_mean[c]) * AGEING_WITHIN >= prior.least[c]]
    said = []
    for c in moved:
        name = prior.channels[c]
        left = _reached(good[name] * unbroken, 0.5) if name in good else None
        said.append(Ageing(name, float(drift[c] * prior.sigma[c]), prior.n_sisters, left))
    return replaced(facts, ageing=tuple(said))


def _given(stretch: Stretch, bounds: Mapping[str, Bound]) -> dict[str, Limit]:
    ages = stretch.prior is not None and stretch.prior.ages
    return {name: Limit(one.low, one.high, False) for name, one in bounds.items()} if ages else {}


def _good(stretch: Stretch, limits: Mapping[str, Limit], n: int) -> dict[str, F]:
    """Return by channel the chance that its level lies within its limit 0, 1, ... shots after shot `n`, where it drifts
    towards it. One derived from the baseline goes with what is normal ageing.
    """
    prior, filt = stretch.prior, stretch.filter
    if prior is None or filt is None or not limits:
        return {}
    drift, (level, variance) = filt.drift()[0], filt.level(n + _AHEAD[:, None])
    normal = np.zeros(len(drift)) + prior.drift_mean
    good = {}
    for c, name in enumerate(prior.channels):
        one = limits.get(name, Limit(None, None, False))
        pace = float(drift[c] - (normal[c] if one.derived else 0.0))
        bound = one.high if pace > 0 else one.low
        if bound is not None and pace != 0.0:
            goes_along = _AHEAD * normal[c] if one.derived else 0.0
            inside = np.sign(pace) * ((bound - prior.reference[c]) / prior.sigma[c] + goes_along - level[:, c])
            x = np.clip(inside / np.sqrt(variance[:, c]), -8.0, 8.0)
            good[name] = np.asarray(1.0 / (1.0 + np.exp(-1.5976 * x - 0.07056 * x**3)))  # as `weighing.log_phi`
    return good


def _reached(good: F, share: float) -> float | None:
    """Return the first shot from which the chance to be good is no more than a share."""
    under = np.flatnonzero(good <= share)
    return float(under[0]) if under.size else None
