"""Reading shots: in order, with what was in force; and in bulk, as columns of numbers."""

from collections.abc import Iterator, Sequence
from datetime import datetime

import numpy as np
from numpy.typing import NDArray
from sqlalchemy import Connection, bindparam, func, select

from shotlog.channels import CHANNELS
from shotlog.clock import parse_utc
from shotlog.entries import DRY
from shotlog.records import EVER, LoggedShot
from shotlog.store.log import schema
from shotlog.store.log.corrections import standing
from shotlog.store.log.prepared import Asked, Prepared, Row, of_press
from shotlog.store.log.timeline import Timeline
from shotlog.store.log.weighed import read_weights, weights_in, weights_of, with_weight

__all__ = [
    "FIRST_TO_COME",
    "channels_present",
    "columns",
    "first_come",
    "first_shot_at",
    "last_shot",
    "logged_shots",
    "shot_from",
    "shots_after",
    "values_at",
]

FIRST_TO_COME = 0
"""The shot of an entry made before the press had any: it is in force from the first that comes, whatever its number."""

_CHUNK = 2000
_AT_ONCE = 250
"""Shots asked for at once where one after the other is worked on: mostly there is one, and seldom are all wanted."""


_OF_PRESS = of_press(schema.shots)
_LAST = Prepared(
    select(schema.shots.c.shot, schema.shots.c.counter).where(_OF_PRESS).order_by(schema.shots.c.shot.desc()).limit(1)
)
_OTHERS = schema.shots.alias("others")
_SHOT_BEFORE = (
    select(_OTHERS.c.shot)
    .where(of_press(_OTHERS), _OTHERS.c.shot <= bindparam("after"))
    .order_by(_OTHERS.c.shot.desc())
    .limit(1)
    .scalar_subquery()
)
_BETWEEN = Prepared(
    select(_SHOT_BEFORE, schema.shots.c.shot, schema.shots.c.time, *(schema.shots.c[name] for name in CHANNELS))
    .where(_OF_PRESS, schema.shots.c.shot > bindparam("after"), schema.shots.c.shot <= bindparam("upto"))
    .order_by(schema.shots.c.shot)
    .limit(bindparam("most"))
)


def last_shot(connection: Connection, press: str) -> tuple[int, int] | None:
    """Return the last stored shot of a press and its raw counter reading, or None."""
    found = _LAST.first(connection, press=press)
    return None if found is None else (found[0], found[1])


def first_come(connection: Connection, press: str) -> int:
    """Return the shot that came first into the log, 1 where none has: what `FIRST_TO_COME` stands for.

    One that stood there from before, and so made no part, was of no insert mounted since: then it is the shot after.
    Shots taken in later from a file may have lower numbers; nobody had mounted anything for those.
    """
    table, events = schema.shots, schema.events
    query = select(table.c.shot, table.c.press_id).join(schema.presses).where(schema.presses.c.name == press)
    found = connection.execute(query.order_by(table.c.id).limit(1)).first()
    if found is None:
        return 1
    dry = (events.c.press_id == found.press_id) & (events.c.at_shot == found.shot) & (events.c.kind == DRY)
    from_before = connection.execute(select(events.c.id).where(dry, standing(events)).limit(1)).first()
    return int(found.shot) + (from_before is not None)


def values_at(connection: Connection, press: str, shot: int) -> dict[str, float]:
    """Return the values that a press gave of one shot, none where it is not stored."""
    table = schema.shots
    query = select(table).join(schema.presses).where(schema.presses.c.name == press, table.c.shot == shot)
    row = connection.execute(query).mappings().first()
    return {} if row is None else {name: row[name] for name in CHANNELS if row[name] is not None}


def shots_after(press: str, after: int = -1, upto: int | None = None) -> tuple[Asked, Asked]:
    """Return the questions that `logged_shots` asks first, to be asked together with others."""
    shots = {"press": press, "after": after, "upto": EVER if upto is None else upto, "most": _AT_ONCE}
    return weights_of(press, after, upto), (_BETWEEN, shots)


def logged_shots(
    connection: Connection,
    press: str,
    timeline: Timeline,
    after: int = -1,
    upto: int | None = None,
    first: Sequence[list[Row]] | None = None,
) -> Iterator[LoggedShot]:
    """Yield the shots of a press after shot `after`, up to `upto` if given, each with what was in force.

    `first`: the answers to `shots_after`, where they were asked already.
    """
    asked = shots_after(press, after, upto)
    weighed, rows = first or [statement.run(connection, given) for statement, given in asked]
    weights, (between, given) = weights_in(weighed), asked[1]
    # what was entered since the last stored shot belongs to the next one
    before = -EVER if not rows or rows[0][0] is None else int(rows[0][0])
    while rows:
        in_force = timeline.halves_of(row[1] for row in rows)
        for (_, shot, time, *values), halves in zip(rows, in_force, strict=True):
            reported = {name: value for name, value in zip(CHANNELS, values, strict=True) if value is not None}
            yield LoggedShot(
                press,
                shot,
                parse_utc(time),
                with_weight(reported, weights.get(shot)),
                halves,
                timeline.events_between(before, shot),
                timeline.removed_between(before, shot),
                timeline.about_between(before, shot),
            )
            before = after = shot
        rows = between.run(connection, {**given, "after": after}) if len(rows) == _AT_ONCE else []


def channels_present(connection: Connection, presses: Sequence[str]) -> set[str]:
    """Return the channels that were measured at least once on any of the presses."""
    table = schema.shots
    query = (
        select(*(func.count(table.c[name]) for name in CHANNELS))
        .join(schema.presses)
        .where(schema.presses.c.name.in_(presses))
    )
    counts = connection.execute(query).one()
    weights = [weight for press in presses for weight in read_weights(connection, press).values()]
    weighed = {"part_weight"} if weights else set()
    balanced = {"mass_balance"} if any(weight.g_per_mm is not None for weight in weights) else set()
    return {name for name, count in zip(CHANNELS, counts, strict=True) if count} | weighed | balanced


def first_shot_at(connection: Connection, press: str, moment: datetime, first: int, last: int) -> int:
    """Return the first shot of `first` to `last` made at `moment` or later, `last` + 1 where none was.

    Where the clock was set back meanwhile it is one of the shots at which the times pass the moment.
    """
    low, high = first, last + 1
    while low < high:
        middle = (low + high) // 2
        found = shot_from(connection, press, middle, high - 1)
        if found is None or found[1] >= moment:
            high = middle
        else:
            low = found[0] + 1
    return low


def shot_from(connection: Connection, press: str, shot: int, last: int) -> tuple[int, datetime] | None:
    """Return number and time of the first stored shot from `shot` on, looked for in steps that grow."""
    width = 1
    while shot <= last:
        shots, times, _ = columns(connection, press, (), shot, min(last, shot + width - 1))
        if len(shots):
            return int(shots[0]), parse_utc(times[0])
        shot, width = shot + width, min(width * 4, _CHUNK)
    return None


def columns(
    connection: Connection, press: str, channels: Sequence[str], first: int = 0, last: int = EVER, timed: bool = True
) -> tuple[NDArray[np.int64], list[str], NDArray[np.float64]]:
    """Return shot numbers, times (text; none where not `timed`) and values, shape (n_shots, n_channels), NaN where
    missing.

    A weight from a balance counts as the shot's own.

    Reads on the driver's own cursor: the library's rows would cost twenty times as much over a long history. And some
    rows at a time: as rows, numbers take ten times the room they take in the table.
    """
    table = schema.shots
    query = (
        select(table.c.shot, *(table.c[name] for name in channels), *([table.c.time] if timed else []))
        .join(schema.presses)
        .where(schema.presses.c.name == press, table.c.shot >= first, table.c.shot <= last)
        .order_by(table.c.shot)
    )
    cursor, n = connection.execute(query).cursor, len(channels)
    shots, times, values = [np.empty(0, dtype=np.int64)], [], [np.empty((0, n))]
    while rows := cursor.fetchmany(_CHUNK):
        shots.append(np.array([row[0] for row in rows], dtype=np.int64))
        if timed:
            times += [row[-1] for row in rows]
        values.append(np.array([row[1 : n + 1] for row in rows], dtype=np.float64).reshape(len(rows), n))
    numbers, table_of = np.concatenate(shots), np.concatenate(values)
    if {"part_weight", "mass_balance"} & set(channels):
        _fill_in_weights(connection, press, channels, numbers, table_of)
    return numbers, times, table_of


def _fill_in_weights(
    connection: Connection, press: str, channels: Sequence[str], shots: NDArray[np.int64], values: NDArray[np.float64]
) -> None:
    """Put the weights that balances gave, and what follows from them, where the press gave none."""
    weights = read_weights(connection, press, int(shots[0]) - 1, int(shots[-1])) if len(shots) else {}
    if not weights:
        return
    table = schema.shots
    query = (
        select(table.c.shot, table.c.cushion)
        .join(schema.presses)
        .where(schema.presses.c.name == press, table.c.shot.between(min(weights), max(weights)))
        .where(table.c.cushion.is_not(None))
    )
    cushion = {row.shot: row.cushion for row in connection.execute(query)}
    for n, shot in enumerate(shots.tolist()):
        if shot in weights:
            own = {name: float(values[n, k]) for k, name in enumerate(channels) if not np.isnan(values[n, k])}
            known = {"cushion": float(cushion[shot])} if shot in cushion else {}
            filled = with_weight({**known, **own}, weights[shot])
            values[n] = [filled.get(name, np.nan) for name in channels]
