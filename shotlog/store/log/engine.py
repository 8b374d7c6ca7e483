"""Opening the database of a log: connections, durability, schema version.

SQLite runs in write-ahead mode with full synchronisation: a commit that returned survives a power cut as far as the
disk keeps its word. A write transaction takes its lock at once, so that two writers wait for each other instead of
failing half way.
"""

import re
import sqlite3
import threading
import time
from contextlib import suppress
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event, inspect, text
from sqlalchemy.engine import make_url
from sqlalchemy.exc import (
    ArgumentError,
    DatabaseError,
    DataError,
    DBAPIError,
    IntegrityError,
    NoSuchModuleError,
    OperationalError,
)

from shotlog.channels import CHANNELS
from shotlog.errors import StoreDamaged, StoreFull, StoreLocked, StoreMissing, StoreUnreachable, UsageError
from shotlog.extras import to_install
from shotlog.store.log import schema
from shotlog.store.log.earlier import columns_in, missing_columns, names_in, read_as_empty
from shotlog.store.log.edge_at_centre import edge_of, refuse_centre, see_edge, shown_url
from shotlog.store.log.patience import BUSY_S, SLICE_S, begin_write
from shotlog.store.log.server import engine_on_server, one_migration_on_server
from shotlog.store.log.still_folder import read_where_it_stands
from shotlog.withheld import without_secrets

__all__ = ["SCHEMA", "connect", "file_of", "is_number_taken", "prepare", "schema_of", "translated"]

SCHEMA = "0013"
"""The schema this release writes: the last file in `migrations/versions`."""

_ON_SERVER = "postgresql+psycopg:"
_KEPT_OF_EDGE = 2
"""Connections to the log of one edge at a centre that stay open: there are many edges, and a server lets in 100."""
_AGAIN_S = 0.02
_TOO_LARGE = "too large to convert to SQLite"
"""What the driver says of a number that somebody typed; it is raised as it is, outside the errors of databases."""
_LARGEST = f"number: given one larger than a log can hold, allowed: {2**63 - 1} at most"
_NO_TEXT = "Could not decode to UTF-8"
"""What the driver says of a text that is none: no release writes one."""
_REFUSALS = {
    "25006": "the server only answers now: it is a standby, or set to be read",
    "25P03": "",
    "3D000": "",
    "42501": "the role that logs in there has not got this right",
}
"""What a server refuses, and nothing of the log is damaged: PostgreSQL manual, "PostgreSQL Error Codes"."""
_ONE_MIGRATION = threading.Lock()
"""Alembic keeps its context in module globals: two threads migrating at once would share a connection."""


def connect(url: str | URL, read_only: bool = False) -> Engine:
    """Return an engine for the log at `url`; nothing is opened yet, but a file that is to be written is there after.

    Later connections make no file: where it was deleted they would begin an empty log in silence.

    Raises
    ------
    UsageError
        The URL cannot be understood, or its driver is not installed; or it is to be written, and is what a centre
        holds of an edge.
    """
    try:
        parsed = make_url(url)
        if parsed.get_backend_name() != "sqlite":
            return _on_server(parsed, read_only)
    except (ArgumentError, NoSuchModuleError, ImportError, ValueError) as error:
        given = without_secrets(str(url))
        if isinstance(error, ImportError) and str(url).startswith(_ON_SERVER):
            raise UsageError(
                f"store: given {given!r}, for which its driver is missing here ({error}), allowed after: "
                f"{to_install('postgres')}"
            ) from error
        raise UsageError(
            f"store: given {given!r}, allowed: sqlite:///FILE or postgresql+psycopg://USER@HOST/DB ({error})"
        ) from error
    path = Path(parsed.database or "").absolute()
    if not read_only and not path.exists():
        with suppress(OSError):  # what stands against it, opening says better
            path.touch()
    mode = "ro" if read_only else "rw"
    target = URL.create("sqlite", database=path.as_uri(), query={"mode": mode, "uri": "true"})
    timeout = BUSY_S if read_only else SLICE_S
    engine = create_engine(target, connect_args={"timeout": timeout, "check_same_thread": False})
    event.listen(engine, "connect", _read_settings if read_only else _write_settings)
    event.listen(engine, "begin", _begin_read if read_only else begin_write)
    if read_only:
        read_where_it_stands(engine, path)
    return engine


def _on_server(server: URL, read_only: bool) -> Engine:
    edge = edge_of(server)
    if edge is not None and not read_only:
        raise UsageError(
            f"store: given {shown_url(server)!r}, which is what a centre holds of an edge, and is only read; allowed: "
            "the log of the edge itself"
        )
    if edge is None:
        return engine_on_server(server, read_only)
    engine = engine_on_server(server, read_only, kept=_KEPT_OF_EDGE)
    see_edge(engine, edge)
    return engine


def _write_settings(connection: sqlite3.Connection, _: object) -> None:
    connection.isolation_level = None
    _write_ahead(connection)
    for pragma in ("synchronous=FULL", "foreign_keys=ON"):
        connection.execute(f"PRAGMA {pragma}").close()


def _write_ahead(connection: sqlite3.Connection) -> None:
    """Switch to write-ahead logging. Two programs that make a new log at once meet here, and this lock alone is refused
    at once instead of being waited for.
    """
    until = time.monotonic() + BUSY_S
    while True:
        try:
            connection.execute("PRAGMA journal_mode=WAL").close()
        except sqlite3.OperationalError as error:
            if "locked" not in str(error) or time.monotonic() > until:
                raise
            time.sleep(_AGAIN_S)
        else:
            return


def _read_settings(connection: sqlite3.Connection, _: object) -> None:
    connection.isolation_level = None


def _begin_read(connection: Connection) -> None:
    connection.exec_driver_sql("BEGIN")


class translated:  # noqa: N801 - said as a function is: with translated(where)
    """Turn the errors of the database library and of the driver below it into ours, naming the log.

    The driver's own come from whoever reads on its cursor. A class: one that is made of a generator takes eight times
    as long, at each shot.
    """

    __slots__ = ("_where",)

    def __init__(self, where: str) -> None:
        self._where = where

    def __enter__(self) -> None: ...

    def __exit__(self, _: object, error: BaseException | None, __: object) -> None:
        if error is not None:
            _raise_ours(self._where, error)


def _raise_ours(where: str, error: BaseException) -> None:
    """Raise ours for an error of the database library or of a driver; do nothing for any other."""
    match error:
        case OverflowError() if _TOO_LARGE in str(error):
            raise UsageError(_LARGEST) from error
        case UnicodeEncodeError():
            raise UsageError(f"text: given {error.object!r}, allowed: text in a known encoding") from error
        case DataError():  # of a server: a number beyond its integers, a text that it does not take
            if _state(error) == "22003":
                raise UsageError(_LARGEST) from error
            raise UsageError(f"log {where}: given what it cannot hold: {_reason(error)}") from error
        case OperationalError() | sqlite3.OperationalError():
            if _NO_TEXT in str(error):  # a page that reads, and holds what nobody wrote
                raise StoreDamaged(f"log {where}: {_reason(error)}") from error
            raise _unreachable(error)(f"log {where}: {_reason(error)}") from error
        case DatabaseError():
            kind = StoreUnreachable if _state(error) in _REFUSALS else StoreDamaged
            raise kind(f"log {where}: {_reason(error)}") from error
        case DBAPIError():
            raise StoreUnreachable(f"log {where}: {_reason(error)}") from error
        case sqlite3.ProgrammingError():
            return  # a mistake of ours, and no damage
        case sqlite3.DatabaseError():
            raise StoreDamaged(f"log {where}: {_reason(error)}") from error


def is_number_taken(error: IntegrityError) -> bool:
    """Say whether a row was refused for its own number, which the database gives: a log whose next one is taken is
    damaged. Whatever else it refuses is wrong with what was to be added.
    """
    given: Any = error.orig
    code = getattr(given, "sqlite_errorcode", 0) or 0
    named = getattr(getattr(given, "diag", None), "constraint_name", "") or ""
    return code in (sqlite3.SQLITE_CONSTRAINT_PRIMARYKEY, sqlite3.SQLITE_CONSTRAINT_ROWID) or named.endswith("_pkey")


def _unreachable(error: OperationalError | sqlite3.Error) -> type[StoreUnreachable]:
    """Return which error it is, by the code of the driver."""
    given = _given(error)
    code = getattr(given, "sqlite_errorcode", 0) or 0
    state = _state(error)
    if code & 0xFF in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED) or state == "55P03":
        return StoreLocked
    return StoreFull if code & 0xFF == sqlite3.SQLITE_FULL or state == "53100" else StoreUnreachable


def _state(error: DBAPIError | sqlite3.Error) -> str:
    """Return the code by which a server tells what is wrong; empty for a file."""
    return getattr(_given(error), "sqlstate", "") or ""


def _given(error: DBAPIError | sqlite3.Error) -> BaseException | None:
    """Return the driver's own error."""
    return error.orig if isinstance(error, DBAPIError) else error


def _reason(error: DBAPIError | sqlite3.Error) -> str:
    given = _given(error)
    reason = str(given).strip().splitlines()[0] if str(given).strip() else type(given).__name__
    hints = {
        "database disk image is malformed": (
            "a page of its file is damaged: look with `shotlog verify`; `shotlog run` sets the file aside and goes on "
            "with all that reads of it"
        ),
        "unable to open database file": "the folder does not exist or may not be written",
        "attempt to write a readonly database": "the file or its folder is read-only",
        "database or disk is full": "make room on the disk",
        "database is locked": "another program keeps it locked",
        "file is not a database": "this is some other kind of file",
    }
    hint = hints.get(reason) or _REFUSALS.get(_state(error), "")
    return "; ".join([f"{reason} ({hint})" if hint else reason, *getattr(error, "__notes__", ())])


def prepare(engine: Engine, reader: Engine, where: str, path: Path | None) -> None:
    """Bring the log to this release's schema, and give it a column for every channel; `path`: its file, if any.

    It is looked at through `reader` first: opening a file for writing changes its mode, and it may be no log.

    Raises
    ------
    StoreDamaged
        The log was written by a newer release, or is no log.
    StoreUnreachable
        It cannot be opened or written.
    UsageError
        It is a centre, which holds many logs.
    """
    with translated(where):
        refuse_centre(reader, where)
        found = _version(reader, where) if _exists(path) else None
        if found != SCHEMA:
            _migrate(engine)
        with engine.connect() as connection:
            if not _missing_channels(connection):
                return
        # Looked up again under the lock: another program may be adding them at this moment.
        with engine.begin() as connection:
            if engine.dialect.name != "sqlite":
                one_migration_on_server(connection)
            for name in _missing_channels(connection):
                kind = schema.shots.c[name].type.compile(engine.dialect)
                connection.execute(text(f"ALTER TABLE shots ADD COLUMN {name} {kind}"))


def _exists(path: Path | None) -> bool:
    return path is None or (path.is_file() and path.stat().st_size > 0)


def file_of(url: str | URL) -> Path | None:
    """Return the file of a log, None for a log on a server."""
    parsed = make_url(url)
    return Path(parsed.database or "").absolute() if parsed.get_backend_name() == "sqlite" else None


def _missing_channels(connection: Connection) -> list[str]:
    if connection.dialect.name == "sqlite":
        return sorted(set(CHANNELS) - columns_in(connection)["shots"])
    return sorted(set(CHANNELS) - {column["name"] for column in inspect(connection).get_columns("shots")})


def prepare_reading(reader: Engine, where: str) -> bool:
    """Let a log be read as it stands, what it has no place for as empty; return whether it is of an earlier schema.

    Raises
    ------
    StoreMissing
        A database on a server has nothing in it yet.
    StoreDamaged
        The log was written by a newer release, or is no log at all; or, on a server, it is of an earlier schema.
    UsageError
        It is a centre, which holds many logs.
    """
    with translated(where):
        refuse_centre(reader, where)
        found = _version(reader, where)
        with reader.connect() as connection:
            missing = missing_columns(connection) if found is not None else {}
        if missing and reader.dialect.name == "sqlite":
            read_as_empty(reader, missing)
            return True
    if found is None and reader.dialect.name != "sqlite":
        raise StoreMissing(f"log {where}: nothing is in it yet; what is logged or entered first makes its tables")
    if found is None or missing:
        raise StoreDamaged(f"log {where}: schema {found or 'none'}, allowed here: {SCHEMA} (open it once for writing)")
    return False


def schema_of(reader: Engine, where: str) -> str | None:
    """Return the schema that a log is of now, None where it is empty."""
    with translated(where):
        return _version(reader, where)


def _version(engine: Engine, where: str) -> str | None:
    with engine.connect() as connection:
        tables = names_in(connection)
        if not tables:
            return None
        if not {"alembic_version", "shots", "ledger"} <= set(tables):
            raise StoreDamaged(f"log {where}: this database holds other tables and no shots")
        found: str | None = connection.execute(text("SELECT version_num FROM alembic_version")).scalar()
    if found is None or not re.fullmatch("[0-9]{4}", found):
        raise StoreDamaged(f"log {where}: given schema {found!r}, allowed: four digits up to {SCHEMA}")
    if found > SCHEMA:
        raise StoreDamaged(f"log {where}: written by a newer release (schema {found}), this one knows up to {SCHEMA}")
    return found


def _migrate(engine: Engine) -> None:
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(Path(__file__).parent / "migrations"))
    # begun here, or each migration would be a transaction of its own and another program could come in between two
    with _ONE_MIGRATION, engine.begin() as connection:
        if engine.dialect.name != "sqlite":
            one_migration_on_server(connection)
        config.attributes["connection"] = connection
        command.upgrade(config, "head")
