"""The space of a journal on disk: a head in one sector, a place for notes, and lines among zeros taken beforehand."""

import hashlib
import os
import re
from collections.abc import Iterator
from pathlib import Path
from typing import IO

from shotlog.outputs import sync_folder

__all__ = ["LINES_AT", "NOTES_AT", "JournalSpace"]

_HEAD = re.compile(rb"shotlog journal 1 (\d+(?: from \d+)?) ([0-9a-f]{16})\n")
"""``GENERATION CHECKSUM``; while the space before a place is being made free, ``GENERATION from PLACE CHECKSUM``."""
_SECTOR = 512
NOTES_AT, LINES_AT = 4_096, 69_632
"""Where the notes begin and where the lines, in bytes: each at a block of its own (4,096 on common disks), so that
writing one cannot harm the other."""

_CHUNK = 1 << 18
_PIECE = re.compile(rb"[^\0\n]+\n?")


class JournalSpace:
    """The file of a journal as bytes; `reserve`: how many are kept for lines. Raises the system's own `OSError`."""

    def __init__(self, path: Path, reserve: int) -> None:
        self._path, self._least = path, LINES_AT + reserve

    def size(self) -> int:
        """Return how many bytes the file has, 0 where there is none."""
        try:
            return self._path.stat().st_size
        except FileNotFoundError:
            return 0

    def identity(self) -> tuple[int, int] | None:
        """Return what tells the file from any other that may come to lie at its path, None where there is none."""
        try:
            there = self._path.stat()
        except OSError:
            return None
        return there.st_dev, there.st_ino

    def generation(self) -> int | None:
        """Return the generation the head names, None where it does not read."""
        told = self._head()
        return int(told[0]) if told else None

    def lines_at(self) -> int:
        """Return where the lines begin: at the very front in the journals of earlier releases."""
        told = self._head()
        if told:
            return int(told[-1]) if len(told) > 1 else LINES_AT
        if self.size() == 0:
            return LINES_AT
        with self._path.open("rb") as file:
            return 0 if file.read(1) == b"{" else LINES_AT

    def _head(self) -> list[bytes]:
        """Return what the head tells, nothing where it does not read."""
        if self.size() == 0:
            return []
        with self._path.open("rb") as file:
            found = _HEAD.match(file.read(_SECTOR))
        return found[1].split(b" from ") if found is not None and found[2] == _checksum(found[1]) else []

    def mark(self, generation: int, lines_at: int = LINES_AT) -> None:
        """Write the head, making the file where there is none; returns after it is on disk.

        `lines_at`: where the lines of this generation begin.
        """
        number = str(generation).encode() + (b"" if lines_at == LINES_AT else b" from %d" % lines_at)
        head = b"shotlog journal 1 %s %s\n" % (number, _checksum(number))
        new = not self._path.exists()
        with self._path.open("w+b" if new else "r+b") as file:
            file.write(head.ljust(_SECTOR, b"\0"))
            _to_disk(file)
        if new:
            sync_folder(self._path.parent)

    def fill(self) -> None:
        """Take the space that is to be kept: zeros, on disk for real."""
        size = self.size()
        if size < self._least:
            with self._path.open("r+b") as file:
                _zeros(file, size, self._least)

    def write(self, at: int, line: bytes) -> None:
        """Write a line; returns after it is on disk."""
        with self._path.open("r+b") as file:
            file.seek(at)
            file.write(line)
            _to_disk(file)

    def read(self, at: int, n: int) -> bytes:
        """Return the `n` bytes from `at` on, fewer where the file ends before, and none where there is no file."""
        if self.size() == 0:
            return b""
        with self._path.open("rb") as file:
            file.seek(at)
            return file.read(n)

    def wipe(self, end: int) -> None:
        """Make the lines up to `end` zeros again, and give back what the file has grown beyond the space kept."""
        with self._path.open("r+b") as file:
            _zeros(file, LINES_AT, end)
            if file.seek(0, os.SEEK_END) > self._least:
                file.truncate(self._least)
            _to_disk(file)

    def pieces(self, start: int) -> Iterator[tuple[int, bytes]]:
        """Yield place and bytes of what stands between zeros and ends of lines, with the end where it has one."""
        if self.size() == 0:
            return
        with self._path.open("rb") as file:
            file.seek(start)
            kept = b""
            while chunk := file.read(_CHUNK):
                kept += chunk
                done = 0 if kept.strip(b"\0") else len(kept)
                for found in _PIECE.finditer(kept, done):
                    if found.end() == len(kept) and not found[0].endswith(b"\n"):
                        break  # it may go on in what is read next
                    yield start + found.start(), found[0]
                    done = found.end()
                else:
                    done = len(kept)
                start += done
                kept = kept[done:]
            if kept:
                yield from ((start + found.start(), found[0]) for found in _PIECE.finditer(kept))


def _checksum(number: bytes) -> bytes:
    return hashlib.blake2b(number, digest_size=8).hexdigest().encode()


def _zeros(file: IO[bytes], start: int, end: int) -> None:
    file.seek(start)
    for at in range(start, end, _CHUNK):
        file.write(bytes(min(_CHUNK, end - at)))
    _to_disk(file)


def _to_disk(file: IO[bytes]) -> None:
    file.flush()
    os.fsync(file.fileno())
