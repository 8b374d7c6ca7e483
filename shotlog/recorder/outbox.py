"""The way into the log that loses nothing: what the log will not take waits in the journal, and goes in later, once."""

import logging
import uuid
from collections import Counter
from collections.abc import Callable
from contextlib import nullcontext
from dataclasses import replace
from datetime import datetime
from math import inf
from pathlib import Path
from typing import Literal

from shotlog.clock import Clock
from shotlog.errors import StoreError, StoreFull, StoreGone, StoreLocked
from shotlog.recorder.away import Away
from shotlog.recorder.blind import Blind, Start, start_of_press
from shotlog.recorder.holes import OF_THE_JOURNAL, OF_THE_LOG, Holes
from shotlog.recorder.put_right import PuttingRight
from shotlog.recorder.set_aside import REFUSED, SetAside
from shotlog.store.log.identity import Seen
from shotlog.store.log.journal import Journal, Waiting
from shotlog.store.log.journal_line import Batch, Spooled
from shotlog.store.log.journal_note import read_note
from shotlog.store.log.log import Log
from shotlog.store.log.patience import at_once
from shotlog.store.log.transaction import Trial
from shotlog.wording.numbers import some

__all__ = ["KINDS", "Outbox", "Place"]

Place = Literal["log", "journal", "memory"]
"""Where records are: in the log; on disk in the journal, durable and not in the log yet; or not safe yet."""

_RETRY_S = 5.0
KINDS: dict[str, type[StoreError]] = {"locked": StoreLocked, "full": StoreFull, "gone": StoreGone}
"""What keeps the log from being written, where it is known what is to be done; ``log`` for all else."""

_TURN_S = 0.25
"""Longest time that what waits is moved at one go, in seconds: what comes meanwhile must be taken in as well."""
_SAY_AGAIN_S = 60.0
"""How often it is said that shots are in memory only: each time would hide everything else on the screen."""

logger = logging.getLogger(__name__)


class Outbox:
    """Delivers batches of records to a log in order, through a journal while the log is out of reach.

    Every batch carries an origin of its own, so that it is stored once even where the log took it and could not say so.
    """

    def __init__(
        self,
        log: Log,
        journal: Journal,
        clock: Clock,
        trial: Trial = None,
        presses: tuple[str, ...] = (),
        leaving: Callable[[], bool] = lambda: False,
    ) -> None:
        self._aside = SetAside(log, journal, clock, presses)
        self._log, self._journal, self._clock, self._trial = log, journal, clock, trial
        self._blind = Blind(log)
        self.putting_right = PuttingRight(log, clock, journal.path, leaving)
        self._holes: Holes | None = None
        self._memory: list[Batch] = []
        self._next_try = self._say_again = -inf
        self._prefix = uuid.uuid4().hex
        self._away, self._presses = Away(clock), {*presses}
        self._n = self._n_away = 0
        self.n_logged = 0
        self.since: datetime | None = None
        self.why = self.kind = ""
        self._said: set[str] = set()

    def open(self, earlier: tuple[Path, ...] = ()) -> None:
        """Take the journal's space, and what waits in `earlier` journals; what cannot be done is said, and no error."""
        path = self._journal.path
        self._away.began_before(read_note(path))
        try:
            self._journal.open()
            for place in earlier:
                if place.exists() and place != path:
                    self._journal.take_over(Journal(place))
            for damage in self._journal.set_aside():
                self._aside.say(damage)
        except OSError as error:
            logger.error("%s: %s; what the log will not take is kept in memory only", path, error)
            return
        try:
            self._journal.reserve()
        except OSError as error:
            reserved = self._journal.reserved / 1e6
            logger.error("%s: %s; only %.1f MB are kept in reserve for shots: make room", path, error, reserved)

    @property
    def waiting(self) -> int:
        """How many batches are not in the log yet."""
        return self._kept.batches + len(self._memory)

    @property
    def is_behind(self) -> bool:
        """Whether the log does not hold yet all that there is, or has to be put right before it can be used."""
        return self.waiting > 0 or self._log.trouble is not None

    @property
    def is_moving(self) -> bool:
        """Whether what waits can be moved on at once, and was only interrupted for what came meanwhile."""
        at_rest = self._clock.monotonic() < self._next_try or self._log.trouble is not None
        return self.waiting > 0 and not at_rest

    @property
    def n_waiting(self) -> int:
        """How many shots wait in the journal, on disk."""
        return self._kept.shots

    @property
    def by_press(self) -> dict[str, int]:
        """How many shots of each press wait in the journal."""
        return {press: n for press, n in self._kept.by_press.items() if n}

    @property
    def n_unsafe(self) -> int:
        """How many shots are in memory only."""
        return sum(batch.n_shots for batch in self._memory)

    @property
    def reserved(self) -> int:
        """Bytes that are still kept for shots in the journal."""
        try:
            return self._journal.reserved
        except OSError:
            return 0

    @property
    def seen(self) -> Seen | None:
        """The log as it was last seen, None where it never was."""
        return self._log.seen

    @property
    def place(self) -> Path:
        """Where it is that shots wait."""
        return self._journal.path

    @property
    def _kept(self) -> Waiting:
        try:
            return self._journal.waiting
        except OSError:
            return Waiting()

    def start(self, press: str) -> Start:
        """Return where the numbering of a press goes on, without the log where that cannot be asked.

        Shots that are then numbered blind are numbered again when they go into the log, where that has to be.
        """
        waiting = replace(self._kept, last=dict(self._kept.last), after=dict(self._kept.after), by_press=Counter())
        for batch in self._memory:
            waiting.add(batch)
        start = start_of_press(press, self._log, waiting, read_note(self._journal.path))
        self._blind.begin(press, start)
        self._presses.add(press)
        if start.blind and start.resume is None:
            logger.error(
                "the log cannot be asked, and no position of %s is noted: its shots are numbered by the counter alone, "
                "and again when they go into the log",
                press,
            )
        return start

    def deliver(self, records: list[Spooled]) -> tuple[Place, tuple[Spooled, ...]]:
        """Store a batch; return where it is, and what is there."""
        self._n += 1
        kept, after = self._blind.entered(records)
        batch = Batch(f"{self._prefix}:{self._n}", kept, self._trial, after)
        if not self.drain():
            return self._keep(batch), kept
        try:
            batch = self._store(batch)
        except StoreError as error:
            self.mistrust(error)
            return self._keep(batch), kept
        except OSError as error:
            logger.error("%s: %s; what the log refuses cannot be set aside, and waits", self._journal.damaged, error)
            self._next_try = self._clock.monotonic() + _RETRY_S
            return self._keep(batch), kept
        self.n_logged += batch.n_shots
        return "log", batch.records

    def mistrust(self, error: StoreError) -> None:
        """Note that the log was found out of reach, or no log: it is asked again some seconds later, and not before."""
        first = self.since is None
        if self.since is None:
            self.since = self._clock.now()
        self.why, self.kind = str(error), _kind_of(error)
        self._away.began(error)
        if self.why not in self._said:  # it may become another, and ask for something else to be done
            self._said.add(self.why)
            logger.error("%s; shots are kept in %s until it can be written again", error, self._journal.path)
        # one that is gone or damaged can mostly be put right there and then
        again_s = 0.0 if first and self._log.trouble is not None else _RETRY_S
        self._next_try = self._clock.monotonic() + again_s

    def drain(self, for_s: float = _TURN_S) -> bool:
        """Move what waits into the log, for about `for_s` seconds; return whether nothing waits any more.

        After the log refused, it is asked again only some seconds later.
        """
        at_work = self._log.trouble is not None or self.putting_right.is_begun
        # a journal that could not be cleared is cleared later, and only then is it said that all is well again
        if not self.waiting and not at_work and self.since is None:
            return True
        now = self._clock.monotonic()
        if now < self._next_try:
            return False
        try:
            if not self._open_again():
                return False
            with at_once() if self.since is not None else nullcontext():
                if not self._move(now + for_s):
                    return False
        except StoreError as error:
            self.mistrust(error)
            self._spill()
            return False
        except OSError as error:
            # Not lost: every batch knows its origin, and is stored once however often it is delivered.
            logger.error("%s: %s; its batches wait until it can be read and cleared", self._journal.path, error)
            self._next_try = self._clock.monotonic() + _RETRY_S
            return False
        logger.warning("the log can be written again; %s", self._away.said())
        self._away, self.since, self.why, self.kind = Away(self._clock), None, "", ""
        self._n_away += 1
        self._said.clear()
        return True

    def _open_again(self) -> bool:
        """Say whether the log can be used; one in trouble is put right beside, and what is in hand waits on disk."""
        if self._log.trouble is None and not self.putting_right.is_begun:
            return True
        self._spill()
        trouble = self._log.trouble
        opened = self.putting_right.turn()
        if self.since is None and self.putting_right.why and trouble is not None:
            self.since = self._clock.now()
            self.why, self.kind = self.putting_right.why, _kind_of(trouble)
            self._away.began(trouble)
        if opened:
            done = self.putting_right.done
            self._away.put_right(done)
            if done is not None and not done.whole:
                self._holes = Holes(self._log, OF_THE_LOG)
        return opened

    def close(self, for_s: float = _TURN_S, right_s: float = 0.0) -> list[Batch]:
        """Try a last time to bring what waits to the log, or at least to the journal; return what is lost with this
        process. `right_s`: how long, in seconds, a log that has to be put right is waited for.
        """
        self._spill()
        self.putting_right.finish(right_s)
        self._next_try = -inf
        self.drain(for_s)
        self._spill()
        return self._memory

    def _move(self, until: float) -> bool:
        """Move what waits, oldest first; return whether all of it was."""
        for batch in self._journal.hand_over():
            if self._clock.monotonic() > until:
                return False
            self._count(self._store(batch))
        while self._memory:
            if self._clock.monotonic() > until:
                return False
            self._count(self._store(self._memory[0]))
            del self._memory[0]
        for damage in self._journal.damage:
            self._aside.tell(damage)
        for damage in self._journal.set_aside():
            self._aside.say(damage)
        told = self._away.faults(sorted(self._presses))
        if told:
            self._log.append(told, origin=f"{self._prefix}:away:{self._n_away}")
        self._journal.clear()
        return True

    def _store(self, batch: Batch) -> Batch:
        """Put a batch into the log and return it as it is there, without what the log refuses."""
        try:
            settled = self._blind.settled(batch)
        except REFUSED as error:
            return self._aside.refuse(batch, error)
        if self._holes is None and self._journal.is_damaged:
            self._holes = Holes(self._log, OF_THE_JOURNAL)
        if self._holes is not None:
            settled = replace(settled, records=tuple(self._holes.filled(settled.records)))
        return self._aside.store(settled)

    def _count(self, batch: Batch) -> None:
        """Count a batch that waited and is in the log now."""
        self.n_logged += batch.n_shots
        self._away.waited(batch)

    def _keep(self, batch: Batch) -> Place:
        self._memory.append(batch)
        self._spill()
        return "memory" if self._memory else "journal"

    def _spill(self) -> None:
        """Move what is in memory to the journal, in order."""
        while self._memory:
            try:
                self._journal.append(self._memory[0])
            except OSError as error:
                self._say_unsafe(error)
                return
            del self._memory[0]

    def _say_unsafe(self, error: OSError) -> None:
        if self._clock.monotonic() < self._say_again:
            return
        self._say_again = self._clock.monotonic() + _SAY_AGAIN_S
        logger.error(
            "%s: %s; %s in memory only: MAKE ROOM, DO NOT SWITCH OFF",
            self._journal.path, error, f"{some(self.n_unsafe, 'shot')} {'is' if self.n_unsafe == 1 else 'are'}",
        )  # fmt: skip


def _kind_of(error: StoreError) -> str:
    return next((kind for kind, one in KINDS.items() if isinstance(error, one)), "log")
