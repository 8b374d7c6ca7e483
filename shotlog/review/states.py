"""How the parts of a press stand, counted: a long log has too many parts to hold each of them at once."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from shotlog.parts.doubt import Doubt, Lifted
from shotlog.parts.standing import PartStanding
from shotlog.review.costs import PartCounts
from shotlog.review.source import silent
from shotlog.settings import DesignSettings
from shotlog.store.asked import state
from shotlog.store.log.log import Log
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts.dispositions import part_standings

__all__ = ["STATES", "PartRun", "PressParts", "counted_through", "read_parts"]

STATES = ("made", "held", "released", "scrapped")
"""How a part stands, in the order in which they are counted."""

_AT_ONCE = 5_000
"""Shots whose parts are read at once: some ten megabytes."""


@dataclass(frozen=True, slots=True)
class PartRun:
    """The `n` parts of shots `first` to `last`, of whose shots the gravest part stands as `state` says."""

    first: int
    last: int
    n: int
    state: str


_GRAVEST = ("held", "scrapped", "released", "made")


class PressParts:
    """The parts of shots `first` to `last` of a press by how they stand, what speaks against them and what did once."""

    def __init__(self, first: int, last: int) -> None:
        self._first = first
        self._n = np.zeros((len(STATES), max(0, last - first + 1)), dtype=np.int32)
        self._doubts: dict[tuple[object, ...], Doubt] = {}
        self._lifted: dict[Lifted, None] = {}

    def take(self, standing: PartStanding) -> None:
        """Take a part."""
        self._n[STATES.index(standing.state), standing.part.shot - self._first] += 1
        for doubt in standing.doubts:
            self._doubts.setdefault(doubt.about, doubt)
        self._lifted.update(dict.fromkeys(standing.lifted))

    @property
    def doubts(self) -> list[Doubt]:
        """What speaks against parts, each once, in the order of the parts."""
        return list(self._doubts.values())

    @property
    def lifted(self) -> list[Lifted]:
        """What once spoke against parts, each once, in the order of the parts."""
        return list(self._lifted)

    def runs(self, first: int, last: int) -> tuple[PartRun, ...]:
        """Return unbroken runs of shots `first` to `last` whose parts stand alike; shots that made no part are none."""
        found: list[PartRun] = []
        for shot in range(max(first, self._first), min(last + 1, self._first + self._n.shape[1])):
            counts = dict(zip(STATES, self._n[:, shot - self._first].tolist(), strict=True))
            state = next((name for name in _GRAVEST if counts[name]), "")
            before = found[-1] if found else None
            if before is not None and state == before.state and before.last == shot - 1:
                found[-1] = PartRun(before.first, shot, before.n + sum(counts.values()), state)
            elif state:
                found.append(PartRun(shot, shot, sum(counts.values()), state))
        return tuple(found)

    def count(self, first: int, last: int) -> PartCounts:
        """Return how the parts of shots `first` to `last` stand; of those taken."""
        since = max(first - self._first, 0)
        return PartCounts(*self._n[:, since : max(last - self._first + 1, since)].sum(axis=1).tolist())


def counted_through(log: Log, press: str) -> int:
    """Return the last shot that a press counted as far as the log knows, 0 before the first."""
    newest, gaps = log.last_shot(press), state.gaps(log, press, limit=1)
    return max(0 if newest is None else newest[0], *(gap.last for gap in gaps), 0)


def read_parts(
    log: Log,
    press: str,
    designs: Mapping[str, DesignSettings],
    spans: Iterable[tuple[int, int]],
    each: Callable[[PartStanding], None] = lambda _: None,
    tell: Callable[[str], None] = silent,
    timeline: Timeline | None = None,
    said: tuple[Sequence[Doubt], Sequence[Lifted]] | None = None,
) -> PressParts:
    """Read how the parts of spans of shots stand; `each` is given every one, `tell` is told how far it is.

    `timeline`: that of the press, where it has been read already; it is read once, however many shots are asked for.
    `said`: as for `part_standings`.
    """
    asked, timeline = list(spans), timeline or log.timeline(press)
    found = PressParts(min((one[0] for one in asked), default=0), max((one[1] for one in asked), default=-1))
    for first, last in asked:
        for start in range(first, last + 1, _AT_ONCE):
            tell(f"{press}: parts, shot {start} of {last}")
            upto = min(start + _AT_ONCE - 1, last)
            for standing in part_standings(log, press, designs, start, upto, timeline, said):
                found.take(standing)
                each(standing)
    return found
