"""What a program that must not stop says, on its screen and in a text log, without ever waiting for either.

A terminal that was stopped, or a pipe that nobody reads, holds up whoever writes to it, for ever. Here every line goes
into a bounded queue, and one daemon thread a place writes it; what has no room is left out there and counted. `talking`
puts this in the place of `sys.stderr`, so that prints, logging, warnings and tracebacks all go through it.
"""

import io
import logging
import os
import re
import sys
import threading
import time
from collections import deque
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from datetime import UTC, datetime
from logging.handlers import RotatingFileHandler
from pathlib import Path
from typing import TextIO

from shotlog.withheld import without_secrets

__all__ = ["Said", "keep_text", "talking"]

Write = Callable[[str], None]

_MOST_LINES = 1000
_LONGEST = 4096
"""Lines that wait for a place, and characters of a line, at most: what waits stays in memory."""
_LAST_WORDS_S = 1.0
"""How long the end waits for what was said last."""
_FULL_S = 0.05
_FILES = 5
"""The text log and its predecessors, together as large as is asked for."""

_TIME_OF_DAY = re.compile(r"^\d\d:\d\d:\d\d ")


class _Place:
    """One place that lines go to, and the thread that writes them there."""

    def __init__(self, write: Write, left_out: Callable[[int], str]) -> None:
        self._write, self._say_left_out = write, left_out
        self._lines: deque[tuple[str, int]] = deque()
        self._n_left_out = 0
        self._ended = False
        self._changed = threading.Condition()
        threading.Thread(target=self._write_on, name="said", daemon=True).start()

    def put(self, line: str) -> None:
        """Take a line, or count it as left out; never waits."""
        with self._changed:
            if len(self._lines) >= _MOST_LINES:
                self._n_left_out += 1
                return
            self._own_up()
            self._lines.append((line, 1))
            self._changed.notify_all()

    def settle(self, until: float) -> bool:
        """Wait until all is written, at most until `until` (monotonic); return whether it is."""
        with self._changed:
            return self._changed.wait_for(lambda: not self._lines, until - time.monotonic())

    def end(self) -> None:
        """Let the thread end once all is written."""
        with self._changed:
            self._ended = True
            self._changed.notify_all()

    def _own_up(self) -> None:
        if self._n_left_out:
            self._lines.append((self._say_left_out(self._n_left_out), self._n_left_out))
            self._n_left_out = 0

    def _write_on(self) -> None:
        while True:
            with self._changed:
                self._changed.wait_for(lambda: self._lines or self._ended)
                if not self._lines:
                    return
                line, stands_for = self._lines[0]
            try:
                self._write(line)
                gone = 0
            except (OSError, ValueError):  # a place that is gone: there is nobody to tell
                gone = stands_for
            with self._changed:
                self._lines.popleft()
                self._n_left_out += gone
                if not gone and not self._lines:
                    self._own_up()
                self._changed.notify_all()


class Said(io.TextIOBase):
    """A stream that hands whole lines to a screen and to a text log, and waits for neither.

    Parameters
    ----------
    screen
        Where lines are shown; None where there is no screen, as in a service.
    now
        Time of day, aware.
    """

    def __init__(self, screen: TextIO | None, now: Callable[[], datetime] = lambda: datetime.now(UTC)) -> None:
        self._screen, self._now = screen, now
        self._shown = None if screen is None else _Place(_onto(screen), self._not_shown)
        self._kept: _Place | None = None
        self._text: _Text | None = None
        self._begun: dict[int, str] = {}
        self._lock = threading.RLock()

    @property
    def encoding(self) -> str:  # type: ignore[override]
        """What the screen takes; characters it has not are written as escapes."""
        return getattr(self._screen, "encoding", None) or "utf-8"

    def writable(self) -> bool:
        return True

    def isatty(self) -> bool:
        return self._screen is not None and self._screen.isatty()

    def fileno(self) -> int:
        if self._screen is None:
            raise OSError("no screen")
        return self._screen.fileno()

    def write(self, text: str) -> int:
        """Take text; each line goes on its way when it is whole."""
        with self._lock:
            me = threading.get_ident()
            *lines, rest = (self._begun.pop(me, "") + text).split("\n")
            if rest:
                self._begun[me] = rest[:_LONGEST]
            for line in lines:
                self._say(line)
        return len(text)

    def flush(self) -> None:
        """Nothing waits here but the beginning of a line."""

    def keep(self, file: Path, most_mb: float) -> None:
        """Write every line to a text log as well, with its date and zone; the files together stay below `most_mb`."""
        self._text = _Text(file, most_mb, self._trouble)
        self._kept = _Place(self._text, lambda n: self._stamped(f"{_lines(n)} not kept"))

    def last_words(self) -> bool:
        """Give what was said last a short time to be written; return whether it is, and nothing is held any more."""
        with self._lock:
            for begun in list(self._begun.values()):
                self._say(begun)
            self._begun.clear()
        until = time.monotonic() + _LAST_WORDS_S
        places = [place for place in (self._kept, self._shown) if place is not None]
        settled = all(place.settle(until) for place in places)
        for place in places:
            place.end()
        if settled and self._text is not None:
            self._text.close()
        return settled

    def _say(self, line: str) -> None:
        line = without_secrets(line if len(line) <= _LONGEST else f"{line[:_LONGEST]} ...")
        if self._shown is not None:
            self._shown.put(line)
        if self._kept is not None:
            self._kept.put(self._stamped(_TIME_OF_DAY.sub("", line)))

    def _stamped(self, text: str) -> str:
        """Put date and zone before a line, of when it is said: a slow disk may write it later."""
        return f"{self._now().astimezone().isoformat(timespec='seconds')} {text}"

    def _trouble(self, text: str) -> None:
        if self._shown is not None:
            self._shown.put(text)

    def _not_shown(self, n: int) -> str:
        kept = "" if self._text is None else f"; they are in {self._text.file}"
        return f"{_lines(n)} not shown here, because nobody read them{kept}"


class _Text:
    """The text log: files that follow each other. One that cannot be written is said once, and tried on."""

    def __init__(self, file: Path, most_mb: float, trouble: Write) -> None:
        self.file, self._trouble = file, trouble
        self._handler = _Files(file, most_mb)
        self._failed = False

    def __call__(self, line: str) -> None:
        try:
            self._handler.emit(logging.LogRecord("said", logging.INFO, "", 0, line, None, None))
        except OSError as error:
            if not self._failed:
                why = error.strerror or error
                self._trouble(f"{self.file} cannot be written: {why}; what is said is not kept there")
            self._failed = True
            raise
        if self._failed:
            self._failed = False
            self._trouble(f"{self.file} can be written again")

    def close(self) -> None:
        """Close the file; what could not be written is given up."""
        with suppress(OSError):
            self._handler.close()


class _Files(RotatingFileHandler):
    """Passes on what goes wrong, where the library would write it to the screen itself."""

    def __init__(self, file: Path, most_mb: float) -> None:
        each = max(int(most_mb * 1e6 / _FILES), 1000)
        super().__init__(file, maxBytes=each, backupCount=_FILES - 1, encoding="utf-8", errors="replace", delay=True)

    def handleError(self, record: logging.LogRecord) -> None:  # noqa: N802  (the library's name)
        error = sys.exception()
        assert error is not None  # noqa: S101  (for the type checker; called while an error is handled)
        raise error

    def doRollover(self) -> None:  # noqa: N802  (the library's name)
        """Begin the next file; go on in this one where somebody has it open and it cannot be renamed (Windows)."""
        try:
            super().doRollover()
        except PermissionError:
            self.stream = self._open()


def _onto(screen: TextIO) -> Write:
    """Return what writes a line to a screen, past Python's buffers: at its end it would wait for their locks."""
    raw = getattr(getattr(screen, "buffer", None), "raw", None)
    if raw is None:

        def write(line: str) -> None:
            screen.write(f"{line}\n")
            screen.flush()

    else:

        def write(line: str) -> None:
            left = memoryview(f"{line}{os.linesep}".encode(screen.encoding or "utf-8", "backslashreplace"))
            while left:
                n = raw.write(left)
                if not n:  # a pipe that refuses instead of waiting
                    time.sleep(_FULL_S)
                left = left[n or 0 :]

    return write


def _lines(n: int) -> str:
    return "1 line" if n == 1 else f"{n} lines"


@contextmanager
def talking() -> Iterator[Said]:
    """Let nothing that this process says hold it up, for the length of the block; begin it before logging is set up."""
    _take_closed_places()
    before = sys.stderr
    said = Said(before)
    sys.stderr = said
    try:
        yield said
    finally:
        if said.last_words():  # else whoever still speaks must not wait for that screen either
            sys.stderr = before


def _take_closed_places() -> None:
    """Open the three standard places where they are closed, as in some services: else the next file that is opened gets
    such a place, and whatever a library writes there goes into it.
    """
    for place in (0, 1, 2):
        try:
            os.fstat(place)
        except OSError:
            with suppress(OSError):
                os.open(os.devnull, os.O_RDWR)


def keep_text(file: Path, most_mb: float) -> None:
    """Keep what is said from now on in a text log too; nothing where it is not said by `talking`, or for 0 MB."""
    if isinstance(sys.stderr, Said) and most_mb > 0:
        sys.stderr.keep(file, most_mb)
