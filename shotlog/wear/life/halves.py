"""Which half in the mould an open change is laid to.

Every reused half is judged over its own shots, so a change that begins while two are mounted is seen by both. It is one
change all the same, and belongs to one of them: not to a half that came in after its onset, and among the others to the
one whose wear was likelier at the age it then had. Where that does not tell them apart, it is said.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from shotlog.records import JUDGED_FIRST
from shotlog.wear.change.causes import BATCH
from shotlog.wear.change.onset import Onset
from shotlog.wear.constants import ALIKE_SHARE, NEXT_ALONG, ONSET_SHARE
from shotlog.wear.life.changes import OpenChange
from shotlog.wear.life.half import HalfState
from shotlog.wear.life.lifetimes import hazard
from shotlog.wear.life.pool import Pool

__all__ = ["Laid", "laid"]


@dataclass(frozen=True, slots=True)
class Laid:
    """An open change as it counts against the half that it is laid to; `alike`: serial of another that may have it as
    well, empty for none.
    """

    change: OpenChange
    alike: str = ""


@dataclass(frozen=True, slots=True)
class _Seen:
    """A change as one half sees it; `onset` in the press's own shots."""

    half: str
    change: OpenChange
    onset: Onset


def laid(lives: Mapping[str, HalfState], pool: Pool) -> dict[str, list[Laid]]:
    """Return the open changes that count against each half, oldest first; one that several see counts against one."""
    if len(lives) == 1:
        return {half: [Laid(one) for one in life.open()] for half, life in lives.items()}
    found: dict[str, list[Laid]] = {half: [] for half in lives}
    for seen in _same(lives):
        weights = {half: _weight(life, seen[0].onset, pool) for half, life in lives.items()}
        mine = max(seen, key=lambda one: weights[one.half])
        own = mine.change.group == "insert" and mine.change.cause != BATCH
        rival = max((half for half in lives if half != mine.half), key=weights.__getitem__)
        alike = own and weights[rival] > ALIKE_SHARE * weights[mine.half]
        found[mine.half].append(Laid(mine.change, lives[rival].held.serial if alike else ""))
    return {half: sorted(own, key=lambda one: one.change.at) for half, own in found.items()}


def _same(lives: Mapping[str, HalfState]) -> list[list[_Seen]]:
    """Return every change with all the halves that see it, the half mounted first before the others."""
    found: list[list[_Seen]] = []
    order = [half for half in JUDGED_FIRST if half in lives]
    for half, life in sorted(((half, lives[half]) for half in order), key=lambda one: one[1].first):
        others = list(found)
        for change in life.open():
            seen = _Seen(half, change, change.later(life.first - 1).onset)
            same = next((one for one in others if _is_same(one[0], seen, lives)), None)
            if same is None:
                found.append([seen])
            elif all(one.half != half for one in same):
                same.append(seen)
    return found


def _is_same(older: _Seen, newer: _Seen, lives: Mapping[str, HalfState]) -> bool:
    """Whether two halves see one change: begun at the same time, or going on since before the newer half came in."""
    if older.onset.low <= newer.onset.high and newer.onset.low <= older.onset.high:
        return True
    return older.onset.low < lives[newer.half].first and _along(lives[newer.half], older.change, newer.change)


def _along(life: HalfState, one: OpenChange, other: OpenChange) -> bool:
    prior = life.stretch.prior
    if prior is None:
        return False
    each = [np.array([of.effect.get(name, 0.0) for name in prior.channels]) / prior.sigma for of in (one, other)]
    return float(each[0] @ each[1]) > NEXT_ALONG * float(np.linalg.norm(each[0]) * np.linalg.norm(each[1]))


def _weight(life: HalfState, onset: Onset, pool: Pool) -> float:
    """Return how likely a change since `onset` is a half's: mounted by then, and of an age at which such halves go."""
    age, made = max(onset.shot - life.first + 1, 1), life.stretch.rows[-1].n
    return (1.0 - _before(onset, life.first)) * hazard(pool.ended.get(life.held.design, []), made, age)


def _before(onset: Onset, shot: int) -> float:
    """Return the chance that a change began before a shot: read off its onset set, evenly between the ends known."""
    outside = (1.0 - ONSET_SHARE) / 2.0
    known = (onset.low - 1, onset.low, onset.shot + 0.5, onset.high + 1, onset.high + 2)
    return float(np.interp(shot, known, (0.0, outside, 0.5, 1.0 - outside, 1.0)))
