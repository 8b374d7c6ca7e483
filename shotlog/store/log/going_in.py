"""Rows on their way into the log: at once where it numbers them, with the commit where their number is known."""

from collections.abc import Mapping
from typing import Any

from sqlalchemy import Connection, Table

from shotlog.store.log import schema
from shotlog.store.log.prepared import Asked, add_row, row_to_add

__all__ = ["GoingIn"]


class GoingIn:
    """The rows of one transaction. `waiting`: those that go with the commit, in their order."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection
        self.waiting: list[Asked] = []

    @property
    def connection(self) -> Connection:
        """The connection, all rows in that waited: who asks is to find them."""
        while self.waiting:
            statement, row = self.waiting.pop(0)
            statement.run(self._connection, row)
        return self._connection

    def add(self, table: Table, row: Mapping[str, Any]) -> int:
        """Add a row and return its number; a shot that has one waits, so that a server gets all in one message."""
        number = row.get("id")
        if table is not schema.shots or number is None:
            return add_row(self.connection, table, row)
        self.waiting.append(row_to_add(table, row))
        return int(number)
