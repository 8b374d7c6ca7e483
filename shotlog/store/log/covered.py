"""The rows that links of the hash chain cover, read back; those that went into an archive are told apart.

The rows of a link may lie in the archive of a trial instead (`store.keeping.archive`), or never have come to a centre
because they lay there before (`store.centre`). Such a link is taken at its word: that its digest leads to the next one,
that all of its rows are gone, and that as many are gone as the log says.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import chain
from typing import Any

from sqlalchemy import Connection, FromClause, RowMapping, column, select, table

from shotlog.errors import StoreDamaged
from shotlog.store.log import schema
from shotlog.store.log.edge_at_centre import edge_of

__all__ = ["GONE", "SPAN", "Archived", "Row", "archived", "covered"]

Row = tuple[str, dict[str, Any]]

SPAN = ("first_link", "last_link", "links", "rows")
GONE = table("gone", *(column(name) for name in SPAN))
"""What says of an edge at a centre which links came there without their rows; as the table of archives says it."""


@dataclass(slots=True)
class Archived:
    """What is said of rows that are gone: links from and to, and how many of either went."""

    spans: list[tuple[int, int]]
    links: int
    rows: int
    found_links: int = 0
    found_rows: int = 0
    only_said: list[tuple[int, int]] = field(default_factory=list)
    """At a centre: what is said to have come without its rows, whether or not the record tells of an archive."""

    def may_hold(self, link: int) -> bool:
        return _within(link, self.spans)

    def why_not(self, link: int) -> str:
        """Return what is to be known besides of rows that are gone and that no archive holds."""
        if not _within(link, self.only_said):
            return ""
        return (
            ", and the record tells of no archive that it went into; where its edge is still bringing the log, look "
            "again when all is there"
        )


def _within(link: int, spans: Sequence[tuple[int, int]]) -> bool:
    return any(first <= link <= last for first, last in spans)


def archived(connection: Connection) -> Archived:
    """Return what a log says of rows that went out of it.

    At a centre that stands beside the chain, and is believed as far as the record of the edge says so itself.
    """
    record = _said(connection, schema.archives)
    if edge_of(connection.engine.url) is None:
        return record
    came = _said(connection, GONE)
    both = [(max(a, c), min(b, d)) for a, b in came.spans for c, d in record.spans]
    return Archived(both, min(came.links, record.links), min(came.rows, record.rows), only_said=came.spans)


def _said(connection: Connection, by: FromClause) -> Archived:
    rows = connection.execute(select(*(by.c[name] for name in SPAN))).mappings().all()
    spans = [(row["first_link"], row["last_link"]) for row in rows]
    return Archived(spans, sum(row["links"] for row in rows), sum(row["rows"] for row in rows))


def covered(
    connection: Connection, links: Sequence[RowMapping], where: str, gone_by_word: Archived
) -> list[list[Row] | None]:
    """Return the rows that each of the links covers, read table by table; None of a link whose rows are gone.

    Raises
    ------
    StoreDamaged
        A row is missing of which nothing says that it went.
    """
    names = [[_name(word, where) for word in link["rows"].split()] for link in links]
    ids: dict[str, set[int]] = {}
    for name, row_id in chain.from_iterable(names):
        ids.setdefault(name, set()).add(row_id)
    found = {}
    for name, wanted in ids.items():
        table = schema.RECORD_TABLES[name]
        # Ids of one table lie close together in links that follow each other.
        query = select(table).where(table.c.id.between(min(wanted), max(wanted)))
        rows = connection.execute(query)
        keys = tuple(rows.keys())
        as_mapping = (dict(zip(keys, row, strict=True)) for row in rows)
        found[name] = {row["id"]: row for row in as_mapping if row["id"] in wanted}
    found_by_link: list[list[Row] | None] = []
    for link, named in zip(links, names, strict=True):
        gone = [(name, row_id) for name, row_id in named if row_id not in found[name]]
        if gone and (len(gone) < len(named) or not gone_by_word.may_hold(link["id"])):
            name, row_id = gone[0]
            raise StoreDamaged(f"log {where}: row {row_id} of {name} was taken out{gone_by_word.why_not(link['id'])}")
        if gone:
            gone_by_word.found_links += 1
            gone_by_word.found_rows += len(gone)
        found_by_link.append(None if gone else [(name, found[name][row_id]) for name, row_id in named])
    return found_by_link


def _name(word: str, where: str) -> tuple[str, int]:
    table, _, row_id = word.partition(":")
    if table not in schema.RECORD_TABLES or not re.fullmatch("[0-9]{1,18}", row_id):
        raise StoreDamaged(f"log {where}: the chain names {word!r}, which is no row of the record")
    return table, int(row_id)
