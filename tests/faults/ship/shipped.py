"""``shotlog ship`` as a process, and its configuration."""

import os
import subprocess
import sys
import threading
import time
from pathlib import Path
from typing import Self

__all__ = ["Ship", "write_configuration"]

DEADLINE_S = 300.0
"""Longest wait for anything: long for a busy machine, never waited out by a run that passes."""


def write_configuration(folder: Path, name: str) -> Path:
    """Write the configuration of an edge, whose log lies beside it; return it."""
    config = folder / f"{name}.toml"
    press = f'[[press]]\nname = "{name}-P1"\n[press.collector]\nkind = "recording"\n'
    config.write_text(f'[log]\nstore = "sqlite:///{name}.db"\n{press}', encoding="utf-8")
    return config


class Ship:
    """The process; it is killed when the block ends. `lines`: what it said."""

    def __init__(self, config: Path, to: str, *options: str) -> None:
        command = [sys.executable, "-m", "shotlog", "ship", str(config), "--to", to, *options]
        self.process = subprocess.Popen(
            command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, env={**os.environ, "TZ": "UTC"}
        )
        self.lines: list[str] = []
        self._changed = threading.Condition()
        self._reader = threading.Thread(target=self._read, daemon=True)
        self._reader.start()

    def _read(self) -> None:
        assert self.process.stdout is not None
        for line in self.process.stdout:
            with self._changed:
                self.lines.append(line.rstrip())
                self._changed.notify_all()

    def wait_for(self, words: str, count: int = 1) -> None:
        """Wait until so many lines hold these words."""
        until = time.monotonic() + DEADLINE_S
        with self._changed:
            while sum(words in line for line in self.lines) < count:
                assert self.process.poll() is None, f"ended before {words!r}: {self.lines}"
                assert self._changed.wait(min(1.0, until - time.monotonic())) or time.monotonic() < until, self.lines

    def end(self) -> int:
        """Ask it to end; return its status."""
        self.process.terminate()
        return self.wait()

    def wait(self) -> int:
        """Wait until it has ended; return its status."""
        status = self.process.wait(DEADLINE_S)
        self._reader.join(DEADLINE_S)
        return status

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        if self.process.poll() is None:
            self.process.kill()
        self.wait()
        if self.process.stdout is not None:
            self.process.stdout.close()
