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
from shotlog.store.log.prepared import of_press
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts.dispositions import decisions
from shotlog.store.parts.doubts import CALLED, EDGE, called_on, far_out_on, found_against

__all__ = ["holding_doubts", "undecided_doubts"]

Span = tuple[int, int]
"""First and last shot, both included."""

_TOGETHER = 1_000
"""Shots between two stretches up to which they are worked out together."""

_NEWEST = 2_000
"""The newest shots, which are worked out in any case: of these it is told what calls name no more."""

_CHUNK = 2_000

_NEVER, _NO = 2**62, -1


def undecided_doubts(
    log: Log, press: str, newest: int, timeline: Timeline, designs: Mapping[str, DesignSettings]
) -> tuple[list[Doubt], list[Lifted]]:
    """Return of what `said_of_parts` says all that speaks against a part which is held, and maybe more.

    Of what calls named once and name no more, that of the newest shots and of parts that may be held. `newest`: the
    last shot that the press counted.
    """
    let_go, calls = _LetGo(decisions(log, press), designs), _Calls(log, press)
    others = [*found_against(log, press, timeline, designs), *far_out_on(log, press, 0, EVER)]
    told = [(max(0, newest - _NEWEST), newest), *calls.open(let_go)]
    told += [(one.first, one.last) for one in others if not let_go.all_of(one.first, one.last, _newest(one))]
    doubts: list[Doubt] = []
    lifted: list[Lifted] = []
    for first, last in _joined(told):
        called, once = called_on(log, press, first, last, calls.reach)
        doubts += [*called, *(one for one in others if one.first <= last and one.last >= first)]
        lifted += once
    # one may reach over several stretches
    each = {one.about: one for one in doubts}
    return sorted(each.values(), key=lambda one: one.first), list(dict.fromkeys(lifted))


def holding_doubts(
    log: Log, press: str, decided: Sequence[Decision], found: Sequence[Doubt], designs: Mapping[str, DesignSettings]
) -> tuple[list[Doubt], set[int]]:
    """Return what may hold parts of a press, and the shots whose parts it may hold: less than `undecided_doubts`, which
    says as well what calls that are let go say of such a part.

    Parameters
    ----------
    decided
        All that people decided of parts of the press.
    found
        All that people found that speaks against them.
    """
    let_go, calls = _LetGo(decided, designs), _Calls(log, press)
    doubts = [*found, *far_out_on(log, press, 0, EVER)]
    for first, last in _joined(list(calls.open(let_go))):
        doubts += called_on(log, press, first, last, calls.reach)[0]
    holding = (one for one in doubts if not let_go.all_of(one.first, one.last, _newest(one)))
    return doubts, {shot for one in holding for shot in range(one.first, one.last + 1)}


def _newest(doubt: Doubt) -> int:
    return max(since.place for since in doubt.since.values())


class _Calls:
    """The spans of shots that calls of a press name, under whichever judging they were given.

    `reach`: how many shots back the farthest one reaches.
    """

    def __init__(self, log: Log, press: str) -> None:
        table = schema.verdicts
        query = select(EDGE, table.c.shot, table.c.id).where(of_press(table, press), CALLED)
        with log.reading() as connection:
            self._order, cursor = log.order(connection), connection.execute(query).cursor
            # some at a time: as tuples they take ten times the room, which is gone through again and again meanwhile
            some = iter(lambda: cursor.fetchmany(_CHUNK), [])
            rows = np.concatenate([np.empty((0, 3), np.int64), *(np.array(one, np.int64) for one in some)])
        self._edges, self._shots, self._ids = np.minimum(rows[:, 0], rows[:, 1]), rows[:, 1], rows[:, 2]
        self.reach = int((self._shots - self._edges).max(initial=0))

    def open(self, let_go: "_LetGo") -> Iterator[Span]:
        """Yield the spans that are named, those that touch joined, of which a part may be held."""
        if not len(self._edges):
            return
        by_edge = np.lexsort((self._shots, self._edges))
        edges, ids = self._edges[by_edge], self._ids[by_edge]
        reach = np.maximum.accumulate(self._shots[by_edge])
        starts = np.flatnonzero(np.concatenate(([True], edges[1:] > reach[:-1] + 1)))
        newest = np.maximum.reduceat(ids, starts).tolist()
        ends = np.concatenate((starts[1:], [len(edges)])) - 1
        for first, last, verdict in zip(edges[starts].tolist(), reach[ends].tolist(), newest, strict=True):
            if not let_go.all_of(first, last, self._order.of_verdict(verdict)):
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

    def __init__(self, decided: Sequence[Decision], designs: Mapping[str, DesignSettings]) -> None:
        cavities = max((one.cavities for one in designs.values()), default=1)
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
