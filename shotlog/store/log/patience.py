"""How long a writer waits for the log while another program holds its lock: ten seconds, and not while leaving.

Who was told to stop has to be gone in seconds, with what was read in the journal. A wait inside the database cannot be
cut short, so it is made of short ones.
"""

import sqlite3
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from sqlalchemy import Connection

__all__ = ["BUSY_S", "SLICE_S", "at_once", "begin_write", "leaving_when", "patience_s"]

BUSY_S = 10.0
SLICE_S = 0.2
_LEAVING_S = 0.4

_leaving: list[Callable[[], bool]] = []
"""Of the one recorder of this process, while it runs."""


@contextmanager
def leaving_when(leaving: Callable[[], bool]) -> Iterator[None]:
    """For the length of the block, wait no longer than a moment whenever `leaving` says so."""
    _leaving.append(leaving)
    try:
        yield
    finally:
        _leaving.remove(leaving)


@contextmanager
def at_once() -> Iterator[None]:
    """For the length of the block, wait no longer than a moment: it is known to be locked, and is tried again soon."""
    with leaving_when(lambda: True):
        yield


def patience_s() -> float:
    """Return how long to wait for a lock now, in seconds."""
    for leaving in _leaving:
        if leaving():
            return _LEAVING_S
    return BUSY_S


def begin_write(connection: Connection) -> None:
    """Take SQLite's write lock, if it is not had yet; each try waits for `SLICE_S` at most, as it was opened."""
    driver: Any = connection.connection.dbapi_connection
    if driver.in_transaction:
        return
    began = time.monotonic()
    last = False
    while True:
        try:
            driver.execute("BEGIN IMMEDIATE")
        except sqlite3.OperationalError as error:
            if last or "locked" not in str(error):
                raise
            last = time.monotonic() - began >= patience_s() - SLICE_S
        else:
            return
