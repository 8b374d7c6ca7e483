"""One report of a press that speaks EUROMAP 63: which shots it takes, its lines, and how they get into its file.

APPEND: a header line, then a line a shot. REWRITE: header and one line, written anew each time. Nothing is atomic.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta

from simulators.disturb import WireFaults
from simulators.file_press_folder import Folder, in_pieces
from simulators.file_press_ways import FileWays
from simulators.file_press_words import Command

__all__ = ["OWN_PARAMETERS", "Report", "date_text", "time_text"]

OWN_PARAMETERS = ("DATE", "TIME", "COUNT")
"""What a report knows by itself: the press's clock, and its number of lines."""


def date_text(moment: datetime) -> str:
    """Return a date as the press writes it."""
    return f"{moment:%Y%m%d}"


def time_text(moment: datetime) -> str:
    """Return a time of day as the press writes it: its own clock, without a zone."""
    return f"{moment:%H:%M:%S}"


@dataclass
class Report:
    """One that runs. `slow` is told the seconds between two pieces of the next write; `content` is the file as the
    press believes it to be.
    """

    job: str
    order: Command
    file: str
    ways: FileWays
    folder: Folder
    faults: WireFaults
    slow: Callable[[float], None]
    count: int = 0
    since: int = 0
    due: datetime | None = None
    content: bytes = b""

    def begin(self, moment: datetime) -> None:
        """Begin the file, or go on with one that is there."""
        self.due = moment + timedelta(seconds=self.order.period_s) if self.order.period_s else None
        there = self.folder.read(self.file)
        if self.order.rewrite or not there:
            self.content = b""
            self._put(self._header(), new=True)
        else:
            self.content = there
            if self.ways.header == "again":
                self._put(self._header())

    def moments(self, moment: datetime) -> list[datetime]:
        """Return when lines are due now that a shot has ended: at a shot, or at times that have passed since."""
        if self.due is None:
            self.since += 1
            if self.since < self.order.every:
                return []
            self.since = 0
            return [moment]
        passed = []
        while self.due <= moment:
            passed.append(self.due)
            self.due += timedelta(seconds=self.order.period_s)
        return passed

    def line(self, moment: datetime, values: dict[str, str]) -> bool:
        """Write a line, as the faults let it through; say whether it got into the file whole and as it was."""
        self.count += 1
        own = {"DATE": date_text(moment), "TIME": time_text(moment), "COUNT": str(self.count)}
        cells = [own.get(name, values.get(name, "")) for name in self.order.parameters]
        fault = self.faults.active
        if fault("lost"):
            return False
        sound = ",".join(cells)
        self._before()
        line = self._spoilt(cells)
        if fault("nul"):
            line = "\0" * len(line)
        times = 2 if fault("duplicate") else 1
        if self.order.rewrite:
            self.content = b""
            self._put(self._header() + self._ended(line), new=True)
        else:
            for _ in range(times):
                self._put(self._ended(line, half=fault("half") is not None))
        lost = fault("away") and self.ways.ftp == "append"  # what a whole upload missed comes with the next
        return line == sound and not (fault("half") or fault("cut") or lost)

    def _before(self) -> None:
        """What happens to the file before the line comes."""
        fault = self.faults.active
        if fault("deleted"):
            self.folder.delete(self.file)
            self.content = b""
            self._put(self._header(), new=True)
        if fault("emptied"):
            self.folder.write(self.file, [b""])
            self.content = b""
        if fault("older"):
            self.content = self.content[: self.content.rfind(b"\n", 0, len(self.content) // 2) + 1] or self._header()
            self.folder.write(self.file, [self.content])
        rewritten = fault("rewritten")
        if rewritten:
            self.slow(rewritten.seconds)
            self.folder.write(self.file, in_pieces(self.content, 2))
        if fault("header"):
            self._put(self._header())
        if fault("garbage"):
            self._put(self.faults.noise(24).replace(b"\n", b".").replace(b"\r", b".") + self.ways.end.encode())

    def _spoilt(self, cells: list[str]) -> str:
        """The cells as one line; `code` of a fault says which cell it is at, from 0."""
        cells = list(cells)
        for kind, text in (("unreadable", "?"), ("text", "ERR"), ("empty", ""), ("huge", "99999999999999")):
            wrong = self.faults.active(kind)
            if wrong:
                cells[wrong.code % len(cells)] = text
        if self.faults.active("short"):
            cells.pop()
        if self.faults.active("long"):
            cells.append("0")
        if self.faults.active("comma"):
            cells = [cell.replace(".", ",") for cell in cells]
        return ",".join(cells)

    def _header(self) -> bytes:
        return self._ended(",".join(self.order.parameters))

    def _ended(self, line: str, half: bool = False) -> bytes:
        data, end = line.encode(self.ways.codec, "replace"), self.ways.end.encode()
        if half:
            return data[: len(data) // 2]
        if self.ways.last_newline == "yes":
            return data + end
        return end + data if self.content else data

    def _put(self, data: bytes, new: bool = False) -> None:
        split, cut = self.faults.active("split"), self.faults.active("cut")
        self.slow(split.seconds if split else self.ways.piece_s)
        self.content += data
        whole = new or self.ways.pieces == "whole" or self.ways.ftp == "whole"
        data = self.content if whole else data
        pieces = in_pieces(data, 1 if self.ways.pieces == "one" and not split else 2)
        if self.ways.pieces == "tail":
            pieces = [data[:-4], data[-4:]]
        if cut:  # the upload breaks off, the next one is whole again
            pieces = in_pieces(data, 3)[:2]
        self.folder.write(self.file, pieces, append=not whole)
