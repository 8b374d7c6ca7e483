"""Noting in the journal, every few seconds, where each press stands, how much waits, and that somebody is at work."""

import logging
from collections.abc import Callable, Iterable
from datetime import datetime
from math import inf
from pathlib import Path

from shotlog.clock import Clock
from shotlog.collectors.base import Resume
from shotlog.recorder.outbox import Outbox
from shotlog.records import Shot
from shotlog.store.asked.heartbeat import Beat, written
from shotlog.store.log.identity import Seen
from shotlog.store.log.journal import Journal
from shotlog.store.log.journal_line import Spooled
from shotlog.store.log.journal_note import Disk, Note, Position, write_note

__all__ = ["Noting"]

_EVERY_S = 5.0

logger = logging.getLogger(__name__)


class Noting:
    """Keeps the note of a journal; `sign` gives the sign of life that goes with it.

    `spare`: where it is written while the journal cannot be: that shots are in memory only must be told just then.
    """

    def __init__(
        self,
        journal: Journal,
        outbox: Outbox,
        clock: Clock,
        store: str,
        sign: Callable[[], Beat] | None = None,
        spare: Path | None = None,
    ) -> None:
        self._sign, self._spare = sign, spare
        self._journal, self._outbox, self._clock, self._store = journal, outbox, clock, store
        self._positions: dict[str, Position] = {}
        self._due = -inf
        self._failed = False
        self._seen: Seen | None = None
        self._waits: tuple[int, int, datetime | None] | None = None

    def begin(self, press: str, resume: Resume | None) -> None:
        """Begin with where a press stands when it is started."""
        if resume is not None:
            values = dict(resume.values)
            self._positions[press] = Position(resume.shot, resume.counter, values, resume.time, resume.cycle_s)

    def take(self, records: Iterable[Spooled]) -> None:
        """Take note of what came."""
        for record in records:
            if isinstance(record, Shot):
                before = self._positions.get(record.press)
                cycle_s = None if before is None else before.cycle_s
                self._positions[record.press] = Position(
                    record.shot, record.counter, dict(record.values), record.time, cycle_s
                )

    def turn(self, disks: tuple[Disk, ...] = (), at_once: bool = False) -> None:
        """Write the note where it is time to; what waits is told as soon as it changes, and brought to disk in time."""
        outbox = self._outbox
        waits = (outbox.n_waiting, outbox.n_unsafe, outbox.since)
        before, self._seen = self._seen, outbox.seen or self._seen
        renamed = self._seen is not None and (before is None or before.uid != self._seen.uid)
        due = at_once or renamed or self._clock.monotonic() >= self._due
        if not due and waits == self._waits:
            return
        self._waits = waits
        if due:
            self._due = self._clock.monotonic() + _EVERY_S
        beat = "" if self._sign is None else written(self._sign())
        note = Note(
            self._clock.now(),
            self._store,
            self._positions,
            *waits,
            outbox.why,
            disks,
            beat,
            self._seen,
            outbox.kind,
            outbox.by_press,
        )
        try:
            self._write(note, due)
        except OSError as error:
            if not self._failed:
                logger.error("%s: %s; where the presses stand is not noted", self._journal.path, error)
            self._failed = True
        else:
            self._failed = False

    def _write(self, note: Note, due: bool) -> None:
        spare, error = self._spare, None
        if self._journal.path.exists():
            try:
                self._journal.note(note, durable=due)
            except OSError as refused:
                error = refused
            else:
                if spare is not None:
                    spare.unlink(missing_ok=True)
                return
        if spare is not None:
            spare.touch()
            write_note(spare, note, durable=due)
        if error is not None:
            raise error
