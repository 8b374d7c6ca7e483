"""A copy of a log's file, taken while it is written to, and looked at before anybody relies on it.

SQLite's own backup interface copies one state of the log, that of the moment it begins, whatever is written meanwhile;
a copy of the file by other means may miss what lies in the write-ahead log beside it.
"""

import os
import shutil
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from hashlib import sha256
from pathlib import Path
from tempfile import mkdtemp

from sqlalchemy.engine import make_url

from shotlog.errors import StoreDamaged, StoreUnreachable, UsageError
from shotlog.store.keeping.head import Head
from shotlog.store.keeping.whole_file import file_damage
from shotlog.store.log.log import open_log

__all__ = ["copy_log", "file_digest", "log_file", "looked_at", "room_for", "work_folder"]

Tell = Callable[[str], None]

_PAGES = 500
"""Pages copied between two looks at whether to say something, or to stop."""
_CHUNK = 1 << 20
_BUSY_S = 10.0


def log_file(store: str, command: str) -> Path:
    """Return the file of a log.

    Raises
    ------
    UsageError
        It is on a server, which has means of its own.
    """
    url = make_url(store)
    if url.get_backend_name() != "sqlite":
        means = {"restore": "pg_restore", "backup": "pg_dump"}.get(command, "the server's own means")
        raise UsageError(
            f"log: given one on a PostgreSQL server, allowed: one in a file; use {means}, and copy "
            "the folder of pictures and the configuration yourself"
        )
    return Path(url.database or "")


@contextmanager
def work_folder(beside: Path) -> Iterator[Path]:
    """Yield a folder beside a file to be made; it is gone with all that is in it when the block ends."""
    try:
        folder = Path(mkdtemp(prefix=f".{beside.name}.", suffix=".part", dir=beside.parent))
    except OSError as error:
        raise StoreUnreachable(f"{beside.parent}: {error.strerror or error}") from error
    try:
        yield folder
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def room_for(n_bytes: int, where: Path) -> None:
    """Look whether there is room in a folder.

    Raises
    ------
    StoreUnreachable
        There is not.
    """
    free = shutil.disk_usage(where).free
    if free < n_bytes:
        raise StoreUnreachable(f"{where}: needs {_mb(n_bytes)} MB while it works, free are {_mb(free)} MB")


def copy_log(file: Path, to: Path, tell: Tell) -> None:
    """Copy the log in `file` as it stands at this moment to a file of its own, durably; others go on writing meanwhile.

    Raises
    ------
    StoreUnreachable
        It cannot be read, or the copy cannot be written.
    StoreDamaged
        It is no database.
    """

    def told(_: int, left: int, whole: int) -> None:
        tell(f"{to.name}: {100 * (whole - left) // max(whole, 1)} % of the log copied")

    try:
        source = sqlite3.connect(f"{file.absolute().as_uri()}?mode=ro", uri=True, timeout=_BUSY_S, isolation_level=None)
        with closing(source), closing(sqlite3.connect(to, isolation_level=None)) as copy:
            # One state is held while it is copied, or every shot that comes in meanwhile would begin it anew.
            source.execute("BEGIN")
            source.execute("SELECT count(*) FROM sqlite_master").fetchone()
            source.backup(copy, pages=_PAGES, progress=told)
            # a file that needs none beside it
            copy.execute("PRAGMA journal_mode=DELETE").fetchone()
    except sqlite3.OperationalError as error:
        raise StoreUnreachable(f"log {file}: {error}") from error
    except sqlite3.DatabaseError as error:
        raise StoreDamaged(f"log {file}: {error}") from error
    with to.open("r+b") as written:
        os.fsync(written.fileno())


def looked_at(file: Path, shown: str, tell: Tell) -> Head:
    """Look at every page and every transaction of a log that nobody writes to; return its head.

    `shown`: what it is called towards people, to whom its own place means nothing.

    Raises
    ------
    StoreDamaged
        It is damaged, or was changed later.
    """
    url = f"sqlite:///{file.absolute().as_posix()}"

    def told(text: str) -> None:
        tell(text.replace(f"log {url}", shown))

    try:
        with open_log(url) as log:
            with log.reading() as connection:
                damage = file_damage(connection, told)
            if damage is not None and not damage.record_whole:
                where = ", ".join(damage.tables) or "no table"
                raise StoreDamaged(f"{shown}: the file is damaged in {where}: {damage.said}")
            return Head(*log.verify(told))
    except StoreDamaged as error:
        raise StoreDamaged(str(error).replace(f"log {url}", shown)) from error


def file_digest(file: Path) -> str:
    """Return the SHA-256 of a file, in hex."""
    state = sha256()
    with file.open("rb") as opened:
        while piece := opened.read(_CHUNK):
            state.update(piece)
    return state.hexdigest()


def _mb(n_bytes: int) -> int:
    return -(-n_bytes // 1_000_000)
