"""What speaks against parts of a long log, of those that may still be held.

Over the years most of what was ever held is released or scrapped. A call all of whose parts were let go after it was
made, or scrapped, holds nothing any more: it is passed over without being worked out. What may hold something is worked
out by the one rule of `doubts`, each stretch of shots by itself.
"""

from collections.abc import Iterator, Mapping, Sequence

import numpy as np
from numpy.typing import NDArray
from sqlalchemy import select

from shotlog.parts.doubt import Doubt, Lifted
from shotlog.parts.standing import Decision
from shotlog.records import EVER
from shotlog.settings import DesignSettings
from shotlog.store.log import schema
from shotlog.store.log.log import Log
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts.dispositions import decisions
from shotlog.store.parts.doubts import CALLED, EDGE, called_on, far_out_on, found_against

__all__ = ["undecided_doubts"]

Span = tuple[int, int]
"""First and last shot, both included."""

_TOGETHER = 1_000
"""Shots between two stretches up to which they are worked out together."""

_NEWEST = 2_000
"""The newest shots, which are worked out in any case: of these it is told what calls name no more."""

_NEVER, _NO = 2**62, -1


def undecided_doubts(
    log: Log, press: str, newest: int, timeline: Timeline, designs: Mapping[str, DesignSettings]
) -> tuple[list[Doubt], list[Lifted]]:
    """Return of what `said_of_parts` says all that speaks against a part which is held, and maybe more.

    Of what calls named once and name no more, that of the newest shots and of parts that may be held. `newest`: the
    last shot that the press counted.
    """
    let_go = _LetGo(decisions(log, press), max((one.cavities for one in designs.values()), default=1))
    others = [*found_against(log, press, timeline, designs), *far_out_on(log, press, 0, EVER)]
    told = [(max(0, newest - _NEWEST), newest), *_open_calls(log, press, let_go)]
    told += [(one.first, one.last) for one in others if not let_go.all_of(one.first, one.last, _newest(one))]
    doubts: list[Doubt] = []
    lifted: list[Lifted] = []
    for first, last in _joined(told):
        called, once = called_on(log, press, first, last)
        doubts += [*called, *(one for one in others if one.first <= last and one.last >= first)]
        lifted += once
    # one may reach over several stretches
    each = {one.about: one for one in doubts}
    return sorted(each.values(), key=lambda one: one.first), list(dict.fromkeys(lifted))


def _newest(doubt: Doubt) -> int:
    return max(since.place for since in doubt.since.values())


def _open_calls(log: Log, press: str, let_go: "_LetGo") -> Iterator[Span]:
    """Yield the spans that calls name, those that touch joined, of which a part may be held."""
    table = schema.verdicts
    query = select(EDGE, table.c.shot, table.c.id).join(schema.presses).where(schema.presses.c.name == press, CALLED)
    with log.reading() as connection:
        order, cursor = log.order(connection), connection.execute(query).cursor
        rows = np.array(cursor.fetchall() if cursor is not None else [], dtype=np.int64).reshape(-1, 3)
    if not len(rows):
        return
    edges, shots = np.minimum(rows[:, 0], rows[:, 1]), rows[:, 1]
    by_edge = np.lexsort((shots, edges))
    edges, shots, ids = edges[by_edge], shots[by_edge], rows[by_edge, 2]
    reach = np.maximum.accumulate(shots)
    starts = np.flatnonzero(np.concatenate(([True], edges[1:] > reach[:-1] + 1)))
    ends = np.concatenate((starts[1:], [len(edges)]))
    for start, end in zip(starts.tolist(), ends.tolist(), strict=True):
        first, last = int(edges[start]), int(reach[end - 1])
        if not let_go.all_of(first, last, order.of_verdict(int(ids[start:end].max()))):
            yield first, last


def _joined(spans: Sequence[Span]) -> list[Span]:
    found: list[Span] = []
    for first, last in sorted(spans):
        if found and first <= found[-1][1] + _TOGETHER:
            found[-1] = found[-1][0], max(found[-1][1], last)
        else:
            found.append((first, last))
    return found


class _LetGo:
    """Since which place in the order of the log each shot's parts are let go, all of them, or scrapped."""

    def __init__(self, decided: Sequence[Decision], cavities: int) -> None:
        self._first = min((one.first for one in decided), default=0)
        n = max((one.last for one in decided), default=-1) - self._first + 1
        at: NDArray[np.int64] = np.full((cavities, max(n, 0)), _NO, dtype=np.int64)
        for one in decided:
            place = {"released": one.place, "scrapped": _NEVER}.get(one.decision, _NO)
            which = slice(None) if one.cavity is None else slice(one.cavity - 1, one.cavity)
            at[which, one.first - self._first : one.last - self._first + 1] = place
        self._since = at.min(axis=0)

    def all_of(self, first: int, last: int, newest: int) -> bool:
        """Whether the parts of all these shots were let go at place `newest` or later, or scrapped."""
        if first < self._first:
            return False
        here = self._since[first - self._first : last - self._first + 1]
        return len(here) == last - first + 1 and bool((here >= newest).all())
