"""The verdict after a shot: keep while nothing is called, watch or swap while something is, with its sentence."""

from shotlog.errors import NotEnoughShots
from shotlog.records import LoggedShot, Verdict
from shotlog.settings import DesignSettings
from shotlog.wear.change.causes import BATCH
from shotlog.wear.change.posterior import Posterior
from shotlog.wear.life.fitted import FittedChange
from shotlog.wear.life.half import HalfState
from shotlog.wear.life.lifetimes import Weibull
from shotlog.wear.life.swap_odds import Carried
from shotlog.wear.verdict import sentence
from shotlog.wear.verdict.shots_left import left_of
from shotlog.wear.verdict.swap_cost import swap_costs

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
    swap = own and (call.swap or (costs.swap if costs else (left.median is not None and left.median <= 3)))
    onset = (base + call.onset.shot, base + call.onset.low, base + call.onset.high)
    least = life.stretch.prior.named(life.stretch.prior.least) if life.stretch.prior else {}
    carried = life.carried
    change = carried.effect if call.carried and carried is not None else reading.change
    least = {c: least.get(c, 1.0) for c in change}
    notes = [_outlived(carried)] if call.carried and carried is not None else []
    notes += [life.question] if life.question else []
    text = sentence.called(
        "shot-to-shot spread of the cushion has grown"
        if post.growing_spread > 0.5
        else sentence.moved_text(change, least),
        onset,
        reading.weights if not call.carried else {call.cause: 1.0},
        call.cause,
        call.group,
        call.weight,
        left,
        costs,
        "; ".join(notes),
    )
    return Verdict(
        shot.press,
        shot.shot,
        life.held.serial,
        n,
        settling,
        "swap" if swap else "watch",
        text,
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
    prior, stretch, base = life.stretch.prior, life.stretch, life.first - 1
    until = prior.settled if prior else settings.settling_shots
    if settling and n <= until:
        text = sentence.settling(n, base + until + 1, life.held.serial)
    elif settling:
        text = sentence.waited(n, life.held.serial)
    elif statistic is None:
        text = sentence.learning(n, life.held.serial)
    else:
        held = stretch.held.n if stretch.held else None
        since = base + (life.accepted[-1].at if life.accepted else until + 1)
        text = sentence.quiet(
            n, life.held.serial, since, prior.n_sisters if prior else 0, base + held if held else None
        )
    if life.question:
        text += f"; {life.question}"
    left = left_of(life, settings, lives, None, n)
    return Verdict(
        shot.press,
        shot.shot,
        life.held.serial,
        n,
        settling,
        "keep",
        text,
        left_median=left.median,
        left_low=left.low,
        left_high=left.high,
        statistic=statistic,
        threshold=None if statistic is None else bar,
    )


def _outlived(carried: Carried) -> str:
    text = f"it outlived the swap at shot {carried.at_shot}"
    return f"{text}: the other half, the clamp or the press" if carried.other_half else text
