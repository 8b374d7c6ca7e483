"""Shots left: first passage of the fitted change to the action limits, together with how long sister inserts lived.

The fitted change goes on at its present slope, whose relative error is 1/z with z the signal-to-noise ratio of the
change (own: a size a with estimate a and standard error a/z). The passage after k shots has probability P(slope >
distance / k), a normal tail; the worst channel counts. Sister lives enter as a conditional survival. The two are taken
as independent, and the product of survivals is read at 10, 50 and 90 %. Always an interval, and "no end in sight" where
the median lies beyond the horizon.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shotlog.settings import Bound
from shotlog.wear.lives import Weibull

__all__ = ["HORIZON", "Limit", "ShotsLeft", "limits_of", "shots_left"]

F = NDArray[np.float64]

HORIZON = 300
"""Shots looked ahead; farther off is "no end in sight"."""

_DERIVED_SIGMA = 6.0


@dataclass(frozen=True, slots=True)
class Limit:
    """Action limits of a channel in its unit, and whether they were derived from the baseline rather than given."""

    low: float | None
    high: float | None
    derived: bool


@dataclass(frozen=True, slots=True)
class ShotsLeft:
    """Good shots left: median and 80 % interval; None stands for beyond the horizon."""

    median: float | None
    low: float | None
    high: float | None


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
            reach = max(_DERIVED_SIGMA * spread[name], 3.0 * least[name])
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
    survival, ahead = np.ones(HORIZON + 1), np.arange(HORIZON + 1.0)
    for name, limit in limits.items():
        bound = limit.high if slope.get(name, 0.0) > 0 else limit.low
        if bound is None or name not in now:
            continue
        if (limit.low is not None and now[name] <= limit.low) or (limit.high is not None and now[name] >= limit.high):
            return ShotsLeft(0.0, 0.0, 0.0)
        rate = abs(slope.get(name, 0.0))
        if rate > 0 and z > 0:
            mean = abs(bound - now[name]) / rate
            survival = np.minimum(survival, _stays(ahead, mean, z))
    if lives is not None:
        survival = survival * np.exp(lives.log_survival(made + ahead) - lives.log_survival(np.array(float(made))))
    low, median, high = (_first_below(survival, share) for share in (0.9, 0.5, 0.1))
    return ShotsLeft(median, low, high)


def _stays(k: F, mean: float, z: float) -> F:
    """Return the chance that the limit is not reached within k shots, when it is reached after `mean` at the fitted
    slope.
    """
    x = z * (mean / np.maximum(k, 1e-9) - 1.0)
    return np.where(k == 0, 1.0, 1.0 / (1.0 + np.exp(-np.clip(1.5976 * x + 0.07056 * x**3, -700.0, 700.0))))


def _first_below(survival: F, share: float) -> float | None:
    below = np.flatnonzero(survival <= share)
    return float(below[0]) if len(below) else None
