"""The shared folder of a press over EUROMAP 63: looking, reading, and writing nothing but Orders.

It may be a network share: it goes away, another computer spells names in other capitals, a file that somebody writes
can be refused to a reader for a moment, and nothing is atomic. So names are looked up whatever their capitals,
nothing is locked or watched, and whatever the system says of it is `PressUnreachable`.
"""

import contextlib
import os
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from shotlog.collectors.euromap_words import Order, is_own
from shotlog.errors import PressUnreachable

__all__ = ["BytesRead", "FileHeld", "FileThere", "Folder", "FolderToOrder"]


_APART_S = 5.0


class FileHeld(PressUnreachable):
    """A file is there, and refused to a reader: somebody writes it, or the rights are missing."""


@dataclass(frozen=True, slots=True)
class FileThere:
    """A file that lies there: its name as it is spelt, size in bytes and time of its last change in ns."""

    name: str
    size: int
    changed_ns: int


@dataclass(frozen=True, slots=True)
class BytesRead:
    """Bytes of a file, read from `start`, and how many it had."""

    data: bytes
    start: int
    size: int


class Folder:
    """A folder that is only read."""

    def __init__(self, place: Path) -> None:
        self.place = place
        self._spelt: dict[str, str] = {}

    def files(self) -> dict[str, FileThere]:
        """Return the files that lie there, by their names in capitals.

        Raises
        ------
        PressUnreachable
            The folder cannot be looked at.
        """
        found: dict[str, FileThere] = {}
        try:
            with os.scandir(self.place) as entries:
                for entry in entries:
                    with contextlib.suppress(FileNotFoundError):  # taken away since
                        if entry.is_file():
                            state = entry.stat()
                            found[entry.name.upper()] = FileThere(entry.name, state.st_size, state.st_mtime_ns)
        except (OSError, ValueError) as error:
            raise self._gone(error) from error
        self._spelt = {name: one.name for name, one in found.items()}
        return found

    def changed_since(self, name: str, moment: datetime | None) -> bool:
        """Say whether a file was written to after a time of ours, give or take what clocks are apart."""
        found = self.files().get(name.upper())
        return found is not None and (moment is None or found.changed_ns / 1e9 >= moment.timestamp() - _APART_S)

    def read(self, name: str, start: int = 0, most: int = 1 << 20) -> BytesRead | None:
        """Return the bytes of a file from `start` on, `most` of them; None where there is no such file.

        Raises
        ------
        FileHeld
            The file is refused for now.
        PressUnreachable
            The folder is away.
        """
        place = self.place / self._spelt.get(name.upper(), name)
        part = self._read(place, start, most)
        if part is not None:
            return part
        found = self.files().get(name.upper())
        return None if found is None else self._read(self.place / found.name, start, most)

    def _read(self, place: Path, start: int, most: int) -> BytesRead | None:
        try:
            with place.open("rb") as file:
                size = file.seek(0, os.SEEK_END)
                file.seek(min(start, size))
                return BytesRead(file.read(most), min(start, size), size)
        except FileNotFoundError:
            return None
        except PermissionError as error:
            raise FileHeld(f"{place} is there and cannot be read: {error.strerror or error}") from error
        except (OSError, ValueError) as error:
            raise self._gone(error) from error

    def text(self, name: str, most: int = 1 << 22) -> str | None:
        """Return a whole file of the press, a letter a byte; None where there is none."""
        part = self.read(name, 0, most)
        return None if part is None else part.data.decode("latin-1")

    def _gone(self, error: Exception) -> PressUnreachable:
        said = (isinstance(error, OSError) and error.strerror) or str(error) or type(error).__name__
        return PressUnreachable(
            f"folder {self.place} cannot be used: {said}; look whether the share is there and mounted, and whether "
            "this computer may read and write it"
        )


class FolderToOrder(Folder):
    """A folder that requests are written into, under the names of one session and nothing else."""

    def __init__(self, place: Path, session: int) -> None:
        super().__init__(place)
        self._session = session

    def put(self, order: Order) -> None:
        """Write an Order: under a name that nobody looks for, and then renamed, for nobody may read half of it.

        Raises
        ------
        PressUnreachable
            It cannot be written.
        """
        if not is_own(order.name, self._session):
            raise ValueError(f"{order.name} is no file of session {self._session}")
        aside = self.place / f"{order.name.partition('.')[0]}.TMP"
        try:
            aside.write_bytes(order.bytes)
            aside.replace(self.place / order.name)
        except (OSError, ValueError) as error:
            with contextlib.suppress(OSError):
                aside.unlink()
            raise self._gone(error) from error

    def drop(self, name: str) -> None:
        """Delete a file of our own session, where it lies there; one that cannot be deleted stays."""
        if not is_own(name, self._session):
            raise ValueError(f"{name} is no file of session {self._session}")
        with contextlib.suppress(OSError):
            (self.place / self._spelt.get(name.upper(), name)).unlink()
