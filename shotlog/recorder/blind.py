"""Shots that are numbered while the log cannot be asked where it stands, and what they are called once it can be."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from shotlog.collectors.base import Resume
from shotlog.errors import StoreError
from shotlog.recorder.renumber import After, first_shots, renumbered, shift_of
from shotlog.recorder.resuming import resume_at
from shotlog.records import Shot
from shotlog.store.log.journal import Waiting
from shotlog.store.log.journal_line import Batch, Spooled
from shotlog.store.log.journal_note import Note, Position
from shotlog.store.log.log import Log
from shotlog.store.log.origins import has_origin
from shotlog.store.log.shots import last_shot

__all__ = ["Blind", "Start", "start_of_press"]


@dataclass(frozen=True, slots=True)
class Start:
    """Where the numbering of a press goes on at a start: from `resume`, None where nothing is known.

    `blind`: the log could not be asked, and `after` is what the numbering went on from when that began.
    """

    resume: Resume | None
    blind: bool = False
    after: After = None


def start_of_press(press: str, log: Log, waiting: Waiting, note: Note | None) -> Start:
    """Return where the numbering of a press goes on: from the log, else from what was noted; and from what waits."""
    shot = waiting.last.get(press)
    if shot is not None and press in waiting.after:
        return Start(Resume(shot.shot, shot.counter, shot.values, shot.time), True, waiting.after[press])
    noted = None if note is None else note.positions.get(press)
    try:
        resume = resume_at(log, press, shot)
    except StoreError:
        pass
    else:
        if resume is None and noted is not None and note is not None and not note.unsafe:
            resume = _of(noted)  # the log that it was noted of is gone, and the one begun in its place goes on from it
        return Start(resume)
    after = None if noted is None else (noted.shot, noted.counter)
    if shot is not None and (noted is None or shot.shot >= noted.shot):
        return Start(Resume(shot.shot, shot.counter, shot.values, shot.time), True, after)
    if noted is None:
        return Start(None, True)
    return Start(_of(noted), True, after)


def _of(noted: Position) -> Resume:
    return Resume(noted.shot, noted.counter, noted.values, noted.time, noted.cycle_s)


class Blind:
    """Marks what is numbered blind, and numbers it again when the log can be asked.

    By how much is decided once a press, at its first shot that goes into the log; after a restart it follows from the
    last one that did.
    """

    def __init__(self, log: Log) -> None:
        self._log = log
        self._mine: dict[str, After] = {}
        self._shift: dict[str, int] = {}
        self._stored: dict[str, Shot] = {}

    def begin(self, press: str, start: Start) -> None:
        """Take it that a press is numbered from here on, blind or not."""
        self._mine.pop(press, None)
        if start.blind:
            self._mine[press] = start.after

    def entered(self, records: Sequence[Spooled]) -> tuple[tuple[Spooled, ...], dict[str, After]]:
        """Return records as they are to be kept, and of which presses they are numbered blind still."""
        known = {press: self._shift[press] for press in self._mine if self._shift.get(press)}
        presses = {getattr(record, "press", "") for record in records}
        after = {press: self._mine[press] for press in self._mine if press in presses and press not in self._shift}
        return tuple(renumbered(records, known, {}) if known else records), after

    def settled(self, batch: Batch) -> Batch:
        """Return a batch as it goes into the log.

        Raises
        ------
        StoreError
            The log cannot be asked yet.
        """
        if not batch.after:
            return batch
        firsts = {press: shot for press, shot in first_shots(batch.records).items() if press in batch.after}
        last: dict[str, tuple[int, int] | None] = {}
        with self._log.reading() as connection:
            if has_origin(connection, batch.origin):
                self._stored |= {one.press: one for one in batch.records if isinstance(one, Shot)}
                return batch
            for press in firsts.keys() - self._shift.keys():
                found, before = last_shot(connection, press), self._stored.get(press)
                if before is not None and found is not None:
                    self._shift[press] = found[0] - before.shot
                else:
                    self._shift[press] = shift_of(firsts[press], batch.after[press], found)
                    last[press] = found
        shift = {press: self._shift[press] for press in batch.after if press in self._shift}
        return replace(batch, records=tuple(renumbered(batch.records, shift, last)))
