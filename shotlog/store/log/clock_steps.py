"""The steps of the computer's clock, and which rows came before each: told by the numbers of the rows, by no time."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

import numpy as np
from numpy.typing import NDArray
from sqlalchemy import Connection, RowMapping, select

from shotlog.clock import parse_utc
from shotlog.records import ClockStep
from shotlog.store.log import schema
from shotlog.store.log.log import Log

__all__ = ["Steady", "clock_steps", "newest_time", "steady_seconds", "untold_steps"]


@dataclass(frozen=True, slots=True)
class _Step:
    step_s: float
    newest_shot: int
    newest_weighing: int
    newest_link: int


class Steady:
    """Times as the clock would have shown them had nobody set it since the first row, in seconds."""

    def __init__(self, connection: Connection) -> None:
        table = schema.clock_steps
        names = (table.c.step_s, table.c.newest_shot, table.c.newest_weighing, table.c.newest_link)
        self._steps = [_Step(*row) for row in connection.execute(select(*names).order_by(table.c.id))]

    def shot(self, row_id: int, time: str) -> float:
        """Return when a shot was made, by the number of its row and the time in it."""
        return _seconds(time) - sum(one.step_s for one in self._steps if one.newest_shot < row_id)

    def weighing(self, row_id: int, time: str) -> float:
        """Return when something was weighed."""
        return _seconds(time) - sum(one.step_s for one in self._steps if one.newest_weighing < row_id)

    def link(self, row_id: int, time: str) -> float:
        """Return when a connection changed."""
        return _seconds(time) - sum(one.step_s for one in self._steps if one.newest_link < row_id)

    def shots(self, ids: NDArray[np.int64], times: Sequence[str]) -> NDArray[np.float64]:
        """Return when shots were made, by the numbers of their rows and the times in them, both (n_shots,)."""
        found = np.array([_seconds(time) for time in times], dtype=np.float64)
        for one in self._steps:
            found[ids > one.newest_shot] -= one.step_s
        return found

    @property
    def stepped(self) -> bool:
        """Whether the clock was ever set."""
        return bool(self._steps)

    def set_since_shot(self, row_id: int) -> float:
        """Return by how much the clock was set after a shot came, in seconds."""
        return sum(one.step_s for one in self._steps if one.newest_shot >= row_id)


def clock_steps(log: Log, newest: int | None = None) -> list[ClockStep]:
    """Return every step of the clock, in the order of the log, or the `newest` so many."""
    table = schema.clock_steps
    with log.reading() as connection:
        rows = connection.execute(select(table).order_by(table.c.id.desc()).limit(newest)).mappings().all()
    return [_record(row) for row in reversed(rows)]


def steady_seconds(
    connection: Connection, press: str, times: Sequence[str], first: int, last: int
) -> NDArray[np.float64]:
    """Return when shots `first` to `last` of a press were made, of which `times` are the stamps, as if nobody had ever
    set the clock; (n_shots,), in seconds.
    """
    steady, table = Steady(connection), schema.shots
    if not steady.stepped:
        return np.array([_seconds(time) for time in times], dtype=np.float64)
    query = select(table.c.id).join(schema.presses).where(schema.presses.c.name == press)
    query = query.where(table.c.shot >= first, table.c.shot <= last).order_by(table.c.shot)
    return steady.shots(np.array(connection.execute(query).scalars().all(), dtype=np.int64), times)


def untold_steps(log: Log, presses: Sequence[str]) -> dict[str, list[ClockStep]]:
    """Return by press the steps that none of its shots has followed yet, oldest first."""
    table, shots = schema.clock_steps, schema.shots
    found: dict[str, list[ClockStep]] = {}
    with log.reading() as connection:
        rows = connection.execute(select(table).order_by(table.c.id)).mappings().all()
        for press in presses if rows else ():
            query = select(shots.c.id).join(schema.presses).where(schema.presses.c.name == press)
            newest = connection.execute(query.order_by(shots.c.shot.desc()).limit(1)).scalar()
            if newest is not None:
                found[press] = [_record(row) for row in rows if row["newest_shot"] >= newest]
    return found


def newest_time(log: Log, presses: Sequence[str]) -> datetime | None:
    """Return the newest time that a logger of some presses has written, of their last shots and connections."""
    names, times = schema.presses.c.name, []
    with log.reading() as connection:
        for press in presses:
            for table, order in ((schema.shots, schema.shots.c.shot), (schema.links, schema.links.c.id)):
                query = select(table.c.time).join(schema.presses).where(names == press).order_by(order.desc()).limit(1)
                times += list(connection.execute(query).scalars())
    return max(map(parse_utc, times), default=None)


def _record(row: RowMapping) -> ClockStep:
    return ClockStep(parse_utc(row["time"]), row["step_s"], row["detail"], row["at_least"])


def _seconds(time: str) -> float:
    return parse_utc(time).timestamp()
