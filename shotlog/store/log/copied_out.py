"""Copies of a log made to take its place: out of a file that is still open, or of an older one written over it."""

import logging
import sqlite3
from pathlib import Path

from sqlalchemy import Engine

from shotlog.store.log import engine as database
from shotlog.store.log.aside import free_name
from shotlog.store.log.identity import Identity
from shotlog.store.log.looked_at import damage_of, head_at, uid_at, url_of

__all__ = ["discard", "made_new", "older_copy", "rescue", "settle_file"]

logger = logging.getLogger(__name__)


def rescue(path: Path, identity: Identity, opened: Engine | None) -> Path | None:
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
    if damage_of(to) or (identity.head is not None and head_at(to, identity.head.number) != identity.head):
        discard(to)
        return None
    return to


def older_copy(path: Path, identity: Identity) -> Path | None:
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
    if identity.uid is None or uid_at(older) != identity.uid or damage_of(older):
        discard(older)
        return None
    return older


def made_new(path: Path) -> Engine:
    """Return a new, empty log."""
    engine, reader = database.connect(url_of(path)), database.connect(url_of(path), read_only=True)
    try:
        database.prepare(engine, reader, str(path), path)
    finally:
        reader.dispose()
    return engine


def _settle(connection: sqlite3.Connection) -> None:
    """Leave nothing beside a file, and let none come when it is only read: it is to be renamed."""
    connection.execute("PRAGMA journal_mode=DELETE").close()


def settle_file(path: Path) -> None:
    connection = sqlite3.connect(path)
    _settle(connection)
    connection.close()


def discard(made: Path) -> None:
    """Delete a copy that came to nothing, and what was left beside it."""
    for end in ("", "-wal", "-shm"):
        made.with_name(made.name + end).unlink(missing_ok=True)
