"""The steps of the computer's clock, and which rows came before each: told by the numbers of the rows, by no time."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection, RowMapping, select

from shotlog.clock import parse_utc
from shotlog.records import ClockStep
from shotlog.store.log import schema
from shotlog.store.log.log import Log

__all__ = ["Steady", "clock_steps", "newest_time", "untold_steps"]


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

    def set_since_shot(self, row_id: int) -> float:
        """Return by how much the clock was set after a shot came, in seconds."""
        return sum(one.step_s for one in self._steps if one.newest_shot >= row_id)


def clock_steps(log: Log) -> list[ClockStep]:
    """Return every step of the clock, in the order of the log."""
    table = schema.clock_steps
    with log.reading() as connection:
        rows = connection.execute(select(table).order_by(table.c.id)).mappings().all()
    return [_record(row) for row in rows]


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
