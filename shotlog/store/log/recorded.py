"""The shots of a press as the columns of a recording, some thousand at a time: what exports and frames are made of.

The same as `logged_shots` says shot by shot, at a fraction of the cost: the columns come from the database as they
are, who was mounted is asked once for all shots until it changes, and what was noted only where something was.
"""

import re
from bisect import bisect_left
from collections.abc import Collection, Iterator, Mapping, Sequence
from functools import cache
from typing import Any

from sqlalchemy import Connection, bindparam, func, select

from shotlog.channels import CHANNELS
from shotlog.clock import iso_utc, parse_utc
from shotlog.recording import OF_HALVES, Columns, event_cell, halves_cells
from shotlog.records import EVER, InForce
from shotlog.store.log import schema
from shotlog.store.log.prepared import Prepared, of_press
from shotlog.store.log.timeline import Timeline
from shotlog.store.log.weighed import read_weights, with_weight

__all__ = ["recorded"]

_AT_ONCE = 2000

_BEFORE = Prepared(
    select(func.max(schema.shots.c.shot)).where(of_press(schema.shots), schema.shots.c.shot <= bindparam("after"))
)


@cache
def _asked(channels: tuple[str, ...]) -> Prepared:
    """Return the question for shots with the values of some channels; a cell that was never filled costs as well."""
    table = schema.shots
    return Prepared(
        select(
            *(table.c.shot, table.c.time, table.c.counter, schema.trials.c.name.label("trial")),
            *(table.c[name] for name in channels),
        )
        .select_from(table.outerjoin(schema.trials))
        .where(of_press(table), table.c.shot > bindparam("after"), table.c.shot <= bindparam("upto"))
        .order_by(table.c.shot)
        .limit(bindparam("most"))
    )


def recorded(
    connection: Connection,
    press: str,
    timeline: Timeline,
    after: int = -1,
    upto: int | None = None,
    channels: Collection[str] = CHANNELS.keys(),
) -> Iterator[Columns]:
    """Yield the shots of a press after shot `after`, up to `upto` if given, as columns.

    Beside those of a recording they have ``counter``, what the press showed, and ``trial``, the name or None.
    `channels`: those asked for, with all that were ever measured among them.
    """
    names = tuple(name for name in CHANNELS if name in channels)
    asked = _asked(names)
    stored, last = _BEFORE.scalar(connection, press=press, after=after), EVER if upto is None else upto
    before = -EVER if stored is None else int(stored)  # what was entered since belongs to the next one
    while rows := asked.all(connection, press=press, after=after, upto=last, most=_AT_ONCE):
        shots, times, counters, trials, *values = map(list, zip(*rows, strict=True))
        columns = {"press": [press] * len(shots), "shot": shots, "time": _times(times)}
        columns |= zip(OF_HALVES, map(list, zip(*_halves(timeline, shots), strict=True)), strict=True)
        columns |= {"event": _events(timeline, before, shots), "counter": counters, "trial": trials}
        columns |= zip(names, values, strict=True)
        _weigh(connection, press, names, columns)
        yield columns
        before = after = shots[-1]
        if len(rows) < _AT_ONCE:
            return


_AS_WRITTEN = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{6}Z", re.ASCII)


def _times(texts: Sequence[str]) -> list[str]:
    """Return times as a recording has them, which is how the log keeps them."""
    return [text if _AS_WRITTEN.fullmatch(text) else iso_utc(parse_utc(text)) for text in texts]


def _halves(timeline: Timeline, shots: Sequence[int]) -> Iterator[tuple[str, ...]]:
    """Yield the cells of the inserts that made each shot."""
    before: Mapping[str, InForce] | None = None
    cells: tuple[str, ...] = ()
    for halves in timeline.halves_of(shots):
        if halves is not before:
            before, cells = halves, halves_cells(halves)
        yield cells


def _events(timeline: Timeline, before: int, shots: Sequence[int]) -> list[str]:
    """Return the cell of what was noted and taken out since the shot before each; `before`: that of the first."""
    cells = [""] * len(shots)
    for n in {bisect_left(shots, shot) for shot in timeline.told_between(before, shots[-1])}:
        since = (shots[n - 1] if n else before), shots[n]
        events = timeline.events_between(*since)
        about = timeline.about_between(*since) or ("",) * len(events)
        noted = ((kind, text, half) for (kind, text), half in zip(events, about, strict=True))
        cells[n] = event_cell(timeline.removed_between(*since), noted)
    return cells


def _weigh(connection: Connection, press: str, names: Collection[str], columns: dict[str, list[Any]]) -> None:
    """Put the weights of balances, and what follows from them, where the press gave none."""
    shots = columns["shot"]
    for shot, weight in read_weights(connection, press, shots[0] - 1, shots[-1]).items():
        n = bisect_left(shots, shot)
        if n < len(shots) and shots[n] == shot:
            known = {name: columns[name][n] for name in names if columns[name][n] is not None}
            found = with_weight(known, weight)
            for name in names:
                columns[name][n] = found.get(name)
