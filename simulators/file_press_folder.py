"""The folder between press and logger: how the press writes into it, in pieces that others see half done."""

import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Protocol

__all__ = ["Folder", "SharedFolder", "in_pieces"]


def in_pieces(data: bytes, number: int) -> list[bytes]:
    """Cut bytes into so many pieces of much the same length."""
    size = max(1, -(-len(data) // number))
    return [data[at : at + size] for at in range(0, len(data), size)] or [b""]


class Folder(Protocol):
    """Where the press finds requests and leaves answers."""

    def names(self) -> list[str]:
        """Return the names of the files there; none where it cannot be reached."""

    def read(self, name: str) -> bytes | None:
        """Return a file, None where there is none."""

    def write(self, name: str, pieces: Sequence[bytes], append: bool = False) -> None:
        """Write a file, or to its end, in these pieces."""

    def delete(self, name: str) -> None:
        """Delete a file, if it is there."""

    def put_away(self) -> None:
        """Take the folder from its place, as a share that is gone; the press goes on writing to its own disk."""

    def put_back(self) -> None:
        """Bring it back."""

    def close(self) -> None:
        """Release what it holds."""


class SharedFolder:
    """A folder on the press's disk which others see over the network. `pause` is called between two pieces."""

    def __init__(self, path: Path, pause: Callable[[], None] = lambda: time.sleep(0.02)) -> None:
        self.path, self.now, self.pause = path, path, pause

    def names(self) -> list[str]:
        return sorted(entry.name for entry in self.now.iterdir() if entry.is_file())

    def read(self, name: str) -> bytes | None:
        try:
            return (self.now / name).read_bytes()
        except (FileNotFoundError, PermissionError):  # others hold it open, on some systems
            return None

    def write(self, name: str, pieces: Sequence[bytes], append: bool = False) -> None:
        with (self.now / name).open("ab" if append else "wb") as out:
            for number, piece in enumerate(pieces):
                if number:
                    out.flush()
                    self.pause()
                out.write(piece)

    def delete(self, name: str) -> None:
        (self.now / name).unlink(missing_ok=True)

    def put_away(self) -> None:
        if self.now == self.path:
            self.now = self.path.rename(self.path.with_name(self.path.name + ".away"))

    def put_back(self) -> None:
        if self.now != self.path:
            self.now = self.now.rename(self.path)

    def close(self) -> None:
        self.put_back()
