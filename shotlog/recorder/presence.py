"""Saying, every few seconds, that logging is at work and what the last shots came as; only for show."""

import os
from collections.abc import Iterable, Mapping
from math import inf

from shotlog.clock import Clock
from shotlog.recorder.getting_ready import GettingReady
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

    def sign(
        self, silent: Mapping[str, float], preparing: GettingReady, waits: Mapping[str, float], ended: bool = False
    ) -> Beat:
        """Return one more sign of life; `silent`, `waits`: in seconds by press, as in `Beat`."""
        self._count += 1
        for_s = preparing.for_s
        return Beat(
            self._count,
            self._clock.now(),
            self._since,
            self._clock.monotonic(),
            this_host(),
            os.getpid(),
            silent,
            0 if for_s is None else preparing.n_waiting,
            ended,
            for_s,
            waits,
        )

    def show(
        self, silent: Mapping[str, float], preparing: GettingReady, waits: Mapping[str, float], ended: bool = False
    ) -> None:
        """Show it in the log, where it is time to, or at the end.

        Raises
        ------
        StoreError
            The log cannot be written.
        """
        if self._clock.monotonic() < self._due and not ended:
            return
        self._due = self._clock.monotonic() + _EVERY_S
        beat(self._log, self.sign(silent, preparing, waits, ended), self._came)
        self._came = {}
