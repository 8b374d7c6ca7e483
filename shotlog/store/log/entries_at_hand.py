"""What people entered, kept in memory by the logger: for a log of which a page, or the whole file, is lost.

Shots come through the logger; entries come from commands and pages, straight into the log. So the logger takes in what
the log holds of them when it is opened, and at each of its transactions what came since, told by the links of the
chain.
Nothing of it is ever read from here but to bring it back.
"""

from collections.abc import Collection, Mapping
from typing import Any

from sqlalchemy import Connection, Table, func, select

from shotlog.store.log import schema
from shotlog.store.log.identity import Head
from shotlog.store.log.transaction import Transaction

__all__ = ["EntriesAtHand"]

_MOST = 20_000
"""Rows of one table taken in when a log is opened, the newest: some 20 MB at the very most in all."""

_NAMES = (schema.presses, schema.trials)
"""Tables that the logger itself adds to and entries refer to."""
_NAMED = {table.name for table in _NAMES}
_KEPT = (
    *_NAMES, schema.designs, schema.inserts, *(table for table in schema.ENTRIES if table is not schema.matches),
    schema.account_changes,
)  # fmt: skip
_ENTERED = (*(table for table in schema.METADATA.sorted_tables if table in _KEPT), schema.signed)
"""In the order in which they are brought back: a signature after its entry."""

Row = Mapping[str, Any]


class EntriesAtHand:
    """The entries of one log, as rows under their numbers."""

    def __init__(self) -> None:
        self._rows: dict[Table, dict[int, Row]] = {table: {} for table in _ENTERED}
        self._upto: int | None = None
        self._own: set[int] = set()

    def take_all(self, connection: Connection, newest: Head | None) -> None:
        """Take in what a log holds that has just been opened."""
        for table in _ENTERED:
            last = connection.execute(select(func.max(table.c.id))).scalar() or 0
            self._take(connection, table, select(table).where(table.c.id > last - _MOST))
        self._upto = 0 if newest is None else newest.number
        self._own.clear()

    def look(self, connection: Connection, newest: Head | None) -> None:
        """Take in what came since, whoever entered it."""
        if newest is None or self._upto is None or newest.number <= self._upto:
            return
        ledger = schema.ledger
        links = connection.execute(select(ledger.c.id, ledger.c.rows).where(ledger.c.id > self._upto)).all()
        named: dict[str, list[int]] = {}
        for link, rows in links:
            for name, _, row_id in (word.partition(":") for word in rows.split()):
                if link not in self._own or name in _NAMED:
                    named.setdefault(name, []).append(int(row_id))
        for table in _ENTERED:
            if table.name in named:
                self._take(connection, table, select(table).where(table.c.id.in_(named[table.name])))
        self._upto = newest.number
        self._own.clear()

    def wrote(self, own: Head | None, tables: Collection[str]) -> None:
        """Note a link that the logger wrote itself, over rows of `tables`: its shots, and what came with them, are at
        hand already.
        """
        if own is None:
            return
        if own.number - 1 == self._upto and not _NAMED & {*tables}:
            self._upto = own.number  # nothing in it is to be taken in
        else:
            self._own.add(own.number)

    def bring_back(self, work: Transaction, refused: Collection[tuple[str, int]] = ()) -> int:
        """Add the rows that are not in the log any more, if what they refer to is; return how many.

        `refused`: rows, by table and number, that were changed in the log after they were entered.
        """
        n = 0
        for table, rows in self._rows.items():
            there = set(work.connection.execute(select(table.c.id)).scalars())
            for row_id, row in rows.items():
                if (
                    row_id not in there
                    and (table.name, row_id) not in refused
                    and _refers_to_rows(work.connection, table, row)
                ):
                    work.bring_back(table, row)
                    n += 1
        return n

    def _take(self, connection: Connection, table: Table, query: Any) -> None:
        self._rows[table].update((row["id"], dict(row)) for row in connection.execute(query).mappings())


def _refers_to_rows(connection: Connection, table: Table, row: Row) -> bool:
    if table is schema.signed:
        of = schema.RECORD_TABLES[row["entry"]]
        return connection.execute(select(of.c.id).where(of.c.id == row["entry_id"])).first() is not None
    for key in table.foreign_keys:
        parent, wanted = key.column.table, row[key.parent.name]
        if wanted is not None and connection.execute(select(parent.c.id).where(key.column == wanted)).first() is None:
            return False
    return True
