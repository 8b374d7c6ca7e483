"""Putting the file of a picture in its place, durably: whole or not at all."""

import os
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from secrets import token_hex

from shotlog.errors import StoreUnreachable
from shotlog.parts.picture import ENDINGS
from shotlog.store.parts.picture_bytes import KeptImage

__all__ = ["write_picture"]


def write_picture(folder: Path, digest: str, image: KeptImage) -> None:
    """Write a picture beside the log; one that is there is left alone, and a damaged one of that name is made good.

    Raises
    ------
    StoreUnreachable
        It cannot be written.
    """
    path = folder / f"{digest}.{ENDINGS[image.media]}"
    try:
        if path.is_file() and sha256(path.read_bytes()).hexdigest() == digest:
            return
        folder.mkdir(exist_ok=True)
        aside = folder / f".{digest}.{token_hex(4)}.part"
        try:
            with aside.open("xb") as file:
                file.write(image.data)
                file.flush()
                os.fsync(file.fileno())
            aside.replace(path)
        finally:
            aside.unlink(missing_ok=True)
        _sync_folder(folder)
    except OSError as error:
        raise StoreUnreachable(f"picture {path}: {error.strerror or error}") from error


def _sync_folder(folder: Path) -> None:
    """Bring the new name to disk, where the system lets a folder be opened for that."""
    with suppress(OSError):
        number = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(number)
        finally:
            os.close(number)
