"""Backups as a routine: one file after the other in a folder, named by their time; the oldest make room.

The folder has to be there already: where a share is not mounted, its empty mount point lies on the disk that the backup
is to be safe from.
"""

import re
import shutil
import time
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

from shotlog.errors import StoreUnreachable
from shotlog.settings import BackupSettings
from shotlog.store.keeping.backup import is_backup

__all__ = ["backups_in", "make_room", "next_backup"]

_WRITTEN = "%Y%m%dT%H%M%SZ"
_LEFT_S = 86_400.0
"""A half-made backup of a process that was killed is taken away after a day: no backup takes as long."""


def next_backup(wanted: BackupSettings, log: Path, now: datetime) -> Path:
    """Return the file that the next backup of the log in `log` goes to.

    Raises
    ------
    StoreUnreachable
        Its folder is not there.
    """
    if not wanted.folder.is_dir():
        raise StoreUnreachable(
            f"there is no folder {wanted.folder} (log.backup); make it, or look whether its disk or share is mounted"
        )
    return wanted.folder / f"{log.stem}-{now.astimezone(UTC).strftime(_WRITTEN)}.zip"


def backups_in(folder: Path, log: Path) -> list[Path]:
    """Return the backups of a log in a folder that were made as a routine, newest first."""
    name = re.compile(rf"{re.escape(log.stem)}-\d{{8}}T\d{{6}}Z\.zip")
    return sorted((one for one in folder.iterdir() if name.fullmatch(one.name)), reverse=True)


def make_room(wanted: BackupSettings, log: Path, made: Path) -> list[Path]:
    """Delete the oldest backups beyond those that are kept, never the one just `made`; return those deleted.

    What bears such a name and is no backup is left where it is.
    """
    others = [one for one in backups_in(wanted.folder, log) if one != made and is_backup(one)]
    old = others[wanted.keep - 1 :]
    for one in old:
        one.unlink()
    for left in _left_behind(wanted.folder, log):
        shutil.rmtree(left, ignore_errors=True)
    return old


def _left_behind(folder: Path, log: Path) -> Iterator[Path]:
    for one in folder.glob(f".{log.stem}-*.zip.*.part"):
        if one.is_dir() and time.time() - one.stat().st_mtime > _LEFT_S:
            yield one
