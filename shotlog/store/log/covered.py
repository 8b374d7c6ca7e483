"""The rows that links of the hash chain cover, read back; those that went into an archive are told apart.

The rows of a link may lie in the archive of a trial instead (`store.keeping.archive`), or never have come to a centre
because they lay there before (`store.centre`). Such a link is taken at its word: that its digest leads to the next one,
that all of its rows are gone, and that as many are gone as the log says.
"""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from itertools import chain
from typing import Any, TypeVar

from sqlalchemy import Boolean, Connection, FromClause, Table, bindparam, column, select, table

from shotlog.errors import StoreDamaged
from shotlog.store.log import schema
from shotlog.store.log.chain import row_text
from shotlog.store.log.edge_at_centre import edge_of
from shotlog.store.log.prepared import Prepared

__all__ = ["GONE", "SPAN", "Archived", "Row", "archived", "covered", "covered_texts"]

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


Link = tuple[int, str]
"""The number of a link, and what it names."""

Made = TypeVar("Made")


def covered(
    connection: Connection, links: Sequence[Link], where: str, gone_by_word: Archived
) -> list[list[Row] | None]:
    """Return the rows that each of the links covers, read table by table; None of a link whose rows are gone.

    Raises
    ------
    StoreDamaged
        A row is missing of which nothing says that it went.
    """
    return _covered(connection, links, where, gone_by_word, lambda name, row: (name, dict(row)))


def covered_texts(
    connection: Connection, links: Sequence[Link], where: str, gone_by_word: Archived
) -> list[list[str] | None]:
    """Return those rows as the texts that the digest of a link is made of (`chain.row_text`); raises as `covered`.

    A row is kept as one text: so many small mappings at a time would be looked through for garbage again and again.
    """
    return _covered(connection, links, where, gone_by_word, row_text)


def _covered(
    connection: Connection,
    links: Sequence[Link],
    where: str,
    gone_by_word: Archived,
    make: Callable[[str, Iterable[tuple[str, Any]]], Made],
) -> list[list[Made] | None]:
    names = [[_name(word, where) for word in rows.split()] for _, rows in links]
    ids: dict[str, set[int]] = {}
    for name, row_id in chain.from_iterable(names):
        ids.setdefault(name, set()).add(row_id)
    found = {name: _made(connection, schema.RECORD_TABLES[name], wanted, make) for name, wanted in ids.items()}
    found_by_link: list[list[Made] | None] = []
    for (link, _), named in zip(links, names, strict=True):
        rows = [found[name].get(row_id) for name, row_id in named]
        gone = [whose for whose, row in zip(named, rows, strict=True) if row is None] if None in rows else []
        if gone and (len(gone) < len(named) or not gone_by_word.may_hold(link)):
            name, row_id = gone[0]
            raise StoreDamaged(f"log {where}: row {row_id} of {name} was taken out{gone_by_word.why_not(link)}")
        if gone:
            gone_by_word.found_links += 1
            gone_by_word.found_rows += len(gone)
        found_by_link.append(None if gone else [row for row in rows if row is not None])
    return found_by_link


def _made(
    connection: Connection, table: Table, wanted: set[int], make: Callable[[str, Iterable[tuple[str, Any]]], Made]
) -> Mapping[int, Made]:
    """Return what is made of the wanted rows of a table, by number."""
    asked, names, number, yes_no = _asked(table)
    # Numbers of one table lie close together in links that follow each other.
    rows = asked.all(connection, first=min(wanted), last=max(wanted))
    for at in yes_no:  # as the library gives them, and as they were hashed
        rows = [(*row[:at], None if row[at] is None else bool(row[at]), *row[at + 1 :]) for row in rows]
    return {row[number]: make(table.name, zip(names, row, strict=True)) for row in rows if row[number] in wanted}


@cache
def _asked(table: Table) -> tuple[Prepared, list[str], int, list[int]]:
    """Return the question for rows of a table, its columns, which of them is the number, and which are yes or no."""
    columns = sorted(table.columns, key=lambda column: column.name)  # the order in which they are hashed
    within = table.c.id.between(bindparam("first"), bindparam("last"))
    names = [column.name for column in columns]
    yes_no = [n for n, column in enumerate(columns) if isinstance(column.type, Boolean)]
    return Prepared(select(*columns).where(within)), names, names.index("id"), yes_no


_NUMBER = re.compile("[0-9]{1,18}")


def _name(word: str, where: str) -> tuple[str, int]:
    table, _, row_id = word.partition(":")
    if table not in schema.RECORD_TABLES or not _NUMBER.fullmatch(row_id):
        raise StoreDamaged(f"log {where}: the chain names {word!r}, which is no row of the record")
    return table, int(row_id)
