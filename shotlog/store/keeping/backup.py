"""A backup: one file (zip) with the log, its pictures, what waits in its journal, the configuration, a list.

The list, `backup.json`, tells what the log was at that moment (its name, transactions, digest) and the digest of each
file. Any program that knows zip opens it. It is written aside, read back, and only then takes its name.
"""

import json
import zipfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from hashlib import sha256
from pathlib import Path, PurePosixPath
from shutil import copyfile
from typing import IO, Any

from shotlog import __version__
from shotlog.clock import iso_utc, parse_utc
from shotlog.errors import StoreDamaged, StoreUnreachable, UsageError
from shotlog.outputs import written_aside
from shotlog.settings import Settings
from shotlog.store.keeping.copying import copy_log, log_file, looked_at, room_for, work_folder
from shotlog.store.keeping.head import Head, uid_of
from shotlog.store.log.journal import Journal
from shotlog.store.log.journal_place import earlier_places, journal_place
from shotlog.store.log.log import open_log
from shotlog.store.parts.pictures import picture_folder, pictures_on_record

__all__ = ["LIST", "LOG", "PICTURES", "WAITING", "Backup", "Listed", "back_up", "is_backup", "opened_backup"]

Tell = Callable[[str], None]

LIST = "backup.json"
LOG = "log.db"
PICTURES = "pictures/"
CONFIGURATION = "configuration/"
WAITING = "waiting/"

_FORMAT = 1
_CHUNK = 1 << 20


@dataclass(frozen=True, slots=True)
class Listed:
    """One file of a backup: its name there, bytes, and SHA-256."""

    name: str
    n_bytes: int
    digest: str


@dataclass(frozen=True, slots=True)
class Backup:
    """What a backup holds: when it was made of which log, its head, the files, and pictures that were not there."""

    made: datetime
    uid: str
    head: Head
    configuration: str
    files: tuple[Listed, ...]
    missing: tuple[str, ...] = ()

    @property
    def n_pictures(self) -> int:
        """How many pictures it holds."""
        return sum(one.name.startswith(PICTURES) for one in self.files)

    @property
    def whole_pictures(self) -> frozenset[str]:
        """The pictures it holds as they were kept: their names."""
        names = (one.name for one in self.files if one.name.startswith(PICTURES))
        return frozenset(name.removeprefix(PICTURES) for name in names) - {*self.missing}

    @property
    def n_bytes(self) -> int:
        """How much its files come to, unpacked."""
        return sum(one.n_bytes for one in self.files)


def back_up(settings: Settings, out: Path, now: datetime, tell: Tell) -> Backup:
    """Write a backup of the log of a configuration; a file of that name is replaced by it if it is a backup.

    Raises
    ------
    UsageError
        The log is on a server, or `out` is something else than a backup.
    StoreUnreachable
        It cannot be read, or there is no room.
    StoreDamaged
        The log does not verify, or what was written does not read back. Nothing takes the name `out`.
    """
    file = log_file(settings.store, "backup")
    if out.exists() and not is_backup(out):
        raise UsageError(
            f"--out: given '{out}', which is there and no backup, allowed: a new name, or that of a backup"
        )
    if not file.exists():
        raise StoreUnreachable(f"log {file}: there is no such file yet")
    with work_folder(out) as folder:
        copy = folder / LOG
        room_for(2 * file.stat().st_size, out.parent)
        # The journal first: what goes from it into the log meanwhile is then in both, and enters once.
        waiting = _copied_journals(settings, folder)
        copy_log(file, copy, tell)
        head = looked_at(copy, f"log {file}", tell)
        with open_log(f"sqlite:///{copy.absolute().as_posix()}") as log:
            uid, wanted = uid_of(log) or "", pictures_on_record(log)
        kept = picture_folder(settings.store, settings.file)
        room_for(copy.stat().st_size + sum(_size(kept / name) for name in wanted), out.parent)
        with written_aside(out) as aside:
            listed, missing = _pack(aside, copy, waiting, settings, {name: kept / name for name in wanted}, tell)
            made = Backup(now, uid, head, settings.file.name, tuple(listed), tuple(missing))
            with zipfile.ZipFile(aside, "a", zipfile.ZIP_DEFLATED) as packed:
                packed.writestr(LIST, json.dumps(_plain(made), indent=1))
            with opened_backup(aside, out) as (found, read):
                for one in found.files:
                    tell(f"{out.name}: reading back {one.name}")
                    read(one, None)
    return made


def _copied_journals(settings: Settings, folder: Path) -> list[Path]:
    """Copy the journals of a log in which anything waits, and return the copies."""
    copies = []
    for n, path in enumerate((journal_place(settings), *earlier_places(settings))):
        if path.is_file() and path.stat().st_size:
            copy = Path(copyfile(path, folder / f"{n}.journal"))
            waits = Journal(copy)
            copies += [copy] if waits.waiting.batches or waits.damage else []
    return copies


def is_backup(path: Path) -> bool:
    """Say whether a file is a backup of this program."""
    try:
        with zipfile.ZipFile(path) as packed:
            return LIST in packed.namelist()
    except (OSError, zipfile.BadZipFile):
        return False


Read = Callable[[Listed, Path | None], None]
"""Reads one file of a backup, to a place if one is given, and compares it with the list."""


@contextmanager
def opened_backup(path: Path, shown: Path | None = None) -> Iterator[tuple[Backup, Read]]:
    """Open a backup; yields what it holds, and what reads a file of it.

    Raises
    ------
    StoreUnreachable
        It is not there, or cannot be read.
    StoreDamaged
        It is no backup, or is damaged.
    """
    where = shown or path
    try:
        with zipfile.ZipFile(path) as packed:
            made = _read_list(packed, where)

            def read(one: Listed, to: Path | None) -> None:
                with packed.open(one.name) as source:
                    _compare(source, one, to, where)

            yield made, read
    except zipfile.BadZipFile as error:
        raise StoreDamaged(f"backup {where}: {error}") from error
    except OSError as error:
        raise StoreUnreachable(f"backup {where}: {error.strerror or error}") from error


def _compare(source: IO[bytes], one: Listed, to: Path | None, where: Path) -> None:
    state, n_bytes = sha256(), 0
    target = None if to is None else to.open("xb")
    try:
        while piece := source.read(_CHUNK):
            state.update(piece)
            n_bytes += len(piece)
            if n_bytes > one.n_bytes:
                break
            if target is not None:
                target.write(piece)
    finally:
        if target is not None:
            target.close()
    if (n_bytes, state.hexdigest()) != (one.n_bytes, one.digest):
        raise StoreDamaged(f"backup {where}: {one.name} is not what was written into it")


def _pack(
    aside: Path, copy: Path, waiting: Sequence[Path], settings: Settings, pictures: Mapping[str, Path], tell: Tell
) -> tuple[list[Listed], list[str]]:
    """Pack the files; return their list, and the pictures on record that are not there or not what they were."""
    listed, missing = [], []
    with zipfile.ZipFile(aside, "w", zipfile.ZIP_DEFLATED, allowZip64=True) as packed:
        listed.append(_add(packed, copy, LOG, tell))
        listed.append(_add(packed, settings.file, CONFIGURATION + settings.file.name, tell))
        listed += [_add(packed, path, WAITING + path.name, tell) for path in waiting]
        packed.compression = zipfile.ZIP_STORED  # a picture is packed as tightly as it can be
        for name, path in pictures.items():
            try:
                one = _add(packed, path, PICTURES + name, tell)
            except FileNotFoundError:
                missing.append(name)
            else:
                listed.append(one)
                missing += [] if one.digest == path.stem else [name]
    return listed, missing


def _add(packed: zipfile.ZipFile, path: Path, name: str, tell: Tell) -> Listed:
    state, done, whole = sha256(), 0, path.stat().st_size
    with path.open("rb") as source, packed.open(name, "w", force_zip64=True) as target:
        while piece := source.read(_CHUNK):
            state.update(piece)
            target.write(piece)
            done += len(piece)
            tell(f"{name}: {100 * done // max(whole, 1)} % packed")
    return Listed(name, done, state.hexdigest())


def _plain(made: Backup) -> dict[str, Any]:
    return {
        "format": _FORMAT,
        "written by": f"shotlog {__version__}",
        "made": iso_utc(made.made),
        "log": made.uid,
        "transactions": made.head.links,
        "digest": made.head.digest,
        "configuration": made.configuration,
        "files": {one.name: {"bytes": one.n_bytes, "sha256": one.digest} for one in made.files},
        "pictures not there": list(made.missing),
    }


def _read_list(packed: zipfile.ZipFile, where: Path) -> Backup:
    try:
        plain = json.loads(packed.read(LIST))
        if plain["format"] > _FORMAT:
            raise StoreDamaged(f"backup {where}: written by a newer release ({plain['written by']})")
        files = tuple(Listed(name, one["bytes"], one["sha256"]) for name, one in plain["files"].items())
        head = Head(plain["transactions"], plain["digest"])
        made = parse_utc(plain["made"])
        told = Backup(made, plain["log"], head, plain["configuration"], files, tuple(plain["pictures not there"]))
    except (KeyError, ValueError, TypeError, AttributeError) as error:
        raise StoreDamaged(f"backup {where}: this is no backup of shotlog, or its list does not read") from error
    if any(not _harmless(one.name) for one in files) or not {LOG} <= {one.name for one in files} <= {
        *packed.namelist()
    }:
        raise StoreDamaged(f"backup {where}: its list names files that it does not hold, or that it should not")
    return told


def _harmless(name: str) -> bool:
    """Say whether a name stays where it is put: the list may have been written by anybody."""
    folder, _, last = name.rpartition("/")
    return name == LOG or (
        f"{folder}/" in (PICTURES, CONFIGURATION, WAITING)
        and PurePosixPath(last).name == last
        and not set(last) & set("\\:\0")
        and last not in ("", ".", "..")
    )


def _size(path: Path) -> int:
    return path.stat().st_size if path.exists() else 0
