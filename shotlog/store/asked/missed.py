"""Shots the press counted that are still not in the log: what the gaps hold, less what was taken in later.

A gap is never taken back: that nobody was looking stays on record. Shots recorded elsewhere and taken in later fill it
all the same, and a shot that is there is not missed.
"""

from bisect import bisect_left, bisect_right
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from sqlalchemy import or_, select

from shotlog.records import EVER, Gap
from shotlog.store.asked import state
from shotlog.store.log import schema
from shotlog.store.log.log import Log
from shotlog.store.log.prepared import of_press

__all__ = ["filled", "stored_shots", "unseen"]

_CHUNK = 2000
_AT_ONCE = 100
"""Gaps asked for at once: a database takes only so many terms."""


def unseen(log: Log, press: str, first: int = 0, last: int = EVER) -> list[Gap]:
    """Return what is still missing of the gaps that touch shots `first` to `last`, in order.

    A gap that was filled in the middle comes back as two, each with the time and reason of the whole. Of how many more
    or fewer it may have been, the last one tells.
    """
    gaps = state.gaps(log, press, first, last)
    there = _there(log, press, gaps)
    found: list[Gap] = []
    for gap in gaps:
        start, pieces = gap.first, len(found)
        for shot in [*there[bisect_left(there, gap.first) : bisect_right(there, gap.last)], gap.last + 1]:
            if shot > start:
                found.append(replace(gap, first=start, last=shot - 1, least=None, most=None))
            start = shot + 1
        if len(found) > pieces and gap.most is not None:
            n = found[-1].n_shots
            found[-1] = replace(found[-1], least=max(0, n - gap.n_fewer), most=n + gap.n_more)
    return found


def filled(log: Log, press: str, first: int = 0, last: int = EVER) -> list[tuple[int, int]]:
    """Return the spans of shots that were missed and taken in later, first and last of each."""
    spans: list[tuple[int, int]] = []
    for shot in _there(log, press, state.gaps(log, press, first, last)):
        if spans and spans[-1][1] == shot - 1:
            spans[-1] = (spans[-1][0], shot)
        else:
            spans.append((shot, shot))
    return spans


def stored_shots(log: Log, press: str, last: int) -> NDArray[np.int64]:
    """Return the numbers of the stored shots up to `last`, in order: an index of the table has them, and is enough."""
    table = schema.shots
    query = select(table.c.shot).where(of_press(table, press), table.c.shot <= last).order_by(table.c.shot)
    with log.reading() as connection:
        cursor = connection.execute(query).cursor
        some = iter(lambda: cursor.fetchmany(_CHUNK), [])
        return np.concatenate([np.empty(0, np.int64), *(np.array(one, np.int64)[:, 0] for one in some)])


def _there(log: Log, press: str, gaps: list[Gap]) -> list[int]:
    """Return the stored shots that lie within gaps, in order.

    Asked range by range: joined the other way round, every shot of a long log would be held against the gaps.
    """
    table, found = schema.shots, set[int]()
    with log.reading() as connection:
        number = connection.execute(select(schema.presses.c.id).where(schema.presses.c.name == press)).scalar()
        for start in range(0, len(gaps), _AT_ONCE):
            # the press stands in every range: else a file is gone through from end to end, each shot against all ranges
            within = (
                (table.c.press_id == number) & table.c.shot.between(gap.first, gap.last)
                for gap in gaps[start : start + _AT_ONCE]
            )
            found.update(connection.execute(select(table.c.shot).where(or_(*within))).scalars())
    return sorted(found)
