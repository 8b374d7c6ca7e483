"""A log that is not at its path at a start, though shots were logged into it before.

Somebody moved it while nobody was logging, or the logger was killed while it put the log right: what it had set aside
or copied lies beside the path then, whole, under a name that nobody looks for. What was noted of the log, its name and
its head, tells which of those files it is. Where none is, it may come back (a share that comes late after a power
failure); after a while a new log is begun, which names it.
"""

import sqlite3
import time
from contextlib import suppress
from pathlib import Path

from sqlalchemy import Connection, select

from shotlog.errors import StoreError, StoreGone, StoreUnreachable
from shotlog.store.log import recovery, schema
from shotlog.store.log.aside import set_aside
from shotlog.store.log.copied_out import settle_file
from shotlog.store.log.identity import Seen, write_ahead
from shotlog.store.log.looked_at import damage_of, head_at, uid_at, verifies
from shotlog.store.log.recovery import PutRight

__all__ = ["held_against", "is_left_behind", "taken_up"]

_WORDS = ("rescued", "put-aside", "damaged")
"""Under which names all of a log may be left beside its path; the first is given to nothing else."""


def is_left_behind(path: Path, seen: Seen) -> bool:
    """Say at a glance whether a log has to be looked for beside its path; in a folder that is gone it is not."""
    if not path.parent.is_dir():
        return False
    there = path.exists() and path.stat().st_size > 0
    return not there or bool(_left(path, seen, _WORDS[:1]))


def taken_up(path: Path, seen: Seen, since: float) -> PutRight | None:
    """Put a log back to its path that was left beside it; return what was done, None where it is at its path.

    It is being looked for since the time `since` of the system's monotonic clock, in seconds.

    Raises
    ------
    StoreGone
        It is nowhere, and may still come back.
    StoreUnreachable
        What lies there cannot be renamed.
    """
    try:
        return _taken_up(path, seen, since)
    except (OSError, sqlite3.Error) as error:
        raise StoreUnreachable(f"log {path}: what was left beside it cannot be put back: {error}") from error


def _taken_up(path: Path, seen: Seen, since: float) -> PutRight | None:
    if not path.parent.is_dir():
        return None  # opening says so
    there = path.exists() and path.stat().st_size > 0
    fit = _left(path, seen, _WORDS[:1] if there else _WORDS)
    if there and head_at(path, seen.head.number) == seen.head and (not fit or _holds_more(path, fit[0])):
        return None
    whole = next((one for one in fit if _is_whole(one)), None)
    if whole is not None:
        settle_file(whole)  # one file is renamed at once, and two are not
        aside = _cleared(path)
        whole.rename(path)
        return PutRight("taken up", path, aside, whole=True)
    if there:
        return None
    damaged = next((one for one in fit if _damage(one)), None)
    if damaged is not None:  # it was being put right, and now is
        _cleared(path)
        with suppress(FileNotFoundError):
            write_ahead(damaged).rename(write_ahead(path))
        damaged.rename(path)
        return None
    if time.monotonic() - since < recovery.GRACE_S:
        raise StoreGone(
            f"log {path}: it is not there any more, though it was logged into before; bring it back, or a new one is "
            f"begun after {recovery.GRACE_S:.0f} s"
        )
    _cleared(path)
    return PutRight("new", path, uid=seen.uid, digest=seen.head.digest)


def held_against(connection: Connection, path: Path, seen: Seen) -> PutRight | None:
    """Return that a log is not the one that was logged into before, or not all of it; None where it is, or says so."""
    ledger, logs = schema.ledger, schema.logs
    if connection.execute(select(ledger.c.digest).where(ledger.c.id == seen.head.number)).scalar() == seen.head.digest:
        return None
    named = connection.execute(select(logs.c.uid, logs.c.follows)).all()
    if any(row.follows == seen.uid for row in named):
        return None
    return PutRight("other" if named else "new", path, uid=seen.uid, digest=seen.head.digest)


def _left(path: Path, seen: Seen, words: tuple[str, ...]) -> list[Path]:
    """Return the files beside a path that hold all that was seen of a log, those that hold most first."""
    names, ends = tuple(f"{path.name}.{word}-" for word in words), ("-wal", "-shm", "-journal")
    fit = []
    for one in path.parent.iterdir():
        if not one.name.startswith(names) or one.name.endswith(ends) or not one.is_file():
            continue
        if uid_at(one) == seen.uid and head_at(one, seen.head.number) == seen.head:
            newest = head_at(one)
            fit.append((seen.head.number if newest is None else newest.number, one.name, one))
    return [one for *_, one in sorted(fit, reverse=True)]


def _holds_more(path: Path, left: Path) -> bool:
    """Say whether a log holds all that a copy of it holds: a write-ahead log beside the wrong file tells of more."""
    newest, other = head_at(path), head_at(left)
    return newest is not None and other is not None and newest.number >= other.number and _is_whole(path)


def _is_whole(path: Path) -> bool:
    return not _damage(path) and verifies(path)


def _damage(path: Path) -> str:
    try:
        return damage_of(path)
    except (StoreError, sqlite3.Error) as error:
        return str(error)


def _cleared(path: Path) -> str:
    """Set aside what lies at a path; return its name then. An empty file is none: whoever looks for a log made it."""
    if path.exists() and not path.stat().st_size:
        path.unlink()
    return set_aside(path, "put-aside", _nothing)


def _nothing() -> None:
    """Close nothing: nobody has opened it yet."""
