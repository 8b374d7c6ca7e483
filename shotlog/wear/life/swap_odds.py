"""What a swap says about the change before it: a level that resets confirms the insert, one that stays refutes it.

The new insert's level is compared, after warming up, with where sister inserts start (reset) and with that plus the
change fitted at the end of the last insert (stayed). Both are normal with the between-insert spread. The ratio of the
two densities, times the odds that the cause named survives a swap, are the odds that it has stayed. The two are kept
apart: a finding that rested on the odds before looking alone would be no experiment.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.constants import (
    STAYS_GROWTH,
    STAYS_INSERT,
    STAYS_MATERIAL,
    STAYS_MEASUREMENT,
    STAYS_MOST,
    STAYS_PRESS,
    STAYS_SURE,
)

__all__ = ["STAYS", "Carried", "own_level", "stays_log_prior", "stays_log_ratio"]

F = NDArray[np.float64]

STAYS = {
    "insert": STAYS_INSERT,
    "material": STAYS_MATERIAL,
    "press": STAYS_PRESS,
    "measurement": STAYS_MEASUREMENT,
}
"""Chance that a change of this group is still there after a swap."""


@dataclass(frozen=True, slots=True)
class Carried:
    """A change called before a swap, waiting for what the new insert shows.

    `effect`: fitted change at the end, by channel in its unit. `onset`, `low`, `high`: press's shot numbers. `weights`:
    by cause. `outcome`: ``""``, ``stays``, ``reset``, ``mended`` or ``open``. `swaps`: how many it has met.
    `other_half`: another reused half stayed in the mould, so a change that outlives the swap may be that one's.
    """

    insert: str
    at_shot: int
    effect: dict[str, float]
    onset: int
    low: int
    high: int
    weights: dict[str, float]
    outcome: str = ""
    swaps: int = 1
    other_half: bool = False


def own_level(level: F, level_var: F, prior_mean: F, prior_var: F) -> tuple[F, F]:
    """Return what the shots alone say about the level, and its variance (infinite where they say nothing).

    `level`, `level_var`: with the prior in it; all in spreads, shape (p,).
    """
    info = 1.0 / level_var - 1.0 / prior_var
    usable = info > 1e-6
    safe = np.where(usable, info, 1.0)
    own = np.where(usable, (level / level_var - prior_mean / prior_var) / safe, prior_mean)
    return own, np.where(usable, 1.0 / safe, np.inf)


def stays_log_ratio(level: F, level_var: F, prior_mean: F, prior_var: F, effect: F, correlation: F) -> float:
    """Return the log likelihood ratio of a change that has stayed against one that has reset.

    All in spreads, shape (p,): the filter's level and its variance, the prior's mean and variance, the fitted change.
    """
    own, own_var = own_level(level, level_var, prior_mean, prior_var)
    usable = np.isfinite(own_var)
    if not usable.any():
        return 0.0
    spread = (prior_var[usable] + own_var[usable]) ** 0.5
    off, moved = (own[usable] - prior_mean[usable]) / spread, effect[usable] / spread
    inverse = np.linalg.inv(correlation[np.ix_(usable, usable)])
    rest = off - moved
    power = STAYS_GROWTH**2 * float(moved @ inverse @ moved)
    stayed = float(rest @ inverse @ rest) - STAYS_GROWTH**2 * float(moved @ inverse @ rest) ** 2 / (1.0 + power)
    ratio = 0.5 * float(off @ inverse @ off) - 0.5 * stayed - 0.5 * float(np.log1p(power))
    return float(np.clip(ratio, -STAYS_MOST, STAYS_MOST))


def stays_log_prior(survives: float) -> float:
    """Return the log odds that a change has stayed before looking; `survives`: the chance that it does."""
    share = min(max(survives, STAYS_SURE), 1.0 - STAYS_SURE)
    return float(np.log(share / (1.0 - share)))
