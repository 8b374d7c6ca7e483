"""What a swap says about the change before it: a level that resets confirms the insert, one that stays refutes it.

The new insert's level is compared, after warming up, with where sister inserts start (reset) and with that plus the
change fitted at the end of the last insert (stayed). Both are normal with the between-insert spread. The ratio of the
two densities, times the odds that the cause named survives a swap, are the odds that it has stayed. The two are kept
apart: a finding that rested on the odds before looking alone would be no experiment.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import product

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
    SWAP_DECIDED,
    SWAP_RATIO,
)
from shotlog.wear.life.changes import OpenChange

__all__ = ["STAYS", "Carried", "outcome_of", "own_level", "stays_log_prior", "stays_log_ratios"]

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
    `beside`: further open changes that no swap is expected to end, counted in the press's shot numbers.
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
    beside: list[OpenChange] = field(default_factory=list)


def own_level(level: F, level_var: F, prior_mean: F, prior_var: F) -> tuple[F, F]:
    """Return what the shots alone say about the level, and its variance (infinite where they say nothing).

    `level`, `level_var`: with the prior in it; all in spreads, shape (p,).
    """
    info = 1.0 / level_var - 1.0 / prior_var
    usable = info > 1e-6
    safe = np.where(usable, info, 1.0)
    own = np.where(usable, (level / level_var - prior_mean / prior_var) / safe, prior_mean)
    return own, np.where(usable, 1.0 / safe, np.inf)


def stays_log_ratios(
    level: F, level_var: F, prior_mean: F, prior_var: F, effects: Sequence[F], correlation: F, before: Sequence[float]
) -> list[float]:
    """Return, for each of several changes, the log likelihood ratio of its having stayed against having reset.

    All in spreads, shape (p,): the filter's level and its variance, the prior's mean and variance, each fitted change.
    `before`: log odds that each stays, before looking. Every set of changes that may have stayed is weighed against
    every other, so that one that stayed is not taken for two that did.
    """
    own, own_var = own_level(level, level_var, prior_mean, prior_var)
    usable = np.isfinite(own_var)
    if not usable.any():
        return [0.0] * len(effects)
    spread = (prior_var[usable] + own_var[usable]) ** 0.5
    off = (own[usable] - prior_mean[usable]) / spread
    moved = [one[usable] / spread for one in effects]
    among = correlation[np.ix_(usable, usable)]
    sets = list(product((False, True), repeat=len(moved)))
    fits = [_fit(off, [one for one, stays in zip(moved, kept, strict=True) if stays], among) for kept in sets]
    out = []
    for i in range(len(moved)):
        others = [sum(odds for j, odds in enumerate(before) if kept[j] and j != i) for kept in sets]
        each = [fit + other for fit, other in zip(fits, others, strict=True)]
        stayed, reset = (
            float(np.logaddexp.reduce([one for one, kept in zip(each, sets, strict=True) if kept[i] == stays]))
            for stays in (True, False)
        )
        ratio = float(np.clip(stayed - reset, -STAYS_MOST, STAYS_MOST))
        out.append(ratio if ratio < 0.0 or _still_there(off, moved, i, sets[int(np.argmax(fits))]) else 0.0)
    return out


def _still_there(off: F, moved: Sequence[F], which: int, kept: Sequence[bool]) -> bool:
    """Whether a level `off` its sisters lies nearer to the change than to none, beside what else is likeliest `kept`.

    A large change may have grown by much, so that any odd level is likelier with it than without.
    """
    others = [one for j, one in enumerate(moved) if kept[j] and j != which]
    own = moved[which]
    return float((off - sum(others, np.zeros(len(off)))) @ own) >= 0.5 * float(own @ own)


def _fit(off: F, moved: Sequence[F], correlation: F) -> float:
    """Return the log density of a level `off` its sisters where these changes have stayed, each grown a little."""
    rest, spread = off.copy(), correlation.copy()
    for one in moved:
        rest -= one
        spread += STAYS_GROWTH**2 * np.outer(one, one)
    return -0.5 * float(rest @ np.linalg.solve(spread, rest) + np.linalg.slogdet(spread)[1])


def stays_log_prior(survives: float) -> float:
    """Return the log odds that a change has stayed before looking; `survives`: the chance that it does."""
    share = min(max(survives, STAYS_SURE), 1.0 - STAYS_SURE)
    return float(np.log(share / (1.0 - share)))


def outcome_of(ratio: float, before: float) -> str:
    """Return ``stays`` or ``reset`` where the shots by themselves and the odds after looking say so, else nothing."""
    if ratio > SWAP_RATIO and ratio + before > SWAP_DECIDED:
        return "stays"
    return "reset" if ratio < -SWAP_RATIO and ratio + before < -SWAP_DECIDED else ""
