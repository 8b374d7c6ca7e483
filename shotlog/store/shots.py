"""Reading shots: in order, with what was in force; and in bulk, as columns of numbers."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray
from sqlalchemy import func, select

from shotlog.channels import CHANNELS
from shotlog.clock import parse_utc
from shotlog.records import LoggedShot
from shotlog.store import schema
from shotlog.store.timeline import Timeline

if TYPE_CHECKING:
    from shotlog.store.log import Log

__all__ = ["channels_present", "columns", "last_shot", "logged_shots"]

_CHUNK = 2000


def last_shot(connection: Any, press: str) -> tuple[int, int] | None:
    """Return the last stored shot of a press and its raw counter reading, or None."""
    table = schema.shots
    query = (
        select(table.c.shot, table.c.counter)
        .join(schema.presses)
        .where(schema.presses.c.name == press)
        .order_by(table.c.shot.desc())
        .limit(1)
    )
    found = connection.execute(query).first()
    return (found.shot, found.counter) if found else None


def logged_shots(
    connection: Any, press: str, timeline: Timeline, after: int = -1, upto: int | None = None
) -> Iterator[LoggedShot]:
    """Yield the shots of a press after shot `after`, up to `upto` if given, each with what was in force."""
    table = schema.shots
    query = (
        select(table)
        .join(schema.presses)
        .where(schema.presses.c.name == press, table.c.shot > after)
        .order_by(table.c.shot)
    )
    if upto is not None:
        query = query.where(table.c.shot <= upto)
    before = _shot_before(connection, press, after)
    for row in connection.execute(query.execution_options(yield_per=_CHUNK)).mappings():
        shot = row["shot"]
        yield LoggedShot(
            press,
            shot,
            parse_utc(row["time"]),
            {name: row[name] for name in CHANNELS if row[name] is not None},
            timeline.halves(shot),
            timeline.events_between(before, shot),
        )
        before = shot


def _shot_before(connection: Any, press: str, shot: int) -> int:
    """Return the last stored shot at or before `shot`: events since then belong to the next one."""
    table = schema.shots
    query = (
        select(table.c.shot)
        .join(schema.presses)
        .where(schema.presses.c.name == press, table.c.shot <= shot)
        .order_by(table.c.shot.desc())
        .limit(1)
    )
    found = connection.execute(query).scalar()
    return -(2**62) if found is None else int(found)


def channels_present(log: "Log", presses: Sequence[str]) -> set[str]:
    """Return the channels that were measured at least once on any of the presses."""
    table = schema.shots
    query = (
        select(*(func.count(table.c[name]) for name in CHANNELS))
        .join(schema.presses)
        .where(schema.presses.c.name.in_(presses))
    )
    with log.reading() as connection:
        counts = connection.execute(query).one()
    return {name for name, count in zip(CHANNELS, counts, strict=True) if count}


def columns(
    connection: Any, press: str, channels: Sequence[str], first: int = 0, last: int = 2**62
) -> tuple[NDArray[np.int64], list[str], NDArray[np.float64]]:
    """Return shot numbers, times (text) and values, shape (n_shots, n_channels), NaN where missing.

    Reads on the driver's own cursor: the library's rows would cost twenty times as much over a long history.
    """
    table = schema.shots
    query = (
        select(table.c.shot, table.c.time, *(table.c[name] for name in channels))
        .join(schema.presses)
        .where(schema.presses.c.name == press, table.c.shot >= first, table.c.shot <= last)
        .order_by(table.c.shot)
    )
    rows = connection.execute(query).cursor.fetchall()
    shots = np.array([row[0] for row in rows], dtype=np.int64)
    values = np.array([row[2:] for row in rows], dtype=np.float64).reshape(len(rows), len(channels))
    return shots, [row[1] for row in rows], values
