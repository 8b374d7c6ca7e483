"""Where a command may write: never over what the logger lives from, nor over what it reads."""

import os
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from shotlog.errors import UsageError
from shotlog.settings import Settings

__all__ = ["file_for", "folder_for"]

_DATABASE = b"SQLite format 3\0"


@dataclass(frozen=True, slots=True)
class _Kept:
    """Something the logger keeps: `also`: files whose names begin with this one's and then ``-`` or ``.`` belong to it;
    `within`: whatever lies in this folder does.
    """

    what: str
    path: Path
    also: bool = False
    within: bool = False


def file_for(
    out: Path, option: str, endings: tuple[str, ...], settings: Settings | None = None, read: Iterable[Path] = ()
) -> Path:
    """Return `out` where a file may be written there.

    Parameters
    ----------
    option
        How the command calls it.
    endings
        Endings of its name, one of which it must have; any name will do where none is given.
    settings
        The configuration whose log, journal, pictures and own file are not to be touched.
    read
        Files that the command itself reads.

    Raises
    ------
    UsageError
        It is one of them, by whatever name or link; or a folder, no ordinary file, or a name that ends otherwise.
    """
    ends = f"that ends in {' or '.join(endings)}, of" if endings else "for"
    allowed = f"a name {ends} a file of its own"
    _refuse_kept(out, option, allowed, settings, read)
    if out.is_dir():
        raise UsageError(f"{option}: given {_named(out)}, a folder, allowed: {allowed}")
    if endings and out.suffix.lower() not in endings:
        raise UsageError(f"{option}: given {_named(out)}, allowed: {allowed}")
    if out.exists() and not out.is_file():
        raise UsageError(f"{option}: given {_named(out)}, which is no ordinary file, allowed: {allowed}")
    if out.is_file() and _is_database(out):
        raise UsageError(f"{option}: given {_named(out)}, which is a database, maybe a log, allowed: {allowed}")
    if not out.parent.is_dir():
        raise UsageError(f"{option}: given {_named(out)}, allowed: a folder that is there")
    return out


def folder_for(out: Path, option: str, settings: Settings) -> Path:
    """Return `out` where a folder of files may be written there; see `file_for`.

    Raises
    ------
    UsageError
        A file has that name, or the folder is one that the logger keeps.
    """
    allowed = "a folder of its own"
    _refuse_kept(out, option, allowed, settings, ())
    if out.exists() and not out.is_dir():
        raise UsageError(f"{option}: given {_named(out)}, a file, allowed: {allowed}")
    return out


def _named(path: Path) -> str:
    return f"'{path}'"


def _refuse_kept(out: Path, option: str, allowed: str, settings: Settings | None, read: Iterable[Path]) -> None:
    kept = [*(_kept_by(settings) if settings is not None else ()), *(_Kept("the file it reads", one) for one in read)]
    for one in kept:
        if _is(out, one):
            raise UsageError(f"{option}: given {_named(out)}, which is {one.what} ({one.path}), allowed: {allowed}")


def _kept_by(settings: Settings) -> Iterator[_Kept]:
    from sqlalchemy.engine import make_url

    from shotlog.store.log.journal_place import earlier_places, journal_place
    from shotlog.store.parts.pictures import picture_folder

    yield _Kept("the configuration", settings.file, also=True)
    url = make_url(settings.store)
    if url.get_backend_name() == "sqlite":
        yield _Kept("the log or belongs to it", Path(url.database or ""), also=True)
    for journal in (journal_place(settings), *earlier_places(settings)):
        yield _Kept("the journal of the log", journal, also=True)
    for anchors in settings.anchor.glob("*.anchors") if settings.anchor is not None else ():
        yield _Kept("where the head of the log is written down", anchors)
    yield _Kept("the pictures of the log", picture_folder(settings.store, settings.file), within=True)


def _is(out: Path, kept: _Kept) -> bool:
    """Say whether a path leads to something kept, whatever it is called there."""
    place = Path(os.path.realpath(out))
    if _same(place, kept.path) or (kept.within and any(_same(one, kept.path) for one in place.parents)):
        return True
    if not kept.also or not _same(place.parent, kept.path.parent):
        return False
    name, whole = _spelled(place.name), _spelled(kept.path.name)
    # the report trial.html of a log that is called just trial is no part of it
    return name.startswith((f"{whole}-", f"{whole}.") if kept.path.suffix else f"{whole}-")


def _same(one: Path, other: Path) -> bool:
    """Say whether two paths are one file or folder: by what is on disk, else by name, letter case left out."""
    try:
        if one.samefile(other):
            return True
    except OSError:
        pass
    return _spelled(os.path.realpath(one)) == _spelled(os.path.realpath(other))


def _spelled(name: str) -> str:
    return unicodedata.normalize("NFC", os.path.normcase(name)).casefold()


def _is_database(path: Path) -> bool:
    with path.open("rb") as file:
        return file.read(len(_DATABASE)) == _DATABASE
