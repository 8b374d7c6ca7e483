"""The starts of the recorder as the log keeps them, and by which of them the last shot of a press was read."""

import json
from typing import Any

from sqlalchemy import Connection, select

from shotlog.clock import parse_utc
from shotlog.records import EVER, Start
from shotlog.store.log import schema
from shotlog.store.log.log import Log

__all__ = ["map_before", "starts"]

_NAMES = ("release", "basis", "config", "digest", "maps", "host", "process")


def starts(log: Log, newest: int | None = None) -> list[Start]:
    """Return every start, in the order of the log, or the `newest` so many."""
    table = schema.starts
    with log.reading() as connection:
        rows = connection.execute(select(table).order_by(table.c.id.desc()).limit(newest)).mappings().all()
    return [Start(parse_utc(row["time"]), **{name: row[name] for name in _NAMES}) for row in reversed(rows)]


def map_before(log: Log, press: str, channels: set[str], before: int = EVER) -> dict[str, dict[str, Any]]:
    """Return how channels of a press were read when it made its last shot before shot `before`, or at the newest start
    before that which knew them. A start that no shot of the press has followed read none of its values.
    """
    found: dict[str, dict[str, Any]] = {}
    with log.reading() as connection:
        newest, table = _newest_shot(connection, press, before), schema.starts
        query = select(table.c.maps).where(table.c.newest_shot < newest).order_by(table.c.id.desc())
        for maps in connection.execute(query.execution_options(yield_per=20)).scalars():
            known = json.loads(maps).get(press, {})
            found |= {name: known[name] for name in channels - found.keys() if name in known}
            if found.keys() == channels:
                break
    return found


def _newest_shot(connection: Connection, press: str, before: int) -> int:
    """Return the number of the row of a press's last shot before a shot, 0 before the first."""
    table = schema.shots
    query = select(table.c.id).join(schema.presses).where(schema.presses.c.name == press, table.c.shot < before)
    return connection.execute(query.order_by(table.c.shot.desc()).limit(1)).scalar() or 0
