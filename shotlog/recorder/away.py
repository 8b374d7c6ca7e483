"""What is put on record once the log can be written again: since when and why it could not, and which shots waited."""

from collections.abc import Iterable
from datetime import datetime

from shotlog.clock import Clock
from shotlog.errors import StoreError
from shotlog.records import LOG_AWAY, Fault, Shot
from shotlog.store.log.journal_line import Batch
from shotlog.store.log.journal_note import Note
from shotlog.store.log.recovery import PutRight
from shotlog.wording.numbers import shots, some
from shotlog.wording.putting_right import away_said, put_right_told

__all__ = ["Away"]


class Away:
    """One time the log was out of reach; `since` is None while it is not, or where nobody noted it.

    `why`: what was said of it first. By press, how many shots waited, and the first and the last of them.
    """

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._waited: dict[str, tuple[int, int, int]] = {}
        self._done: list[PutRight] = []
        self._since: datetime | None = None
        self._why = ""

    def began(self, error: StoreError) -> None:
        """Note that the log was found out of reach."""
        self._since, self._why = self._since or self._clock.now(), self._why or str(error)

    def began_before(self, note: Note | None) -> None:
        """Take over when and why it began from what an earlier process noted."""
        if note is not None and note.since is not None:
            self._since, self._why = note.since, note.why

    def put_right(self, done: PutRight | None) -> None:
        """Note what was done to the log, if anything."""
        self._done += [] if done is None else [done]

    def waited(self, batch: Batch) -> None:
        """Note a batch that waited and is in the log now."""
        for record in batch.records:
            if isinstance(record, Shot):
                n, first, last = self._waited.get(record.press, (0, record.shot, record.shot))
                self._waited[record.press] = (n + 1, min(first, record.shot), max(last, record.shot))

    def faults(self, presses: Iterable[str]) -> list[Fault]:
        """Return what goes on record: of each press whose shots waited, and of all `presses` of a log put right."""
        now = self._clock.now()
        about = dict.fromkeys([*self._waited, *(presses if self._done else ())])
        told = [put_right_told(one.how, one.aside, one.damage, one.whole) for one in self._done]
        return [
            Fault(press, now, LOG_AWAY, away_said(self._since, now, self._why, self._waited.get(press), told))
            for press in about
        ]

    def said(self) -> str:
        """Return in a few words how many shots waited, and which."""
        n = sum(one[0] for one in self._waited.values())
        if not n:
            return "no shot had to wait"
        spans = ", ".join(f"{press} {shots(first, last)}" for press, (_, first, last) in self._waited.items())
        return f"{some(n, 'shot')} that waited {'is' if n == 1 else 'are'} in it now ({spans})"
