"""Which half in the mould an open change is laid to.

Every reused half is judged over its own shots, so a change that begins while two are mounted is seen by both. It is one
change all the same, and belongs to one of them: not to a half that came in after its onset, and among the others to the
one that is going off already, or whose wear was likelier at the age it then had. Where that does not tell them apart,
it is said.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from shotlog.records import JUDGED_FIRST
from shotlog.wear.change.causes import BATCH
from shotlog.wear.change.onset import Onset
from shotlog.wear.constants import ALIKE_SHARE, NEXT_ALONG, ONSET_SHARE
from shotlog.wear.level.baseline import by_channel
from shotlog.wear.life.changes import OpenChange
from shotlog.wear.life.half import HalfState
from shotlog.wear.life.lifetimes import hazard
from shotlog.wear.life.pool import Pool

__all__ = ["Laid", "Seen", "laid", "name_by_course", "same_changes", "weights_of"]


@dataclass(frozen=True, slots=True)
class Laid:
    """An open change as it counts against the half that it is laid to; `alike`: serial of another that may have it as
    well, empty for none.
    """

    change: OpenChange
    alike: str = ""


@dataclass(frozen=True, slots=True)
class Seen:
    """A change as one half sees it; `onset` in the press's own shots."""

    half: str
    change: OpenChange
    onset: Onset


def laid(lives: Mapping[str, HalfState], pool: Pool) -> dict[str, list[Laid]]:
    """Return the open changes that count against each half, oldest first; one that several see counts against one."""
    if len(lives) == 1:
        return {half: [Laid(one) for one in life.open()] for half, life in lives.items()}
    found: dict[str, list[Laid]] = {half: [] for half in lives}
    going: set[str] = set()
    for seen in sorted(same_changes(lives), key=lambda one: one[0].onset.shot):
        weights = weights_of(seen[0].onset, lives, pool)
        mine = max(seen, key=lambda one: (one.half in going, weights[one.half]))
        own = mine.change.group == "insert" and mine.change.cause != BATCH
        rival = max((half for half in lives if half != mine.half), key=weights.__getitem__)
        brought = mine.onset.high < lives[mine.half].first  # when it was taken out and came back
        alike = own and not brought and mine.half not in going and weights[rival] > ALIKE_SHARE * weights[mine.half]
        found[mine.half].append(Laid(mine.change, lives[rival].held.serial if alike else ""))
        if own and not alike:
            going.add(mine.half)  # a half that is going off goes on doing so
    return found


def name_by_course(lives: Mapping[str, HalfState]) -> None:
    """Name a change that was open before a newer half came in as that half names its course.

    Through the swap the level was let move, and the older half cannot tell well a change that has stayed from one that
    goes on; the newer one has seen nothing else but what goes on.
    """
    if len(lives) == 1:
        return
    for older, *others in same_changes(lives):
        life = lives[older.half]
        course = next((one for one in others if not _together(older, one) and not one.change.carried), None)
        if course is not None and older.change is life.call:
            life.name(course.change.group, course.change.cause, course.change.weights, older.change.effect)


def same_changes(lives: Mapping[str, HalfState]) -> list[list[Seen]]:
    """Return every change with all the halves that see it, the half mounted first before the others.

    A half that came in while a change was open has that change in its values from its first shot on, and may call its
    course as one of its own.
    """
    found: list[list[Seen]] = []
    order = [half for half in JUDGED_FIRST if half in lives]
    for half, life in sorted(((half, lives[half]) for half in order), key=lambda one: one[1].first):
        others = list(found)
        for change in life.open():
            seen = Seen(half, change, change.later(life.first - 1).onset)
            same = next((one for one in others if _together(one[0], seen)), None)
            same = same or next((one for one in others if _goes_on(one[0], seen, life)), None)
            if same is None:
                found.append([seen])
            elif all(one.half != half for one in same):
                same.append(seen)
    return found


def _together(one: Seen, other: Seen) -> bool:
    """Whether two halves see changes that may have begun at the same time."""
    return one.onset.low <= other.onset.high and other.onset.low <= one.onset.high


def _goes_on(older: Seen, newer: Seen, life: HalfState) -> bool:
    """Whether what a newer half sees is the course of a change that was open on the older one before it came in."""
    prior = life.stretch.prior
    if prior is None or _before(older.onset, life.first) <= 0.5:
        return False
    was, now = (by_channel(prior, one.change.effect) / prior.sigma for one in (older, newer))
    return float(was @ now) > NEXT_ALONG * float(np.linalg.norm(was) * np.linalg.norm(now))


def weights_of(onset: Onset, lives: Mapping[str, HalfState], pool: Pool) -> dict[str, float]:
    """Return how likely each half is to have a change since `onset`: mounted by then, and at an age to go off."""
    return {half: _weight(life, onset, pool) for half, life in lives.items()}


def _weight(life: HalfState, onset: Onset, pool: Pool) -> float:
    age, made = max(onset.shot - life.first + 1, 1), life.stretch.rows[-1].n
    ended, elsewhere = pool.known(life.held.design)
    return (1.0 - _before(onset, life.first)) * hazard(ended, life.made + made, life.made + age, elsewhere)


def _before(onset: Onset, shot: int) -> float:
    """Return the chance that a change began before a shot: read off its onset set, evenly between the ends known."""
    outside = (1.0 - ONSET_SHARE) / 2.0
    known = (onset.low - 1, onset.low, onset.shot + 0.5, onset.high + 1, onset.high + 2)
    return float(np.interp(shot, known, (0.0, outside, 0.5, 1.0 - outside, 1.0)))
