"""A press that gives its shots as files, served: its folder, its jobs, and a thread that answers requests."""

import asyncio
import tempfile
import threading
from datetime import datetime
from pathlib import Path

from simulators.disturb import WireFaults
from simulators.faces import collector_table
from simulators.file_press import FilePress
from simulators.file_press_diary import Diary
from simulators.file_press_faults import FILE_FAULTS
from simulators.file_press_folder import Folder, SharedFolder
from simulators.file_press_ftp import FtpFolder, FtpHost
from simulators.file_press_sessions import Sessions
from simulators.file_press_tokens import CHANNEL_TOKENS, TOKENS
from simulators.file_press_ways import FileWays
from simulators.press import PressRun

__all__ = ["FileFace"]

_LOOK_S = 0.02
"""How often it looks for requests."""


class FileFace:
    """Files in a folder, after EUROMAP 63. `clock` is the press's own at the start: local time, without a zone.

    The diary of what it was asked, and what it wrote, lies beside the folder.
    """

    kind = "euromap63"

    def __init__(
        self, name: str, clock: datetime, ways: FileWays, first_count: int = 0, faults: WireFaults | None = None
    ) -> None:
        self.name, self.ways, self.shown = name, ways, 0
        self._clock, self._first = clock, first_count
        self._faults = faults or WireFaults((), FILE_FAULTS)
        self._made: tempfile.TemporaryDirectory[str] | None = None
        self._host: FtpHost | None = None
        self._end = threading.Event()
        self.folder, self.diary = Path(), Path()

    async def open(self) -> None:
        """Make the folder, if there is none, and begin to answer."""
        if self.ways.folder:
            self.folder = Path(self.ways.folder)
        else:
            self._made = tempfile.TemporaryDirectory(prefix="press-", ignore_cleanup_errors=True)
            self.folder = Path(self._made.name) / "folder"
        self.folder.mkdir(parents=True, exist_ok=True)
        self.diary = self.folder.with_name(self.folder.name + ".diary.jsonl")
        folder = self._folder()
        self.press = FilePress(
            self.name, self.ways, folder, self._clock, self._first, self._faults, Diary(self.diary), self._wait
        )
        self.sessions = Sessions(self.press)
        self.press.begin()
        self._thread = threading.Thread(target=self._answer, daemon=True)
        self._thread.start()

    async def show(self, run: PressRun, index: int) -> None:
        """Make shot `index` (from 0)."""
        self.shown += 1
        await asyncio.to_thread(self.press.show, run, index)

    async def close(self) -> None:
        """Stop answering, and take away what was made."""
        self._end.set()
        await asyncio.to_thread(self._thread.join, 5.0)
        self.press.folder.close()
        self.press.diary.close()
        if self._host is not None:
            self._host.close()
        if self._made is not None:
            self._made.cleanup()

    def place(self) -> dict[str, object]:
        """Return the folder, and where the diary lies."""
        return {"kind": self.kind, "folder": str(self.folder), "diary": str(self.diary)}

    def config(self, poll_s: float) -> str:
        """Return the `[press.collector]` table that reads it, as TOML."""
        keys: dict[str, object] = {"kind": self.kind, "folder": str(self.folder), "poll_s": max(0.05, poll_s)}
        passive = bool(self.ways.report)
        if passive:
            keys |= {"passive": True, "report": self.ways.report}
        channels = {
            channel: f'{{ token = "{token}"' + (f', unit = "{self._unit(token)}" }}' if passive else " }")
            for channel, token in CHANNEL_TOKENS.items()
        }
        return collector_table(keys, '{ token = "ActCntCyc" }', channels)

    def asked(self) -> list[str]:
        """Return the words of the requests that came."""
        return sorted(self.sessions.asked)

    def _unit(self, token: str) -> str:
        """The unit as the configuration spells it; in passive mode nothing else tells it."""
        unit = self.press.tokens[token].unit if hasattr(self, "press") else TOKENS[token].unit
        return {"°C": "degC", "°F": "degF"}.get(unit, unit)

    def _folder(self) -> Folder:
        def pause() -> None:
            self.press.between_pieces()

        if self.ways.ftp == "no":
            return SharedFolder(self.folder, pause)
        self._host = FtpHost(self.folder)
        return FtpFolder(self._host.address, pause)

    def _wait(self, seconds: float) -> None:
        self._end.wait(seconds)

    def _answer(self) -> None:
        while not self._end.wait(_LOOK_S):
            self.sessions.look()
