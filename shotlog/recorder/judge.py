"""Judging what the log holds and nobody has judged yet.

Whoever gets there first does it: the running recorder after each shot, or the command that entered a mounting while
nothing was running. Both hold the log's write lock meanwhile, so no shot is judged twice. A late entry has put the
verdicts it concerns out of force; the judge then goes back to a state kept before them and works forward again.
"""

import hashlib
from collections.abc import Callable, Iterator, Mapping
from itertools import islice

from sqlalchemy import Connection

from shotlog import __version__
from shotlog.clock import Clock, iso_utc
from shotlog.evaluator import Evaluator, Judged
from shotlog.records import LoggedShot
from shotlog.settings import DesignSettings
from shotlog.store import judgements
from shotlog.store.log import Log, entries_mark, read_timeline
from shotlog.store.shots import last_shot, logged_shots
from shotlog.store.timeline import Timeline
from shotlog.store.transaction import Transaction

__all__ = ["Judge"]

Publish = Callable[[list[Judged]], None]

_KEEP_EVERY = 50
_BATCH = 200
"""Shots judged in one transaction: short enough that a shot coming in meanwhile waits a fraction of a second."""


class Judge:
    """Judges the shots of one press, as they come or after the fact, and writes what it found."""

    def __init__(self, log: Log, press: str, designs: Mapping[str, DesignSettings], clock: Clock) -> None:
        self._log, self._press, self._designs, self._clock = log, press, designs, clock
        self._basis = basis(designs)
        self._evaluator: Evaluator | None = None
        self._stand: tuple[int, int | None] | None = None
        self._entries: tuple[tuple[int | None, ...], Timeline] | None = None

    def catch_up(self, publish: Publish | None = None) -> int:
        """Judge every stored shot that has no verdict in force; return how many."""
        n = 0

        def count(judged: list[Judged]) -> None:
            nonlocal n
            n += 1
            if publish is not None:
                publish(judged)

        while self.judge_some(count):
            pass
        return n

    def judge_some(self, publish: Publish) -> bool:
        """Judge the next stored shots that have no verdict in force; return whether there are more.

        `publish` is handed what was found of each shot, after it is in the log.
        """
        if not self._pending():
            return False
        found: list[list[Judged]] = []
        with self._log.transaction() as work:
            now = iso_utc(self._clock.now())
            press_id = work.press_id(self._press, now)
            through = judgements.judged_through(work.connection, self._press)
            judging_id = self._judging(work, press_id, through, now)
            if self._evaluator is None or self._stand != (judging_id, through):
                self._evaluator = self._rebuild(work, press_id, through)
            # Until this transaction is in the log, the evaluator stands where the log does not.
            self._stand = None
            for shot in islice(self._shots(work.connection, through), _BATCH):
                judged = self._evaluator.step(shot)
                judgements.record(work, press_id, judging_id, judged)
                found.append(judged)
                through = shot.shot
                if len(found) % _KEEP_EVERY == 0 or shot.shot % _KEEP_EVERY == 0:
                    state = self._evaluator.save()
                    judgements.save_point(work, press_id, judging_id, shot.shot, self._basis, state)
        self._stand = (judging_id, through)
        for judged in found:
            publish(judged)
        return len(found) == _BATCH

    def _pending(self) -> bool:
        with self._log.reading() as connection:
            last = last_shot(connection, self._press)
            return last is not None and judgements.judged_through(connection, self._press) != last[0]

    def _judging(self, work: Transaction, press_id: int, through: int | None, now: str) -> int:
        latest = judgements.latest_judging(work, press_id)
        if latest is not None and latest[1] == self._basis:
            return latest[0]
        reason = "first judging" if latest is None else "settings of the designs, or the release, changed"
        from_shot = 0 if through is None else through + 1
        return judgements.open_judging(work, press_id, from_shot, self._basis, reason, now)

    def _rebuild(self, work: Transaction, press_id: int, through: int | None) -> Evaluator:
        """Return an evaluator that has seen every shot up to `through`, from the nearest state kept."""
        evaluator = Evaluator(self._press, self._designs)
        if through is None:
            return evaluator
        kept = judgements.restore_point(work, press_id, through, self._basis)
        if kept is not None:
            evaluator.restore(kept[1])
        for shot in self._shots(work.connection, None if kept is None else kept[0], through):
            evaluator.step(shot)
        return evaluator

    def _shots(self, connection: Connection, after: int | None, upto: int | None = None) -> Iterator[LoggedShot]:
        """Return stored shots with what was in force; the entries are read again only when there are new ones."""
        mark = entries_mark(connection)
        if self._entries is None or self._entries[0] != mark:
            self._entries = (mark, read_timeline(connection, self._press))
        return logged_shots(connection, self._press, self._entries[1], -1 if after is None else after, upto)


def basis(designs: Mapping[str, DesignSettings]) -> str:
    """Return a short digest of all that decides a verdict besides the shots: release and design settings."""
    text = f"{__version__} {sorted((name, str(design)) for name, design in designs.items())}"
    return hashlib.sha256(text.encode()).hexdigest()[:16]
