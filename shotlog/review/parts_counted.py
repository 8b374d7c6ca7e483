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

Whole = NDArray[np.int64]

_HELD, _RELEASED, _SCRAPPED = 1, 2, 3
_DECIDED = {"held": _HELD, "released": _RELEASED, "scrapped": _SCRAPPED}


class CountedParts:
    """The parts of each shot of a press, from shot 0 on, by how they stand.

    Parameters
    ----------
    made
        Which parts there are, shape (n_cavities, n_shots).
    doubts, decided
        What speaks against parts, and what people decided, in the order they entered it.
    """

    def __init__(self, made: NDArray[np.bool_], doubts: Iterable[Doubt], decided: Iterable[Decision]) -> None:
        said: Whole = np.zeros(made.shape, dtype=np.int64)
        place = np.zeros_like(said)
        for one in decided:
            which = slice(None) if one.cavity is None else slice(one.cavity - 1, one.cavity)
            said[which, _span(one.first, one.last)] = _DECIDED[one.decision]
            place[which, _span(one.first, one.last)] = one.place
        against, newest = np.zeros(made.shape[1], dtype=bool), np.full(made.shape[1], -1, dtype=np.int64)
        # since when something speaks against a part is asked only where somebody let it go
        let_go = (said == _RELEASED).any(axis=0)
        for doubt in doubts:
            span = _span(doubt.first, doubt.last)
            against[span] = True
            for shot in (span.start + np.flatnonzero(let_go[span])).tolist():
                newest[shot] = max(newest[shot], doubt.since[shot].place)
        held = (said == _HELD) | ((said == 0) & against) | ((said == _RELEASED) & (newest > place))
        self._stands = [(said == 0) & ~held & made, held & made, (said == _RELEASED) & ~held & made, said == _SCRAPPED]
        self._stands[-1] &= made
        each = np.array([one.sum(axis=0) for one in self._stands], dtype=np.int64)
        self._through: Whole = np.concatenate((np.zeros((len(each), 1), dtype=np.int64), each.cumsum(axis=1)), axis=1)

    def count(self, first: int, last: int) -> PartCounts:
        """Return how the parts of shots `first` to `last` stand."""
        end = self._through.shape[1] - 1
        since, upto = min(max(first, 0), end), min(max(last + 1, 0), end)
        return PartCounts(*(self._through[:, max(since, upto)] - self._through[:, since]).tolist())

    def state(self, part: Part) -> str:
        """Return how a part stands, see `shotlog.parts.standing.Ground`; empty where there is none."""
        cavities, shots = self._stands[0].shape
        if not (0 < part.cavity <= cavities and 0 <= part.shot < shots):
            return ""
        return next(
            (name for name, one in zip(STATES, self._stands, strict=True) if one[part.cavity - 1, part.shot]), ""
        )


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
    timeline, last = timeline or log.timeline(press), counted_through(log, press)
    cavities = _cavities(timeline, designs, last)
    made = _counted(log, press, last) & (np.arange(1, cavities.max() + 1)[:, None] <= cavities)
    made[:, [shot for shot in timeline.dry_shots if 0 <= shot <= last]] = False
    decided, found = decisions(log, press), found_against(log, press, timeline, designs)
    doubts, _ = holding_doubts(log, press, decided, found, designs)
    return CountedParts(made, doubts, decided)


def _counted(log: Log, press: str, last: int) -> NDArray[np.bool_]:
    """Return whether the press counted each of the shots 0 to `last`, seen or missed."""
    counted = np.zeros(last + 1, dtype=bool)
    counted[stored_shots(log, press, last)] = True
    for gap in state.gaps(log, press, 0, last):
        counted[_span(gap.first, gap.last)] = True
    return counted


def _cavities(timeline: Timeline, designs: Mapping[str, DesignSettings], last: int) -> Whole:
    """Return how many parts each of the shots 0 to `last` makes, if it makes any; they change where inserts do."""
    found: Whole = np.ones(last + 1, dtype=np.int64)
    if all(known.cavities == 1 for known in designs.values()):
        return found
    cuts = {0, *(int(at) for stay in timeline.stays for at in (stay.first, stay.end) if 0 < at <= last)}
    starts = sorted(cuts)
    for start, end in zip(starts, [*starts[1:], last + 1], strict=True):
        if any(timeline.queue(stay) is not None for stay in timeline.stays_at(start).values()):
            found[start:end] = [n_cavities(timeline.halves(shot), designs) for shot in range(start, end)]
        else:
            found[start:end] = n_cavities(timeline.halves(start), designs)
    return found
