"""What the swap of another half says of a change that is open on a half that stays.

A change that is gone with the other half was the other half's; one that stays is this half's, or none of both. What is
compared is this half's own level: before the change, let move as it may when another half comes in, and after the swap.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace

import numpy as np

from shotlog.errors import NotEnoughShots
from shotlog.facts import SwapFinding
from shotlog.settings import DesignSettings
from shotlog.wear.change.causes import CAUSES
from shotlog.wear.constants import STAYED_SHARE, SWAP_FROM
from shotlog.wear.level.baseline import by_channel, freed, settled_on
from shotlog.wear.life.changes import Asked
from shotlog.wear.life.half import HalfState
from shotlog.wear.life.halves import Seen, weights_of
from shotlog.wear.life.learning import adopt
from shotlog.wear.life.marks import StretchShot
from shotlog.wear.life.pool import Pool
from shotlog.wear.life.stretch import Stretch
from shotlog.wear.life.swap_odds import STAYS, F, outcome_of, stays_log_prior, stays_log_ratios

__all__ = ["answer_others", "ask_other_swap", "begin_beside", "is_asked", "question_to"]


def question_to(
    half: str,
    same: Sequence[Sequence[Seen]],
    lives: Mapping[str, HalfState],
    out: Collection[str],
    pool: Pool,
    at_shot: int,
) -> Asked | None:
    """Return what a half that stays is to be asked when others come `out`; None where nothing is open.

    It is asked about all that is laid to an insert, else about the last change. If it has called none itself, but what
    comes out has, it is asked whether its own level goes back as well. `lives`: as they were before the swap, `same`:
    their open changes.
    """
    life = lives[half]
    mine = [one for seen in same for one in seen if one.half == half]
    theirs = [one for seen in same for one in seen if one.half in out and one.change.group == "insert"]
    if life.stretch.prior is None or not (mine or theirs):
        return None
    latest = sorted(mine or theirs, key=lambda one: one.onset.shot)
    asked = [one for one in latest if one.change.group == "insert"] or latest[-1:]
    weights = weights_of(asked[-1].onset, lives, pool)
    among = sum(weights[one] for one in (half, *out))
    effect: dict[str, float] = {}
    for one in asked:
        effect = {name: effect.get(name, 0.0) + size for name, size in one.change.effect.items()}
    return _able(
        life,
        Asked(
            lives[next(iter(out))].held.serial,
            at_shot,
            at_shot - life.first + 1,
            [one.change.at for one in asked] if mine else [],
            max(min(one.onset.shot for one in asked) - life.first + 1, 1),
            effect,
            asked[-1].change.weights,
            weights[half] / among if among > 0.0 else 0.5,
        ),
    )


def _able(life: HalfState, asked: Asked) -> Asked:
    """Return the question with whether the half can answer it: without the change its level is known to within it."""
    stretch = _without(life, asked)
    level, variance = _level(stretch, asked.n)
    prior = life.stretch.prior
    effect = by_channel(prior, asked.effect) / prior.sigma if prior is not None else np.zeros_like(level)
    return replace(asked, able=bool(float((effect**2 / variance).sum()) > 1.0))


def is_asked(seen: Seen, asks: Mapping[str, Asked | None]) -> bool:
    """Whether a change as one half sees it is what that half is asked about."""
    asked = asks.get(seen.half)
    return asked is not None and asked.able and seen.change.at in asked.at


def ask_other_swap(life: HalfState, n: int, most_settling: int, press: str, pool: Pool) -> SwapFinding | None:
    """Ask the swap of another half about an open change; return what it says, once it says something.

    After `most_settling` shots no more is waited for: nothing is said, and what is likelier is taken.
    """
    asked, prior = life.asked, life.stretch.prior
    if asked is None or prior is None or n < asked.n + SWAP_FROM - 1:
        return None
    if not asked.able:
        if n >= asked.n + most_settling:
            life.settle_other_swap(reset=False)
        return None
    (mean, wide), (level, var) = _levels(life, asked)
    odds = stays_log_prior(_survives(asked))
    effect = by_channel(prior, asked.effect) / prior.sigma
    ratio = stays_log_ratios(level, var, mean, wide, [effect], prior.correlation, [odds])[0]
    outcome = outcome_of(ratio, odds)
    if outcome or n >= asked.n + most_settling:
        life.settle_other_swap(outcome == "reset" or (not outcome and ratio + odds < 0.0))
    if not outcome or not asked.at:
        return None
    pool.gone_off(asked.insert, outcome == "reset")
    said = "refuted" if outcome == "stays" else "confirmed"
    return SwapFinding(press, asked.insert, asked.at_shot, said, ratio, odds)


def _survives(asked: Asked) -> float:
    """Return the chance before looking that a change is still there."""
    chances = {**STAYS, "insert": asked.own}
    return sum(w * chances[CAUSES[c].group] for c, w in asked.weights.items())


def answer_others(lives: Iterable[HalfState], found: SwapFinding) -> None:
    """Give the answer of the insert that came in to the halves that could not tell themselves."""
    for life in lives:
        if life.asked is not None and not life.asked.able and life.asked.at_shot == found.at_shot:
            life.settle_other_swap(reset=found.outcome == "confirmed")


def begin_beside(life: HalfState, stay: Iterable[HalfState], settings: DesignSettings) -> None:
    """Start a life from the level that what is open on the halves that stay leaves, as far as it may not have reset."""
    prior = life.stretch.prior
    open_there = [(one, other.asked) for other in stay for one in other.open()]
    if prior is None or not open_there:
        return
    own = zip(prior.reference + prior.mean[:, 0] * prior.sigma, prior.cov[:, 0, 0] * prior.sigma**2, strict=True)
    life.begin_beside({name: (float(m), float(v)) for name, (m, v) in zip(prior.channels, own, strict=True)})
    level, variance = prior.mean[:, 0].copy(), np.zeros(len(prior.channels))
    for one, asked in open_there:
        effect = by_channel(prior, one.effect) / prior.sigma
        share = _survives(asked) if asked is not None and one.at in asked.at else 1.0
        level += share * effect
        variance += (share * (1.0 - share) + STAYED_SHARE**2) * effect**2
    adopt(life, freed(prior, level, np.sqrt(variance)), settings)


def _levels(life: HalfState, asked: Asked) -> tuple[tuple[F, F], tuple[F, F]]:
    """Return the level without the change as expected at the swap, and as found since; each with its variance."""
    stretch = _without(life, asked)
    later = [row for row in life.stretch.rows if row.n >= asked.n]
    stretch.take(StretchShot(asked.n, {}, later[0].mark, later[0].wait_min))
    expected = _level(stretch, asked.n)
    for row in later:
        stretch.take(row if row.n > asked.n else replace(row, mark=""))
    return expected, _level(stretch, asked.n)


def _without(life: HalfState, asked: Asked) -> Stretch:
    """Return the shots before the swap as they would have been looked at without the change."""
    stretch = life.stretch.without(asked.low, asked.n - 1, until=asked.n)
    stretch.freeze(0)  # nothing is looked for on it
    if asked.low <= 1 and life.started and stretch.prior is not None:
        stretch.judge_by(settled_on(stretch.prior, life.started))
    stretch.run_again()
    return stretch


def _level(stretch: Stretch, n: int) -> tuple[F, F]:
    if stretch.filter is None:
        raise NotEnoughShots("no baseline yet")
    level, variance = stretch.filter.level(n)
    return level.copy(), variance.copy()
