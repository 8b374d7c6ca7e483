"""Looking at every page of the file of a log, beside those who use it.

A question touches few pages: one that was damaged among old shots may be met by nobody for weeks, and a disk that
damaged one will damage more. What only refers wrongly is not looked for; `shotlog verify` does.
"""

import sqlite3
import threading
from contextlib import closing, suppress
from pathlib import Path

__all__ = ["EveryPage"]


class EveryPage:
    """Looks at the pages of the file at `path`, one look at a time; another thread may break it off."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._lock = threading.Lock()
        self._connection: sqlite3.Connection | None = None

    def damage(self) -> str | None:
        """Return what is wrong, empty where every page reads; None where it was broken off, or the file is not there.

        Takes as long as the file takes to be read once, and holds up nobody who writes.
        """
        try:
            with closing(
                sqlite3.connect(f"{self._path.as_uri()}?mode=ro", uri=True, check_same_thread=False)
            ) as opened:
                with self._lock:
                    self._connection = opened
                try:
                    found = str(opened.execute("PRAGMA quick_check(1)").fetchone()[0])
                finally:
                    with self._lock:
                        self._connection = None
        except sqlite3.OperationalError:
            return None
        except sqlite3.DatabaseError as error:
            found = str(error)
        return "" if found == "ok" else " ".join(found.replace("*** in database main ***", "").split())

    def break_off(self) -> None:
        """End the look that is under way, if any."""
        with self._lock, suppress(sqlite3.Error):
            if self._connection is not None:
                self._connection.interrupt()
