"""A log of an earlier release, read as it stands: the columns and tables that came later read as empty.

Nothing is written to it. Every connection puts a temporary view, its own and gone with it, before each table that lacks
columns or is not there at all; SQLite finds it first under the table's name.
"""

import sqlite3
from collections.abc import Mapping, Sequence

from sqlalchemy import Connection, Engine, event, inspect
from sqlalchemy.engine.reflection import ObjectKind

from shotlog.store.log import schema

__all__ = ["columns_in", "missing_columns", "names_in", "read_as_empty"]

Columns = Mapping[str, Sequence[str]]

_TABLES = "SELECT name FROM main.sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite~_%' ESCAPE '~'"
_COLUMNS = """
SELECT listed.name, has.name FROM main.sqlite_master AS listed, pragma_table_xinfo(listed.name, 'main') AS has
WHERE listed.type = 'table'
"""
"""The library asks for the columns of one table after the other, and so took longer than all else of an opening."""


def names_in(connection: Connection) -> set[str]:
    """Return the tables of a log, by name; on a server they may be views of what a centre holds."""
    if connection.dialect.name == "sqlite":
        return set(connection.exec_driver_sql(_TABLES).scalars())
    found = inspect(connection)
    return {*found.get_table_names(), *found.get_view_names()}


def columns_in(connection: Connection) -> dict[str, set[str]]:
    """Return the columns of a log by table."""
    there = dict[str, set[str]]()
    if connection.dialect.name == "sqlite":
        for table, column in connection.exec_driver_sql(_COLUMNS):
            there.setdefault(table, set()).add(column)
        return there
    found = inspect(connection).get_multi_columns(kind=ObjectKind.ANY)
    return {name: {column["name"] for column in columns} for (_, name), columns in found.items()}


def missing_columns(connection: Connection) -> dict[str, list[str]]:
    """Return the columns that a log of an earlier release has not got yet, by table."""
    there = columns_in(connection)
    missing = {
        name: sorted(set(table.columns.keys()) - there.get(name, set()))
        for name, table in schema.METADATA.tables.items()
    }
    return {name: columns for name, columns in missing.items() if columns}


def read_as_empty(engine: Engine, missing: Columns) -> None:
    """Let every connection of an SQLite engine from now on read these columns as empty."""
    views = [_view(name, columns) for name, columns in missing.items()]

    def put_before(connection: sqlite3.Connection, _: object) -> None:
        for view in views:
            connection.execute(view).close()

    event.listen(engine, "connect", put_before)
    engine.dispose()


def _view(name: str, missing: Sequence[str]) -> str:
    columns = schema.METADATA.tables[name].columns.keys()
    read = ", ".join(f'NULL AS "{column}"' if column in missing else f'"{column}"' for column in columns)
    rows = f'FROM main."{name}"' if len(missing) < len(columns) else "WHERE 0"
    return f'CREATE TEMPORARY VIEW "{name}" AS SELECT {read} {rows}'
