"""Following a report that a press writes over EUROMAP 63 while it is read. Nothing there is atomic.

A report that is appended to is followed by the place of the last line that ended: what has no newline yet waits.
Whether it is still the same file is told by the bytes before that place; where they are others, or the file is
shorter, it was written anew, or is being written this moment: two looks that agree start over, or three
that do not. Bytes of NUL are what a share shows of a piece that is not there yet. A line ends with LF, or in a report
that has none with CR.

A report that is rewritten at each shot may be half old, half new, or empty: what two looks in a row agree on is
taken. Where its last line has no end, it must have stood for a while, and no line of that report may have had an end.
"""

from typing import Protocol

from shotlog.clock import Clock
from shotlog.collectors.euromap_folder import FileHeld, Folder

__all__ = ["Appended", "Follower", "Rewritten", "follower"]

_MARK = 64
_LONGEST = 1 << 16
_AT_ONCE = 1 << 20
_MOST_BACK = 1 << 22
"""Of a report that lay there before, the last so many bytes are looked through: some 40,000 shots."""
_MOST_NUL = 10
_STANDS_S = 1.0
"""A writer pauses no longer between two pieces (own): 0.02 s were seen."""
_MOST_ODD = 3
_MOST_HELD = 20
"""Looks at which a file may be refused to us, or hold NUL, before that is no passing state."""


class Follower(Protocol):
    """One report. `name`: its file; `is_there`: whether it lay there at the last look."""

    name: str
    is_there: bool
    n_begun: int
    """How often it was begun from its first line, beyond the first time."""

    def look(self) -> list[bytes]:
        """Return the lines that are new, without their ends.

        Raises
        ------
        PressUnreachable
            The folder is away, or the file cannot be read.
        """

    @property
    def tail(self) -> bytes:
        """What stands behind the last line that ended."""

    broken: bytes
    """A line that stopped half-way for good, until somebody takes it away."""

    def backlog(self) -> list[bytes]:
        """Return what lies there already, and follow it from there: of a long report its first line and the last."""

    def hold(self, lines: list[bytes]) -> None:
        """Give these at the next look, before what comes then."""


class _Patience:
    """Bears with a file that is refused for a moment, as one is while another program writes it."""

    def __init__(self) -> None:
        self._n = 0

    def passed(self) -> None:
        self._n = 0

    def bear(self, error: FileHeld) -> None:
        self._n += 1
        if self._n > _MOST_HELD:
            raise error


class Appended:
    """A report that grows by a line a shot. State: the place up to which lines were taken."""

    def __init__(self, folder: Folder, name: str) -> None:
        self._folder, self.name = folder, name
        self.is_there = False
        self.n_begun = 0
        self._at = 0
        self._mark = b""
        self._odd: object = None
        self._n_odd = 0
        self._end: bytes | None = None
        self._n_nul = 0
        self._patience = _Patience()
        self._kept: list[bytes] = []
        self.tail = self.broken = b""

    def look(self) -> list[bytes]:
        kept, self._kept = self._kept, []
        return kept + self._look()

    def keep(self) -> None:
        """Read what is there, for the next look: before the press may write it anew."""
        self._kept += self._look()

    def hold(self, lines: list[bytes]) -> None:
        self._kept = [*lines]

    def backlog(self) -> list[bytes]:
        part = self._folder.read(self.name, 0, _LONGEST)
        first: list[bytes] = []
        if part is not None and part.size > _MOST_BACK:
            end = _end_of_lines(part.data) or b"\n"
            first = [part.data.partition(end)[0].rstrip(b"\r")]
            start = part.size - _MOST_BACK
            behind = self._folder.read(self.name, start, _LONGEST)
            if behind is not None:
                self._at = start + behind.data.find(end) + 1
        found: list[bytes] = []
        self._n_nul = _MOST_NUL  # what lay there before is as it is
        while lines := self._look():
            found += lines
            self._n_nul = _MOST_NUL
        return first + found

    def _look(self) -> list[bytes]:
        start = self._at - len(self._mark)
        try:
            part = self._folder.read(self.name, start, _AT_ONCE)
        except FileHeld as error:
            self._patience.bear(error)
            return []
        self._patience.passed()
        self.is_there = part is not None
        if part is None:
            return []
        if part.start < start or not part.data.startswith(self._mark):
            return self._other((part.size, part.data[:_MARK]))
        self._odd, self._n_odd = None, 0
        return self._lines(self._there(part.data[len(self._mark) :]))

    def _other(self, seen: object) -> list[bytes]:
        self._n_odd += 1
        if self._odd != seen and self._n_odd < _MOST_ODD:
            self._odd = seen
            return []
        self._odd, self._n_odd, self._end = None, 0, None
        self._at, self._mark, self.tail = 0, b"", b""
        self.n_begun += 1
        return self._look()

    def _there(self, data: bytes) -> bytes:
        """Return the bytes up to the first that is not there yet."""
        nul = data.find(b"\0")
        self._n_nul = 0 if nul < 0 else self._n_nul + 1
        return data if nul < 0 or self._n_nul > _MOST_NUL else data[:nul]

    def _lines(self, data: bytes) -> list[bytes]:
        self._end = self._end or _end_of_lines(data)
        end = data.rfind(self._end) + 1 if self._end else 0
        if not end and len(data) > _LONGEST:
            end = len(data)
        self.tail = data[end:]
        self._at += end
        self._mark = (self._mark + data[:end])[-_MARK:] if end else self._mark
        return _split(data[:end], self._end or b"\n") if end else []


def follower(folder: Folder, name: str, rewritten: bool, clock: Clock) -> Follower:
    """Return what follows a report, as it is written."""
    return Rewritten(folder, name, clock) if rewritten else Appended(folder, name)


def _end_of_lines(data: bytes) -> bytes | None:
    """Return what ends the lines of a report: LF where there is one, CR where something else follows it."""
    if b"\n" in data:
        return b"\n"
    cr = data.find(b"\r")
    return b"\r" if 0 <= cr < len(data) - 1 else None


def _split(data: bytes, end: bytes) -> list[bytes]:
    return [line.rstrip(b"\r") for line in data.removesuffix(end).split(end)]


class Rewritten:
    """A report of which each shot replaces the one before. State: what was read last, since when it stands, and what
    was taken last.
    """

    def __init__(self, folder: Folder, name: str, clock: Clock) -> None:
        self._folder, self.name, self._clock = folder, name, clock
        self.is_there = False
        self.n_begun = 0
        self.tail = self.broken = b""
        self._before = b""
        self._n_same = 0
        self._since = 0.0
        self._has_ends = False
        self._taken = b""
        self._patience = _Patience()
        self._kept: list[bytes] = []

    def hold(self, lines: list[bytes]) -> None:
        self._kept = [*lines]

    def backlog(self) -> list[bytes]:
        part = self._folder.read(self.name, 0, _AT_ONCE)
        if part is None or not part.data.endswith((b"\n", b"\r")):
            return []  # it is being written
        self._taken = part.data
        return _split(part.data, _end_of_lines(part.data) or b"\n")

    def look(self) -> list[bytes]:
        kept, self._kept = self._kept, []
        return kept + self._look()

    def _look(self) -> list[bytes]:
        try:
            part = self._folder.read(self.name, 0, _AT_ONCE)
        except FileHeld as error:
            self._patience.bear(error)
            return []
        self._patience.passed()
        self.is_there = part is not None
        data = b"" if part is None else part.data
        if data != self._before:
            self._before, self._n_same, self._since = data, 0, self._clock.monotonic()
            return []
        self._n_same += 1
        if not data.strip(b"\0\r\n ") or data == self._taken or not self._stands(data):
            return []
        self._taken = data
        lines = _split(data, _end_of_lines(data) or b"\n")
        if self._has_ends and not data.endswith((b"\n", b"\r")):
            self.broken = lines.pop()
        return lines

    def _stands(self, data: bytes) -> bool:
        """Say whether what two looks agreed on is all that will be written of it."""
        if data.endswith((b"\n", b"\r")):
            self._has_ends = True
            return b"\0" not in data or self._n_same >= _MOST_NUL
        lasts = self._clock.monotonic() - self._since >= _STANDS_S
        return lasts and self._n_same >= (_MOST_NUL if self._has_ends or b"\0" in data else 2)
