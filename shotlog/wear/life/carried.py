"""What a swap says of the change before it: what is carried on to the next insert, and what becomes of it there."""

from dataclasses import replace

import numpy as np

from shotlog.facts import SwapFinding
from shotlog.settings import DesignSettings
from shotlog.wear.change.causes import CAUSES, group_weights
from shotlog.wear.change.onset import Onset
from shotlog.wear.change.posterior import Posterior
from shotlog.wear.constants import (
    CLEAR_SHARE,
    LEFT_AT_LEAST,
    LEFT_WEIGHT,
    MOST_SWAPS,
    OTHER_HALF_SHARE,
    STAYED_SHARE,
    SWAP_DECIDED,
    SWAP_FROM,
    SWAP_RATIO,
)
from shotlog.wear.level.baseline import freed
from shotlog.wear.life.calling import by_channel, weighed
from shotlog.wear.life.fitted import fitted_of
from shotlog.wear.life.half import CalledChange, HalfState
from shotlog.wear.life.learning import adopt
from shotlog.wear.life.pool import Pool
from shotlog.wear.life.swap_odds import STAYS, Carried, stays_log_prior, stays_log_ratio

__all__ = ["ask_the_swap", "carry_on"]


def carry_on(life: HalfState, at_shot: int, other: bool) -> Carried | None:
    """Return the change called on an insert taken out at `at_shot`, for the next to be asked about; None for none.

    `other`: another reused half stays in the mould.
    """
    call, prior = life.call, life.stretch.prior
    if call is None or prior is None:
        return None
    base = life.first - 1
    if call.carried and life.carried is not None:
        return replace(life.carried, at_shot=at_shot, outcome="", swaps=life.carried.swaps + 1, other_half=other)
    post = weighed(life, life.stretch.rows[-1].n)
    if not isinstance(post, Posterior):
        return None
    reading = fitted_of(life, post)
    onset = call.onset
    return Carried(
        life.held.serial,
        at_shot,
        dict(reading.change),
        base + onset.shot,
        base + onset.low,
        base + onset.high,
        dict(reading.weights),
        other_half=other,
    )


def ask_the_swap(
    life: HalfState, n: int, most_settling: int, press: str, pool: Pool, settings: DesignSettings
) -> SwapFinding | None:
    """Compare the warmed-up level with what it was before the swap; return what that says, once it says something.

    By the odds after looking; and never by the odds before alone, the shots must say so too. After `most_settling`
    shots the question is left open.
    """
    carried, prior, filt = life.carried, life.stretch.prior, life.stretch.filter
    if carried is None or carried.outcome or prior is None or filt is None or n < SWAP_FROM or life.call is not None:
        return None
    effect = by_channel(prior, carried.effect) / prior.sigma
    level, var = filt.level()
    prior_odds = stays_log_prior(sum(w * STAYS[CAUSES[c].group] for c, w in carried.weights.items()))
    ratio = stays_log_ratio(level, var, prior.mean[:, 0], prior.cov[:, 0, 0], effect, prior.correlation)
    if ratio < -SWAP_RATIO and ratio + prior_odds < -SWAP_DECIDED:
        life.settle_swap("reset")
        return SwapFinding(press, carried.insert, carried.at_shot, "confirmed", ratio, prior_odds)
    if ratio > SWAP_RATIO and ratio + prior_odds > SWAP_DECIDED:
        life.settle_swap("stays")
        _take_over(life, carried, n, pool, settings)
        return SwapFinding(press, carried.insert, carried.at_shot, "refuted", ratio, prior_odds)
    if n > most_settling:
        life.settle_swap("open")
    return None


def _take_over(life: HalfState, carried: Carried, n: int, pool: Pool, settings: DesignSettings) -> None:
    """Carry a change that outlived the swap on as what it must be: material or press."""
    if life.stretch.prior is not None:
        effect = by_channel(life.stretch.prior, carried.effect) / life.stretch.prior.sigma
        level = life.stretch.prior.mean[:, 0] + effect
        adopt(life, freed(life.stretch.prior, level, STAYED_SHARE * np.abs(effect)), settings)
    blame = OTHER_HALF_SHARE if carried.other_half else 0.0
    rest = {c: w * (blame if CAUSES[c].group == "insert" else 1.0) for c, w in carried.weights.items()}
    groups = group_weights(rest)
    total = sum(groups.values())
    group = max(groups, key=lambda g: groups[g]) if total > LEFT_AT_LEAST else "press"
    clear = total > 0 and groups[group] >= CLEAR_SHARE * total
    if group == "material" or not clear or carried.swaps >= MOST_SWAPS:
        pool.move(life.key, carried.effect)
        return
    among = [c for c in CAUSES if CAUSES[c].group == group]
    cause = max(among, key=lambda c: rest.get(c, 0.0))
    weight = groups[group] / total if total > LEFT_AT_LEAST else LEFT_WEIGHT
    base = life.first - 1
    onset = Onset(carried.onset - base, carried.low - base, carried.high - base, carried.low - base)
    life.take_over(CalledChange(n, onset, group, cause, weight, carried=True))
