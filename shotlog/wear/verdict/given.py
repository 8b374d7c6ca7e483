"""The verdict after a shot: keep while nothing is called, watch or swap while something is, with what it rests on."""

from collections.abc import Mapping

from shotlog.errors import NotEnoughShots
from shotlog.facts import ChannelChange, Facts
from shotlog.records import LoggedShot, Verdict
from shotlog.settings import DesignSettings
from shotlog.wear.change.causes import BATCH
from shotlog.wear.change.posterior import Posterior
from shotlog.wear.constants import ALIKE_SHARE, GROWN, SWAP_LEFT
from shotlog.wear.life.fitted import FittedChange
from shotlog.wear.life.half import CalledChange, HalfState
from shotlog.wear.life.lifetimes import Weibull
from shotlog.wear.verdict.shots_left import ShotsLeft, left_of
from shotlog.wear.verdict.swap_cost import SwapCosts, swap_costs

__all__ = ["called", "quiet"]


def called(
    life: HalfState,
    settings: DesignSettings,
    lives: Weibull | None,
    shot: LoggedShot,
    reading: FittedChange,
    post: Posterior,
    settling: bool,
    bar: float,
) -> Verdict:
    """Return the verdict while a change is called and named.

    Raises
    ------
    NotEnoughShots
        Nothing was called.
    """
    n = shot.shot - life.first + 1
    call, base = life.call, life.first - 1
    if call is None:
        raise NotEnoughShots("nothing was called")
    left = left_of(life, settings, lives, reading, n)
    costs = swap_costs(settings, lives, reading, left)
    own = call.group == "insert" and call.cause != BATCH
    swap = own and (call.swap or (costs.swap if costs else (left.median is not None and left.median <= SWAP_LEFT)))
    onset = (base + call.onset.shot, base + call.onset.low, base + call.onset.high)
    facts = _facts_of(life, call, reading, post, left, costs)
    return Verdict(
        shot.press,
        shot.shot,
        life.held.serial,
        n,
        settling,
        "swap" if swap else "watch",
        "",
        (),
        call.cause,
        call.group,
        call.weight,
        *onset,
        left.median,
        left.low,
        left.high,
        post.log_odds,
        bar,
        facts,
    )


def quiet(
    life: HalfState,
    settings: DesignSettings,
    lives: Weibull | None,
    shot: LoggedShot,
    settling: bool,
    statistic: float | None,
    bar: float,
) -> Verdict:
    """Return the verdict while nothing is called."""
    n = shot.shot - life.first + 1
    base, until = life.first - 1, life.stretch.prior.settled if life.stretch.prior else settings.settling_shots
    if settling and n <= until:
        facts = Facts("settling", judged_from=base + until + 1, asked_shot=life.question)
    elif settling:
        facts = Facts("waited", asked_shot=life.question)
    elif statistic is None:
        facts = Facts("learning", asked_shot=life.question)
    else:
        facts = _quiet_facts(life, until)
    left = left_of(life, settings, lives, None, n)
    return Verdict(
        shot.press,
        shot.shot,
        life.held.serial,
        n,
        settling,
        "keep",
        left_median=left.median,
        left_low=left.low,
        left_high=left.high,
        statistic=statistic,
        threshold=None if statistic is None else bar,
        facts=facts,
    )


def _quiet_facts(life: HalfState, until: int) -> Facts:
    """Return what is known while no change is seen; `until`: last settling shot on the insert."""
    base, held, prior = life.first - 1, life.stretch.held, life.stretch.prior
    return Facts(
        "quiet",
        quiet_since=base + (life.accepted[-1].at if life.accepted else until + 1),
        n_sisters=prior.n_sisters if prior else 0,
        odd_shot=base + held.n if held else None,
        asked_shot=life.question,
    )


def _facts_of(
    life: HalfState,
    call: CalledChange,
    reading: FittedChange,
    post: Posterior,
    left: ShotsLeft,
    costs: SwapCosts | None,
) -> Facts:
    """Return what is known of a called change; one that outlived a swap is what it was fitted as before it."""
    prior, carried = life.stretch.prior, life.carried if call.carried else None
    change = carried.effect if carried is not None else reading.change
    least = prior.named(prior.least) if prior else {}
    rival = None if carried is not None else _rival(reading.weights, call.cause)
    return Facts(
        "called",
        asked_shot=life.question,
        changes=tuple(ChannelChange(name, size, least.get(name, 1.0)) for name, size in change.items()),
        grown_spread=_spread_channel(life, post) if post.growing_spread > GROWN else None,
        cause_weight=None if carried is not None else reading.weights[call.cause],
        rival=rival,
        rival_weight=None if rival is None else reading.weights[rival],
        next_shot_cost=None if costs is None else costs.next_shot,
        swap_cost=None if costs is None else costs.per_part,
        outlived_swap=None if carried is None else carried.at_shot,
        other_half=None if carried is None else carried.other_half,
        passed=left.passed,
    )


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
