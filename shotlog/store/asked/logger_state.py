"""Whether the logger is at work, as can be told from its signs of life."""

from dataclasses import dataclass
from datetime import datetime
from threading import Event
from typing import Literal

from shotlog.clock import Clock
from shotlog.store.asked.heartbeat import STALE_S, Beat, heard, is_fresh, this_host
from shotlog.store.asked.presence import last_seen
from shotlog.store.log.log import Log

__all__ = ["Listening", "LoggerState", "State"]

State = Literal["never", "earlier release", "ended", "running", "silent press", "stale"]

_BEATS_S = 11.0
"""Two beats and a little: where only a new one can tell, it is waited for that long."""
_LOOK_S = 0.5


@dataclass(frozen=True, slots=True)
class LoggerState:
    """How it stands with the logger, `seen` last; `sign`: what it told then.

    ``silent press``: it is at work, and the thread of a press is not. ``stale``: it said neither that it ends nor that
    it is at work. ``earlier release``: one that did not tell enough to say more.
    """

    state: State
    seen: datetime | None = None
    sign: Beat | None = None

    @property
    def is_failure(self) -> bool:
        """Whether something should be logged that is not."""
        return self.state in ("stale", "silent press")


class Listening:
    """Listens to the logger of a log for as long as somebody asks."""

    def __init__(self, clock: Clock, host: str | None = None) -> None:
        self._clock, self._host = clock, this_host() if host is None else host
        self._last: tuple[datetime, int] | None = None
        self._moved: float | None = None

    def look(self, log: Log) -> LoggerState:
        """Return how it stands by now; what has not moved while it was listened to counts as stale."""
        return self._look(log)[0]

    def look_well(self, log: Log) -> LoggerState:
        """Return the same, and where only another sign of life can tell, wait for one some seconds."""
        until = self._clock.monotonic() + _BEATS_S
        while True:
            state, sure = self._look(log)
            if sure or state.state != "stale" or self._clock.monotonic() >= until:
                return state
            self._clock.wait(Event(), _LOOK_S)

    def _look(self, log: Log) -> tuple[LoggerState, bool]:
        sign = heard(log)
        if sign is None:
            seen = last_seen(log, "run")
            return LoggerState("never" if seen is None else "earlier release", seen), True
        if sign.ended:
            return LoggerState("ended", sign.time, sign), True
        fresh = is_fresh(sign, self._clock.now(), self._clock.monotonic(), self._host)
        now, this = self._clock.monotonic(), (sign.since, sign.count)
        if self._last not in (None, this):
            self._moved = now
        self._last = this
        alive = fresh if fresh is not None else self._moved is not None and now - self._moved <= STALE_S
        state: State = "stale" if not alive else "silent press" if sign.silent else "running"
        return LoggerState(state, sign.time, sign), fresh is not None
