"""What a swap says of the change before it: what is carried on to the next insert, and what becomes of it there."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

import numpy as np

from shotlog.facts import SwapFinding
from shotlog.settings import DesignSettings
from shotlog.wear.change.causes import CAUSES, group_weights
from shotlog.wear.change.onset import Onset
from shotlog.wear.constants import (
    CLEAR_SHARE,
    LEFT_AT_LEAST,
    LEFT_WEIGHT,
    MOST_SWAPS,
    OTHER_HALF_SHARE,
    STAYED_SHARE,
    SWAP_FROM,
)
from shotlog.wear.level.baseline import by_channel, freed
from shotlog.wear.life.changes import OpenChange
from shotlog.wear.life.half import HalfState
from shotlog.wear.life.labels import label_swap
from shotlog.wear.life.learning import adopt
from shotlog.wear.life.pool import Pool
from shotlog.wear.life.swap_odds import STAYS, Carried, outcome_of, stays_log_prior, stays_log_ratios

__all__ = ["ask_the_swap", "carry_on"]


def carry_on(life: HalfState, at_shot: int, other: bool, asked_there: Collection[OpenChange] = ()) -> Carried | None:
    """Return what was open on an insert taken out at `at_shot`, for the next to be asked about; None for nothing.

    The swap is asked about one change: the last that is laid to the insert, else the last. `other`: another reused half
    stays in the mould; of the changes `asked_there` it is asked on that one.
    """
    changes = [one for one in life.open() if one not in asked_there]
    if not changes or life.stretch.prior is None:
        return None
    base = life.first - 1
    asked = ([one for one in changes if one.group == "insert"] or changes)[-1]
    beside = [one.later(base) for one in changes if one is not asked and one.group != "insert"]
    if asked.carried and life.carried is not None:
        swaps = life.carried.swaps + 1
        return replace(life.carried, at_shot=at_shot, outcome="", swaps=swaps, other_half=other, beside=beside)
    onset = asked.onset
    return Carried(
        life.held.serial,
        at_shot,
        asked.effect,
        base + onset.shot,
        base + onset.low,
        base + onset.high,
        asked.weights,
        other_half=other,
        beside=beside,
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
    (level, var), expected = filt.level(n), prior.level(n)
    effects = [carried.effect, *(one.effect for one in carried.beside)]
    weights = [carried.weights, *(one.weights for one in carried.beside)]
    before = [stays_log_prior(sum(w * STAYS[CAUSES[c].group] for c, w in one.items())) for one in weights]
    scaled = [by_channel(prior, one) / prior.sigma for one in effects]
    ratios = stays_log_ratios(level, var, *expected, scaled, prior.correlation, before)
    outcome = outcome_of(ratios[0], before[0])
    if not outcome and n <= most_settling:
        return None
    life.settle_swap(outcome or "open")
    each = zip(carried.beside, ratios[1:], before[1:], strict=True)
    left = [one for one, ratio, odds in each if outcome_of(ratio, odds) == "stays"]
    stays = outcome == "stays"
    _start_from(life, [*([carried.effect] if stays else []), *(one.effect for one in left)], settings)
    life.take_over(*(replace(one.later(1 - life.first), carried=True) for one in left))
    if stays:
        _take_over(life, carried, n, pool)
    if not outcome:
        return None
    label_swap(life.held.design, carried, not stays, pool)
    said = "refuted" if stays else "confirmed"
    return SwapFinding(press, carried.insert, carried.at_shot, said, ratios[0], before[0])


def _start_from(life: HalfState, effects: Sequence[Mapping[str, float]], settings: DesignSettings) -> None:
    """Judge the insert from the level that changes which outlived the swap leave."""
    prior = life.stretch.prior
    if prior is None or not effects:
        return
    each = np.array([by_channel(prior, one) for one in effects]) / prior.sigma
    level = prior.mean[:, 0] + each.sum(axis=0)
    adopt(life, freed(prior, level, STAYED_SHARE * np.linalg.norm(each, axis=0)), settings)


def _take_over(life: HalfState, carried: Carried, n: int, pool: Pool) -> None:
    """Carry a change that outlived the swap on as what it must be: material or press."""
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
    life.take_over(OpenChange(n, onset, group, cause, weight, carried=True, weights=rest, effect=carried.effect))
