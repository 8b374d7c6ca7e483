"""Copies of a log made to take its place: out of a file that is still open, or of an older one written over it.

A copy that comes to nothing is deleted again, whatever stood against it: most often the disk is full, and tried anew
every few seconds it would eat what a person makes room for.
"""

import glob
import logging
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path

from sqlalchemy import Engine

from shotlog.errors import StoreUnreachable
from shotlog.store.log import engine as database
from shotlog.store.log.aside import free_name
from shotlog.store.log.broken_off import copy_all, go_on, heeding
from shotlog.store.log.identity import Head, Identity
from shotlog.store.log.looked_at import damage_of, head_at, uid_at, url_of

__all__ = ["being_made", "discard", "left_copy", "made_new", "older_copy", "rescue", "settle_file"]

_SPARE = 1_000_000
"""Bytes that stay free on the disk beside a copy, for what else is written meanwhile."""

logger = logging.getLogger(__name__)


@contextmanager
def being_made(path: Path, word: str) -> Iterator[Path]:
    """Give the name of a copy that is made beside a path; nothing of it is left where that ends by an error."""
    made = free_name(path, word)
    try:
        yield made
    except BaseException:
        discard(made)
        go_on()  # what the database was interrupted in is no error of the file
        raise


def rescue(path: Path, identity: Identity, opened: Engine | None) -> Path | None:
    """Copy the log out of the file that is still open to beside its path; None where not all of it can be had.

    Raises
    ------
    StoreUnreachable
        All of it can be had, and not be written: as long as the file is open, nothing is lost.
    """
    if opened is None or not opened.pool.checkedin():  # type: ignore[attr-defined]
        return None
    raw = opened.raw_connection()
    try:
        source: sqlite3.Connection = raw.driver_connection  # type: ignore[assignment]
        with being_made(path, "rescued") as to:
            whole = _copied(path, source, to, identity)
            if not whole or damage_of(to) or not _holds_head(head_at(to, _number(identity)), identity):
                discard(to)
                return None
            return to
    finally:
        raw.close()


def left_copy(path: Path, identity: Identity) -> Path | None:
    """Return a copy that was rescued before and could not be put at the path, if it holds all of the log."""
    if identity.head is None:
        return None
    for made in sorted(path.parent.glob(f"{glob.escape(path.name)}.rescued-*Z*"), reverse=True):
        if head_at(made, identity.head.number) == identity.head and not damage_of(made):
            return made
    return None


def _copied(path: Path, source: sqlite3.Connection, to: Path, identity: Identity) -> bool:
    try:
        _check_room(path, _size(source))
        with closing(sqlite3.connect(to)) as copy:
            copy_all(source, copy)
            _settle(copy)
    except sqlite3.Error as error:
        if _reads(source, identity):
            raise StoreUnreachable(
                f"log {path}: all of it is still open, and cannot be copied back: {error}; do not end the logger"
            ) from error
        logger.error("log %s: what is open cannot be copied: %s", path, error)
        return False
    return True


def _reads(source: sqlite3.Connection, identity: Identity) -> bool:
    """Say whether what is open still holds all that was last seen in the log."""
    try:
        if source.execute("PRAGMA integrity_check(1)").fetchone()[0] != "ok":
            return False
        found = source.execute("SELECT id, digest FROM ledger WHERE id = ?", (_number(identity),)).fetchone()
    except sqlite3.Error:
        return False
    return _holds_head(None if found is None else Head(*found), identity)


def _holds_head(found: Head | None, identity: Identity) -> bool:
    return identity.head is None or found == identity.head


def _number(identity: Identity) -> int | None:
    return None if identity.head is None else identity.head.number


def _size(source: sqlite3.Connection) -> int:
    pages, size = (source.execute(f"PRAGMA {name}").fetchone()[0] for name in ("page_count", "page_size"))
    return int(pages) * int(size)


def _check_room(path: Path, needed: int) -> None:
    """Look for room before a copy is begun, for it would take the last of it from all others."""
    if shutil.disk_usage(path.parent).free < needed + _SPARE:
        raise StoreUnreachable(
            f"log {path}: to put it right {(needed + _SPARE) / 1e6:.0f} MB must be free on its disk: make room, "
            "and do not end the logger before"
        )


def older_copy(path: Path, identity: Identity) -> Path | None:
    """Return a copy of what was written over the log, without the write-ahead log beside; None where it is none."""
    _check_room(path, path.stat().st_size)
    with being_made(path, "older") as older:
        reads = _copied_over(path, older)
        if not reads or identity.uid is None or uid_at(older) != identity.uid or damage_of(older):
            discard(older)
            return None
        return older


def _copied_over(path: Path, older: Path) -> bool:
    source = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro&immutable=1", uri=True)
    with closing(source), closing(sqlite3.connect(older)) as copy:
        try:
            copy_all(source, copy)
            _settle(copy)
        except sqlite3.Error as error:
            if error.sqlite_errorcode == sqlite3.SQLITE_FULL:
                raise
            logger.warning("log %s: what was written over it is no log", path)
            return False
    return True


def made_new(path: Path) -> Engine:
    """Return a new, empty log."""
    engine, reader = heeding(database.connect(url_of(path))), database.connect(url_of(path), read_only=True)
    try:
        database.prepare(engine, reader, str(path), path)
    except BaseException:
        engine.dispose()
        raise
    finally:
        reader.dispose()
    return engine


def _settle(connection: sqlite3.Connection) -> None:
    """Leave nothing beside a file, and let none come when it is only read: it is to be renamed."""
    connection.execute("PRAGMA journal_mode=DELETE").close()


def settle_file(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection:
        _settle(connection)


def discard(made: Path) -> None:
    """Delete a copy that came to nothing, and what was left beside it."""
    for end in ("", "-wal", "-shm", "-journal"):
        with suppress(OSError):
            made.with_name(made.name + end).unlink(missing_ok=True)
