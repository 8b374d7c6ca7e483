"""Statements that are run at every shot: made into text once, and run on the driver's own cursor.

The library builds a statement, looks it up and wraps its answer each time anew, which takes longer than SQLite needs
for the answer itself. What is run here is text that the library made of the same tables, for either kind of database;
what a driver raises is told as the library tells it.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from operator import itemgetter
from typing import Any

from sqlalchemy import ColumnElement, Connection, FromClause, Table, bindparam, insert, select
from sqlalchemy.exc import DBAPIError
from sqlalchemy.sql import ClauseElement

from shotlog.store.log import schema

__all__ = ["Asked", "Prepared", "Row", "add_row", "as_the_library", "of_press", "row_to_add"]

Row = tuple[Any, ...]
Asked = tuple["Prepared", Mapping[str, Any]]
"""A statement, and what is given to it by name."""


class Prepared:
    """A statement with named places for what is given (`bindparam`).

    Rows come as the driver gives them, as plain tuples: a truth value of SQLite is 0 or 1, and bytes may be of another
    type on a server. `columns`: those that an insert fills.
    """

    def __init__(self, statement: ClauseElement, columns: Iterable[str] | None = None) -> None:
        self._statement, self._columns = statement, None if columns is None else [*columns]
        self._made: dict[str, tuple[str, Callable[[Mapping[str, Any]], Any], dict[str, Any]]] = {}
        self._numbered: tuple[str, tuple[str, ...], dict[str, Any]] | None = None

    def all(self, connection: Connection, **given: Any) -> list[Row]:
        """Run it and return all rows.

        Raises
        ------
        DBAPIError
            As the library raises it; a connection that was lost is not used again.
        """
        return self.run(connection, given)

    def first(self, connection: Connection, **given: Any) -> Row | None:
        """Run it and return the first row, None for none; it is to ask for no more than that."""
        return next(iter(self.run(connection, given)), None)

    def scalar(self, connection: Connection, **given: Any) -> Any:
        """Run it and return the first value of the first row, None for none."""
        found = self.first(connection, **given)
        return None if found is None else found[0]

    def run(self, connection: Connection, given: Mapping[str, Any]) -> list[Row]:
        """Run it as `all` does, with what is given by name in a mapping."""
        sql, values = self.bound(connection, given)
        driver: Any = connection.connection.dbapi_connection
        try:
            return self._rows(driver.execute(sql, values))
        except connection.dialect.loaded_dbapi.Error as error:
            raise as_the_library(connection, sql, values, error) from error

    def _rows(self, cursor: Any) -> list[Row]:
        answer: list[Row] = cursor.fetchall()
        return answer

    def bound(self, connection: Connection, given: Mapping[str, Any]) -> tuple[str, Any]:
        """Return its text, and the values that go with it, as the driver takes them."""
        sql, placed, fixed = self._made.get(connection.dialect.name) or self._make(connection)
        return sql, placed({**fixed, **given} if fixed else given)

    def numbered(self, connection: Connection) -> tuple[str, tuple[str, ...], dict[str, Any]]:
        """Return its text with numbered places, the name of each place, and what is given already, for a server."""
        if self._numbered is None:
            dialect: Any = type(connection.dialect)
            compiled: Any = self._statement.compile(
                dialect=dialect(paramstyle="numeric_dollar"), column_keys=self._columns
            )
            self._numbered = compiled.string, tuple(compiled.positiontup or ()), dict(compiled.params)
        return self._numbered

    def _make(self, connection: Connection) -> tuple[str, Callable[[Mapping[str, Any]], Any], dict[str, Any]]:
        compiled: Any = self._text_for(connection).compile(dialect=connection.dialect, column_keys=self._columns)
        fixed = {name: value for name, value in compiled.params.items() if value is not None}
        made = compiled.string, _placed(compiled.positiontup), fixed
        self._made[connection.dialect.name] = made
        return made

    def _text_for(self, connection: Connection) -> ClauseElement:
        return self._statement


class _Adding(Prepared):
    """Adds a row and answers with its number.

    A file tells the number by itself; to have it returned takes as long again as the row.
    """

    def __init__(self, table: Table, columns: Iterable[str]) -> None:
        super().__init__(insert(table).returning(table.c.id), columns)
        self._in_file = insert(table)

    def _text_for(self, connection: Connection) -> ClauseElement:
        return self._in_file if connection.dialect.name == "sqlite" else self._statement

    def _rows(self, cursor: Any) -> list[Row]:
        return super()._rows(cursor) if cursor.description else [(cursor.lastrowid,)]


def _placed(names: Sequence[str] | None) -> Callable[[Mapping[str, Any]], Any]:
    """Return what puts values given by name into their places: `names` in order, None where a driver takes names."""
    if names is None:
        return lambda given: given
    if len(names) > 1:
        return itemgetter(*names)
    return lambda given: [given[name] for name in names]


def as_the_library(connection: Connection, sql: str, values: Any, error: Exception) -> BaseException:
    """Return what a driver raised as the library raises it; a connection that was lost is not used again."""
    dialect = connection.dialect
    is_lost = dialect.is_disconnect(error, connection.connection.dbapi_connection, None)  # type: ignore[arg-type]
    if is_lost:
        connection.invalidate(error)
    kind = dialect.loaded_dbapi.Error
    return DBAPIError.instance(sql, values, error, kind, connection_invalidated=is_lost, dialect=dialect)


def of_press(table: FromClause, press: str | None = None) -> ColumnElement[bool]:
    """Return the condition that a row of a table is of a press, by its name, or by the one given later as `press`.

    Its number is asked first and not joined: a server that joins reads and sorts every row of the press to find the
    newest, instead of beginning at the end of an index.
    """
    name = bindparam("press") if press is None else press
    return table.c.press_id == select(schema.presses.c.id).where(schema.presses.c.name == name).scalar_subquery()


_INSERTS: dict[tuple[str, tuple[str, ...]], Prepared] = {}
"""By table and columns: a press fills the same ones with each shot."""


def add_row(connection: Connection, table: Table, row: Mapping[str, Any]) -> int:
    """Add a row to a table and return its id."""
    statement, given = row_to_add(table, row)
    row_id: int = statement.run(connection, given)[0][0]
    return row_id


def row_to_add(table: Table, row: Mapping[str, Any]) -> Asked:
    """Return what adds a row to a table, and answers with its id."""
    key = table.name, tuple(row)
    made = _INSERTS.get(key)
    if made is None:
        made = _INSERTS[key] = _Adding(table, row)
    return made, row
