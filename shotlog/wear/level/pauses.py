"""Pauses: what a wait does to the shots after it, and what the pauses of sister inserts teach about it.

Two things oppose each other. The insert has cooled by a share that follows from the wait (exponentially, with a time
constant in minutes that belongs to the insert and is learnt), and warms up again along the curve every insert of the
design has shown at its start. The melt has waited, which shows for a few shots and fades by about 0.6 a shot; how much
is learnt by channel, per unit of a share that also follows from the wait.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.constants import (
    COOLED_AT_MOST,
    COOLED_OFF,
    COOLED_UNKNOWN,
    COOLING_LOG_SPREAD,
    COOLING_MIN,
    COOLING_SLACK,
    COOLING_TELLING,
    COOLING_TYPICAL_MIN,
    MELT_CLIP,
    MELT_DEFAULT,
    MELT_LEAST_SHARE,
    MELT_MIN,
    MELT_OFF,
    MELT_WORTH,
)
from shotlog.wear.level.settling import pause_columns, warm_columns

__all__ = ["ANY_COOLING", "Pause", "cooled_share", "cooling_of", "melt_coefficients", "melt_share"]

F = NDArray[np.float64]

_COOLING = np.array(COOLING_MIN)
_AFTER = np.arange(20.0)
_PLAIN, _WARM_AFTER = pause_columns(_AFTER), warm_columns(_AFTER + 1.0)
_TO_PLAIN = np.linalg.pinv(_PLAIN)

ANY_COOLING = np.exp(-0.5 * (np.log(_COOLING / COOLING_TYPICAL_MIN) / COOLING_LOG_SPREAD) ** 2)
ANY_COOLING /= ANY_COOLING.sum()
"""Weights of the time constants before any pause was seen: about 20 minutes, within a factor of two (judgement)."""


@dataclass(frozen=True, slots=True)
class Pause:
    """A pause before shot `n` on the insert; `wait_min`: its length in minutes, None where it is not known.

    `swap`: another half of the mould was changed in it, so that the level may differ after it.
    """

    n: int
    wait_min: float | None
    swap: bool = False


def _expected(wait_min: float) -> F:
    return np.asarray(COOLED_AT_MOST * (1.0 - np.exp(-wait_min / _COOLING)))


def cooled_share(cooling: F, wait_min: float | None) -> tuple[float, float]:
    """Return the share of the warm-up lost in a wait, and how far off that may be; `cooling`: see `cooling_of`."""
    if wait_min is None:
        return COOLED_UNKNOWN
    expected = _expected(wait_min)
    mean = float(cooling @ expected)
    return mean, float(np.sqrt(cooling @ (expected - mean) ** 2 + COOLED_OFF**2))


def melt_share(wait_min: float | None) -> float:
    """Return how much of its full effect the waiting melt has after a wait; 1 where the wait is not known."""
    return 1.0 if wait_min is None else 1.0 - float(np.exp(-wait_min / MELT_MIN))


def _turned(coefficients: F, cov: F, warm: F) -> tuple[F, F]:
    """Turn coefficients of the two plain after-pause columns into (melt, share cooled) along a warm-up curve."""
    columns = np.column_stack([_PLAIN[:, 0], _WARM_AFTER @ warm])
    turn = np.linalg.pinv(columns) @ _PLAIN
    return coefficients @ turn.T, turn @ cov @ turn.T


def cooling_of(seen: Sequence[tuple[float | None, F, F, F]]) -> F:
    """Return the weights of the cooling time constants after the pauses seen.

    `seen`: wait in minutes, coefficients (2,) and covariance (2, 2) of a channel after a pause, its warm-up (N_WARM,);
    all in spreads. Channels that hardly warm up, and waits not known, say nothing.
    """
    log_weight = np.log(ANY_COOLING)
    for wait_min, coefficients, cov, warm in seen:
        if wait_min is None or abs(warm.sum()) < COOLING_TELLING:
            continue
        found, spread = _turned(coefficients, cov, warm)
        off = (found[1] - _expected(wait_min)) ** 2 / (spread[1, 1] + COOLED_OFF**2 + COOLING_SLACK**2)
        log_weight -= np.log1p(off)  # heavy tails: one odd pause must not settle it
    weight = np.exp(log_weight - log_weight.max())
    return np.asarray(weight / weight.sum())


def melt_coefficients(seen: Sequence[tuple[float | None, F, F, F]], cooling: F) -> tuple[float, float]:
    """Return mean and spread of a channel's melt coefficient at full effect, in spreads; `seen` as in `cooling_of`."""
    values, variances = [0.0], [MELT_DEFAULT**2]
    for wait_min, coefficients, cov, warm in seen:
        share = max(melt_share(wait_min), MELT_LEAST_SHARE)
        cooled, off = cooled_share(cooling, wait_min)
        known = coefficients - cooled * _plain(warm)
        values.append(float(np.clip(known.sum() / share, -MELT_CLIP, MELT_CLIP)))
        variances.append((float(cov.sum()) + (off * float(warm.sum())) ** 2) / share**2)
    value, variance = np.array(values), np.array(variances)
    between = MELT_OFF**2
    for _ in range(3):
        weight = 1.0 / (variance + between)
        mean = float(weight @ value / weight.sum())
        excess = float((((value - mean) ** 2 - variance)[1:]).sum())
        between = (MELT_WORTH * MELT_OFF**2 + max(excess, 0.0)) / (MELT_WORTH + len(values) - 1)
    return mean, float(np.sqrt(between + 1.0 / weight.sum()))


def _plain(warm: F) -> F:
    """Return the coefficients of the two plain columns that come nearest to a warm-up curve."""
    return np.asarray(_TO_PLAIN @ (_WARM_AFTER @ warm))
