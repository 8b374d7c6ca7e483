"""How many parts of a press stand how, by shot, of a log of any length: for what is counted, and lists none.

It is the rule of `shotlog.parts.standing`, for all shots at once. What was let go whole since it was called is passed
over, as `undecided` does: it holds nothing any more.
"""

from collections.abc import Callable, Iterable, Mapping

import numpy as np
from numpy.typing import NDArray

from shotlog.parts.doubt import Doubt
from shotlog.parts.part import Part, n_cavities
from shotlog.parts.standing import Decision
from shotlog.review.costs import PartCounts
from shotlog.review.source import silent
from shotlog.review.states import STATES, counted_through
from shotlog.settings import DesignSettings
from shotlog.store.asked import state
from shotlog.store.asked.missed import stored_shots
from shotlog.store.log.log import Log
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts.dispositions import decisions
from shotlog.store.parts.doubts import found_against
from shotlog.store.parts.undecided import holding_doubts

__all__ = ["CountedParts", "count_parts"]

_HELD, _RELEASED = STATES.index("held"), STATES.index("released")
_DECIDED = {name: n for n, name in enumerate(STATES) if n}
_NO_PART = -1


class CountedParts:
    """The parts of each shot of a press by how they stand.

    Parameters
    ----------
    made
        Which parts there are, shape (n_cavities, n_shots).
    doubts, decided
        What speaks against parts, and what people decided, in the order they entered it.
    first
        The number of the first of those shots: a press may have counted millions before it was ever logged.
    """

    def __init__(
        self, made: NDArray[np.bool_], doubts: Iterable[Doubt], decided: Iterable[Decision], first: int = 0
    ) -> None:
        self._first, decided = first, list(decided)
        said: NDArray[np.int8] = np.zeros(made.shape, dtype=np.int8)
        for one in decided:
            said[_row(one), _span(one.first - first, one.last - first)] = _DECIDED[one.decision]
        # since when something speaks against a part is asked only where somebody let it go
        let_go = np.flatnonzero((said == _RELEASED).any(axis=0))
        place, newest = np.zeros((len(made), len(let_go)), np.int64), np.full(len(let_go), -1, np.int64)
        for one in decided:
            start, end = np.searchsorted(let_go, (one.first - first, one.last - first + 1)).tolist()
            place[_row(one), start:end] = one.place
        against = np.zeros(made.shape[1], dtype=bool)
        for doubt in doubts:
            against[_span(doubt.first - first, doubt.last - first)] = True
            start, end = np.searchsorted(let_go, (doubt.first - first, doubt.last - first + 1)).tolist()
            for n in range(start, end):
                newest[n] = max(newest[n], doubt.since[first + int(let_go[n])].place)
        again = (said[:, let_go] == _RELEASED) & (newest > place)
        said[(said == 0) & against] = _HELD
        said[:, let_go] = np.where(again, _HELD, said[:, let_go])
        said[~made] = _NO_PART
        self._stands = said

    def count(self, first: int, last: int) -> PartCounts:
        """Return how the parts of shots `first` to `last` stand."""
        stand = self._stands[:, _span(first - self._first, last - self._first)]
        return PartCounts(*(int(np.count_nonzero(stand == one)) for one in range(len(STATES))))

    def state(self, part: Part) -> str:
        """Return how a part stands, see `shotlog.parts.standing.Ground`; empty where there is none."""
        row, at = part.cavity - 1, part.shot - self._first
        cavities, shots = self._stands.shape
        stands = int(self._stands[row, at]) if 0 <= row < cavities and 0 <= at < shots else _NO_PART
        return "" if stands == _NO_PART else STATES[stands]


def _row(one: Decision) -> slice:
    return slice(None) if one.cavity is None else slice(one.cavity - 1, one.cavity)


def _span(first: int, last: int) -> slice:
    return slice(max(first, 0), max(last + 1, 0))


def count_parts(
    log: Log,
    press: str,
    designs: Mapping[str, DesignSettings],
    timeline: Timeline | None = None,
    tell: Callable[[str], None] = silent,
) -> CountedParts:
    """Count the parts of a press; `timeline`: that of the press, where it has been read already."""
    tell(f"{press}: parts")
    timeline, (first, counted) = timeline or log.timeline(press), _counted(log, press)
    last = first + len(counted) - 1
    cavities = _cavities(timeline, designs, first, last)
    made = counted & (np.arange(1, cavities.max(initial=1) + 1)[:, None] <= cavities)
    made[:, [shot - first for shot in timeline.dry_shots if first <= shot <= last]] = False
    decided, found = decisions(log, press), found_against(log, press, timeline, designs)
    doubts, _ = holding_doubts(log, press, decided, found, designs)
    return CountedParts(made, doubts, decided, first)


def _counted(log: Log, press: str) -> tuple[int, NDArray[np.bool_]]:
    """Return the first shot that the press counted, and from it to the last one whether it did: seen or missed."""
    last = counted_through(log, press)
    shots, gaps = stored_shots(log, press, last), state.gaps(log, press, 0, last)
    first = max(0, min((*shots[:1].tolist(), *(gap.first for gap in gaps)), default=last + 1))
    counted = np.zeros(last + 1 - first, dtype=bool)
    counted[shots - first] = True
    for gap in gaps:
        counted[_span(gap.first - first, gap.last - first)] = True
    return first, counted


def _cavities(timeline: Timeline, designs: Mapping[str, DesignSettings], first: int, last: int) -> NDArray[np.int16]:
    """Return how many parts each of these shots makes, if it makes any; they change where inserts do."""
    found = np.ones(last + 1 - first, dtype=np.int16)
    if all(known.cavities == 1 for known in designs.values()):
        return found
    cuts = {first, *(int(at) for stay in timeline.stays for at in (stay.first, stay.end) if first < at <= last)}
    starts = sorted(cuts)
    for start, end in zip(starts, [*starts[1:], last + 1], strict=True):
        here = slice(start - first, end - first)
        if any(timeline.queue(stay) is not None for stay in timeline.stays_at(start).values()):
            found[here] = [n_cavities(timeline.halves(shot), designs) for shot in range(start, end)]
        else:
            found[here] = n_cavities(timeline.halves(start), designs)
    return found
