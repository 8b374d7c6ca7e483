"""Shots the press counted that are still not in the log: what the gaps hold, less what was taken in later.

A gap is never taken back: that nobody was looking stays on record. Shots recorded elsewhere and taken in later fill it
all the same, and a shot that is there is not missed.
"""

from bisect import bisect_left, bisect_right
from dataclasses import replace

from sqlalchemy import select

from shotlog.records import Gap
from shotlog.store import schema, state
from shotlog.store.log import Log

__all__ = ["filled", "unseen"]

_EVER = 2**62


def unseen(log: Log, press: str, first: int = 0, last: int = _EVER) -> list[Gap]:
    """Return what is still missing of the gaps that touch shots `first` to `last`, in order.

    A gap that was filled in the middle comes back as two, each with the time and reason of the whole.
    """
    gaps = state.gaps(log, press, first, last)
    there = _there(log, press, gaps)
    found = []
    for gap in gaps:
        start = gap.first
        for shot in [*there[bisect_left(there, gap.first) : bisect_right(there, gap.last)], gap.last + 1]:
            if shot > start:
                found.append(replace(gap, first=start, last=shot - 1))
            start = shot + 1
    return found


def filled(log: Log, press: str, first: int = 0, last: int = _EVER) -> list[tuple[int, int]]:
    """Return the spans of shots that were missed and taken in later, first and last of each."""
    spans: list[tuple[int, int]] = []
    for shot in _there(log, press, state.gaps(log, press, first, last)):
        if spans and spans[-1][1] == shot - 1:
            spans[-1] = (spans[-1][0], shot)
        else:
            spans.append((shot, shot))
    return spans


def _there(log: Log, press: str, gaps: list[Gap]) -> list[int]:
    """Return the stored shots that lie within gaps, in order."""
    if not gaps:
        return []
    shots, table = schema.shots, schema.gaps
    within = (table.c.press_id == shots.c.press_id) & shots.c.shot.between(table.c.first, table.c.last)
    query = (
        select(shots.c.shot)
        .distinct()
        .select_from(shots.join(schema.presses).join(table, within))
        .where(schema.presses.c.name == press, shots.c.shot.between(gaps[0].first, max(gap.last for gap in gaps)))
        .order_by(shots.c.shot)
    )
    with log.reading() as connection:
        return [int(shot) for shot in connection.execute(query).scalars()]
