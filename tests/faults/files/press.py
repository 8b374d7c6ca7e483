"""``python -m tests.faults.files.press``: presses with a folder each, in a process of their own, told what to do.

A line on stdin is a JSON object with one key, what to do; each is answered by one line. It ends when stdin does. Killed
and started again, its presses have forgotten their jobs, as real ones may have.
"""

import json
import sys
import threading
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from simulators.disturb import WireFault, WireFaults
from simulators.file_press import FilePress
from simulators.file_press_diary import Diary
from simulators.file_press_faults import FILE_FAULTS
from simulators.file_press_folder import Folder, SharedFolder
from simulators.file_press_ftp import FtpAddress, FtpFolder
from simulators.file_press_sessions import Sessions
from simulators.file_press_ways import parse_ways

CLOCK = datetime(2026, 10, 24, 23, 58, 30, tzinfo=UTC)
"""The press's own clock at its first shot: a day ends soon."""


class Served:
    """One press and a thread that answers its requests."""

    def __init__(self, told: dict[str, Any]) -> None:
        where: Folder
        if told["ftp"]:
            where = FtpFolder(FtpAddress(*told["ftp"]), lambda: self.press.between_pieces())
        else:
            where = SharedFolder(Path(told["folder"]), lambda: self.press.between_pieces())
        self.press = FilePress(
            told["name"],
            parse_ways(told["ways"]),
            where,
            CLOCK,
            faults=WireFaults((), FILE_FAULTS),
            diary=Diary(Path(told["diary"])),
        )
        self.sessions = Sessions(self.press)
        self.lasting: tuple[WireFault, ...] = ()
        self.press.begin()
        self._end = threading.Event()
        self._thread = threading.Thread(target=self._answer, daemon=True)
        self._thread.start()

    def last(self, faults: list[list[Any]]) -> None:
        """Let these faults be there, and no others, until told otherwise: each its kind, and seconds."""
        with self.press.guard:
            self.lasting = tuple(WireFault(kind, 0, 10**9, seconds) for kind, seconds in faults)
            self.press.faults.faults = self.lasting
            self.press.turn()

    def make(self, shot: int, seconds: float, values: dict[str, str], faults: list[list[Any]]) -> None:
        """Make a shot, so long after the first, with faults of its own: each its kind, and seconds."""
        with self.press.guard:
            own = tuple(WireFault(kind, 0, 10**9, seconds) for kind, seconds in faults)
            self.press.faults.faults = (*self.lasting, *own)
            self.press.make(shot, seconds, values, "mk")
            self.press.faults.faults = self.lasting

    def close(self) -> None:
        self._end.set()
        self._thread.join(5.0)
        self.press.folder.close()
        self.press.diary.close()

    def _answer(self) -> None:
        while not self._end.wait(0.02):
            self.sessions.look()


def serve() -> None:
    """Do what stdin says until it ends."""
    presses: dict[str, Served] = {}
    for line in sys.stdin:
        ((what, told),) = json.loads(line).items()
        if what == "open":
            presses |= {one["name"]: Served(one) for one in told}
        elif what == "make":
            for name, shots in told.items():
                for shot in shots:
                    presses[name].make(*shot)
        elif what == "last":
            for name, faults in told.items():
                presses[name].last(faults)
        else:
            raise ValueError(what)
        print("true", flush=True)
    for one in presses.values():
        one.close()


if __name__ == "__main__":
    serve()
