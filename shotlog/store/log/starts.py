"""The starts of the recorder as the log keeps them, and by which of them the last shot of a press was read."""

import json
from typing import Any

from sqlalchemy import BigInteger, Connection, func, literal, select

from shotlog.clock import iso_utc, parse_utc
from shotlog.records import EVER, Start
from shotlog.store.log import schema
from shotlog.store.log.log import Log
from shotlog.store.log.transaction import START_COLUMNS

__all__ = ["map_before", "starts"]


def starts(log: Log, newest: int | None = None) -> list[Start]:
    """Return every start, in the order of the log, or the `newest` so many."""
    table = schema.starts
    with log.reading() as connection:
        rows = connection.execute(select(table).order_by(table.c.id.desc()).limit(newest)).mappings().all()
    return [Start(parse_utc(row["time"]), **{name: row[name] for name in START_COLUMNS}) for row in reversed(rows)]


def map_before(
    log: Log, press: str, channels: set[str], began: Start | None = None
) -> tuple[dict[str, dict[str, Any]], int | None]:
    """Return how channels of a press were read when it made its last shot before the start `began`, or at the newest
    start before that which knew them; and the first shot since that start, None where none is in the log.

    A start that no shot of the press has followed read none of its values. One that is not in the log yet comes after
    all that is.
    """
    found: dict[str, dict[str, Any]] = {}
    with log.reading() as connection:
        upto, table = _newest_at(connection, began), schema.starts
        newest, first = _shots_about(connection, press, upto)
        query = select(table.c.maps).where(table.c.newest_shot < newest).order_by(table.c.id.desc())
        with connection.execute(query.execution_options(yield_per=20)) as rows:
            for maps in rows.scalars():
                known = json.loads(maps).get(press, {})
                found |= {name: known[name] for name in channels - found.keys() if name in known}
                if found.keys() == channels:
                    break
    return found, first


def _newest_at(connection: Connection, began: Start | None) -> int:
    """Return the number of the newest row of `shots` at a start."""
    if began is None:
        return EVER
    table = schema.starts
    same = (table.c.time == iso_utc(began.time)) & (table.c.host == began.host) & (table.c.process == began.process)
    found = connection.execute(select(table.c.newest_shot).where(same).order_by(table.c.id.desc()).limit(1)).scalar()
    return EVER if found is None else found


def _shots_about(connection: Connection, press: str, upto: int) -> tuple[int, int | None]:
    """Return the row of a press's last shot up to a row, 0 for none, and the number of its first shot after that."""
    table, end = schema.shots, literal(upto, BigInteger)  # EVER is beyond the integers of a server
    query = select(table.c.id).join(schema.presses).where(schema.presses.c.name == press, table.c.id <= end)
    newest = connection.execute(query.order_by(table.c.shot.desc()).limit(1)).scalar() or 0
    after = select(func.min(table.c.shot)).join(schema.presses)
    first = connection.execute(after.where(schema.presses.c.name == press, table.c.id > end)).scalar()
    return newest, first
