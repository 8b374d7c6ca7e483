"""Whether the log is as it was written: its hash chain recomputed over every row of record.

The rows of a link may lie in the archive of a trial instead (`store.keeping.archive`). Such a link is taken at its
word: that its digest leads to the next one, that all of its rows are gone, and that as many went into archives as the
log says. Whether the archive holds them is asked of the archive, which is a log itself.
"""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import chain
from typing import Any

from sqlalchemy import Connection, RowMapping, func, select

from shotlog.errors import StoreDamaged
from shotlog.store.log import schema
from shotlog.store.log.chain import GENESIS, digest

__all__ = ["nobody", "verify_chain"]

Row = tuple[str, dict[str, Any]]

_LINKS = 500
"""Links of the chain verified at a time."""


@dataclass(slots=True)
class _Archived:
    """What the log says of rows that went into archives: links from and to, and how many of either went."""

    spans: list[tuple[int, int]]
    links: int
    rows: int
    found_links: int = 0
    found_rows: int = 0

    def may_hold(self, link: int) -> bool:
        return any(first <= link <= last for first, last in self.spans)


def nobody(text: str) -> None:
    """Tell nobody how far long work is."""


def verify_chain(connection: Connection, where: str, tell: Callable[[str], None] = nobody) -> tuple[int, str]:
    """Return how many transactions the log `where` has and the digest of the last.

    `tell` is told now and then how far it is.

    Raises
    ------
    StoreDamaged
        A row was changed, added or taken out after it was written; says in which transaction.
    """
    _check_no_strangers(connection, where)
    before, n, covered = GENESIS, 0, 0
    archived = _archived(connection)
    whole = connection.execute(select(func.count()).select_from(schema.ledger)).scalar_one()
    links = connection.execute(
        select(schema.ledger).order_by(schema.ledger.c.id).execution_options(yield_per=_LINKS)
    ).mappings()
    for part in links.partitions():
        tell(f"log {where}: transaction {n} of {whole} looked at")
        for link, rows in zip(part, _covered(connection, part, where, archived), strict=True):
            if rows is not None and digest(before, rows) != link["digest"]:
                raise StoreDamaged(f"log {where}: transaction {link['id']} ({link['rows'][:80]}) was changed later")
            before, n, covered = link["digest"], n + 1, covered + len(rows or ())
    counts = [select(func.count()).select_from(table) for table in schema.RECORD_TABLES.values()]
    stored = sum(connection.execute(count).scalar_one() for count in counts)
    if stored != covered:
        raise StoreDamaged(f"log {where}: {stored} rows where the chain covers {covered}")
    if (archived.found_links, archived.found_rows) != (archived.links, archived.rows):
        raise StoreDamaged(
            f"log {where}: {archived.found_rows} rows of {archived.found_links} transactions are gone, and "
            f"into archives went {archived.rows} of {archived.links}"
        )
    return n, before


def _check_no_strangers(connection: Connection, where: str) -> None:
    """Look for what could write or read otherwise than it seems: no release ever made such a thing."""
    if connection.dialect.name != "sqlite":
        return
    made = connection.exec_driver_sql("SELECT type, name FROM main.sqlite_master WHERE type IN ('trigger', 'view')")
    for kind, name in made:
        raise StoreDamaged(f"log {where}: a {kind} {name!r} was put into it, which no release of this program makes")


def _archived(connection: Connection) -> _Archived:
    table = schema.archives
    rows = connection.execute(select(table)).mappings().all()
    spans = [(row["first_link"], row["last_link"]) for row in rows]
    return _Archived(spans, sum(row["links"] for row in rows), sum(row["rows"] for row in rows))


def _covered(
    connection: Connection, links: Sequence[RowMapping], where: str, archived: _Archived
) -> list[list[Row] | None]:
    """Return the rows that each of the links covers, read table by table; None of a link that lies in an archive."""
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
    covered: list[list[Row] | None] = []
    for link, named in zip(links, names, strict=True):
        gone = [(name, row_id) for name, row_id in named if row_id not in found[name]]
        if gone and (len(gone) < len(named) or not archived.may_hold(link["id"])):
            name, row_id = gone[0]
            raise StoreDamaged(f"log {where}: row {row_id} of {name} was taken out")
        if gone:
            archived.found_links += 1
            archived.found_rows += len(gone)
        covered.append(None if gone else [(name, found[name][row_id]) for name, row_id in named])
    return covered


def _name(word: str, where: str) -> tuple[str, int]:
    table, _, row_id = word.partition(":")
    if table not in schema.RECORD_TABLES or not re.fullmatch("[0-9]{1,18}", row_id):
        raise StoreDamaged(f"log {where}: the chain names {word!r}, which is no row of the record")
    return table, int(row_id)
