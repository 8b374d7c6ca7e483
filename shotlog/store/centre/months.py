"""The months that the large tables of a centre are parted by, made when they are needed.

A month is made beside the table and attached to it: that keeps out neither who reads nor who writes, as making it a
part at once would (PostgreSQL 15, "Table Partitioning", 5.11.2.2).
"""

from datetime import date

from sqlalchemy import Connection, text

from shotlog.store.centre.making import is_table, lock_centre
from shotlog.store.centre.tables import BY_MONTH
from shotlog.store.log.edge_at_centre import CENTRE

__all__ = ["Months", "part_name"]


def part_name(table: str, month: date) -> str:
    """Return what the part of a table is called that holds a month."""
    return f"{table}_{month:%Y_%m}"


class Months:
    """Makes sure that the month that rows arrive in, and the next one, are there; asks once a month."""

    def __init__(self) -> None:
        self._ready: date | None = None

    def ensure(self, connection: Connection) -> None:
        """Make the months that are missing, within the transaction whose rows arrive."""
        this: date = connection.execute(
            text("SELECT (date_trunc('month', now() AT TIME ZONE 'UTC'))::date")
        ).scalar_one()
        if this == self._ready:
            return
        for table in filter(lambda name: _is_parted(connection, name), BY_MONTH):
            for month in (this, _next(this)):
                _ensure(connection, table, month)
        self._ready = this

    def forget(self) -> None:
        """Ask again the next time: what was made may have been taken back."""
        self._ready = None


def _is_parted(connection: Connection, table: str) -> bool:
    """Say whether a table is parted by us; an extension that parts it otherwise makes its parts by itself."""
    asked = text("SELECT relkind = 'p' FROM pg_class WHERE oid = to_regclass(:name)")
    return bool(connection.execute(asked, {"name": f"{CENTRE}.{table}"}).scalar_one())


def _next(month: date) -> date:
    return date(month.year + month.month // 12, month.month % 12 + 1, 1)


def _ensure(connection: Connection, table: str, month: date) -> None:
    name, bounds = part_name(table, month), f"FROM ('{month}') TO ('{_next(month)}')"
    if _is_there(connection, table, name, bounds):
        return
    lock_centre(connection)
    if _is_there(connection, table, name, bounds):
        return
    whole, part = f"{CENTRE}.{table}", f"{CENTRE}.{name}"
    connection.execute(text(f"CREATE TABLE {part} (LIKE {whole} INCLUDING DEFAULTS INCLUDING CONSTRAINTS)"))
    connection.execute(text(f"ALTER TABLE {whole} ATTACH PARTITION {part} FOR VALUES {bounds}"))


def _is_there(connection: Connection, table: str, name: str, bounds: str) -> bool:
    """Say whether a month is there, by our name for it or by any: a program that parts tables has names of its own."""
    if is_table(connection, name):
        return True
    asked = text(
        "SELECT EXISTS (SELECT FROM pg_inherits JOIN pg_class part ON part.oid = inhrelid "
        "WHERE inhparent = to_regclass(:whole) AND pg_get_expr(part.relpartbound, part.oid) = :bounds)"
    )
    given = {"whole": f"{CENTRE}.{table}", "bounds": f"FOR VALUES {bounds}"}
    return bool(connection.execute(asked, given).scalar_one())
