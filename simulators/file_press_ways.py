"""The ways in which presses differ that give their shots as files (EUROMAP 63): one switch each.

What differs was seen between public programs of both sides, or is not known; nothing here was verified on a real press.
"""

from dataclasses import dataclass, field, fields
from typing import Any

from simulators.faces import FaceError

__all__ = ["CODE_PAGES", "LINE_ENDS", "FileWays", "parse_ways"]

LINE_ENDS = {"crlf": "\r\n", "lf": "\n", "cr": "\r"}
"""How a line ends, by the name of the switch."""

CODE_PAGES = {"850": "cp850", "8859-1": "latin-1"}
"""What GETINFO says as CharDef, and the codec it means."""


def _one_of(*allowed: str) -> Any:
    return field(default=allowed[0], metadata={"allowed": allowed})


@dataclass(frozen=True, slots=True)
class FileWays:
    """How one press answers and writes.

    `folder`: where (empty: a new one); `ftp`: the press uploads into it as an FTP client, the whole file each time or
    by appending. `processed`: with the command behind it, or the bare word. `session_id`: whether an error of the
    session carries the id of the request. `deletes`: the request, after or before the answer is written. `ends`: the
    case of the extensions it writes. `last_newline`: a line is ended at once, or only when the next one comes.
    `pieces`: a write is one piece, two pieces `piece_s` apart (`tail`: the second has only the last four bytes), or the
    whole file truncated and written anew in two.
    `units`: of GETID; `other` means inch, psi, ms and degrees Fahrenheit. `header`: once in a file, or again at each
    start of a report. `info`: what stands between name and value in GETINFO. `dates`: whether GETID lists DATE, TIME
    and COUNT too. `survive`: jobs outlive a restart. `slow_s`: how late an answer comes. `others`: other people's
    files and jobs lie in the folder. `report`: what somebody else ordered before the start (a file name), with its
    `mode` and CYCLIC clause (`every` shots, or `cyclic_time`).
    """

    folder: str = ""
    ftp: str = _one_of("no", "whole", "append")
    processed: str = _one_of("quoted", "plain")
    session_id: str = _one_of("yes", "no")
    deletes: str = _one_of("after", "before")
    ends: str = _one_of("upper", "lower")
    line: str = _one_of(*LINE_ENDS)
    last_newline: str = _one_of("yes", "no")
    code_page: str = _one_of(*CODE_PAGES)
    pieces: str = _one_of("one", "two", "tail", "whole")
    piece_s: float = 0.02
    units: str = _one_of("metric", "other")
    header: str = _one_of("once", "again")
    info: str = _one_of("comma", "space", "equals")
    dates: str = _one_of("no", "yes")
    survive: str = _one_of("no", "yes")
    sessions: int = 10
    reports: int = 4
    jobs: int = 8
    slow_s: float = 0.0
    others: str = _one_of("no", "yes")
    report: str = ""
    mode: str = _one_of("append", "rewrite")
    every: int = 1
    cyclic_time: str = ""

    @property
    def codec(self) -> str:
        """The codec of everything it writes."""
        return CODE_PAGES[self.code_page]

    @property
    def end(self) -> str:
        """What ends a line."""
        return LINE_ENDS[self.line]


_PLAIN = FileWays()


def parse_ways(text: str) -> FileWays:
    """Read switches as ``name=value,name=value``.

    Raises
    ------
    FaceError
        There is no such switch, or it has no such position.
    """
    known = {one.name: one for one in fields(FileWays)}
    given: dict[str, Any] = {}
    for item in filter(None, text.split(",")):
        name, _, value = item.partition("=")
        name = name.strip().replace("-", "_")
        if name not in known:
            raise FaceError(f"euromap63: given {item!r}, allowed: {', '.join(known)}")
        allowed = known[name].metadata.get("allowed", ())
        if allowed and value not in allowed:
            raise FaceError(f"euromap63: {name}: given {value!r}, allowed: {', '.join(allowed)}")
        try:
            given[name] = type(getattr(_PLAIN, name))(value)
        except ValueError as error:
            raise FaceError(f"euromap63: {name}: given {value!r}, allowed: a number") from error
    return FileWays(**given)
