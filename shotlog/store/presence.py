"""Who is at work on the log now: a row a role, written over; not part of the record."""

from datetime import datetime

from sqlalchemy import delete, insert, select

from shotlog.clock import iso_utc, parse_utc
from shotlog.store import schema
from shotlog.store.log import Log

__all__ = ["last_seen", "touch"]


def touch(log: Log, role: str, detail: str, time: datetime) -> None:
    """Say that `role` (such as ``run``) is at work."""
    table = schema.presence
    with log.transaction() as work:
        work.connection.execute(delete(table).where(table.c.role == role))
        work.connection.execute(insert(table).values(role=role, detail=detail, time=iso_utc(time)))


def last_seen(log: Log, role: str) -> datetime | None:
    """Return when `role` last said that it was at work, or None."""
    table = schema.presence
    with log.reading() as connection:
        found = connection.execute(select(table.c.time).where(table.c.role == role)).scalar()
    return parse_utc(found) if found else None
