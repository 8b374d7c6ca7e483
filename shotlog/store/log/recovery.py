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

from sqlalchemy import Engine
from sqlalchemy.exc import DBAPIError

from shotlog.errors import StoreError, StoreGone, StoreReplaced, StoreUnreachable
from shotlog.store.log import engine as database
from shotlog.store.log.aside import bring_back, set_aside
from shotlog.store.log.broken_off import go_on, heeding
from shotlog.store.log.copied_out import being_made, discard, left_copy, made_new, older_copy, rescue, settle_file
from shotlog.store.log.identity import Identity, write_ahead
from shotlog.store.log.looked_at import (
    damage_of,
    head_at,
    refuse_strangers,
    uid_at,
    url_of,
    verifies,
    wait_until_still,
)
from shotlog.store.log.salvage import Old, Salvaged, salvage, what_reads

__all__ = ["GRACE_S", "PutRight", "put_right"]

GRACE_S = 60.0
"""How long a log that is nowhere, and of which nothing can be had, may take to come back before a new one is begun, in
seconds. Somebody whose share is often away for minutes would take more."""

logger = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class PutRight:
    """What was done to put a log right.

    `how`: ``put back``, all of it, out of the file that was still open; ``salvaged``, what reads of a damaged file;
    ``older``, on from an older copy; ``new``, begun anew; at a start ``taken up``, all of it, from beside its path;
    ``other``, on in another log that lies there. `aside`: the name under which what lay at the path is kept,
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
        reasons = {"older": "an older copy was written over it", "other": "another log, or an older copy, lay there"}
        gone = reasons.get(self.how, "gone")
        why = f"damaged ({self.damage})" if self.damage else gone
        return f"{why}; set aside as {self.aside}" if self.aside else why


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
    except (sqlite3.Error, DBAPIError) as error:
        reason = error.orig if isinstance(error, DBAPIError) else error
        raise StoreUnreachable(f"log {path}: cannot be put right: {reason}; look at its disk") from error


def _put_right(
    path: Path, identity: Identity, opened: Engine | None, close: Callable[[], None], since: float
) -> PutRight | None:
    if not path.parent.is_dir() or not identity.is_same_disk(path.parent):
        raise StoreGone(f"log {path}: its folder is gone, or another lies in its place; bring it back")
    there = path.exists()
    is_open = there and _is_open(path, identity)
    if is_open and not identity.holds_file(path):
        return _in_place(path, identity, opened, close)
    if there and not is_open:
        wait_until_still(path)
    damage = damage_of(path) if there else ""
    if there and not damage and _is_ours(path, identity):
        return None
    if not is_open and (rescued := rescue(path, identity, opened) or left_copy(path, identity)):
        return _put_back(path, rescued, identity, close)
    if damage and is_open:
        return _in_place(path, identity, opened, close)
    if damage:
        refuse_strangers(path, identity, damage, close)
        return _salvaged(path, identity, damage, close)
    if time.monotonic() - since < GRACE_S:
        said = f"log {path}: is not back; a new one is begun {GRACE_S:.0f} s after it went"
        raise StoreReplaced(said) if there else StoreGone(said)
    return _begun_anew(path, identity, close)


def _in_place(path: Path, identity: Identity, opened: Engine | None, close: Callable[[], None]) -> PutRight:
    """Put a file right that was written over or damaged while it was open: what is open may still hold it all."""
    wait_until_still(path)
    damage = damage_of(path) if uid_at(path) in (None, identity.uid) and identity.holds_file(path) else ""
    rescued = rescue(path, identity, opened)
    if rescued is not None and not _is_whole(rescued):
        rescued = None
    if rescued is not None:
        return _put_back(path, rescued, identity, close, damage)
    older = older_copy(path, identity)
    if older is not None:
        aside = _swapped(path, older, "put-aside", close)
        return PutRight("older", path, aside, uid=identity.uid, digest=_digest(identity))
    return _salvaged(path, identity, damage or "another file was written over it", close)


def _is_whole(made: Path) -> bool:
    """Say whether the chain of a copy verifies; one of which it is not known that it does is deleted."""
    whole = False
    try:
        whole = verifies(made)
    finally:
        if not whole:
            discard(made)
    return whole


def _is_ours(path: Path, identity: Identity) -> bool:
    """Say whether what lies at the path holds all that was last seen in the log."""
    if identity.head is None:
        return True
    if not identity.holds_file(path):
        return False
    return head_at(path, identity.head.number) == identity.head


def _is_open(path: Path, identity: Identity) -> bool:
    """Say whether the file at the path is the one that was opened."""
    try:
        identity.check_file()
    except StoreUnreachable:
        return False
    return identity.is_known


def _put_back(path: Path, rescued: Path, identity: Identity, close: Callable[[], None], damage: str = "") -> PutRight:
    ours = identity.is_our_write_ahead(write_ahead(path))
    aside = _swapped(path, rescued, "damaged" if damage else "put-aside", close, with_ahead=not ours)
    return PutRight("put back", path, aside, damage, whole=True)


def _swapped(path: Path, new: Path, word: str, close: Callable[[], None], with_ahead: bool = True) -> str:
    """Set aside what lies at a path, and put a file there; return the name under which the other is kept."""
    aside = set_aside(path, word, close, with_ahead)
    try:
        new.rename(path)
    except OSError:
        # another program has the new file open; found at the path again, what lay there is put right the next time
        bring_back(path, aside)
        raise
    return aside


def _salvaged(path: Path, identity: Identity, damage: str, close: Callable[[], None]) -> PutRight:
    """Set a damaged log aside, and put in its place what still reads of it."""
    head, uid = identity.head or head_at(path), identity.uid or uid_at(path)
    found: Salvaged | None = None
    with being_made(path, "salvaged") as new:
        target = made_new(new)
        try:
            old = _read(path)
            found = None if old is None else salvage(old, target)
        finally:
            target.dispose()
        settle_file(new)
        whole = found is not None and not found.lost and head is not None and head_at(new) == head
        aside = _swapped(path, new, "damaged", close)
    how = "new" if found is None else "salvaged"
    return PutRight(how, path, aside, damage, whole, uid, None if head is None else head.digest, found)


def _read(path: Path) -> Old | None:
    """Return what reads of a damaged log, None where that is nothing: what stands on its pages may be anything."""
    source = heeding(database.connect(url_of(path), read_only=True))
    try:
        database.prepare_reading(source, str(path))
        return what_reads(source)
    except (StoreError, DBAPIError) as error:
        go_on()
        logger.error("log %s: nothing can be read of it: %s", path, error)
    except Exception:
        logger.exception("log %s: nothing can be read of it; logging goes on", path)
    finally:
        source.dispose()
    return None


def _begun_anew(path: Path, identity: Identity, close: Callable[[], None]) -> PutRight:
    with being_made(path, "new") as new:
        made_new(new).dispose()
        settle_file(new)
        aside = _swapped(path, new, "put-aside", close)
    return PutRight("new", path, aside, uid=identity.uid, digest=_digest(identity))


def _digest(identity: Identity) -> str | None:
    return None if identity.head is None else identity.head.digest
