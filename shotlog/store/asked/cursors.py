"""How far the log was sent to a receiver, and how it stands with the broker: caches, no part of the record."""

from datetime import datetime

from sqlalchemy import delete, insert, select

from shotlog.clock import iso_utc, parse_utc
from shotlog.errors import UsageError
from shotlog.store.asked.log_place import Place
from shotlog.store.asked.presence import touch
from shotlog.store.log import schema
from shotlog.store.log.log import Log

__all__ = ["broker_stands", "cursor", "note_broker", "save_cursor"]

_BROKER = "broker"


def cursor(log: Log, receiver: str) -> Place | None:
    """Return how far the log was sent to a receiver; None where nothing ever was, or what is kept there is no place."""
    table = schema.cursors
    with log.reading() as connection:
        found = connection.execute(select(table.c.position).where(table.c.receiver == receiver)).scalar()
    try:
        return None if found is None else Place.of(found)
    except UsageError:
        return None


def save_cursor(log: Log, receiver: str, place: Place, time: datetime) -> None:
    """Keep how far the log was sent to a receiver.

    Raises
    ------
    StoreError
        The log cannot be written now.
    """
    table = schema.cursors
    with log.transaction() as work:
        work.connection.execute(delete(table).where(table.c.receiver == receiver))
        row = {"receiver": receiver, "position": str(place), "time": iso_utc(time)}
        work.connection.execute(insert(table).values(**row))


def note_broker(log: Log, why: str, since: datetime) -> None:
    """Keep why the broker cannot be reached, empty where it is connected, and since when.

    Raises
    ------
    StoreError
        The log cannot be written now.
    """
    touch(log, _BROKER, why, since)


def broker_stands(log: Log) -> tuple[datetime, str] | None:
    """Return since when the broker stands as it does, and why it cannot be reached, empty where it is connected.

    None where nobody has tried yet.
    """
    table = schema.presence
    with log.reading() as connection:
        found = connection.execute(select(table.c.time, table.c.detail).where(table.c.role == _BROKER)).first()
    return None if found is None else (parse_utc(found.time), found.detail)
