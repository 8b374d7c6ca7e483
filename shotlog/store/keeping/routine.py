"""Backups as a routine: one file after the other in a folder, named by their time; the oldest make room.

One makes room only for a newer one that holds all of it. A share may hold the backups of many logs, and two logs bear
the same name soon: which is whose is told by what is in a backup, and never by its name.

The folder has to be there already: where a share is not mounted, its empty mount point lies on the disk that the backup
is to be safe from.
"""

import re
import shutil
import time
from collections.abc import Collection, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

from sqlalchemy import select

from shotlog.errors import StoreDamaged, StoreUnreachable
from shotlog.settings import BackupSettings
from shotlog.store.keeping.backup import Backup, opened_backup
from shotlog.store.log import schema
from shotlog.store.log.log import Log

__all__ = ["clear_half_made", "make_room", "next_backup"]

_WRITTEN = "%Y%m%dT%H%M%SZ"
_LEFT_S = 86_400.0
"""A half-made backup of a process that was killed is taken away after a day: no backup takes as long."""


def next_backup(wanted: BackupSettings, file: Path, now: datetime) -> Path:
    """Return the file that the next backup of the log in `file` goes to: one that is not there, nor being made.

    Raises
    ------
    StoreUnreachable
        Its folder is not there.
    """
    if not wanted.folder.is_dir():
        raise StoreUnreachable(
            f"there is no folder {wanted.folder} (log.backup); make it, or look whether its disk or share is mounted"
        )
    there = [one.name for one in wanted.folder.iterdir()]
    while True:
        name = f"{file.stem}-{now.astimezone(UTC).strftime(_WRITTEN)}.zip"
        if not any(one == name or one.startswith(f".{name}.") for one in there):
            return wanted.folder / name
        now += timedelta(seconds=1.0)


def clear_half_made(wanted: BackupSettings, file: Path) -> None:
    """Take away what backups that were killed left behind: it may be what the next one finds no room for."""
    for one in wanted.folder.glob(f".{file.stem}-*.zip.*.part"):
        if one.is_dir() and time.time() - one.stat().st_mtime > _LEFT_S:
            shutil.rmtree(one, ignore_errors=True)


def make_room(wanted: BackupSettings, file: Path, log: Log, newest: Path, made: Backup) -> list[Path]:
    """Delete the oldest backups beyond those that are kept, never the one `made` just now; return those deleted.

    `log`, in `file`, is what was backed up, to `newest`. Deleted is only what is whole in that: a log as it was once,
    with pictures that it has as well. Which is older is told by how far the log had come, and not by a clock.
    """
    others = [(path, one) for path, one in _backups_in(wanted.folder, file) if path != newest]
    held = _held(log, {one.head.digest for _, one in others})
    within = [
        (one.head.links, path)
        for path, one in others
        if one.head.digest in held and one.head.links <= made.head.links and one.whole_pictures <= made.whole_pictures
    ]
    old = [path for _, path in sorted(within, reverse=True)[wanted.keep - 1 :]]
    for path in old:
        path.unlink()
    return old


def _backups_in(folder: Path, file: Path) -> Iterator[tuple[Path, Backup]]:
    """Yield what bears the name of a backup of `file` that was made as a routine, and is one."""
    name = re.compile(rf"{re.escape(file.stem)}-\d{{8}}T\d{{6}}Z\.zip")
    for path in folder.iterdir():
        if name.fullmatch(path.name):
            try:
                with opened_backup(path) as (found, _):
                    yield path, found
            except (StoreDamaged, StoreUnreachable):  # none, or one that nobody may take for one
                continue


def _held(log: Log, digests: Collection[str]) -> set[str]:
    """Return which of `digests` are of transactions of a log: all that came before those is in it too."""
    digest = schema.ledger.c.digest
    with log.reading() as connection:
        return set(connection.execute(select(digest).where(digest.in_(digests))).scalars())
