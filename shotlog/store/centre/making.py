"""Making a centre, or bringing one of an earlier release up to this: what is missing is added, nothing taken away."""

import uuid

from sqlalchemy import Connection, inspect, select, text
from sqlalchemy.engine.reflection import ObjectKind
from sqlalchemy.schema import CreateColumn

from shotlog.errors import StoreDamaged, UsageError
from shotlog.store.centre.tables import AT_CENTRE, MONTH, TABLES, about, gone
from shotlog.store.log import schema
from shotlog.store.log.edge_at_centre import CENTRE, NUMBER, VIEWS
from shotlog.store.log.engine import SCHEMA

__all__ = ["FORM", "LOCK", "bring_up", "is_centre", "is_table", "lock_centre"]

FORM = 1
"""Of the tables that are the centre's own; raised where an older release must not write there any more."""

LOCK = 0x73686F74_6C6F67
"""The number of the lock under which tables of a centre are made and edges begun, one program at a time."""

_HIDDEN = ("edge", MONTH)
"""Columns that a log has not got."""


def lock_centre(connection: Connection) -> None:
    """Let one program at a time change what all edges share, until its transaction ends."""
    connection.execute(text("SELECT pg_advisory_xact_lock(:key)"), {"key": LOCK})


def is_table(connection: Connection, name: str) -> bool:
    """Say whether a centre has a table; asked of what is committed, where a lookup by name tells what it remembers."""
    asked = text("SELECT EXISTS (SELECT FROM pg_tables WHERE schemaname = :centre AND tablename = :name)")
    return bool(connection.execute(asked, {"centre": CENTRE, "name": name}).scalar_one())


def is_centre(connection: Connection) -> bool:
    """Say whether a database is a centre."""
    return is_table(connection, "edges")


def bring_up(connection: Connection, where: str, release: str) -> None:
    """Make the database a centre of this release, within a transaction; one that is has nothing done to it.

    Raises
    ------
    UsageError
        It holds a log of its own, or is no database that a centre can lie in.
    StoreDamaged
        A newer release brought it up.
    """
    lock_centre(connection)
    if not is_centre(connection):
        _refuse_others(connection, where)
        for name in (CENTRE, VIEWS):
            connection.execute(text(f"CREATE SCHEMA {name}"))
        TABLES.create_all(connection)
        plain = {"uid": uuid.uuid4().hex, "schema": SCHEMA, "form": FORM, "release": release}
        connection.execute(about.insert().values(plain))
    else:
        found = connection.execute(select(about)).one()
        if found.schema > SCHEMA or found.form > FORM:
            raise StoreDamaged(
                f"centre {where}: brought up by a newer release ({found.release}, schema {found.schema}), this one "
                f"knows up to {SCHEMA}: bring shotlog here to that release"
            )
        _add_missing(connection, indexes=found.schema < SCHEMA)
        if found.schema < SCHEMA or found.form < FORM:
            connection.execute(about.update().values(schema=SCHEMA, form=FORM, release=release))
    _show(connection)


def _refuse_others(connection: Connection, where: str) -> None:
    """Refuse a database in which something else lies that would be mistaken for a centre, or the other way round."""
    if connection.execute(text("SELECT to_regclass('ledger') IS NOT NULL")).scalar_one():
        raise UsageError(
            f"centre: given {where}, which holds the log of one edge, allowed: a database of its own for the centre"
        )
    taken = connection.execute(
        text("SELECT nspname FROM pg_namespace WHERE nspname IN (:centre, :views)"), {"centre": CENTRE, "views": VIEWS}
    ).scalars()
    for name in taken:
        raise UsageError(
            f"centre: given {where}, which holds something else under the name {name}, allowed: a database of its own"
        )
    encoding = connection.execute(text("SHOW server_encoding")).scalar_one()
    if encoding != "UTF8":
        raise UsageError(f"centre: given {where}, whose encoding is {encoding}, allowed: a database in UTF8")


def _add_missing(connection: Connection, *, indexes: bool) -> None:
    """Add the tables and columns that a centre of an earlier release has not got, and `indexes`, on old columns too."""
    found = inspect(connection).get_multi_columns(schema=CENTRE)
    there = {name: {column["name"] for column in columns} for (_, name), columns in found.items()}
    for table in TABLES.sorted_tables:
        if table.name not in there:
            table.create(connection)
            continue
        missing = [column for column in table.columns if column.name not in there[table.name]]
        for column in missing:
            said = CreateColumn(column).compile(dialect=connection.dialect)
            connection.execute(text(f'ALTER TABLE {CENTRE}."{table.name}" ADD COLUMN {said}'))
        if missing or indexes:
            for index in table.indexes:
                index.create(connection, checkfirst=True)


def _show(connection: Connection) -> None:
    """Make the views of one edge's log anew, where they do not show all that there is."""
    at_centre, shown = (
        {name: [column["name"] for column in columns] for (_, name), columns in found.items()}
        for found in (
            inspect(connection).get_multi_columns(schema=CENTRE),
            inspect(connection).get_multi_columns(schema=VIEWS, kind=ObjectKind.VIEW),
        )
    )
    for name in (*AT_CENTRE, gone.name):
        columns = [column for column in at_centre[name] if column not in _HIDDEN]
        if set(columns) != set(shown.get(name, ())):
            wanted = ", ".join(f'"{column}"' for column in columns)
            here = f"current_setting('{NUMBER}')::int"
            _view(connection, name, f'SELECT {wanted} FROM {CENTRE}."{name}" WHERE edge = {here}')  # noqa: S608  (ours)
    for table in schema.METADATA.tables.values():  # caches, which stay at the edge
        if table.name not in AT_CENTRE and set(table.columns.keys()) - set(shown.get(table.name, ())):
            kinds = ((column.name, column.type.compile(connection.dialect)) for column in table.columns)
            wanted = ", ".join(f'NULL::{kind} AS "{column}"' for column, kind in kinds)
            _view(connection, table.name, f"SELECT {wanted} WHERE false")
    if "alembic_version" not in shown:
        _view(connection, "alembic_version", f"SELECT schema AS version_num FROM {CENTRE}.about")  # noqa: S608  (ours)


def _view(connection: Connection, name: str, query: str) -> None:
    connection.execute(text(f'DROP VIEW IF EXISTS {VIEWS}."{name}"'))
    connection.execute(text(f'CREATE VIEW {VIEWS}."{name}" AS {query}'))
