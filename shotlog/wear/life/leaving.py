"""What an insert leaves to its sisters: the shots that were surely sound, and how its life ended."""

from collections.abc import Collection, Iterable
from dataclasses import replace

from shotlog.parts.ending import decide
from shotlog.wear.change.causes import CHECK_RING
from shotlog.wear.constants import LEAST_CUT, LEAST_SISTER
from shotlog.wear.level.sister import heard_through, sister_of
from shotlog.wear.life.changes import OpenChange
from shotlog.wear.life.half import HalfState
from shotlog.wear.life.learning import shows_trend
from shotlog.wear.life.lifetimes import EndedLife
from shotlog.wear.life.pool import Pool
from shotlog.wear.life.worn import worn_of

__all__ = ["how_it_ended", "join_sisters", "leave_set_up"]


def how_it_ended(life: HalfState, made: int, reason: str, mine: Collection[OpenChange]) -> EndedLife:
    """Return the life of an insert that was taken out after `made` shots, those of earlier stays counted in.

    `mine`: the open changes that are laid to it. `reason`: why, as people said, else empty. Decided as the ledger
    decides it, by what is known on the day; what an inspection finds later is not.
    """
    spoken, found = life.spoken, life.found
    called = spoken is not None and spoken.gone_off
    ending = decide(
        reason, mounted=False, bad_part=False, called=called, refuted=False, confirmed=False, found=found is not None,
        elsewhere=spoken is not None and spoken.elsewhere,
    )  # fmt: skip
    sound = made if spoken is None else min(life.made + spoken.sound, made)
    ends = [sound] if called else []
    if found is not None:
        ends.append(found.sound)
    by_people = ending.people in ("finding", "damage seen", "found sound")
    gone = max(min(ends, default=made), 0)
    call, serial = life.call, life.held.serial
    worn = worn_of(life.stretch, call.at) if call is not None and call in mine and call.group == "insert" else None
    course = tuple(round(float(share), 3) for share in worn.shares) if worn is not None else ()
    return EndedLife(gone if ending.failed else made, ending.failed, serial, made, sound, by_people, worn, course)


def join_sisters(life: HalfState, mine: Collection[OpenChange], beside: Iterable[HalfState], pool: Pool) -> None:
    """Let the healthy part of a life that ends join its sisters; `mine`: the open changes that are laid to it.

    What is open on another half in the mould, one of `beside`, is in its shots as well.
    """
    changes, stretch = life.open(), life.stretch
    if any(one.carried for one in changes):
        return
    first = min(changes, key=lambda one: one.onset.clean, default=None)
    until = first.onset.clean if first is not None else None
    steps = [one.at for one in life.accepted if one.group == "material"]
    others = [one.at for one in life.accepted if one.group != "material"][:1]
    others += [one.later(other.first - life.first).onset.clean for other in beside for one in other.open()]
    if others:
        until = min(*others, until or others[0])
    channels, aged = stretch.channels(), stretch.prior is not None and stretch.prior.ages
    n, values, pauses = stretch.table(channels, until)
    # cut where it began to look odd, a short stretch shows less wander than there is, and the next is called for it
    least = LEAST_SISTER if until is None else LEAST_CUT
    if len(n) < least and first is not None and not others:
        n, values, pauses = stretch.table(channels, first.onset.shot)
    left = None
    if len(n) >= least and channels:
        left = sister_of(life.held.serial, channels, n, values, pauses, steps, aged, stretch.paced(n))
        if changes and not others and not steps and all(one.cause != CHECK_RING for one in changes):
            rows, values, pauses = stretch.table(channels)
            onsets = [one.onset.shot for one in changes]
            left = heard_through(left, channels, rows, values, pauses, onsets, stretch.paced(rows))
    if life.call in mine and channels and shows_trend(life):
        n, values, pauses = stretch.table(channels)
        whole = sister_of(life.held.serial, channels, n, values, pauses, steps, True, stretch.paced(n))
        left = whole if left is None else replace(left, whole=whole)
    if left is not None:
        pool.join(life.key, left)


def leave_set_up(life: HalfState, pool: Pool) -> None:
    """Let the shots under a set-up that ends join the sisters."""
    if life.open():
        return
    channels = life.stretch.channels()
    rows, values, pauses = life.stretch.table(channels)
    if len(rows) >= LEAST_SISTER and channels:
        pool.join(life.key, sister_of(life.held.serial, channels, rows, values, pauses, paced=life.stretch.paced(rows)))
