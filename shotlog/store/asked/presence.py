"""Who is at work on the log now, and what the last shot came as: a row a role, written over; not part of the record."""

from collections.abc import Mapping
from datetime import datetime

from sqlalchemy import bindparam, delete, select

from shotlog.clock import iso_utc, parse_utc
from shotlog.records import Shot
from shotlog.store.log import schema
from shotlog.store.log.log import Log
from shotlog.store.log.prepared import Prepared, add_row
from shotlog.store.log.transaction import Transaction

__all__ = ["came_as", "forget", "last_came", "last_seen", "touch", "touch_all"]

_FORGET = Prepared(
    delete(schema.presence).where(schema.presence.c.role == bindparam("role")).returning(schema.presence.c.id)
)


def touch(log: Log, role: str, detail: str, time: datetime) -> None:
    """Say that `role` (such as ``run``) is at work."""
    touch_all(log, {role: detail}, time)


def touch_all(log: Log, details: Mapping[str, str], time: datetime) -> None:
    """Say it of several roles, each with its detail, in one transaction."""
    table, moment = schema.presence, iso_utc(time)
    with log.transaction() as work:
        for role, detail in details.items():
            _FORGET.run(work.connection, {"role": role})
            add_row(work.connection, table, {"role": role, "detail": detail, "time": moment})


def forget(work: Transaction, role: str) -> None:
    """Forget that `role` was ever at work, within a transaction."""
    work.connection.execute(delete(schema.presence).where(schema.presence.c.role == role))


def last_seen(log: Log, role: str) -> datetime | None:
    """Return when `role` last said that it was at work, or None."""
    table = schema.presence
    with log.reading() as connection:
        found = connection.execute(select(table.c.time).where(table.c.role == role)).scalar()
    return parse_utc(found) if found else None


def came_as(shot: Shot) -> tuple[str, str]:
    """Return role and detail under which what a shot came as is noted with `touch`."""
    return f"shot of {shot.press}", f"{shot.shot} {shot.came}"


def last_came(log: Log, press: str) -> tuple[int, str] | None:
    """Return the last shot of a press of which it is noted what it came as, and that; it may lag some seconds."""
    table = schema.presence
    with log.reading() as connection:
        found = connection.execute(select(table.c.detail).where(table.c.role == f"shot of {press}")).scalar()
    if found is None:
        return None
    shot, _, came = found.partition(" ")
    return int(shot), came
