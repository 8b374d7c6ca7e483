"""Putting a log right that was deleted, moved, replaced or damaged while shots went on coming in, or before.

Nothing that lies at the path is written over or deleted: it is set aside under a name of its own, which is said. What
comes to the path is, in this order: the log itself, where it is back; all of it, out of the file that is still open,
wherever that was moved, or deleted; an older copy that was written over it; what still reads of a damaged file; and,
after a while, a new log. Whichever does not hold all that was last seen in the log names the one that it follows.
"""

import logging
import sqlite3
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sqlalchemy import Engine
from sqlalchemy.exc import DBAPIError

from shotlog.errors import StoreDamaged, StoreError, StoreGone, StoreReplaced, StoreUnreachable
from shotlog.store.log import engine as database
from shotlog.store.log.aside import free_name, set_aside
from shotlog.store.log.identity import Head, Identity, write_ahead
from shotlog.store.log.salvage import Salvaged, salvage
from shotlog.store.log.verifying import verify_chain

__all__ = ["GRACE_S", "PutRight", "put_right"]

GRACE_S = 60.0
"""How long a log that is nowhere, and of which nothing can be had, may take to come back before a new one is begun, in
seconds. Somebody whose share is often away for minutes would take more."""

STILL_S = 0.3
"""A file that does not change for so long, in seconds, is taken for written to its end."""
_STILL_TRIES = 20

_OF_OURS = (b"CREATE TABLE ledger", b"CREATE TABLE presses", b"CREATE TABLE alembic_version")
"""What stands in the file of every log, wherever a page was lost."""
_BLOCK = 1 << 20

logger = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class PutRight:
    """What was done to put a log right.

    `how`: ``put back``, all of it, out of the file that was still open; ``salvaged``, what reads of a damaged file;
    ``older``, on from an older copy; ``new``, begun anew. `aside`: the name under which what lay at the path is kept,
    empty where nothing did. `damage`: what the database said of it. `whole`: nothing that was in the log is missing.
    `uid`, `digest`: the log that it goes on from and its last known head, None where that is not known. `found`: what
    was read of a damaged file.
    """

    how: str
    path: Path
    aside: str = ""
    damage: str = ""
    whole: bool = False
    uid: str | None = None
    digest: str | None = None
    found: Salvaged | None = None

    @property
    def reason(self) -> str:
        """Why the log goes on from another one, as it is recorded in it."""
        why = (
            f"damaged ({self.damage})"
            if self.damage
            else "an older copy was written over it"
            if self.how == "older"
            else "gone"
        )
        return why + (f"; set aside as {self.aside}" if self.aside else "")


def put_right(
    path: Path, identity: Identity, opened: Engine | None, close: Callable[[], None], since: float
) -> PutRight | None:
    """Bring the log back to its path, as whole as it can be had; return what was done, None where it is back by itself.

    `opened` is what still has the file open that lay there, `close` closes it; it has been out of reach since the time
    `since` of the system's monotonic clock, in seconds.

    Raises
    ------
    StoreUnreachable
        Not yet.
    StoreDamaged
        It is no log, and never was: a newer release wrote it, or it is some other kind of file.
    """
    try:
        return _put_right(path, identity, opened, close, since)
    except OSError as error:
        raise StoreUnreachable(f"log {path}: cannot be put right: {error.strerror or error}") from error


def _put_right(
    path: Path, identity: Identity, opened: Engine | None, close: Callable[[], None], since: float
) -> PutRight | None:
    if not path.parent.is_dir() or not identity.is_same_disk(path.parent):
        raise StoreGone(f"log {path}: its folder is gone, or another lies in its place; bring it back")
    there = path.exists()
    is_open = there and _is_open(path, identity)
    if is_open and not identity.holds_file(path):
        return _written_over(path, identity, opened, close)
    if there and not is_open:
        _wait_until_still(path)
    damage = _damage(path) if there else ""
    if there and not damage and _is_ours(path, identity):
        return None
    if not is_open and (rescued := _rescue(path, identity, opened)):
        return _put_back(path, rescued, identity, close)
    if damage:
        _refuse_strangers(path, identity, damage)
        return _salvaged(path, identity, damage, close)
    if time.monotonic() - since < GRACE_S:
        said = f"log {path}: is not back; a new one is begun {GRACE_S:.0f} s after it went"
        raise StoreReplaced(said) if there else StoreGone(said)
    return _begun_anew(path, identity, close)


def _written_over(path: Path, identity: Identity, opened: Engine | None, close: Callable[[], None]) -> PutRight:
    """Put a file right whose content was written over while it was open; its write-ahead log may still hold it all."""
    _wait_until_still(path)
    rescued = _rescue(path, identity, opened)
    if rescued is not None and not _verifies(rescued):
        _discard(rescued)
        rescued = None
    if rescued is not None:
        return _put_back(path, rescued, identity, close)
    older = _older_copy(path, identity)
    if older is not None:
        aside = _swapped(path, older, "put-aside", close)
        return PutRight("older", path, aside, uid=identity.uid, digest=_digest(identity))
    return _salvaged(path, identity, "another file was written over it", close)


def _wait_until_still(path: Path) -> None:
    """Wait until nobody writes into a file any more: somebody may be copying it there just now."""
    for _ in range(_STILL_TRIES):
        before = path.stat()
        time.sleep(STILL_S)
        after = path.stat()
        if (before.st_size, before.st_mtime_ns) == (after.st_size, after.st_mtime_ns):
            return
    raise StoreReplaced(f"log {path}: somebody is writing another file in its place")


def _damage(path: Path) -> str:
    """Return what is wrong with the file of a log, empty where nothing is; it has to be found twice."""
    found = ""
    for _ in range(2):
        try:
            connection = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)
            try:
                found = str(connection.execute("PRAGMA integrity_check(1)").fetchone()[0])
            finally:
                connection.close()
        except sqlite3.OperationalError as error:
            raise StoreUnreachable(f"log {path}: {error}") from error
        except sqlite3.DatabaseError as error:
            found = str(error)
        if found == "ok":
            return ""
    return " ".join(found.replace("*** in database main ***", "").split())


def _is_ours(path: Path, identity: Identity) -> bool:
    """Say whether what lies at the path holds all that was last seen in the log."""
    if identity.head is None:
        return True
    if not identity.holds_file(path):
        return False
    return _head(path, identity.head.number) == identity.head


def _is_open(path: Path, identity: Identity) -> bool:
    """Say whether the file at the path is the one that was opened."""
    try:
        identity.check_file()
    except StoreUnreachable:
        return False
    return identity.is_known


def _head(path: Path, number: int | None = None) -> Head | None:
    """Return the newest link of the log at a path, or the one of a number."""
    which = "ORDER BY id DESC LIMIT 1" if number is None else f"WHERE id = {number}"
    found = _asked(path, f"SELECT id, digest FROM ledger {which}")
    return None if found is None else Head(*found)


def _rescue(path: Path, identity: Identity, opened: Engine | None) -> Path | None:
    """Copy the log out of the file that is still open to beside its path; None where not all of it can be had."""
    if opened is None or not opened.pool.checkedin():  # type: ignore[attr-defined]
        return None
    to = free_name(path, "rescued")
    raw = opened.raw_connection()
    copy = sqlite3.connect(to)
    try:
        raw.driver_connection.backup(copy)  # type: ignore[union-attr]
        _settle(copy)
    except sqlite3.Error as error:
        logger.error("log %s: what is open cannot be copied: %s", path, error)
    finally:
        copy.close()
        raw.close()
    if _damage(to) or (identity.head is not None and _head(to, identity.head.number) != identity.head):
        _discard(to)
        return None
    return to


def _put_back(path: Path, rescued: Path, identity: Identity, close: Callable[[], None]) -> PutRight:
    ours = identity.is_our_write_ahead(write_ahead(path))
    return PutRight("put back", path, _swapped(path, rescued, "put-aside", close, with_ahead=not ours), whole=True)


def _discard(made: Path) -> None:
    """Delete a copy that came to nothing, and what was left beside it."""
    for end in ("", "-wal", "-shm"):
        made.with_name(made.name + end).unlink(missing_ok=True)


def _swapped(path: Path, new: Path, word: str, close: Callable[[], None], with_ahead: bool = True) -> str:
    """Set aside what lies at a path, and put a file there; return the name under which the other is kept."""
    aside = set_aside(path, word, close, with_ahead)
    new.rename(path)
    return aside


def _verifies(path: Path) -> bool:
    reader = database.connect(f"sqlite:///{path.as_posix()}", read_only=True)
    try:
        with reader.connect() as connection:
            verify_chain(connection, str(path))
    except (StoreError, DBAPIError):
        return False
    finally:
        reader.dispose()
    return True


def _refuse_strangers(path: Path, identity: Identity, damage: str) -> None:
    """Leave a file alone that nobody ever opened as a log, and in which nothing says that it is one."""
    if identity.is_known:
        return
    with path.open("rb") as file:
        end = b""
        while block := file.read(_BLOCK):
            if any(word in end + block for word in _OF_OURS):
                return
            end = block[-64:]
    raise StoreDamaged(f"log {path}: {damage} (this is some other kind of file)")


def _salvaged(path: Path, identity: Identity, damage: str, close: Callable[[], None]) -> PutRight:
    """Set a damaged log aside, and put in its place what still reads of it."""
    new, head = free_name(path, "salvaged"), identity.head or _head(path)
    uid = identity.uid or _uid(path)
    found: Salvaged | None = None
    source, target = database.connect(_url(path), read_only=True), _made(new)
    try:
        database.prepare_reading(source, str(path))
        found = salvage(source, target)
    except (StoreError, DBAPIError, ValueError, KeyError) as error:
        logger.error("log %s: nothing can be read of it: %s", path, error)
    finally:
        source.dispose()
        target.dispose()
    _settle_file(new)
    whole = found is not None and not found.lost and head is not None and _head(new) == head
    aside = _swapped(path, new, "damaged", close)
    how = "new" if found is None else "salvaged"
    return PutRight(how, path, aside, damage, whole, uid, None if head is None else head.digest, found)


def _older_copy(path: Path, identity: Identity) -> Path | None:
    """Return a copy of what was written over the log, without the write-ahead log beside; None where it is none."""
    older = free_name(path, "older")
    source = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro&immutable=1", uri=True)
    copy = sqlite3.connect(older)
    try:
        source.backup(copy)
        _settle(copy)
    except sqlite3.Error:
        logger.warning("log %s: what was written over it is no log", path)
    finally:
        copy.close()
        source.close()
    if identity.uid is None or _uid(older) != identity.uid or _damage(older):
        _discard(older)
        return None
    return older


def _begun_anew(path: Path, identity: Identity, close: Callable[[], None]) -> PutRight:
    new = free_name(path, "new")
    _made(new).dispose()
    _settle_file(new)
    aside = _swapped(path, new, "put-aside", close)
    return PutRight("new", path, aside, uid=identity.uid, digest=_digest(identity))


def _digest(identity: Identity) -> str | None:
    return None if identity.head is None else identity.head.digest


def _made(path: Path) -> Engine:
    """Return a new, empty log."""
    engine, reader = database.connect(_url(path)), database.connect(_url(path), read_only=True)
    try:
        database.prepare(engine, reader, str(path), path)
    finally:
        reader.dispose()
    return engine


def _settle(connection: sqlite3.Connection) -> None:
    """Leave nothing beside a file, and let none come when it is only read: it is to be renamed."""
    connection.execute("PRAGMA journal_mode=DELETE").close()


def _settle_file(path: Path) -> None:
    connection = sqlite3.connect(path)
    _settle(connection)
    connection.close()


def _url(path: Path) -> str:
    return f"sqlite:///{path.as_posix()}"


def _uid(path: Path) -> str | None:
    """Return which log lies at a path, None where it does not say."""
    found = _asked(path, "SELECT uid FROM logs ORDER BY id DESC LIMIT 1")
    return None if found is None else str(found[0])


def _asked(path: Path, query: str) -> tuple[Any, ...] | None:
    """Return the row that a query finds in a file, None where there is none or it does not read."""
    connection = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)
    try:
        row: tuple[Any, ...] | None = connection.execute(query).fetchone()
    except sqlite3.Error:
        return None
    finally:
        connection.close()
    return row
