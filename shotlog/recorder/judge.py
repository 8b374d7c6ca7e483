"""Judging what the log holds and nobody has judged yet.

Whoever gets there first does it: the running recorder after each shot, or the command that entered a mounting while
nothing was running. Both hold the log's write lock meanwhile, so no shot is judged twice. A late entry has put the
verdicts it concerns out of force; the judge then goes back to a state kept before them and works forward again.
"""

import threading
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from itertools import islice
from math import inf

from sqlalchemy import Connection

from shotlog.clock import Clock, iso_utc
from shotlog.evaluator import Evaluator
from shotlog.recorder.basis import basis
from shotlog.records import Judged, Verdict
from shotlog.settings import DesignSettings
from shotlog.store.log import judgements
from shotlog.store.log.entered import entries_mark, read_timeline
from shotlog.store.log.how_far import HowFar, far_of, how_far
from shotlog.store.log.log import Log
from shotlog.store.log.shots import logged_shots, shots_after
from shotlog.store.log.timeline import Timeline
from shotlog.store.log.transaction import Transaction
from shotlog.wording.verdicts import told

__all__ = ["Judge"]

Publish = Callable[[list[Judged]], None]

_KEEP_EVERY = 50
_BATCH = 200
_HOLD_S = 0.25
"""Shots judged in one transaction, and time: a shot that comes in meanwhile waits no longer than that."""
_YIELD_S = 0.12
"""Pause between two such transactions: SQLite lets those who wait look once in a tenth of a second."""


_Stand = tuple[tuple[int, str] | None, int | None]
"""How far a press is judged: its newest judging (id, basis), and the last shot with a verdict in force."""


@dataclass(slots=True)
class _Coming:
    """An evaluator on its way to where judging goes on, the last shot it has seen, and its states that are to be kept,
    each after a shot.
    """

    evaluator: Evaluator
    seen: int | None = None
    to: _Stand | None = None
    states: list[tuple[int, object]] = field(default_factory=list)


class Judge:
    """Judges the shots of one press, as they come or after the fact, and writes what it found.

    `leaving` says when the end was asked for: nothing long is begun or gone on with then. `going` is called at each
    shot: this may take long, and goes on.
    """

    def __init__(
        self,
        log: Log,
        press: str,
        designs: Mapping[str, DesignSettings],
        clock: Clock,
        false_calls: float | None = None,
        leaving: Callable[[], bool] = lambda: False,
        going: Callable[[], None] = lambda: None,
    ) -> None:
        self._going = going
        self._log, self._press, self._designs, self._clock = log, press, designs, clock
        self._false_calls, self._leaving = false_calls, leaving
        self._basis = basis(designs, false_calls)
        self._evaluator: Evaluator | None = None
        self._coming: _Coming | None = None
        self._stand: _Stand | None = None
        self._entries: tuple[tuple[int | None, ...], Timeline] | None = None
        self._openings = log.openings

    def catch_up(self, publish: Publish | None = None) -> int:
        """Judge every stored shot that has no verdict in force; return how many."""
        n = 0

        def count(judged: list[Judged]) -> None:
            nonlocal n
            n += 1
            if publish is not None:
                publish(judged)

        while self.judge_some(count):
            self._clock.wait(threading.Event(), _YIELD_S)
        return n

    def judge_some(self, publish: Publish, far: HowFar | None = None) -> bool:
        """Judge the next stored shots that have no verdict in force; return whether there are more.

        `publish` is handed what was found of each shot, after it is in the log. `far`: how far the press is judged,
        where somebody has just looked.
        """
        if self._openings != self._log.openings:  # another file may lie in its place: nothing known of it holds
            self._openings, self._evaluator, self._stand, self._entries = self._log.openings, None, None, None
            self._coming = None
        far = far or self._far()
        if far is None or far.is_judged:
            return False
        stand = far.judging, far.through
        if self._evaluator is None or self._stand != stand:
            self._evaluator = self._brought_to(stand)
            if self._evaluator is None:
                return not self._leaving()
        self._stand = None
        asked = how_far(self._press), *shots_after(self._press, _after(far.through))
        with self._log.transaction(asked=asked) as work:
            far = far_of(work.answers[0])
            if far is None or (far.judging, far.through) != stand:
                return True  # judged by somebody else, or an entry came, since looking: look again
            found, judged_stand = self._judge_on(work, far, self._evaluator)
        # Only now: had the log refused them, the evaluator would stand where the log does not.
        self._stand = judged_stand
        for judged in found:
            publish(judged)
        return judged_stand[1] != far.last

    def _judge_on(self, work: Transaction, far: HowFar, evaluator: Evaluator) -> tuple[list[list[Judged]], _Stand]:
        until = self._clock.monotonic() + _HOLD_S
        press_id, judging_id = far.press_id, self._judging(work, far)
        found: list[list[Judged]] = []
        through = far.through
        timeline = self._timeline(work.connection, far.entries)
        after, first = _after(far.through), work.answers[1:]
        for shot in islice(logged_shots(work.connection, self._press, timeline, after, first=first), _BATCH):
            self._going()
            judged = [_worded(one) for one in evaluator.step(shot)]
            judgements.record(work, press_id, judging_id, judged)
            found.append(judged)
            through = shot.shot
            if len(found) % _KEEP_EVERY == 0 or shot.shot % _KEEP_EVERY == 0:
                judgements.save_point(work, press_id, judging_id, shot.shot, self._basis, evaluator.save())
            if self._clock.monotonic() > until or self._leaving():
                break
        return found, ((judging_id, self._basis), through)

    def _far(self) -> HowFar | None:
        statement, given = how_far(self._press)
        with self._log.reading() as connection:
            return far_of(statement.run(connection, given))

    def _judging(self, work: Transaction, far: HowFar) -> int:
        if far.judging is not None and far.judging[1] == self._basis:
            return far.judging[0]
        reason = "first judging" if far.judging is None else "settings of the designs, or the release, changed"
        from_shot, now = 0 if far.through is None else far.through + 1, iso_utc(self._clock.now())
        return judgements.open_judging(work, far.press_id, from_shot, self._basis, reason, now)

    @property
    def evaluator(self) -> Evaluator | None:
        """The evaluator as it stands after the last shot judged; None before any was."""
        return self._evaluator

    @property
    def is_on_its_way(self) -> bool:
        """Whether it goes through shots that are judged, to judge those after them: minutes after an upgrade."""
        return self._coming is not None

    def evaluator_after(self, through: int | None, tell: Callable[[int], None] = lambda _: None) -> Evaluator:
        """Return an evaluator that has seen every shot up to `through`.

        This can take long and only reads: the log stays open to others meanwhile. `tell` is told of each shot that it
        sees: those since its state was kept last.
        """
        coming = self._nearest(through)
        self._show(coming, through, inf, tell)
        return coming.evaluator

    def _brought_to(self, stand: _Stand) -> Evaluator | None:
        """Return an evaluator that has seen every shot of a stand; None while it is on its way there.

        That takes as long as to judge these shots once more, and who stores has other things to do: it goes a little
        further at each call.
        """
        if self._coming is None or self._coming.to != stand:
            self._coming = self._nearest(stand[1])
            self._coming.to = stand
        coming = self._coming
        there = self._show(coming, stand[1], self._clock.monotonic() + _HOLD_S)
        self._keep(coming, stand)
        if not there:
            return None
        self._coming = None
        return coming.evaluator

    def _nearest(self, through: int | None) -> _Coming:
        """Return an evaluator in the state that was kept last before `through`."""
        coming = _Coming(Evaluator(self._press, self._designs, self._false_calls))
        if through is not None:
            with self._log.reading() as connection:
                kept = judgements.restore_point(connection, self._press, through, self._basis)
            if kept is not None:
                coming.seen, state = kept
                coming.evaluator.restore(state)
        return coming

    def _keep(self, coming: _Coming, stand: _Stand) -> None:
        """Keep the states it came through: who asks about a shot of long ago need not begin at the first one again."""
        states, coming.states = coming.states, []
        if not states or stand[0] is None:
            return
        with self._log.transaction(asked=[how_far(self._press)]) as work:
            far = far_of(work.answers[0])
            if far is not None and (far.judging, far.through) == stand:  # else an entry came, and they may be of before
                for shot, state in states:
                    judgements.save_point(work, far.press_id, stand[0][0], shot, self._basis, state)

    def _show(
        self, coming: _Coming, through: int | None, until: float, tell: Callable[[int], None] = lambda _: None
    ) -> bool:
        """Show an evaluator what it has not seen of the shots up to `through`; return whether it has seen all."""
        if through is None:
            return True
        with self._log.reading() as connection:
            timeline = self._timeline(connection, entries_mark(connection))
            for shot in logged_shots(connection, self._press, timeline, _after(coming.seen), through):
                if self._leaving() or self._clock.monotonic() > until:
                    return False
                self._going()
                tell(shot.shot)
                coming.evaluator.step(shot)
                coming.seen = shot.shot
                if coming.to is not None and shot.shot % judgements.STATE_STAYS == 0:
                    coming.states.append((shot.shot, coming.evaluator.save()))
        return True

    def _timeline(self, connection: Connection, mark: tuple[int | None, ...]) -> Timeline:
        """Return what was in force when; the entries are read again only when there are new ones."""
        if self._entries is None or self._entries[0] != mark:
            self._entries = (mark, read_timeline(connection, self._press))
        return self._entries[1]


def _after(through: int | None) -> int:
    return -1 if through is None else through


def _worded(judged: Judged) -> Judged:
    """Give a verdict the sentence that is said of it now: the log keeps it as record of the day."""
    return replace(judged, sentence=told(judged)) if isinstance(judged, Verdict) else judged
