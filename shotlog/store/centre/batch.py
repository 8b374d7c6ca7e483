"""What goes to a centre at a time: some links of an edge's chain in their order, with the rows that they cover.

Nothing goes out that the chain contradicts: each digest is worked out anew from the rows as they are read.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, RowMapping, func, select

from shotlog.errors import StoreDamaged
from shotlog.store.log import schema
from shotlog.store.log.chain import GENESIS, digest
from shotlog.store.log.covered import archived, covered
from shotlog.store.log.identity import Head
from shotlog.store.log.log import Log

__all__ = ["BEGINNING", "Batch", "batches", "head_at", "links_between", "newest_number"]

BEGINNING = Head(0, GENESIS)
"""The place before the first link."""

_LINKS = 1000
_ROWS = 5000
"""Links, and rows, that go at a time, at most: a link that covers more goes alone. Some MB in memory."""


@dataclass(frozen=True, slots=True)
class Batch:
    """Links that follow `after`, their rows by table, and the head that they lead to.

    `gone`: the first and last link among them whose rows went into an archive, how many links and rows; None for none.
    """

    after: Head
    head: Head
    links: Sequence[Mapping[str, Any]]
    rows: Mapping[str, Sequence[Mapping[str, Any]]]
    gone: tuple[int, int, int, int] | None


def newest_number(connection: Connection) -> int:
    """Return the number of the newest link of a log, 0 for none."""
    return int(connection.execute(select(func.max(schema.ledger.c.id))).scalar() or 0)


def links_between(connection: Connection, after: int, upto: int) -> int:
    """Return how many links of a log have a number above `after`, and `upto` at most."""
    number = schema.ledger.c.id
    query = select(func.count()).select_from(schema.ledger).where(number > after, number <= upto)
    return int(connection.execute(query).scalar_one())


def head_at(connection: Connection, number: int) -> Head:
    """Return the newest link of a log up to a number; BEGINNING where there is none."""
    ledger = schema.ledger
    query = select(ledger.c.id, ledger.c.digest).where(ledger.c.id <= number).order_by(ledger.c.id.desc()).limit(1)
    found = connection.execute(query).first()
    return BEGINNING if found is None else Head(found.id, found.digest)


def batches(log: Log, after: Head) -> Iterator[Batch]:
    """Yield all that a log has behind a link, in order; each batch is read when it is asked for.

    Raises
    ------
    StoreDamaged
        A row was changed, or taken out, after it was written: it goes nowhere.
    StoreUnreachable
        The log cannot be read now.
    """
    while True:
        with log.reading() as connection:
            found = _read(connection, log.url, after)
        if found is None:
            return
        yield found
        after = found.head


def _read(connection: Connection, where: str, after: Head) -> Batch | None:
    ledger = schema.ledger
    query = select(ledger).where(ledger.c.id > after.number).order_by(ledger.c.id).limit(_LINKS)
    links = _first(connection.execute(query).mappings().all())
    if not links:
        return None
    before, gone, by_table = after.digest, list[RowMapping](), dict[str, list[Mapping[str, Any]]]()
    named = [(link["id"], link["rows"]) for link in links]
    for link, rows in zip(links, covered(connection, named, where, archived(connection)), strict=True):
        if rows is None:
            gone.append(link)
        elif digest(before, rows) != link["digest"]:
            raise StoreDamaged(
                f"log {where}: transaction {link['id']} ({link['rows'][:80]}) was changed later; neither it nor what "
                "came after it is shipped"
            )
        for table, row in rows or ():
            by_table.setdefault(table, []).append(row)
        before = link["digest"]
    n_gone = sum(_n_rows(link) for link in gone)
    span = (gone[0]["id"], gone[-1]["id"], len(gone), n_gone) if gone else None
    return Batch(after, Head(links[-1]["id"], before), [dict(link) for link in links], by_table, span)


def _first(links: Sequence[RowMapping]) -> Sequence[RowMapping]:
    """Return the first of some links, those that cover as many rows as go at a time; one in any case."""
    n_rows = 0
    for n, link in enumerate(links):
        n_rows += _n_rows(link)
        if n and n_rows > _ROWS:
            return links[:n]
    return links


def _n_rows(link: RowMapping) -> int:
    return len(link["rows"].split())
