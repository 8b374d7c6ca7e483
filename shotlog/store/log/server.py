"""What a log asks of the PostgreSQL server that keeps it, however that was set up.

A connection that reads sees one state for as long as its transaction lasts, and cannot write. A transaction that writes
is on the server's disk when its commit returns, whatever was set for the server, the database or the role: shots leave
the journal then. Numbers come back to the last bit, and texts as they are.

Writers come one after the other by a lock of the server that belongs to no table: one on a table would be waited for by
the server's own cleaning of it, and the other way about. None waits for a lock for longer than `BUSY_S`, nor keeps one
for long after its computer went silent.
"""

import logging
import time
from collections.abc import Sequence
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event, text
from sqlalchemy.exc import DBAPIError

from shotlog.errors import UsageError
from shotlog.store.log.one_way import OneWay
from shotlog.store.log.patience import BUSY_S, SLICE_S, patience_s
from shotlog.store.log.prepared import Asked, Row
from shotlog.withheld import without_secrets

__all__ = ["begin_on_server", "engine_on_server", "one_migration_on_server", "warn_of_unsafe"]

logger = logging.getLogger(__name__)
# that a lost connection cannot be ended in order is no news beside why it was lost, which is raised
logging.getLogger("psycopg").setLevel(logging.ERROR)

_SERVER_S = 5
"""Longest wait for a server, to be reached or for what was sent to arrive, in seconds; one far away may need more."""
_ENCODING = "UTF8"
_WRITERS, _MIGRATIONS = 7_310_579_614, 7_310_579_615
"""The numbers of two locks, of writers and of who changes the tables; made up, and no press's (`store.holding`)."""
_LOCKED = "55P03"
"""A lock was not had in time: PostgreSQL manual, "PostgreSQL Error Codes"."""

_SETTINGS = f"""
SELECT current_setting('server_encoding'),
    set_config('extra_float_digits', '1', false),
    set_config('synchronous_commit', CASE current_setting('synchronous_commit')
        WHEN 'off' THEN 'on' ELSE current_setting('synchronous_commit') END, false),
    set_config('tcp_keepalives_idle', '{2 * _SERVER_S}', false),
    set_config('tcp_keepalives_interval', '{_SERVER_S}', false),
    set_config('tcp_keepalives_count', '3', false),
    set_config('tcp_user_timeout', '{3000 * _SERVER_S}', false)
"""
"""Digits enough for every bit ("Numeric Types"); and only what is not on disk at all is refused to be a commit: what
standbys are waited for is for whoever runs the server to say.

The server asks us for signs of life too: it would keep the locks of a computer that lost power for two hours.
"""
_IDLE_S = 120
"""A transaction in which nothing is asked for so long is ended: its program stands still, and keeps others out."""
_BEGIN = "BEGIN ISOLATION LEVEL READ COMMITTED"
# an earlier release takes the whole table, and so waits for us, and we for it
_TABLE = "LOCK TABLE ledger IN ROW EXCLUSIVE MODE"
_LOCK_IF_FREE = (_BEGIN, f"{_TABLE} NOWAIT", f"SELECT pg_try_advisory_xact_lock({_WRITERS})")
_LOCK = (
    _BEGIN,
    f"SET LOCAL lock_timeout = '{1000 * SLICE_S:.0f}ms'",
    f"SELECT pg_advisory_xact_lock({_WRITERS})",
    _TABLE,
    f"SET LOCAL lock_timeout = '{BUSY_S:.0f}s'",
)


def engine_on_server(server: URL, read_only: bool, kept: int = 5) -> Engine:
    """Return an engine for a log on a server; nothing is opened yet.

    Any number of threads may read at once: each has a connection, up to what the server lets in; `kept` of them stay
    open after.
    """
    level = "REPEATABLE READ" if read_only else "READ COMMITTED"
    engine = create_engine(
        server,
        pool_pre_ping=True,
        pool_size=kept,
        max_overflow=-1,
        isolation_level=level,
        connect_args=_arguments(server),
    )
    where = without_secrets(engine.url.render_as_string())

    @event.listens_for(engine, "connect")
    def settle(connection: Any, _: object) -> None:
        with connection.cursor() as cursor:
            cursor.execute(_SETTINGS)
            encoding = cursor.fetchone()[0]
            if not read_only:
                cursor.execute(
                    f"SET lock_timeout = '{BUSY_S}s'; SET idle_in_transaction_session_timeout = '{_IDLE_S}s'"
                )
        connection.commit()
        if encoding != _ENCODING:
            raise UsageError(
                f"store: given {where!r}, whose database keeps texts as {encoding}, allowed: one that keeps them as "
                f"{_ENCODING} (createdb --encoding={_ENCODING} --template=template0 NAME)"
            )
        if read_only:
            engine.dialect.set_readonly(connection, True)  # type: ignore[attr-defined]

    return engine


def _arguments(server: URL) -> dict[str, int | str]:
    """Return how long to wait for a server that does not answer at all: else it is minutes, and shots wait with us.

    One that took a question and then lost power is asked for signs of life: else its answer is waited for for hours.

    And in which encoding texts travel, whatever the environment or the address say.
    """
    if "psycopg" not in server.drivername:
        return {}
    alive = {"keepalives_idle": 2 * _SERVER_S, "keepalives_interval": _SERVER_S, "keepalives_count": 3}
    return {"connect_timeout": _SERVER_S, "tcp_user_timeout": 1000 * _SERVER_S, **alive, "client_encoding": "utf8"}


def begin_on_server(way: OneWay, asked: Sequence[Asked]) -> list[list[Row]]:
    """Begin a transaction under the lock of writers, which ends with it, and return the answers to what is asked first.

    Where another writer has the lock, each try waits for `SLICE_S` at most.
    """
    try:
        (*_, ((is_free,),)), answers = _begun(way, _LOCK_IF_FREE, asked)
        if is_free:
            return answers
    except DBAPIError as error:
        if not _is_locked(error):
            raise
    began = time.monotonic()
    while True:
        way.undo()
        last = time.monotonic() - began >= patience_s() - SLICE_S
        try:
            return _begun(way, _LOCK, asked)[1]
        except DBAPIError as error:
            if last or not _is_locked(error):
                raise


def _begun(way: OneWay, lock: Sequence[str], asked: Sequence[Asked]) -> tuple[list[list[Row]], list[list[Row]]]:
    answers = way.send([*lock, *asked])
    return answers[: len(lock)], answers[len(lock) :]


def _is_locked(error: DBAPIError) -> bool:
    return getattr(error.orig, "sqlstate", "") == _LOCKED


def one_migration_on_server(connection: Connection) -> None:
    """Let one program at a time change the tables."""
    connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_MIGRATIONS})")


_SAID: set[tuple[str | None, int | None, str]] = set()
"""The servers that were named, by host and port, and what is off there: once in a process is enough."""


def warn_of_unsafe(connection: Connection, what: str) -> None:
    """Say it where a server was set up to promise what it does not keep: then a power cut may take what was logged.

    `what`: how the log, or the centre, at that server is named to people. A log in a file says nothing.
    """
    if connection.dialect.name == "sqlite":
        return
    off = ", ".join(name for name in ("fsync", "full_page_writes") if _setting(connection, name) == "off")
    url = connection.engine.url
    if off and (url.host, url.port, off) not in _SAID:
        _SAID.add((url.host, url.port, off))
        logger.warning("%s: off at its server: %s; a power cut may take what was logged, or all of it", what, off)


def _setting(connection: Connection, name: str) -> str:
    return str(connection.execute(text("SELECT current_setting(:name)"), {"name": name}).scalar_one())
