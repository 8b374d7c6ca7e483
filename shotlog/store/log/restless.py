"""When a set-point is no set-point: its value changes so often that it can only be measured. Pure.

Each set-up entry begins a new baseline. Where a register that holds an actual value stands under ``setpoints``, an
entry of each of its changes would keep the baseline from ever being learnt. So no entry is made of a change that is

* the sixth within twenty shots: nobody sets up so often, and an actual value moves with nearly every shot;
* the third within twenty shots that only goes to and fro between two values: an actual value between two digits;
* the eighth within a hundred shots: an actual value that drifts.

What has then stood still for twenty shots is made an entry of after all, at the shot from which it stands. The numbers
are own judgement: who tries many values of one set-point in a trial, a few shots each, would want more changes.
"""

from collections.abc import Sequence
from dataclasses import dataclass

__all__ = ["STILL", "Changed", "is_restless", "restless_from", "restless_said"]

STILL = 20
"""Shots for which a set-point has to stand still before its changes are entries again."""

_OFTEN = ((6, 20), (8, 100))
"""So many changes within so many shots are too many."""

_TO_AND_FRO, _WITHIN = 3, 20


@dataclass(frozen=True, slots=True)
class Changed:
    """A set-point was found changed at a shot."""

    shot: int
    old: str
    new: str


def restless_said(changes: Sequence[Changed]) -> str:
    """Return in what way the last of some changes, in their order, is one too many; empty where it is not.

    Examples
    --------
    >>> steps = [Changed(shot, str(shot), str(shot + 1)) for shot in range(100, 106)]
    >>> restless_said(steps[:5]), restless_said(steps)
    ('', 'changed 6 times within 20 shots')
    >>> restless_said([Changed(100, "1", "2"), Changed(105, "2", "1"), Changed(112, "1", "2")])
    'went to and fro between 1 and 2 3 times within 20 shots'
    """
    if not changes:
        return ""
    changes = _since_it_stood(changes)
    last = [one for one in changes if one.shot > changes[-1].shot - _WITHIN][-_TO_AND_FRO:]
    values = sorted({value for one in last for value in (one.old, one.new)})
    if len(last) == _TO_AND_FRO and len(values) == 2:
        return f"went to and fro between {' and '.join(values)} {_TO_AND_FRO} times within {_WITHIN} shots"
    for most, within in _OFTEN:
        if sum(one.shot > changes[-1].shot - within for one in changes) >= most:
            return f"changed {most} times within {within} shots"
    return ""


def _since_it_stood(changes: Sequence[Changed]) -> Sequence[Changed]:
    """Return the last of some changes between which it never stood still for long."""
    first = len(changes) - 1
    while first > 0 and changes[first].shot - changes[first - 1].shot < STILL:
        first -= 1
    return changes[first:]


def is_restless(changes: Sequence[Changed]) -> bool:
    """Say whether the last of some changes is one too many."""
    return bool(restless_said(changes))


def restless_from(changes: Sequence[Changed]) -> int:
    """Return the place of the first of the restless changes that the last one belongs to: no entry says any of them."""
    place = len(changes) - 1
    while place > 0 and is_restless(changes[:place]):
        place -= 1
    return place
