"""Which log it is: the file that was opened, and the newest link of its chain that we have seen.

A person can delete the file of a running logger, move it away, or put an older copy in its place, and the database
library goes on writing into what nobody will ever find. So every transaction looks, before and after it commits,
whether the file that is open is the one that lies at the path, and whether what we last saw in the log is still in it.
Both are one look at the file: to ask the system for it takes as long as to write a row.

A copy written into the file that is open leaves its name and number as they were. Then the file itself is read, past
the write-ahead log: what a checkpoint once put there may grow, and never goes back.
"""

import os
import sqlite3
import time
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Connection, bindparam, select

from shotlog.errors import StoreGone, StoreReplaced
from shotlog.store.log import schema
from shotlog.store.log.prepared import Prepared

__all__ = ["Head", "Identity", "Seen", "head_in_file", "read_head", "read_uid", "write_ahead"]

_TRIES = 5
_AGAIN_S = 0.02
"""A checkpoint of another program may be writing the file just now: so often it is read again, with such pauses."""


_HEAD = Prepared(select(schema.ledger.c.id, schema.ledger.c.digest).order_by(schema.ledger.c.id.desc()).limit(1))
_LINK = Prepared(select(schema.ledger.c.digest).where(schema.ledger.c.id == bindparam("number")))


class MixedPages(Exception):
    """A file holds pages of more than one moment, and tells nothing by itself.

    A checkpoint is writing it; or one was held up by somebody who was reading: it leaves out every page that was
    written again since, until the next one (SQLite's "Write-Ahead Logging", on concurrency). With its write-ahead log
    it is whole.
    """


@dataclass(frozen=True, slots=True)
class Head:
    """The newest link of the chain, as it was seen: its number and its digest."""

    number: int
    digest: str


@dataclass(frozen=True, slots=True)
class Seen:
    """A log as it was last seen: what it is called, and the newest link of its chain."""

    uid: str
    head: Head


def read_head(connection: Connection) -> Head | None:
    """Return the newest link of the chain, None where there is none yet."""
    found = _HEAD.first(connection)
    return None if found is None else Head(*found)


def read_uid(connection: Connection) -> str | None:
    """Return what the log is called, None where it has no name yet."""
    return connection.execute(select(schema.logs.c.uid).order_by(schema.logs.c.id.desc()).limit(1)).scalar()


class Identity:
    """Tells the log that was opened from anything that may come to lie at its path.

    `path` is the file of an SQLite log, None for a log on a server, of which only the chain can be looked at.
    """

    def __init__(self, where: str, path: Path | None) -> None:
        self._where, self._path = where, path
        self._file: tuple[int, int] | None = None
        self._ahead: tuple[int, int] | None = None
        self._content: tuple[int, int, int] | None = None
        self._in_file: Head | None = None
        self.head: Head | None = None
        self.uid: str | None = None

    def take(self) -> None:
        """Take the file that lies at the path now for that of the log: it has just been opened."""
        if self._path is None:
            return
        found = self._stat(self._path)
        self._file, self._content = (found.st_dev, found.st_ino), _content(found)
        self._ahead = _number(write_ahead(self._path))
        with suppress(MixedPages):
            self._in_file = head_in_file(self._path)

    @property
    def is_known(self) -> bool:
        """Whether the log was open once, so that it can be told from others."""
        return self._file is not None

    @property
    def seen(self) -> Seen | None:
        """The log as it was last seen, None where it was not, or has no name yet."""
        return None if self.uid is None or self.head is None else Seen(self.uid, self.head)

    def is_same_disk(self, folder: Path) -> bool:
        """Say whether a folder lies on the disk that the log was on: the place of a share that went away does not."""
        return self._file is None or folder.stat().st_dev == self._file[0]

    def is_our_write_ahead(self, path: Path) -> bool:
        """Say whether a write-ahead log is the one that belongs to the file that was opened."""
        return self._ahead is not None and _number(path) == self._ahead

    def holds_file(self, path: Path) -> bool:
        """Say whether the file at a path holds what a checkpoint once put into that of the log."""
        try:
            link = head_in_file(path)
        except MixedPages:
            return not self._is_shorter(path.stat())
        return self._in_file is None or (link is not None and link.number >= self._in_file.number)

    def check_file(self) -> None:
        """Look whether the file at the path is the one that was opened.

        Raises
        ------
        StoreGone
            There is no file at the path any more.
        StoreReplaced
            It is another one.
        """
        if self._path is not None and self._file is not None:
            self._check_number(self._stat(self._path))

    def _check_number(self, found: os.stat_result) -> None:
        if (found.st_dev, found.st_ino) != self._file:
            raise StoreReplaced(f"log {self._where}: another file was put in its place")

    def check_commit(self) -> None:
        """Look at the file once more, after a commit: that may have put what it held into it, and is the last to know.

        Raises
        ------
        StoreGone, StoreReplaced
            As `check_file`; or somebody wrote over it at the same moment.
        """
        self._check_content()

    def check_chain(self, connection: Connection, newest: Head | None) -> None:
        """Look whether the log still holds what we last saw in it, and so does its file, which is the one at the path.

        Raises
        ------
        StoreGone
            As `check_file`.
        StoreReplaced
            It does not: this is an older copy, or another log.
        """
        head = self.head
        if head is not None and newest != head and _link(connection, head.number) != head:
            raise StoreReplaced(f"log {self._where}: an older copy, or another log, was put in its place")
        self._check_content(connection)

    def saw(self, link: Head | None, uid: str | None) -> None:
        """Remember the newest link of the chain, and what the log is called: from now on it must hold the one."""
        if link is not None and (self.head is None or link.number > self.head.number):
            self.head = link
        self.uid = uid or self.uid

    def _stat(self, path: Path) -> os.stat_result:
        try:
            return path.stat()
        except FileNotFoundError as error:
            gone = "it was deleted or moved away" if path.parent.is_dir() else f"the folder {path.parent} is gone"
            raise StoreGone(f"log {self._where}: its file is not there any more: {gone}") from error
        except OSError as error:
            raise StoreGone(f"log {self._where}: its file cannot be reached: {error.strerror or error}") from error

    def _check_content(self, connection: Connection | None = None) -> None:
        """Look at the file, and into it whenever it was written: by a checkpoint, or by somebody who copied over it."""
        if self._path is None or self._file is None:
            return
        found = self._stat(self._path)
        self._check_number(found)
        if _content(found) != self._content:
            self._take_content(self._path, found, connection)

    def _take_content(self, path: Path, found: os.stat_result, connection: Connection | None) -> None:
        before = self._in_file
        try:
            link = head_in_file(path)
        except MixedPages:
            gone_back, link = self._is_shorter(found), before
        else:
            gone_back = before is not None and (link is None or link.number < before.number)
            gone_back = gone_back or bool(connection and link is not None and _link(connection, link.number) != link)
        if gone_back:
            raise StoreReplaced(f"log {self._where}: an older copy, or another file, was written over it")
        self._in_file, self._content = link, _content(found)

    def _is_shorter(self, found: os.stat_result) -> bool:
        """Say whether a file that cannot be read was cut: what packs one leaves it whole."""
        return self._content is not None and found.st_size < self._content[0]


def write_ahead(path: Path) -> Path:
    """Return where the write-ahead log of a file lies."""
    return path.with_name(path.name + "-wal")


def _number(path: Path) -> tuple[int, int] | None:
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino


def _content(found: os.stat_result) -> tuple[int, int, int]:
    return found.st_size, found.st_mtime_ns, found.st_ctime_ns


def _link(connection: Connection, number: int) -> Head | None:
    digest = _LINK.scalar(connection, number=number)
    return None if digest is None else Head(number, digest)


def head_in_file(path: Path) -> Head | None:
    """Return the newest link that the file itself holds, whatever the write-ahead log beside it adds; None for none.

    Raises
    ------
    MixedPages
        It does not say.
    """
    for tried in range(_TRIES):
        if tried:
            time.sleep(_AGAIN_S)
        before = _content(path.stat())
        try:
            connection = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro&immutable=1", uri=True)
            try:
                row = connection.execute("SELECT id, digest FROM ledger ORDER BY id DESC LIMIT 1").fetchone()
            finally:
                connection.close()
        except sqlite3.OperationalError:
            row = None  # a new log may lie in its write-ahead log yet, tables and all
        except sqlite3.DatabaseError as error:
            if error.sqlite_errorcode == sqlite3.SQLITE_NOTADB:
                return None
            continue
        if _content(path.stat()) == before:
            return None if row is None else Head(*row)
    raise MixedPages
