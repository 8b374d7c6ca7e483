"""Writing a file for people: whole or not at all."""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from secrets import token_hex

from shotlog.errors import OutputError

__all__ = ["sync_folder", "written_aside"]


@contextmanager
def written_aside(path: Path) -> Iterator[Path]:
    """Yield where a file is to be written; it takes the name `path` when the block ends well.

    It lies beside `path` and is on disk before it is renamed: stopped on the way, out of room, or without power, what
    stood under that name stands there still. A link is followed: what it leads to is replaced, and it stays.

    Raises
    ------
    OutputError
        It cannot be written.
    """
    # not Path.resolve, which some releases let fail on links that lead in a circle
    place = Path(os.path.realpath(path))
    aside = place.with_name(f".{token_hex(6)}.part")
    try:
        yield aside
        with suppress(OSError):
            shutil.copymode(place, aside)
        with aside.open("r+b") as file:
            os.fsync(file.fileno())
        aside.replace(place)
        sync_folder(place.parent)
    except OSError as error:
        stands = "what stood there stands" if os.path.lexists(place) else "nothing is left there"
        raise OutputError(f"{path}: it cannot be written ({error.strerror or error}); {stands}") from error
    finally:
        with suppress(OSError):
            aside.unlink(missing_ok=True)


def sync_folder(folder: Path) -> None:
    """Bring the new name to disk, where the system lets a folder be opened for that."""
    with suppress(OSError):
        number = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(number)
        finally:
            os.close(number)
