"""The tables of a centre: one for each table of the log, with the number of the edge before the number of the row.

They are worked out from those of the log, so that there is one description of either. What a row may not be is asked
at the edge and held by its hash chain; here every column but the key may be empty, for a copy holds what was there.

A table that grows with every shot is parted by the month in which its rows arrived, by the clock of the centre.
"""

from typing import Any

from sqlalchemy import (
    BigInteger,
    Column,
    Date,
    DateTime,
    ForeignKey,
    Identity,
    Index,
    Integer,
    MetaData,
    Table,
    Text,
    UniqueConstraint,
    func,
    text,
)

from shotlog.store.log import schema
from shotlog.store.log.covered import SPAN
from shotlog.store.log.edge_at_centre import CENTRE

__all__ = ["AT_CENTRE", "BY_MONTH", "MONTH", "TABLES", "about", "edges", "entered", "gone"]

TABLES = MetaData(schema=CENTRE)

MONTH = "month"
"""The first day of the month, in UTC, in which a row arrived."""
BY_MONTH = ("shots", "verdicts", "signals", "ledger")
"""What grows with every shot."""


def _time(name: str) -> Column[Any]:
    return Column(name, DateTime(timezone=True), nullable=False, server_default=func.now())


def _text(name: str) -> Column[str]:
    return Column(name, Text, nullable=False, server_default="")


def _count(name: str) -> Column[int]:
    return Column(name, BigInteger, nullable=False, server_default="0")


about = Table("about", TABLES, _text("uid"), _text("schema"), Column("form", Integer, nullable=False), _text("release"))
"""One row: which centre it is, the schema of the logs it can hold, its own form, and the release that brought it up."""

edges = Table(
    "edges",
    TABLES,
    Column("number", Integer, Identity(), primary_key=True),
    Column("name", Text, nullable=False, unique=True),
    *(_text(name) for name in ("uid", "host", "release")),
    *(_count(name) for name in ("links", "link")),
    _text("digest"),
    _count("behind"),
    *(_time(name) for name in ("first_seen", "last_seen", "last_shipped")),
    Column("set_aside", DateTime(timezone=True)),
)
"""The edges; see `store.centre.edges.Edge`."""

entered = Table(
    "entered",
    TABLES,
    Column("id", BigInteger, Identity(), primary_key=True),
    Column("edge", Integer, ForeignKey(edges.c.number), nullable=False),
    *(_text(name) for name in ("uid", "content", "account", "role", "via", "address", "initials")),
    _count("basis_link"),
    _text("basis_digest"),
    _text("waited"),
    _time("made"),
    Column("state", Text, nullable=False, server_default="waiting"),
    _text("why"),
    _text("entries"),
    Column("settled", DateTime(timezone=True)),
    Index("entered_waiting", "edge", "id", postgresql_where=text("settled IS NULL")),
)
"""What was entered at the centre for an edge; see `store.centre.entered`.

`uid` names it whatever else is lost, `content` is JSON. `basis_link` and `basis_digest`: the newest link of the edge
that the centre had when it was made, at `made` by the clock of whoever entered it. `waited`: the uids of those that
waited then, which its maker could see. `entries`: what it is in the edge's log.
"""


gone = Table(
    "gone",
    TABLES,
    Column("edge", Integer, ForeignKey(edges.c.number), primary_key=True),
    *(Column(name, BigInteger, primary_key=name == "first_link") for name in SPAN),
)
"""Links of an edge that came without their rows, which lay in archives by then; those that came before have them."""


def _at_centre(table: Table) -> Table:
    columns: list[Column[Any]] = [
        Column("edge", Integer, primary_key=True, autoincrement=False),
        Column("id", BigInteger, primary_key=True, autoincrement=False),
    ]
    options: dict[str, Any] = {}
    if table.name in BY_MONTH:
        this_month = text("(date_trunc('month', now() AT TIME ZONE 'UTC'))::date")
        columns.append(Column(MONTH, Date, primary_key=True, server_default=this_month))
        options["postgresql_partition_by"] = f"RANGE ({MONTH})"
    columns += [Column(one.name, _type(one)) for one in table.columns if one.name != "id"]
    return Table(table.name, TABLES, *columns, *_indexes(table), **options)


def _type(column: Column[Any]) -> Any:
    return BigInteger() if isinstance(column.type, Integer) else column.type


def _indexes(table: Table) -> list[Index]:
    """Return the indexes of a table of the log, each within an edge; what is unique there is not asked again.

    Where a delivery came from is asked at the edge alone, and would be an index of every link.
    """
    found = [
        Index(str(one.name), "edge", *one.columns.keys(), postgresql_where=one.info.get("where"))
        for one in sorted(table.indexes, key=lambda one: str(one.name))
    ]
    for one in table.constraints:
        if isinstance(one, UniqueConstraint) and table is not schema.ledger:
            names = one.columns.keys()
            found.append(Index(f"{table.name}_by_{'_'.join(names)}", "edge", *names))
    return found


AT_CENTRE: dict[str, Table] = {
    table.name: _at_centre(table) for table in (*schema.RECORD_TABLES.values(), schema.ledger, schema.presence)
}
"""By the names that they have in a log."""
