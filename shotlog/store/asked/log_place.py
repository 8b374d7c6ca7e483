"""A place in a log: what came before it is passed, what came after it is still to be told to somebody.

Every link of the hash chain names the rows of a transaction, so that whoever follows the log has to remember one place
in it, whatever happened meanwhile: a clock that was set, an entry that reaches back, shots taken in from elsewhere.
"""

import re
from dataclasses import dataclass
from datetime import datetime
from typing import Self

from sqlalchemy import Connection, Table, or_, select

from shotlog.clock import iso_utc
from shotlog.errors import UsageError
from shotlog.store.log import schema

__all__ = ["DIGITS", "Place", "newest_place", "place_of", "place_since", "stands_in", "start_place"]

DIGITS = 8
"""Of a digest: enough to tell one link from another of the same number, in a log that was written on otherwise."""
_PLACE = re.compile(r"(\d{1,18})\.(\d{1,9})\.([0-9a-f]{8}|)")


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """All before link `link` and its first `row` rows are passed; `digest`: how the link's own begins.

    By that it is told from the same number in another log, or in an older copy that was written on otherwise.
    """

    link: int = 0
    row: int = 0
    digest: str = ""

    def __str__(self) -> str:
        """Return it as it is written down, and as the ``id`` of what came there."""
        return f"{self.link}.{self.row}.{self.digest}"

    @classmethod
    def of(cls, text: str) -> Self:
        """Return the place that was written down.

        Raises
        ------
        UsageError
            It is none.
        """
        found = _PLACE.fullmatch(text)
        if found is None:
            raise UsageError(f"id: given {text[:40]!r}, allowed: one that was handed out, such as 1842.1.9f3a2c1b")
        return cls(int(found[1]), int(found[2]), found[3])


def newest_place(connection: Connection) -> Place:
    """Return the place behind all that is in the log."""
    table = schema.ledger
    found = connection.execute(select(table).order_by(table.c.id.desc()).limit(1)).first()
    return Place() if found is None else Place(found.id, len(found.rows.split()), found.digest[:DIGITS])


def start_place(connection: Connection, process: int) -> Place:
    """Return the place before the newest start of the logger where it is of that process, else the newest."""
    table = schema.starts
    found = connection.execute(select(table.c.id, table.c.process).order_by(table.c.id.desc()).limit(1)).first()
    if found is None or found.process.partition(",")[0] != str(process):
        return newest_place(connection)
    return _before(connection, table, found.id)


def place_since(connection: Connection, moment: datetime) -> Place:
    """Return the place before the first shot that came of those made at `moment` or later; the newest for none."""
    table = schema.shots
    query = select(table.c.id).where(table.c.time >= iso_utc(moment)).order_by(table.c.id).limit(1)
    found = connection.execute(query).scalar()
    return newest_place(connection) if found is None else _before(connection, table, found)


def stands_in(connection: Connection, place: Place) -> bool:
    """Say whether a place is one of this log."""
    if place == Place():
        return True
    digest = connection.execute(select(schema.ledger.c.digest).where(schema.ledger.c.id == place.link)).scalar()
    return digest is not None and digest.startswith(place.digest)


def _before(connection: Connection, table: Table, row_id: int) -> Place:
    found = place_of(connection, table, row_id)
    return newest_place(connection) if found is None else Place(found.link, found.row - 1, found.digest)


def place_of(connection: Connection, table: Table, row_id: int) -> Place | None:
    """Return the place behind a row, None where no link names it; looked for from the end, where most of them lie."""
    name, rows = f"{table.name}:{row_id}", schema.ledger.c.rows
    named = or_(rows == name, rows.like(f"{name} %"), rows.like(f"% {name}"), rows.like(f"% {name} %"))
    query = select(schema.ledger).where(named).order_by(schema.ledger.c.id.desc()).limit(1)
    found = connection.execute(query).first()
    if found is None:
        return None
    return Place(found.id, found.rows.split().index(name) + 1, found.digest[:DIGITS])
