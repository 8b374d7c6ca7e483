"""The verdict after a shot while something is called: watch or swap, with what it rests on."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf

from shotlog.errors import NotEnoughShots
from shotlog.facts import ChannelChange, Facts, Seated, SwapAsked
from shotlog.records import LoggedShot, OtherChange, Verdict
from shotlog.settings import DesignSettings
from shotlog.wear.change.causes import BATCH, BREAK
from shotlog.wear.change.posterior import Posterior
from shotlog.wear.constants import ALIKE_SHARE, BAD_LIKELY, GROWN, SWAP_LEFT
from shotlog.wear.level.baseline import by_channel
from shotlog.wear.life.changes import OpenChange
from shotlog.wear.life.ends import Ends
from shotlog.wear.life.fitted import FittedChange, fitted_of, standing_of
from shotlog.wear.life.half import HalfState
from shotlog.wear.life.halves import Laid
from shotlog.wear.verdict.ageing_left import with_ageing
from shotlog.wear.verdict.bad_chance import chance_bad, chance_bad_of_standing
from shotlog.wear.verdict.bounds import Bounds, level_and_limits, rooms_of
from shotlog.wear.verdict.shots_left import ShotsLeft, left_of
from shotlog.wear.verdict.swap_cost import SwapCosts, swap_costs

__all__ = ["called"]


@dataclass(frozen=True, slots=True)
class _Told:
    """One open change, with what it comes to at this shot."""

    change: OpenChange
    reading: FittedChange
    left: ShotsLeft
    chance: float | None
    costs: SwapCosts | None
    swap: bool
    alike: str


def called(
    life: HalfState,
    laid: Sequence[Laid],
    settings: DesignSettings,
    ends: Ends,
    shot: LoggedShot,
    post: Posterior | None,
    settling: bool,
    statistic: float | None,
    bar: float,
    mould: tuple[Seated, ...] = (),
) -> Verdict:
    """Return the verdict while changes stand open: that of the worst of those `laid` to the half; the others stand
    beside it.

    `ends`: how sisters ended. `post`: what the shots say of the change that
    is followed, None where none is. `mould`: who sits in it. Keeps whether a swap was advised.

    Raises
    ------
    NotEnoughShots
        Nothing is open.
    """
    n, base = shot.shot - life.first + 1, life.first - 1
    told = [_told(life, one, settings, ends, post, n) for one in laid]
    if not told:
        raise NotEnoughShots("nothing was called")
    worst = max(told, key=_badness)
    change = worst.change
    alike = [one.left for one in told if (one.swap, one.change.group) == (worst.swap, change.group)]
    left = min(alike, key=lambda one: inf if one.median is None else one.median)
    others = tuple(
        OtherChange(one.change.group, one.change.cause, base + one.change.onset.shot)
        for one in told
        if one is not worst
    )
    facts = _facts_of(life, worst, post if change is life.call else None, left, mould)
    verdict = Verdict(
        shot.press,
        shot.shot,
        life.held.serial,
        life.made + n,
        settling,
        "swap" if worst.swap else "watch",
        "",
        (),
        change.cause,
        change.group,
        change.weight,
        base + change.onset.shot,
        base + change.onset.low,
        base + change.onset.high,
        left.median,
        left.low,
        left.high,
        statistic,
        bar,
        with_ageing(facts, life.stretch, settings.limits, ends, life.made + n, n),
        others=others,
    )
    for one in told:
        if one.change is life.call:
            life.advise(one.swap)
            break
    return verdict


def _badness(told: _Told) -> tuple[bool, bool, int]:
    """Order open changes: a swap before all, what is the insert's before what is not.

    Of those that ask for a swap alike the first, since parts are held from there on; of others the latest.
    """
    return told.swap, told.change.group == "insert", -told.change.at if told.swap else told.change.at


def _told(
    life: HalfState,
    laid: Laid,
    settings: DesignSettings,
    ends: Ends,
    post: Posterior | None,
    n: int,
) -> _Told:
    change = laid.change
    reading = fitted_of(life, post) if post is not None and change is life.call else standing_of(life, change)
    # what outlived a swap is not of the insert that came in with it, whatever it is called
    own = change.group == "insert" and change.cause != BATCH and not change.carried and not _may_be_gone(life, change)
    followed, mine = post if change is life.call else None, change if change.group == "insert" else None
    known = mine is not None and life.stretch.prior is not None
    bounds = level_and_limits(life, settings, followed) if known else None
    left = left_of(life, settings, ends, mine, followed, bounds, n)
    chance = _chance_bad(life, change, reading, post, bounds, left, n) if own and bounds is not None else None
    if chance is not None:
        left = left.no_better_than(chance)
    if chance is not None and chance >= BAD_LIKELY and change.cause == BREAK:
        left = ShotsLeft(0.0, 0.0, 0.0, left.passed)
    costs = None if chance is None else swap_costs(settings, ends.lives, chance)
    by_costs = costs.swap if costs else change.swap or (left.median is not None and left.median <= SWAP_LEFT)
    swap = own and (change.cause == BREAK or by_costs)
    return _Told(change, reading, left, chance, costs, swap, laid.alike)


def _may_be_gone(life: HalfState, change: OpenChange) -> bool:
    """Whether another half has just been swapped that may as well have had the change: no second swap before it shows.

    As likely as two halves that cannot be told apart.
    """
    asked = life.asked
    if asked is None or asked.own * (1.0 + ALIKE_SHARE) > 1.0:
        return False
    return _asked(life, change) is not None


def _chance_bad(
    life: HalfState,
    change: OpenChange,
    reading: FittedChange,
    post: Posterior | None,
    bounds: Bounds,
    left: ShotsLeft,
    n: int,
) -> float | None:
    """Return the chance that the next shot gives a bad part because of an open change of the insert, None before a
    baseline.

    A limit that was given says until where parts are good, and the way there is that of the shots left: as far as it
    decides there, it does here.
    """
    prior, hyp = life.stretch.prior, life.hypotheses
    if prior is None or hyp is None:
        return None
    broken = reading.weights.get(BREAK, 0.0)
    by_limit = broken + (1.0 - broken) * left.next_bad
    if left.given == 1.0:
        return by_limit
    rooms = rooms_of(life, bounds, change)
    if post is not None and change is life.call:
        chance = chance_bad(post, hyp, prior, rooms, n)
    else:
        goes_on = {name: size + reading.slope.get(name, 0.0) for name, size in change.effect.items()}
        chance = chance_bad_of_standing(change.weights, by_channel(prior, goes_on) / prior.sigma, prior, rooms)
    return float(left.given * by_limit + (1.0 - left.given) * chance)


def _facts_of(
    life: HalfState, told: _Told, post: Posterior | None, left: ShotsLeft, mould: tuple[Seated, ...]
) -> Facts:
    """Return what is known of an open change; one that is followed no longer is what it was fitted as."""
    change, prior = told.change, life.stretch.prior
    carried = life.carried if change.carried else None
    effect = change.effect if post is None else told.reading.change
    least = prior.named(prior.least) if prior else {}
    rival = None if change.carried else _rival(told.reading.weights, change.cause)
    return Facts(
        "called",
        asked_shot=life.question,
        changes=tuple(ChannelChange(name, size, least.get(name, 1.0)) for name, size in effect.items()),
        grown_spread=_spread_channel(life, post) if post is not None and post.growing_spread > GROWN else None,
        cause_weight=None if change.carried else told.reading.weights[change.cause],
        rival=rival,
        rival_weight=None if rival is None else told.reading.weights[rival],
        next_shot_cost=None if told.costs is None else told.costs.next_shot,
        swap_cost=None if told.costs is None else told.costs.per_part,
        outlived_swap=None if carried is None else carried.at_shot,
        other_half=None if carried is None else carried.other_half,
        passed=left.passed,
        bad_chance=told.chance,
        halves_alike=told.alike or None,
        mould=mould,
        asked=_asked(life, change),
        followed=None if post is not None else False,
    )


def _asked(life: HalfState, change: OpenChange) -> SwapAsked | None:
    """Return the swap of another half that is still asked with which of the two an open change goes."""
    asked = life.asked
    if asked is None or not (change.at in asked.at or change.at >= asked.n):
        return None
    return SwapAsked(asked.insert, asked.at_shot)


def _rival(weights: Mapping[str, float], cause: str) -> str | None:
    """Return the cause that a called one cannot be told apart from, if there is one."""
    others = [name for name in weights if name != cause]
    rival = max(others, key=lambda name: weights[name], default=cause)
    return rival if rival != cause and weights[rival] > ALIKE_SHARE * weights[cause] else None


def _spread_channel(life: HalfState, post: Posterior) -> str | None:
    """Return the channel whose spread has most likely grown."""
    if life.stretch.prior is None or life.hypotheses is None:
        return None
    row = int(post.details.spread.max(axis=1).argmax())
    return life.stretch.prior.channels[int(life.hypotheses.spread_channel[row])]
