"""Saying, every few seconds, that logging is at work and what the last shots came as; only for show."""

import os
from collections.abc import Iterable, Mapping
from math import inf

from shotlog.clock import Clock
from shotlog.records import Shot
from shotlog.store.asked.heartbeat import Beat, beat, this_host
from shotlog.store.asked.presence import came_as
from shotlog.store.log.log import Log

__all__ = ["Presence"]

_EVERY_S = 5.0


class Presence:
    """Shows that one logger is at work. Only the thread that stores may call it: where that hangs, nothing is shown."""

    def __init__(self, log: Log, clock: Clock) -> None:
        self._log, self._clock = log, clock
        self._since = clock.now()
        self._count = 0
        self._due = -inf
        self._came: dict[str, str] = {}

    def note(self, batch: Iterable[object]) -> None:
        """Take note of what stored shots came as."""
        self._came |= dict(came_as(record) for record in batch if isinstance(record, Shot) and record.came)

    def sign(self, silent: Mapping[str, float], unjudged: int, ended: bool = False) -> Beat:
        """Return one more sign of life."""
        self._count += 1
        now, monotonic_s = self._clock.now(), self._clock.monotonic()
        return Beat(self._count, now, self._since, monotonic_s, this_host(), os.getpid(), silent, unjudged, ended)

    def show(self, silent: Mapping[str, float], unjudged: int, ended: bool = False) -> None:
        """Show it in the log, where it is time to, or at the end.

        Raises
        ------
        StoreError
            The log cannot be written.
        """
        if self._clock.monotonic() < self._due and not ended:
            return
        self._due = self._clock.monotonic() + _EVERY_S
        beat(self._log, self.sign(silent, unjudged, ended), self._came)
        self._came = {}
