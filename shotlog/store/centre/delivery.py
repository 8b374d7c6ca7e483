"""Bringing links of an edge to a centre: rows and how far the edge is in one transaction, so that either is there.

Rows go by COPY. The row of the edge is locked first: two that ship one log at once take turns, and the second finds
that the first was further.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any, cast

from sqlalchemy import Connection, Table, delete, func, insert, or_, select, update
from sqlalchemy.exc import DBAPIError

from shotlog.errors import CentreAway
from shotlog.store.centre.batch import BEGINNING, Batch
from shotlog.store.centre.months import Months
from shotlog.store.centre.tables import AT_CENTRE, edges, gone
from shotlog.store.log import schema
from shotlog.store.log.identity import Head

__all__ = ["Moved", "Present", "deliver", "say_present"]

Present = Mapping[str, Mapping[str, Any]]
"""Rows of `presence` by role."""


class Moved(CentreAway):
    """Somebody else shipped the same log meanwhile: how far it is has to be asked again."""


def deliver(connection: Connection, number: int, batch: Batch, uid: str, behind: int, months: Months) -> None:
    """Bring a batch to the centre, within a transaction.

    Raises
    ------
    Moved
        The centre is not where the batch begins.
    """
    table = edges
    at = connection.execute(
        select(table.c.link, table.c.digest).where(table.c.number == number).with_for_update()
    ).one()
    if (Head(at.link, at.digest) if at.link else BEGINNING) != batch.after:
        raise Moved(f"edge {number}: another program shipped the same log meanwhile")
    months.ensure(connection)
    for name, rows in batch.rows.items():
        _copy(connection, AT_CENTRE[name], number, rows, schema.METADATA.tables[name])
    _copy(connection, AT_CENTRE["ledger"], number, batch.links, schema.ledger)
    if batch.gone is not None:
        connection.execute(insert(gone).values((number, *batch.gone)))
    values = {
        "links": table.c.links + len(batch.links),
        "link": batch.head.number,
        "digest": batch.head.digest,
        "uid": uid,
        "behind": behind,
        "last_seen": func.now(),
        "last_shipped": func.now(),
    }
    connection.execute(update(table).where(table.c.number == number).values(**values))


def say_present(connection: Connection, number: int, behind: int, before: Present, now: Present) -> None:
    """Say that the edge was heard, and who is at work there, where that changed; within a transaction."""
    table, at = AT_CENTRE["presence"], edges
    connection.execute(update(at).where(at.c.number == number).values(last_seen=func.now(), behind=behind))
    changed = [role for role in now if before.get(role) != now[role]]
    over = [*changed, *(role for role in before if role not in now)]
    if not before:
        connection.execute(delete(table).where(table.c.edge == number))
    elif over:
        stale = or_(table.c.role.in_(over), table.c.id.in_(now[role]["id"] for role in changed))
        connection.execute(delete(table).where(table.c.edge == number, stale))
    if changed:
        connection.execute(insert(table), [{"edge": number, **now[role]} for role in changed])


def _copy(connection: Connection, to: Table, number: int, rows: Iterable[Mapping[str, Any]], of: Table) -> None:
    """Copy rows, with the columns that the log of this release has; one of an earlier release had fewer."""
    names: Sequence[str] = list(of.columns.keys())
    quoted = ", ".join(f'"{name}"' for name in ("edge", *names))
    with _driver(connection) as cursor, cursor.copy(f'COPY {to.schema}."{to.name}" ({quoted}) FROM STDIN') as copy:
        for row in rows:
            copy.write_row((number, *(row[name] for name in names)))


@contextmanager
def _driver(connection: Connection) -> Iterator[Any]:
    """Return a cursor of the driver, which alone can copy; its errors come as those of the library."""
    base = connection.dialect.loaded_dbapi.Error
    try:
        with cast(Any, connection.connection.driver_connection).cursor() as cursor:
            yield cursor
    except base as error:
        raise DBAPIError.instance("COPY", None, error, base, dialect=connection.dialect) from error
