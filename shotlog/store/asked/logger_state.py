"""Whether the logger is at work, as can be told from its signs of life: in the log, and in the note of its journal."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from threading import Event
from typing import Literal

from shotlog.clock import Clock
from shotlog.store.asked.heartbeat import STALE_S, Beat, heard, is_fresh, read, this_host
from shotlog.store.asked.presence import last_seen
from shotlog.store.log.journal_note import Note
from shotlog.store.log.log import Log

__all__ = ["Listening", "LoggerState", "State"]

State = Literal["never", "earlier release", "ended", "running", "log not written", "silent press", "stale"]

_BEATS_S = 11.0
"""Two beats and a little: where only a new one can tell, it is waited for that long."""
_LOOK_S = 0.5


@dataclass(frozen=True, slots=True)
class LoggerState:
    """How it stands with the logger, `seen` last; `sign`: what it told then.

    ``log not written``: it is at work, and what it logs waits in its journal; `unsafe`: shots that are not even there.
    ``silent press``: it is at work, and the thread of a press is not. ``stale``: it said neither that it ends nor that
    it is at work. ``earlier release``: one that did not tell enough to say more.
    """

    state: State
    seen: datetime | None = None
    sign: Beat | None = None
    unsafe: int = 0

    @property
    def is_failure(self) -> bool:
        """Whether something should be in the log that is not."""
        return self.state in ("log not written", "stale", "silent press")

    @property
    def is_safe(self) -> bool:
        """Whether what the presses make is kept, in the log or on disk in the journal: it needs no start anew."""
        return self.state == "running" or (self.state == "log not written" and not self.unsafe)


class Listening:
    """Listens to the logger of a log for as long as somebody asks; `noted` returns what it noted in its journal."""

    def __init__(self, clock: Clock, host: str | None = None, noted: Callable[[], Note | None] = lambda: None) -> None:
        self._clock, self._host = clock, this_host() if host is None else host
        self._noted = noted
        self._last: tuple[datetime, int] | None = None
        self._moved: float | None = None

    def look(self, log: Log | None) -> LoggerState:
        """Return how it stands by now; what has not moved while it was listened to counts as stale.

        None for a log that cannot be read: then the journal alone tells.
        """
        return self._look(log)[0]

    def look_well(self, log: Log) -> LoggerState:
        """Return the same, and where only another sign of life can tell, wait for one some seconds."""
        until = self._clock.monotonic() + _BEATS_S
        while True:
            state, sure = self._look(log)
            if sure or state.state != "stale" or self._clock.monotonic() >= until:
                return state
            self._clock.wait(Event(), _LOOK_S)

    def _look(self, log: Log | None) -> tuple[LoggerState, bool]:
        note = self._noted()
        noted, sign = read("" if note is None else note.beat), None if log is None else heard(log)
        if noted is not None and (sign is None or self._is_later(noted, sign)):
            sign = noted
        if sign is None:
            seen = None if log is None else last_seen(log, "run")
            return LoggerState("never" if seen is None else "earlier release", seen), True
        if sign.ended:
            return LoggerState("ended", sign.time, sign), True
        fresh = is_fresh(sign, self._clock.now(), self._clock.monotonic(), self._host)
        now, this = self._clock.monotonic(), (sign.since, sign.count)
        if self._last not in (None, this):
            self._moved = now
        self._last = this
        alive = fresh if fresh is not None else self._moved is not None and now - self._moved <= STALE_S
        waits = note is not None and sign is noted and (note.since is not None or note.unsafe > 0)
        at_work: State = "silent press" if sign.silent else "log not written" if waits else "running"
        unsafe = 0 if note is None else note.unsafe
        return LoggerState(at_work if alive else "stale", sign.time, sign, unsafe), fresh is not None

    def _is_later(self, noted: Beat, logged: Beat) -> bool:
        """Say whether the sign in the journal is the later one: within a run by its count, which no clock changes."""
        if (noted.since, noted.host, noted.process) == (logged.since, logged.host, logged.process):
            return noted.count > logged.count
        now = (self._clock.now(), self._clock.monotonic(), self._host)
        fresh = bool(is_fresh(noted, *now)), bool(is_fresh(logged, *now))
        return fresh[0] if fresh[0] != fresh[1] else noted.time > logged.time
