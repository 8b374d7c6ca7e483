"""The parts that wait for a person's decision, those that are held for one main reason together.

A part may be held for several: two calls that overlap, a bad part found among them. The gravest is the one it is listed
under, so that a span of parts is not cut up wherever another reason begins or ends: what was said of the part alone,
then what people found of its insert, then a call to swap, one to watch, a shot that lay far out. Of equals the call
that reaches farther back; of what was found on inserts what begins to hold nearest before the part, so that a long span
held for one thing after another is decided on in these steps; what holds one part alone cuts none out of them.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from shotlog.parts.against import FAR_OUT
from shotlog.parts.doubt import Doubt
from shotlog.parts.part import Part
from shotlog.parts.standing import Decision, PartStanding
from shotlog.parts.told import INSPECTION, NOTE

__all__ = ["HeldGroup", "HeldGroups", "gravest"]

Span = tuple[int, int]
"""First and last shot, both included."""


@dataclass(frozen=True, slots=True)
class HeldGroup:
    """`n` held parts with one main reason: one decision may do for them all.

    `spans`: their shots, unbroken runs in order. `cavities`: those meant, empty where all of the mould are. `against`:
    what speaks against them, the main reason first and then what else speaks against any of them; empty where a person
    alone holds them. `decision`: what a person had said last; `again`: he had released them, and newer evidence holds
    them again.
    """

    press: str
    spans: tuple[Span, ...]
    cavities: tuple[int, ...]
    n: int
    against: tuple[Doubt, ...]
    decision: Decision | None
    again: bool

    @property
    def first(self) -> int:
        """The first shot."""
        return self.spans[0][0]

    @property
    def last(self) -> int:
        """The last shot."""
        return self.spans[-1][1]

    @property
    def midway(self) -> int:
        """The shot in the middle of them."""
        shots = [shot for first, last in self.spans for shot in range(first, last + 1)]
        return shots[(len(shots) - 1) // 2]

    @property
    def by_people(self) -> bool:
        """Whether what people found is the main reason."""
        return bool(self.against) and _weight(self.against[0]) < _CALLED


_ITSELF, _FOUND, _CALLED, _, _FAR_OUT = range(5)


def _weight(doubt: Doubt) -> int:
    if doubt.wrong is not None:
        return _ITSELF if doubt.basis in (INSPECTION, NOTE) and not doubt.serial else _FOUND
    return _FAR_OUT if doubt.basis == FAR_OUT else _CALLED + (doubt.verdict != "swap")


def gravest(doubts: Sequence[Doubt]) -> Doubt | None:
    """Return the main reason of several, None where there is none."""
    return min(doubts, key=_rank, default=None)


def _rank(doubt: Doubt) -> tuple[int, bool, int]:
    weight = _weight(doubt)
    if weight != _FOUND:
        return weight, not doubt.serial, doubt.first
    return weight, not doubt.serial or doubt.first == doubt.last, -doubt.first


class _Alike:
    """Held parts with the same main reason and decision, as they are taken."""

    def __init__(self, main: Doubt | None, one: PartStanding) -> None:
        self.main, self.one = main, one
        self.also: dict[tuple[object, ...], Doubt] = {}
        self.runs: dict[int, list[Span]] = {}

    def take(self, part: Part, doubts: tuple[Doubt, ...]) -> None:
        for doubt in doubts:
            if doubt is not self.main and (self.main is None or doubt.about != self.main.about):
                self.also.setdefault(doubt.about, doubt)
        runs = self.runs.setdefault(part.cavity, [])
        if runs and runs[-1][1] == part.shot - 1:
            runs[-1] = (runs[-1][0], part.shot)
        else:
            runs.append((part.shot, part.shot))


class HeldGroups:
    """The held parts of one press, its parts taken one by one in order of shot: a long log has too many to hold."""

    def __init__(self, first: int = 0) -> None:
        self._first = first
        self._alike: dict[tuple[object, ...], _Alike] = {}
        self._cavities: set[int] = set()

    def take(self, one: PartStanding) -> None:
        """Take the next part; one from before shot `first` is passed over."""
        if one.part.shot < self._first:
            return
        self._cavities.add(one.part.cavity)
        if one.state == "held":
            main = gravest(one.doubts)
            said = None if one.decision is None else (one.decision.decision, one.decision.reason, one.again)
            key = (None if main is None else main.about, said)
            self._alike.setdefault(key, _Alike(main, one)).take(one.part, one.doubts)

    @property
    def found(self) -> tuple[HeldGroup, ...]:
        """Those with one main reason together, in order of their first shot."""
        held = [self._held(mine, spans) for mine in self._alike.values() for spans in _different(mine.runs)]
        return tuple(sorted(held, key=lambda one: (one.first, one.cavities)))

    def _held(self, mine: _Alike, spans: tuple[Span, ...]) -> HeldGroup:
        cavities = tuple(sorted(cavity for cavity, runs in mine.runs.items() if tuple(runs) == spans))
        n = len(cavities) * sum(last - first + 1 for first, last in spans)
        named = () if set(cavities) == self._cavities else cavities
        # Since when each single part is in doubt is a line a part, and no decision rests on it.
        against = [*([mine.main] if mine.main else []), *mine.also.values()]
        told = tuple(replace(doubt, since={}) for doubt in against)
        return HeldGroup(mine.one.part.press, spans, named, n, told, mine.one.decision, mine.one.again)


def _different(runs: dict[int, list[Span]]) -> list[tuple[Span, ...]]:
    return list(dict.fromkeys(tuple(mine) for mine in runs.values()))
