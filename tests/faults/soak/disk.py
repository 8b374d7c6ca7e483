"""A disk of a size: a file system in memory where the system lets us have one, and a file that eats what is left."""

import contextlib
import os
import subprocess
from pathlib import Path

__all__ = ["Disk"]

_SIZE = "192m"


class Disk:
    """`folder`: where to work; `limited`: whether it can be filled. Without the right to mount it is a plain folder."""

    def __init__(self, place: Path) -> None:
        self.folder = place / "disk"
        self.folder.mkdir(parents=True, exist_ok=True)
        command = ["mount", "-t", "tmpfs", "-o", f"size={_SIZE}", "tmpfs", str(self.folder)]
        self.limited = False
        with contextlib.suppress(OSError):
            self.limited = subprocess.run(command, capture_output=True, check=False).returncode == 0

    def fill(self) -> None:
        """Eat every free byte."""
        with (self.folder / "eaten").open("ab") as out:
            size, step = out.tell(), 1 << 24
            while step >= 4096:
                try:
                    os.posix_fallocate(out.fileno(), size, step)
                    size += step
                except OSError:
                    step >>= 1

    def free(self) -> None:
        """Give the space back."""
        (self.folder / "eaten").unlink(missing_ok=True)

    def close(self) -> None:
        """Let go of it; what lay there is gone where it was in memory."""
        if self.limited:
            subprocess.run(["umount", str(self.folder)], capture_output=True, check=False)
