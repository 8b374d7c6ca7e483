"""Putting the file of a picture in its place, durably: whole or not at all."""

from hashlib import sha256
from pathlib import Path

from shotlog.errors import OutputError, StoreUnreachable
from shotlog.outputs import written_aside
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
        with written_aside(path) as aside:
            aside.write_bytes(image.data)
    except OSError as error:
        raise StoreUnreachable(f"picture {path}: {error.strerror or error}") from error
    except OutputError as error:
        raise StoreUnreachable(f"picture {error}") from error
