"""How far a log was shipped to a centre, as the edge remembers it: a cache. The centre itself says how far it is."""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select

from shotlog.clock import parse_utc
from shotlog.errors import UsageError
from shotlog.store.asked.cursors import save_cursor
from shotlog.store.asked.log_place import DIGITS, Place
from shotlog.store.asked.presence import touch
from shotlog.store.log import schema
from shotlog.store.log.identity import Head, read_head
from shotlog.store.log.log import Log

__all__ = ["Shipped", "note_shipped", "note_trouble", "shipped"]

_BEFORE = "centre: "
"""What stands before the name of a centre where cursors and presence are kept."""


@dataclass(frozen=True, slots=True)
class Shipped:
    """How it stands with one centre, `to` it is shipped.

    `link`: the newest link that was there at `time`; None where none ever was. `waits`: the links that came since, as
    near as their numbers tell. `why` it cannot be reached since `since`; empty where it can, or nobody tries.
    """

    to: str
    link: int | None
    time: datetime | None
    waits: int
    why: str = ""
    since: datetime | None = None


def note_shipped(log: Log, to: str, head: Head, now: datetime) -> None:
    """Remember that a centre has all up to a link; raises StoreError where the log cannot be written now."""
    ledger = schema.ledger
    with log.reading() as connection:
        rows = connection.execute(select(ledger.c.rows).where(ledger.c.id == head.number)).scalar() or ""
    save_cursor(log, f"{_BEFORE}{to}", Place(head.number, len(rows.split()), head.digest[:DIGITS]), now)


def note_trouble(log: Log, to: str, why: str, since: datetime) -> None:
    """Remember why a centre cannot be reached, empty where it can; raises StoreError as `note_shipped`."""
    touch(log, f"{_BEFORE}{to}", why, since)


def shipped(log: Log) -> list[Shipped]:
    """Return how it stands with each centre that the log was ever shipped to."""
    cursors, presence = schema.cursors, schema.presence
    with log.reading() as connection:
        newest = read_head(connection)
        sent = connection.execute(select(cursors).where(cursors.c.receiver.startswith(_BEFORE))).all()
        told = connection.execute(select(presence).where(presence.c.role.startswith(_BEFORE))).all()
    last = 0 if newest is None else newest.number
    places = {row.receiver: (_link(row.position), parse_utc(row.time)) for row in sent}
    troubles = {row.role: (row.detail, parse_utc(row.time)) for row in told if row.detail}
    return [
        Shipped(
            key.removeprefix(_BEFORE),
            link := places[key][0] if key in places else None,
            places[key][1] if key in places else None,
            max(last - (link or 0), 0),
            *troubles.get(key, ("", None)),
        )
        for key in sorted({*places, *troubles})
    ]


def _link(position: str) -> int | None:
    try:
        return Place.of(position).link
    except UsageError:
        return None
