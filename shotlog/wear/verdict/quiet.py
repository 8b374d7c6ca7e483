"""The verdict after a shot while nothing is called: keep, with what is known of the level."""

from shotlog.facts import ChannelChange, Facts, Seated
from shotlog.records import LoggedShot, Verdict
from shotlog.settings import DesignSettings
from shotlog.wear.constants import OWN_SCHEDULE
from shotlog.wear.life.ends import Ends
from shotlog.wear.life.half import HalfState
from shotlog.wear.replacing import replaced
from shotlog.wear.verdict.ageing_left import with_ageing
from shotlog.wear.verdict.shots_left import left_of
from shotlog.wear.verdict.visible import visible

__all__ = ["quiet"]


def quiet(
    life: HalfState,
    settings: DesignSettings,
    ends: Ends,
    shot: LoggedShot,
    settling: bool,
    statistic: float | None,
    bar: float,
    mould: tuple[Seated, ...] = (),
) -> Verdict:
    """Return the verdict while nothing is called; `mould`: who sits in it."""
    n = shot.shot - life.first + 1
    base, until = life.first - 1, life.stretch.prior.settled if life.stretch.prior else settings.settling_shots
    if settling and n <= until:
        facts = Facts("settling", judged_from=base + until + 1, asked_shot=life.question, mould=mould)
    elif settling:
        waited_at, known = life.stretch.filter.known_again(n) if life.stretch.filter else (n, n + 1)
        from_, at = base + known, base + waited_at
        facts = Facts("waited", judged_from=from_, waited_at=at, asked_shot=life.question, mould=mould)
    elif statistic is None:
        facts = Facts("learning", judged_from=_learnt_by(life, shot.shot), asked_shot=life.question, mould=mould)
    else:
        facts = _quiet_facts(life, until, mould)
    facts = with_ageing(facts, life.stretch, settings.limits, ends, life.made + n, n)
    seen = visible(life, settings, bar)
    facts = replaced(facts, visible=seen) if seen else facts
    left = left_of(life, settings, ends, None, None, None, n)
    return Verdict(
        shot.press,
        shot.shot,
        life.held.serial,
        life.made + n,
        settling,
        "keep",
        left_median=left.median,
        left_low=left.low,
        left_high=left.high,
        statistic=statistic,
        threshold=None if statistic is None else bar,
        facts=facts,
    )


def _learnt_by(life: HalfState, shot: int) -> int | None:
    """Return the shot at which an insert without a level takes stock of its shots next, None where it has done so."""
    made = len(life.stretch.rows)
    return next((shot + due - made for due in OWN_SCHEDULE if due > made), None)


def _quiet_facts(life: HalfState, until: int, mould: tuple[Seated, ...]) -> Facts:
    """Return what is known while no change is seen; `until`: last settling shot on the insert."""
    base, held, prior = life.first - 1, life.stretch.held, life.stretch.prior
    # the level was let move where another half came in: nothing is said of before
    swapped = [row.n for row in life.stretch.rows if row.mark == "swap"]
    farthest = life.stretch.farthest()
    return Facts(
        "quiet",
        quiet_since=base + max([life.accepted[-1].since if life.accepted else until + 1, *swapped]),
        n_sisters=prior.n_sisters if prior else 0,
        odd_shot=base + held.n if held else None,
        odd_channel=None if farthest is None else farthest[0],
        odd_by=None if farthest is None else farthest[1],
        asked_shot=life.question,
        elsewhere=_elsewhere(life),
        mould=mould,
    )


def _elsewhere(life: HalfState) -> tuple[ChannelChange, ...]:
    """Return how far off its sisters the insert started, nothing where it started among them."""
    prior, filt = life.stretch.prior, life.stretch.filter
    if not life.elsewhere or prior is None or filt is None:
        return ()
    off, least = prior.named(filt.level()[0] - prior.mean[:, 0]), prior.named(prior.least)
    return tuple(ChannelChange(name, size, least[name]) for name, size in off.items())
