"""Which parts are held, released or scrapped: the one place that says so of each part.

What speaks against a part by itself (see `doubt`) holds it. Only a person releases or scraps, with a reason. A decision
stands until newer evidence, by the order of the log, speaks against a released part: then it is held again, and both
are shown. `shotlog.review.parts_counted` says it for all shots of a press at once, and is held against this.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Protocol, TypeVar

from shotlog.parts.doubt import Doubt, Lifted
from shotlog.parts.part import MadePart, Part

__all__ = ["DECISIONS", "Decision", "Ground", "PartStanding", "by_shot", "ground", "held_by_hand", "standings"]

DECISIONS = ("held", "released", "scrapped")


@dataclass(frozen=True, slots=True)
class Decision:
    """What a person decided of the parts of shots `first` to `last`; `cavity` is None for all cavities.

    `place`: where it stands in the order of the log.
    """

    entry_id: int
    press: str
    first: int
    last: int
    cavity: int | None
    decision: str
    reason: str
    initials: str
    time: datetime
    place: int = 0

    def is_about(self, part: Part) -> bool:
        """Say whether this was decided of a part."""
        return self.first <= part.shot <= self.last and self.cavity in (None, part.cavity)


@dataclass(frozen=True, slots=True)
class Ground:
    """How a part stands: ``made`` (nothing speaks against it), ``held``, ``released`` or ``scrapped``, and by what.

    `against`: what speaks against it by itself. `decision`: what a person said last. `again`: a person had released
    it, and newer evidence holds it again.
    """

    state: str
    against: tuple[Doubt, ...]
    decision: Decision | None
    again: bool

    @property
    def alike(self) -> tuple[object, ...]:
        """What parts have in common that stand as they do for the same reasons."""
        said = None if self.decision is None else (self.decision.decision, self.decision.reason)
        return self.state, tuple(doubt.about for doubt in self.against), said


@dataclass(frozen=True, slots=True)
class PartStanding:
    """A part with how it stands; `lifted`: calls that named it once and do not any more."""

    made: MadePart
    ground: Ground
    lifted: tuple[Lifted, ...]

    @property
    def part(self) -> Part:
        return self.made.part

    @property
    def state(self) -> str:
        return self.ground.state

    @property
    def doubts(self) -> tuple[Doubt, ...]:
        return self.ground.against

    @property
    def decision(self) -> Decision | None:
        return self.ground.decision

    @property
    def again(self) -> bool:
        return self.ground.again


def ground(part: Part, against: Sequence[Doubt], decided: Sequence[Decision]) -> Ground:
    """Return how a part stands.

    Parameters
    ----------
    against
        What speaks against parts of its shot by itself.
    decided
        What people decided, in the order they entered it; what is about other parts is passed over.
    """
    said = next((decision for decision in reversed(decided) if decision.is_about(part)), None)
    if said is None:
        return Ground("held" if against else "made", tuple(against), None, False)
    newest = max((doubt.since[part.shot] for doubt in against), default=None)
    again = said.decision == "released" and newest is not None and newest.place > said.place
    return Ground("held" if again else said.decision, tuple(against), said, again)


def held_by_hand(part: Part, against: Sequence[Doubt], decided: Sequence[Decision]) -> Decision | None:
    """Return the decision by which a person holds a part that nothing held before it, None where there is none.

    It stays the same one when more is said of the part, or when it is held once more. Parameters as of `ground`.
    """
    by: Decision | None = None
    before: Decision | None = None
    for one in decided:
        if not one.is_about(part):
            continue
        if one.decision != "held":
            by = None
        elif before is None or before.decision != "held":
            since = -1 if before is None else before.place
            spoken = any(since < doubt.since[part.shot].place < one.place for doubt in against)
            by = None if spoken and (before is None or before.decision == "released") else one
        before = one
    return by


def standings(
    made: Sequence[MadePart], doubts: Iterable[Doubt], lifted: Iterable[Lifted], decided: Iterable[Decision]
) -> list[PartStanding]:
    """Return how the parts of a press stand, in the order they are given."""
    shots = {one.part.shot for one in made}
    against, once, said = by_shot(doubts, shots), by_shot(lifted, shots), by_shot(decided, shots)
    found = []
    for one in made:
        shot = one.part.shot
        stands = ground(one.part, against.get(shot, ()), said.get(shot, ()))
        found.append(PartStanding(one, stands, tuple(once.get(shot, ()))))
    return found


class _OfShots(Protocol):
    @property
    def first(self) -> int: ...
    @property
    def last(self) -> int: ...


T = TypeVar("T", bound=_OfShots)


def by_shot(every: Iterable[T], shots: set[int]) -> Mapping[int, Sequence[T]]:
    """Return what is said of each of some shots by things that speak of shots `first` to `last`, in their order."""
    ordered = sorted(shots)
    found: dict[int, list[T]] = {}
    for one in every:
        for shot in ordered[bisect_left(ordered, one.first) : bisect_right(ordered, one.last)]:
            found.setdefault(shot, []).append(one)
    return found
