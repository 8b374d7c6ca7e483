"""A log in a folder that may not be written: a disk of the archive, a share, somebody else's folder.

To read a file in write-ahead mode SQLite makes two files beside it, and gives up where it may not. Where nobody has the
log open there is nothing in those files, and the log is whole without them; it is then read as one that stands still.
As soon as somebody opens it the files are there, and whoever may read them reads the log with them.
"""

import os
import sqlite3
from pathlib import Path
from typing import Any

from sqlalchemy import Engine, event
from sqlalchemy.exc import DisconnectionError

__all__ = ["read_where_it_stands"]

_STANDING = "standing"


def read_where_it_stands(engine: Engine, path: Path) -> None:
    """Let the connections of an engine that only reads take a log as it stands where its folder may not be written."""

    def connect(_dialect: object, record: Any, arguments: list[Any], _keys: object) -> None:
        record.info[_STANDING] = _stands(path)
        if record.info[_STANDING]:
            arguments[0] += "&immutable=1"

    def taken(_connection: sqlite3.Connection, record: Any, _proxy: object) -> None:
        if record.info.get(_STANDING) and not _stands(path):
            raise DisconnectionError  # somebody has opened it since: the engine connects anew

    event.listen(engine, "do_connect", connect)
    event.listen(engine, "checkout", taken)


def _stands(path: Path) -> bool:
    """Say whether nobody has the log open for writing, and we may not put a file beside it."""
    if not path.is_file() or os.access(path.parent, os.W_OK):
        return False
    written = path.with_name(f"{path.name}-wal")
    return not written.exists() or not written.stat().st_size
