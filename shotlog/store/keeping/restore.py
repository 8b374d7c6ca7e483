"""A log put back from a backup: over nothing, or beside what stood there, which is put aside and never deleted.

All of it is unpacked, read back and looked at before anything that stands there is touched. The log says from then on
that it goes on from the backup: what was written after it is not in this log, and nobody may take it for the whole.
"""

from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from shutil import move

from shotlog.clock import iso_utc
from shotlog.errors import StoreDamaged, StoreUnreachable, UsageError
from shotlog.outputs import written_aside
from shotlog.settings import Settings, load
from shotlog.store.asked.presence import forget
from shotlog.store.holding import held
from shotlog.store.keeping.backup import CONFIGURATION, LOG, PICTURES, WAITING, Backup, Read, opened_backup
from shotlog.store.keeping.copying import log_file, looked_at, room_for, work_folder
from shotlog.store.log.journal import Journal
from shotlog.store.log.journal_note import forget_notes
from shotlog.store.log.journal_place import earlier_places, journal_place
from shotlog.store.log.log import open_log
from shotlog.store.parts.pictures import picture_folder

__all__ = ["Restored", "restore"]

Tell = Callable[[str], None]

_BESIDE = ("", "-wal", "-shm", "-journal")
"""A log and what belongs to it while it is in use."""


@dataclass(frozen=True, slots=True)
class Restored:
    """What was put back: the backup, the log, the shots that waited beside it, and where what stood there is now."""

    backup: Backup
    log: Path
    n_waiting: int
    aside: Path | None
    configuration: bool


def restore(config: Path, source: Path, force: bool, now: datetime, tell: Tell) -> Restored:
    """Put the log of a configuration back from a backup, and the configuration itself where there is none.

    Raises
    ------
    StoreHeld
        A `run` holds the log.
    UsageError
        A log is there and `force` is not given, or the log of the configuration is on a server.
    StoreUnreachable
        The backup cannot be read, or the log cannot be written.
    StoreDamaged
        The backup is damaged, or none. Nothing was touched.
    """
    with opened_backup(source) as (backup, read), ExitStack() as stack:
        settings, text = _settings(config, source, backup, read)
        file = log_file(settings.store, "restore")
        stack.enter_context(held(config, settings.store, [press.name for press in settings.presses]))
        there = [path for path in _files_of(file) if path.exists()]
        if there and not force:
            raise UsageError(
                f"log: given {file}, which is there, allowed: a place where no log is; with --force it is put "
                "aside under another name and the backup takes its place"
            )
        room_for(2 * backup.n_bytes, file.parent)
        with work_folder(file) as folder:
            log = _log_of(backup, read, folder, source, tell)
            _put_pictures(backup, read, picture_folder(settings.store, settings.file), tell)
            n_waiting = _put_waiting(backup, read, settings, folder)
            aside = _exchange(file, log, now)
    if text is not None:
        with written_aside(config) as path:
            path.write_bytes(text)
    return Restored(backup, file, n_waiting, aside, text is not None)


def _settings(config: Path, source: Path, backup: Backup, read: Read) -> tuple[Settings, bytes | None]:
    """Return the configuration that is there, else that of the backup and its text."""
    if config.exists():
        return load(config), None
    if not config.parent.is_dir():
        raise UsageError(f"CONFIG: given '{config}', allowed: a folder that is there")
    listed = next((one for one in backup.files if one.name.startswith(CONFIGURATION)), None)
    if listed is None:
        raise StoreDamaged(f"backup {source}: it holds no configuration; write {config} first")
    with work_folder(config) as folder:
        read(listed, folder / "as-it-was.toml")
        text = (folder / "as-it-was.toml").read_bytes()
    with work_folder(config) as folder:
        beside = folder.with_suffix(".toml")  # where its relative paths lead to the same places
        try:
            beside.write_bytes(text)
            settings = load(beside)
        finally:
            beside.unlink(missing_ok=True)
    return replace(settings, file=config), text


def _log_of(backup: Backup, read: Read, folder: Path, source: Path, tell: Tell) -> Path:
    """Unpack the log and look at it; return it, saying itself what it goes on from."""
    listed = {one.name: one for one in backup.files}
    log = folder / LOG
    tell(f"{source.name}: unpacking the log")
    read(listed[LOG], log)
    if looked_at(log, f"log in {source}", tell) != backup.head:
        raise StoreDamaged(f"backup {source}: its log is not the one its list tells of")
    with open_log(f"sqlite:///{log.absolute().as_posix()}", read_only=False) as opened, opened.transaction() as work:
        reason = f"restored from {source.name}, a backup of {iso_utc(backup.made)}"
        work.name(reason, follows=backup.uid or None, digest=backup.head.digest)
        forget(work, "run")  # whoever logged then did so into the log that was backed up, maybe on another computer
    left = [path for path in _files_of(log)[1:] if path.exists() and path.stat().st_size]
    if left:
        raise StoreUnreachable(f"log {log}: {left[0].name} was left beside it")
    return log


def _put_waiting(backup: Backup, read: Read, settings: Settings, folder: Path) -> int:
    """Put the journals where the next `run` looks for what waits; return how many shots do.

    It knows every batch by its origin: what the log has already enters no second time.
    """
    waiting = [one for one in backup.files if one.name.startswith(WAITING)]
    free = [place for place in (journal_place(settings), *earlier_places(settings)) if not place.exists()]
    if len(waiting) > len(free):
        raise StoreUnreachable(
            f"journal {journal_place(settings)}: something waits in it, and in the backup: `shotlog run` must "
            "bring the former into the log that is there first"
        )
    n_shots = 0
    for n, (one, place) in enumerate(zip(waiting, free, strict=False)):
        unpacked = folder / f"{n}.waiting"
        read(one, unpacked)
        n_shots += Journal(unpacked).waiting.shots
        forget_notes(unpacked)  # of another hour, and maybe of the disks of another computer
        with written_aside(place) as aside:
            move(unpacked, aside)
    return n_shots


def _put_pictures(backup: Backup, read: Read, folder: Path, tell: Tell) -> None:
    """Put the pictures that are not there where they belong. A name is made from what is in it: none is replaced."""
    for n, one in enumerate(backup.files):
        to = folder / one.name.removeprefix(PICTURES)
        if not one.name.startswith(PICTURES) or to.exists():
            continue
        folder.mkdir(exist_ok=True)
        tell(f"pictures: {n} of {len(backup.files)}")
        with written_aside(to) as aside:
            read(one, aside)


def _exchange(file: Path, log: Path, now: datetime) -> Path | None:
    """Put what stands there aside and the log in its place; return where it is now, None where nothing was."""
    aside = _free_name(file, now)
    moved: list[tuple[Path, Path]] = []
    try:
        for path, to in zip(_files_of(file), _files_of(aside), strict=True):
            if path.exists():
                path.rename(to)
                moved.append((to, path))
        with written_aside(file) as place:
            move(log, place)
    except BaseException:
        for to, path in reversed(moved):
            if not path.exists():
                to.rename(path)
        raise
    return aside if moved else None


def _free_name(file: Path, now: datetime) -> Path:
    stamp = f"replaced-{now:%Y%m%dT%H%M%SZ}"
    names = (
        file.with_name(f"{file.stem}.{stamp}{extra}{file.suffix}") for extra in ("", *(f"-{n}" for n in range(2, 99)))
    )
    return next(name for name in names if not any(path.exists() for path in _files_of(name)))


def _files_of(file: Path) -> list[Path]:
    return [file.with_name(f"{file.name}{end}") for end in _BESIDE]
