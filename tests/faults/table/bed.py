"""One press on a wire, a real ``shotlog run`` beside it, and what came of it."""

import contextlib
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Self

from tests.faults import outside
from tests.faults.soak.disk import Disk
from tests.faults.soak.logger import Logger, told
from tests.faults.soak.referee import Count, count, rows_of
from tests.faults.soak.truth import TruePress
from tests.faults.soak.wires import Printer, RtuUnit, TcpUnit, Wire

__all__ = ["Bed", "Play", "shotlog"]

DEADLINE_S = 60.0
"""Longest wait for anything; never waited out where things go as wanted."""


@dataclass
class Play:
    """What came of one row. `wrong`: what is not as wanted, a line each."""

    row: int
    tried: int = 0
    lost: int = 0
    doubled: int = 0
    said: list[str] = field(default_factory=list)
    recovery_s: float | None = None
    wrong: list[str] = field(default_factory=list)

    def want(self, is_so: object, otherwise: str) -> None:
        """Note what is not as wanted."""
        if not is_so:
            self.wrong.append(otherwise)

    def counted(self, found: Count) -> None:
        """Take over what the referee counted."""
        self.tried += found.acknowledged + found.waited
        self.lost += len(found.lost) + len(found.unsaid) + len(found.changed)
        self.doubled += len(found.doubled)
        self.wrong += found.broken[:5]


def shotlog(*arguments: object, folder: Path | None = None, **more: Any) -> "subprocess.CompletedProcess[str]":
    """Run a command to its end."""
    command = [sys.executable, "-m", "shotlog", *map(str, arguments)]
    return subprocess.run(
        command, capture_output=True, text=True, check=False, timeout=DEADLINE_S, cwd=folder, errors="replace", **more
    )


class Bed:
    """Presses by their wires (`TCP`, `RTU`, `LINE`), a configuration and a logger, in a folder."""

    def __init__(
        self,
        folder: Path,
        *wires: str,
        first: int = 1,
        last_count: int = 65_535,
        log: str = "",
        more: str = "",
        pages: int = 0,
        disk: bool = False,
        environment: dict[str, str] | None = None,
    ) -> None:
        self.disk = Disk(folder) if disk else None
        self.folder = self.disk.folder if self.disk else folder
        self.presses = {name: TruePress(name, first, last_count) for name in wires}
        self.wires: dict[str, Wire] = {}
        for name, press in self.presses.items():
            makers: dict[str, Callable[[], Wire]] = {
                "TCP": lambda p=press: TcpUnit(p, 1),
                "RTU": lambda p=press: RtuUnit(p, 1, folder),
                "LINE": lambda p=press: Printer(p, 1, folder),
            }
            self.wires[name] = makers[name]()
        self.config = self.folder / "press.toml"
        self.database = self.folder / "trial.db"
        self.pages = pages
        self.clock = folder / "clock"
        self.log, self.more = log or 'store = "sqlite:///trial.db"', more
        self.write()
        self.logger = Logger(self.config, bool(pages), (environment or {}) | outside.clock(self.clock))

    def write(self, change: Callable[[str], str] = lambda text: text) -> None:
        """Write the configuration."""
        served = f"[dashboard]\nport = {self.pages}\n" if self.pages else ""
        tables = "".join(wire.config() for wire in self.wires.values())
        self.config.write_text(change(f"[log]\n{self.log}\n{served}{tables}{self.more}"), encoding="utf-8")

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.logger.signal(signal.SIGCONT)
        self.logger.kill()
        for wire in self.wires.values():
            wire.close()
        time.sleep(0.05)
        if self.disk:
            self.disk.close()

    def start(self, wait: bool = True) -> None:
        """Start the logger, and wait until it reads every press."""
        since = time.monotonic()
        self.logger.start()
        if wait:
            for name in self.wires:
                self.until(
                    lambda n=name: self.logger.said_since(since, f"{n.lower()}: connected"), f"{name} connected", name
                )

    def until(self, so: Callable[[], object], what: str, line: str = "", wait_s: float = DEADLINE_S) -> bool:
        """Wait for something; a printer is heard of with its next line. Returns whether it came."""
        end = time.monotonic() + wait_s
        while not so():
            if time.monotonic() > end:
                return False
            if line == "LINE":
                self.wires[line].show(self.presses[line].make())
            time.sleep(0.05)
        return True

    def make(self, shots: int, every_s: float = 0.12) -> None:
        """Make shots, on all presses at once."""
        for _ in range(shots):
            for name, press in self.presses.items():
                self.wires[name].show(press.make())
            time.sleep(every_s)

    def told(self, *words: str, since: float = 0.0) -> list[str]:
        """Return what it said with one of these words in it, not counting shots."""
        lines = self.logger.said_since(since, *words)
        return [line for line in lines if told(line) is None]

    def stored(self) -> int:
        """Return how many shots stand in the log, and 0 where there is none."""
        with contextlib.suppress(sqlite3.Error):
            return len(rows_of(self.database)[0])
        return 0

    def caught_up(self, wait_s: float = DEADLINE_S) -> float | None:
        """Wait until every press's newest shot is in the log; return how long that took, None where it did not come."""
        began = time.monotonic()

        def newest() -> bool:
            with contextlib.suppress(sqlite3.Error):
                last = {one.press: one.counter for one in rows_of(self.database)[0]}
                return all(last.get(name) == press.now.counter for name, press in self.presses.items())
            return False

        return time.monotonic() - began if self.until(newest, "newest stored", wait_s=wait_s) else None

    def count(self, *aside: Path) -> Count:
        """Let the referee count over the log and files that were the log before it."""
        logger, files = self.logger, [*aside, self.database]
        return count(list(self.presses.values()), logger.acknowledged, logger.waiting, files, lambda *_: False)

    def verify(self, *arguments: object) -> "subprocess.CompletedProcess[str]":
        """Run ``shotlog verify``."""
        return shotlog("verify", self.config, *arguments, folder=self.folder)


def first(lines: Sequence[str]) -> list[str]:
    """Return the first line, if there is one."""
    return list(lines[:1])
