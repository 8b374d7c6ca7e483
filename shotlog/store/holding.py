"""One logger a configuration and a log: who holds them, and that a second one is refused.

An SQLite log has one holder, whatever the configuration: it alone puts the log right when its file is gone or damaged.
A log on a server has one a press, so that several computers may each log the presses beside them. The operating system,
or the server, gives a lock back when whoever holds it dies, however it dies: none is left behind.

Who holds it stands in a second file beside the lock: on some systems one that is locked cannot be read.
"""

import errno
import hashlib
import json
import logging
import os
import platform
import tempfile
import threading
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

from filelock import FileLock, Timeout
from sqlalchemy import Connection, text
from sqlalchemy.exc import DBAPIError

from shotlog.clock import SystemClock, iso_utc
from shotlog.errors import StoreHeld, StoreUnreachable
from shotlog.store.log import engine as database
from shotlog.withheld import without_secrets

__all__ = ["Holder", "held"]

_NO_LOCKS = (errno.ENOSYS, errno.EOPNOTSUPP, errno.ENOLCK)

logger = logging.getLogger(__name__)


class Holder:
    """Holds a log for this process, for the presses and balances named; see `held`."""

    def __init__(self, config: Path, store: str, names: Sequence[str]) -> None:
        self._config, self._store, self._names = config, store, names
        self._path = database.file_of(store)
        self._locks: dict[Path, FileLock] = {}
        self._server: Connection | None = None
        self._of_server = 0
        """The process of the server that our connection had when it last held the presses, 0 for never."""
        self._one_at_a_time = threading.Lock()

    def hold(self) -> None:
        """Hold the configuration and the log, those not held yet; a lock whose file was deleted is taken anew.

        Any thread may: on a server each does at every transaction.

        Raises
        ------
        StoreHeld
            Another process does; says which.
        StoreUnreachable
            The folder of the log, or its server, cannot be reached.
        """
        with self._one_at_a_time:  # two that both found the connection lost would refuse each other
            self._lock(self._config.resolve(), f"configuration {self._config}", elsewhere=True)
            if self._path is not None:
                self._lock(self._path.resolve(), f"log {self._path}")
            elif self._server is None or not _answers(self._server):
                self._leave_server()
                self._server = self._on_server()

    def release(self) -> None:
        """Give everything back."""
        with self._one_at_a_time:
            for path, lock in self._locks.items():
                with suppress(OSError):
                    _said_in(path).unlink(missing_ok=True)
                lock.release()
            self._locks.clear()
            self._leave_server()

    def _leave_server(self) -> None:
        if self._server is not None:
            engine = self._server.engine
            self._server.close()
            engine.dispose()
            self._server = None

    def _lock(self, what: Path, said: str, elsewhere: bool = False) -> None:
        try:
            self._lock_file(what.with_name(what.name + ".lock"), said)
        except PermissionError as error:
            if not elsewhere:
                raise StoreUnreachable(f"{said}: {error.strerror or error}") from error
            # a configuration may lie where nothing is written; it is held all the same
            name = hashlib.sha256(os.fsencode(what)).hexdigest()[:16]
            self._lock_file(Path(tempfile.gettempdir()) / f"shotlog-{name}.lock", said)
        except OSError as error:
            raise StoreUnreachable(f"{said}: cannot be held: {error.strerror or error}") from error

    def _lock_file(self, path: Path, said: str) -> None:
        if path in self._locks:
            if path.exists():
                return
            self._locks.pop(path).release()
        if not path.parent.is_dir():  # the lock would make it
            raise StoreUnreachable(f"{said}: the folder {path.parent} is not there")
        lock = FileLock(path, timeout=0, thread_local=False, preserve_lock_file=True)
        try:
            lock.acquire()
        except Timeout:
            raise StoreHeld(f"{said} is logged already, {_who(path)}; end that one first") from None
        except OSError as error:
            if error.errno not in _NO_LOCKS:
                raise
            logger.warning("%s: its disk knows no locks; take care that no second logger is started", said)
        self._locks[path] = lock
        now = iso_utc(SystemClock().now())
        said_by = {"host": platform.node(), "process": os.getpid(), "since": now, "config": str(self._config.resolve())}
        _said_in(path).write_text(json.dumps(said_by), encoding="utf-8")

    def _on_server(self) -> Connection:
        """Take a lock a press on the server; it is given back with the connection."""
        engine = database.connect(self._store)
        where = without_secrets(self._store)
        with database.translated(where):
            connection = engine.connect().execution_options(isolation_level="AUTOCOMMIT")
            name = f"shotlog on {platform.node()}, process {os.getpid()}"
            number = connection.execute(_NAME, {"name": name}).scalar_one()
        for name in self._names:
            with database.translated(where):
                if connection.execute(_TRY, {"key": _key(name)}).scalar_one():
                    continue
                by = connection.execute(_BY, {"key": _key(name)}).first()
            connection.close()
            engine.dispose()
            if by is not None and by.pid == self._of_server:
                raise StoreUnreachable(
                    f"log {where}: press {name}: the server has not given up yet the connection that we lost"
                )
            who = "by another computer or program" if by is None else f"by {by.who}, since {by.since}"
            raise StoreHeld(f"press {name} is logged already into this log, {who}; end that one first")
        self._of_server = number
        return connection


_NAME = text("SELECT pg_backend_pid(), set_config('application_name', :name, false)")
_TRY = text("SELECT pg_try_advisory_lock(:key)")
_BY = text(
    "SELECT pid, application_name || coalesce(' (' || host(client_addr) || ')', '') AS who, "
    "to_char(backend_start, 'YYYY-MM-DD HH24:MI:SS OF') AS since FROM pg_locks JOIN pg_stat_activity USING (pid) "
    "WHERE locktype = 'advisory' AND ((classid::bigint << 32) | objid::bigint) = :key"
)


def _answers(connection: Connection) -> bool:
    try:
        connection.execute(text("SELECT 1"))
    except DBAPIError:
        return False
    return True


def _key(name: str) -> int:
    """Return the number of a press's lock, of 63 bits."""
    return int.from_bytes(hashlib.sha256(f"shotlog {name}".encode()).digest()[:8], "big") >> 1


def _said_in(lock: Path) -> Path:
    return lock.with_suffix(".holder")


def _who(lock: Path) -> str:
    """Return who holds a lock, as well as it can be told."""
    try:
        by = json.loads(_said_in(lock).read_text(encoding="utf-8"))
        return f"by process {by['process']} on {by['host']}, since {by['since']}, with {by['config']}"
    except (OSError, ValueError, KeyError, TypeError):
        return "by another program"


@contextmanager
def held(config: Path, store: str, names: Sequence[str]) -> Iterator[Holder]:
    """Hold a configuration and its log for the length of the block, as far as the log can be reached.

    Raises
    ------
    StoreHeld
        Another process holds one of them; says which.
    """
    holder = Holder(config, store, names)
    with ExitStack() as stack:
        stack.callback(holder.release)
        try:
            holder.hold()
        except StoreHeld:
            raise
        except StoreUnreachable:
            pass  # it is held once it is there: whoever opens the log tries again
        yield holder
