"""What an insert leaves to its sisters: the shots that were surely sound."""

from collections.abc import Collection, Iterable
from dataclasses import replace

from shotlog.wear.constants import LEAST_SISTER
from shotlog.wear.level.sister import sister_of
from shotlog.wear.life.changes import OpenChange
from shotlog.wear.life.half import HalfState
from shotlog.wear.life.learning import shows_trend
from shotlog.wear.life.pool import Pool

__all__ = ["join_sisters", "leave_set_up"]


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
    if len(n) < LEAST_SISTER and first is not None and not others:
        n, values, pauses = stretch.table(channels, first.onset.shot)
    left = None
    if len(n) >= LEAST_SISTER and channels:
        left = sister_of(life.held.serial, channels, n, values, pauses, steps, aged, stretch.paced(n))
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
