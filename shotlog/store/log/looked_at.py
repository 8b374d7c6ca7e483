"""Looking at a file that lies at the path of a log: whether it is whole, which log it is, and how far it goes."""

import sqlite3
import time
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

from sqlalchemy.exc import DBAPIError

from shotlog.errors import StoreDamaged, StoreError, StoreReplaced, StoreUnreachable
from shotlog.store.log import engine as database
from shotlog.store.log.broken_off import go_on, heeding
from shotlog.store.log.identity import Head, Identity
from shotlog.store.log.verifying import verify_chain

__all__ = ["damage_of", "head_at", "refuse_strangers", "uid_at", "url_of", "verifies", "wait_until_still"]

STILL_S = 0.3
"""A file that does not change for so long, in seconds, is taken for written to its end."""
_STILL_TRIES = 20

_OF_OURS = (b"CREATE TABLE ledger", b"CREATE TABLE presses", b"CREATE TABLE alembic_version")
"""What stands in the file of every log, wherever a page was lost."""
_BLOCK = 1 << 20


def wait_until_still(path: Path) -> None:
    """Wait until nobody writes into a file any more: somebody may be copying it there just now."""
    for _ in range(_STILL_TRIES):
        go_on()
        before = path.stat()
        time.sleep(STILL_S)
        after = path.stat()
        if (before.st_size, before.st_mtime_ns) == (after.st_size, after.st_mtime_ns):
            return
    raise StoreReplaced(f"log {path}: somebody is writing another file in its place")


def damage_of(path: Path) -> str:
    """Return what is wrong with the file of a log, empty where nothing is; it has to be found twice."""
    found = ""
    for _ in range(2):
        try:
            connection = heeding(sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True))
            try:
                found = str(connection.execute("PRAGMA integrity_check(1)").fetchone()[0])
            finally:
                connection.close()
        except sqlite3.OperationalError as error:
            go_on()
            raise StoreUnreachable(f"log {path}: {error}") from error
        except sqlite3.DatabaseError as error:
            found = str(error)
        go_on()
        if found == "ok":
            return ""
    return " ".join(found.replace("*** in database main ***", "").split())


def head_at(path: Path, number: int | None = None) -> Head | None:
    """Return the newest link of the log at a path, or the one of a number."""
    which = "ORDER BY id DESC LIMIT 1" if number is None else f"WHERE id = {number}"
    found = _asked(path, f"SELECT id, digest FROM ledger {which}")  # noqa: S608  (a number, or none)
    return None if found is None or not isinstance(found[1], str) else Head(*found)


def uid_at(path: Path) -> str | None:
    """Return which log lies at a path, None where it does not say."""
    found = _asked(path, "SELECT uid FROM logs ORDER BY id DESC LIMIT 1")
    return None if found is None or not isinstance(found[0], str) else found[0]


def _asked(path: Path, query: str) -> tuple[Any, ...] | None:
    """Return the row that a query finds in a file, None where there is none or it does not read."""
    try:
        with closing(sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)) as connection:
            row: tuple[Any, ...] | None = connection.execute(query).fetchone()
    except sqlite3.Error:
        return None
    return row


def verifies(path: Path) -> bool:
    reader = heeding(database.connect(f"sqlite:///{path.as_posix()}", read_only=True))
    try:
        with reader.connect() as connection:
            verify_chain(connection, str(path), lambda _: go_on())
    except (StoreError, DBAPIError):
        go_on()
        return False
    except (AttributeError, KeyError, TypeError, ValueError):  # a page that was written over reads, and holds anything
        return False
    finally:
        reader.dispose()
    return True


def refuse_strangers(path: Path, identity: Identity, damage: str, close: Callable[[], None]) -> None:
    """Leave a file alone that nobody ever opened as a log, and in which nothing says that it is one.

    `close` closes what may have it open: on some systems whoever closes a file gives back every lock that this process
    has on it, those of the database among them.
    """
    if identity.is_known:
        return
    close()
    with path.open("rb") as file:
        end = b""
        while block := file.read(_BLOCK):
            go_on()
            if any(word in end + block for word in _OF_OURS):
                return
            end = block[-64:]
    raise StoreDamaged(f"log {path}: {damage} (this is some other kind of file)")


def url_of(path: Path) -> str:
    return f"sqlite:///{path.as_posix()}"
