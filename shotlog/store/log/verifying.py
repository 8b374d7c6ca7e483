"""Whether the log is as it was written: its hash chain recomputed over every row of record."""

import re
from collections.abc import Sequence
from itertools import chain
from typing import Any

from sqlalchemy import Connection, RowMapping, func, select

from shotlog.errors import StoreDamaged
from shotlog.store.log import schema
from shotlog.store.log.chain import GENESIS, digest

__all__ = ["verify_chain"]

Row = tuple[str, dict[str, Any]]

_LINKS = 500
"""Links of the chain verified at a time."""


def verify_chain(connection: Connection, where: str) -> tuple[int, str]:
    """Return how many transactions the log `where` has and the digest of the last.

    Raises
    ------
    StoreDamaged
        A row was changed, added or taken out after it was written; says in which transaction.
    """
    before, n, covered = GENESIS, 0, 0
    links = connection.execute(
        select(schema.ledger).order_by(schema.ledger.c.id).execution_options(yield_per=_LINKS)
    ).mappings()
    for part in links.partitions():
        for link, rows in zip(part, _covered(connection, part, where), strict=True):
            if digest(before, rows) != link["digest"]:
                raise StoreDamaged(f"log {where}: transaction {link['id']} ({link['rows'][:80]}) was changed later")
            before, n, covered = link["digest"], n + 1, covered + len(rows)
    counts = [select(func.count()).select_from(table) for table in schema.RECORD_TABLES.values()]
    stored = sum(connection.execute(count).scalar_one() for count in counts)
    if stored != covered:
        raise StoreDamaged(f"log {where}: {stored} rows where the chain covers {covered}")
    return n, before


def _covered(connection: Connection, links: Sequence[RowMapping], where: str) -> list[list[Row]]:
    """Return the rows that each of the links covers, read table by table."""
    names = [[_name(word, where) for word in link["rows"].split()] for link in links]
    ids: dict[str, set[int]] = {}
    for name, row_id in chain.from_iterable(names):
        ids.setdefault(name, set()).add(row_id)
    found = {}
    for name, wanted in ids.items():
        table = schema.RECORD_TABLES[name]
        # Ids of one table lie close together in links that follow each other.
        query = select(table).where(table.c.id.between(min(wanted), max(wanted)))
        found[name] = {row["id"]: dict(row) for row in connection.execute(query).mappings() if row["id"] in wanted}
        if len(found[name]) < len(wanted):
            gone = min(wanted - found[name].keys())
            raise StoreDamaged(f"log {where}: row {gone} of {name} was taken out")
    return [[(name, found[name][row_id]) for name, row_id in link] for link in names]


def _name(word: str, where: str) -> tuple[str, int]:
    table, _, row_id = word.partition(":")
    if table not in schema.RECORD_TABLES or not re.fullmatch("[0-9]{1,18}", row_id):
        raise StoreDamaged(f"log {where}: the chain names {word!r}, which is no row of the record")
    return table, int(row_id)
