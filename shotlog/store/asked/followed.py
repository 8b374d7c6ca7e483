"""Whether a log goes on from another one, and since when and why: it names the log it follows, and that one's head."""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select

from shotlog.clock import parse_utc
from shotlog.store.log import schema
from shotlog.store.log.log import Log

__all__ = ["Followed", "followed"]


@dataclass(frozen=True, slots=True)
class Followed:
    """The log that one goes on from: its name, or that of its file, and its last known digest, None if not known."""

    log: str
    digest: str | None
    reason: str
    time: datetime


def followed(log: Log) -> list[Followed]:
    """Return the logs that a log goes on from, the newest last; none for most."""
    table = schema.logs
    with log.reading() as connection:
        rows = connection.execute(select(table).where(table.c.follows.is_not(None)).order_by(table.c.id)).all()
    return [Followed(row.follows, row.follows_digest, row.reason, parse_utc(row.time)) for row in rows]
