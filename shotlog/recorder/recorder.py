"""The recorder: every press in its own thread, one writer, one judge a press."""

import logging
import threading
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import inf
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING

from shotlog.clock import Clock
from shotlog.collectors.base import Options
from shotlog.errors import StoreDamaged, StoreError, StoreGone, StoreReplaced
from shotlog.recorder.anchoring import Anchoring
from shotlog.recorder.clock_watch import ClockWatch, watch_from
from shotlog.recorder.getting_ready import GettingReady
from shotlog.recorder.hearts import Heart
from shotlog.recorder.inbox import Batch, Inbox
from shotlog.recorder.leaving import Leaving
from shotlog.recorder.lives_telling import LivesTelling
from shotlog.recorder.looking import Looking
from shotlog.recorder.noting import Noting
from shotlog.recorder.outbox import Outbox, Place
from shotlog.recorder.presence import Presence
from shotlog.recorder.press_loop import PressLoop
from shotlog.recorder.press_threads import PressThreads
from shotlog.recorder.space import Space
from shotlog.recorder.started import Started, start_of
from shotlog.recorder.waits import Waits
from shotlog.recorder.watchdog import Watchdog, Watched
from shotlog.records import Judged, Weighing
from shotlog.settings import Settings
from shotlog.store.asked.heartbeat import Beat
from shotlog.store.log.how_far import NOT_MET, HowFar, how_far_all
from shotlog.store.log.journal import Journal, Spooled
from shotlog.store.log.journal_place import earlier_places, journal_place, spare_note
from shotlog.store.log.log import Log
from shotlog.store.log.patience import leaving_when
from shotlog.store.log.transaction import Trial
from shotlog.store.parts.weights import match_new
from shotlog.wording.weighings import say_proposal

if TYPE_CHECKING:
    from shotlog.recorder.judge import Judge

__all__ = ["Ended", "Kept", "Listener", "Recorder"]


@dataclass(frozen=True, slots=True)
class Kept:
    """A record that the log would not take yet; `place`: the journal, on disk, or memory, where it is not safe."""

    record: Spooled
    place: Place


@dataclass(frozen=True, slots=True)
class Ended:
    """How a run ended: shots that are in the log now, those that wait in the journal at `place`, and those lost."""

    stored: int
    waiting: int
    place: Path
    lost: tuple[Spooled, ...] = ()


Listener = Callable[[Spooled | Kept | Judged], None]
"""Shown every record after it is stored, as `Kept` while it waits. One that fails is reported and cannot stop the
logging."""

_IDLE_S = 0.25
_YIELD_S = 0.12
"""Pause while there is more to judge: SQLite lets those who wait look once in a tenth of a second."""
_JOIN_S = 0.05
_RIGHT_S = 10.0
"""How long a log that has to be put right is waited for where nobody hurries, in seconds."""
_JUDGE_AGAIN_S = 5.0
"""Pause after judging failed, in seconds: trying at every turn would fill the screen with the same complaint."""

logger = logging.getLogger(__name__)


class Recorder:
    """Logs every press and balance of a configuration, and judges the presses, until told to stop.

    Parameters
    ----------
    log
        Open for writing.
    settings
        The configuration.
    options
        The checked options of each press's collector, by press name.
    clock, listeners
        Time; and whoever wants to be shown what was stored.
    balances
        The checked options of each balance's collector, by its name.
    prepare
        What has to be done once before anything can be judged. It may take long: it is done beside the logging, and
        what is stored meanwhile is judged afterwards.
    trial
        The trial that shots are made under, and since when.
    watched
        Who is told that all goes on, and what ends the process where it does not.
    """

    def __init__(
        self,
        log: Log,
        settings: Settings,
        options: Mapping[str, Options],
        clock: Clock,
        listeners: tuple[Listener, ...] = (),
        balances: Mapping[str, Options] = MappingProxyType({}),
        prepare: Callable[[], None] | None = None,
        trial: Trial = None,
        watched: Watched | None = None,
    ) -> None:
        self._log, self._clock, self._listeners = log, clock, listeners
        self._options = {**options, **balances}
        self._inbox = Inbox(self._options)
        self._leaving = Leaving(clock)
        self._heart, self._watched = Heart("storing"), watched or Watched()
        journal = Journal(journal_place(settings), settings.reserve_mb * 1_000_000)
        self._outbox = Outbox(log, journal, clock, trial, tuple(options), self._leaving)
        self._space = Space(settings, clock)
        self._looking = Looking(log, settings.store)
        self._noting = Noting(journal, self._outbox, clock, settings.store_shown, self._sign, spare_note(settings))
        self._judged = tuple(options)
        self._judges: dict[str, Judge] = {}
        self._anchoring = Anchoring(log, settings.anchor, clock)
        self._answered = threading.Event()
        self._preparing = GettingReady(prepare, clock, self._answered)
        self._presence, self._waits = Presence(log, clock), Waits(clock)
        self._lives = LivesTelling(log, settings, len(options), clock)
        self._has_ended = False
        self._settings = settings
        self._watch: ClockWatch
        self._threads: PressThreads
        self._started: Started
        self._before = self._n_put_right = 0
        self._weighed = set(options)
        self._judging_due: dict[str, float] = {}
        self._looking_due = -inf

    def run(self, stop: threading.Event, n_shots: int | None = None) -> Ended:
        """Log until `stop` is set or `n_shots` are on disk (all presses together); return how it ended.

        What was read before the stop is in the log or in the journal before this returns; what neither took is named.
        """
        self._leaving.watch(stop)
        with leaving_when(self._leaving):
            lost = self._run(stop, n_shots)
        return Ended(self._outbox.n_logged, self._outbox.n_waiting, self._outbox.place, tuple(lost))

    def _run(self, stop: threading.Event, n_shots: int | None) -> list[Spooled]:
        self._outbox.open(earlier_places(self._settings))
        self._before = self._outbox.n_waiting
        if self._log.trouble is None:  # else it may still be read: nobody puts it right before the presses are asked
            self._outbox.drain()
        waits = bool(self._outbox.waiting)
        self._watch, stepped = watch_from(self._log, self._clock, [*self._options], waits)
        start = start_of(self._settings, self._clock.now())
        self._started = Started(self._log, self._settings, self._clock, start)
        if not waits:
            self._started.look_up()
        began: list[Spooled] = [*stepped, start]
        self._preparing.start()
        self._anchoring.start()
        self._space.reserved = self._outbox.reserved
        self._space.start()
        self._looking.start()
        self._threads = PressThreads(lambda name: self._loop(name, stop), stop, self._clock)
        self._threads.start(self._options)
        watchdog = Watchdog(
            self._watched, self._heart, lambda: self._threads.are_reading, lambda: self._threads.silent()
        )
        watchdog.start()
        self._noting.turn(at_once=True)
        unjudged = True
        try:
            self._deliver(began)
            while not stop.is_set() and (n_shots is None or self._n_taken() < n_shots):
                unjudged = self._turn(0.0 if self._outbox.is_moving else _YIELD_S if unjudged else _IDLE_S)
        finally:
            watchdog.finish()
            hurried = n_shots is None or self._n_taken() < n_shots
            self._leaving.begin(hurried)
            stop.set()
            lost = self._finish(hurried)
        self._has_ended = True
        self._show_presence()
        self._noting.turn(self._space.disks, at_once=True)
        return lost

    def _n_taken(self) -> int:
        """Return how many shots came to disk in this run, in the log or in the journal."""
        return self._outbox.n_logged + self._outbox.n_waiting - self._before

    def _loop(self, name: str, stop: threading.Event) -> PressLoop:
        start, options = self._outbox.start(name), self._options[name]
        self._noting.begin(name, start.resume)
        return PressLoop(
            name,
            options.build(name, self._clock, start.resume),
            options.poll_s,
            self._inbox.slot(name),
            stop,
            self._clock,
        )

    def _turn(self, wait_s: float) -> bool:
        """Store what came, then judge a little of what is stored; return whether there is more to judge."""
        self._heart.beat("storing")
        damage = self._looking.turn()
        if damage is not None:
            self._log.doubt(damage)
            self._outbox.mistrust(damage)
        came = False
        for batch in self._inbox.turn(wait_s):
            came = True
            self._heart.beat()
            self._store(batch)
        if not came:
            self._store([])
            self._outbox.drain()
        if self._outbox.putting_right.n_done > self._n_put_right:
            # what was begun in its place has no start yet
            self._n_put_right = self._outbox.putting_right.n_done
            self._deliver([start_of(self._settings, self._clock.now(), put_right=True)])
        self._deliver([*self._threads.look(self._inbox.holds)])
        if self._threads.all_answer:
            self._answered.set()
        unjudged = self._judge_all()
        self._show_presence()
        self._space.n_logged, self._space.reserved = self._outbox.n_logged, self._outbox.reserved
        self._noting.turn(self._space.disks)
        return unjudged

    def _finish(self, hurried: bool) -> list[Spooled]:
        self._looking.finish()
        while self._threads.are_alive and self._leaving.waits_for_presses():
            for batch in self._inbox.turn(_JOIN_S):
                self._store(batch)
        self._inbox.close()
        while not self._inbox.empty:
            for batch in self._inbox.turn(0.0):
                self._store(batch)
        lost = [
            record for batch in self._outbox.close(right_s=0.0 if hurried else _RIGHT_S) for record in batch.records
        ]
        self._noting.turn(self._space.disks, at_once=True)
        if not hurried:
            self._answered.set()
            self._preparing.join()
        while self._leaving.judges() and self._judge_all():
            pass
        self._anchoring.finish()
        self._space.finish()
        return lost

    def _store(self, batch: Batch) -> None:
        """Store what came, and what the clock did meanwhile."""
        self._deliver(self._watch.beside(self._started.beside(batch), self._watch.look()))

    def _deliver(self, batch: list[Spooled]) -> None:
        if not batch:
            return
        place, stored = self._outbox.deliver(batch)
        self._weighed |= {record.press for record in batch if isinstance(record, Weighing)}
        self._presence.note(batch)
        self._preparing.note(batch)
        self._noting.take(stored)
        for record in stored:
            self._show(record if place == "log" else Kept(record, place))

    def _judge_all(self) -> bool:
        if self._outbox.is_behind:
            self._waits.look({})
            return False
        self._started.look_up()
        self._match_weights()
        if not self._preparing.is_ready:
            return False
        far = self._how_far()
        if far is None:
            self._waits.look_unseen(self._judged)
            return False
        known = {press: far[press] for press in self._judged if press in far}
        self._waits.look({press: one for press, one in known.items() if self._waits_for(press, one)})
        unjudged = False
        for press in self._judged:
            self._heart.beat(f"judging {press}")
            unjudged = self._judge(press, far.get(press, NOT_MET)) or unjudged
        self._tell_of_lives()
        return unjudged

    def _waits_for(self, press: str, far: HowFar) -> bool:
        """Say whether shots of a press wait that its judge could judge now: not while it goes through those before."""
        judge = self._judges.get(press)
        return not far.is_judged and not (judge is not None and judge.is_on_its_way)

    def _tell_of_lives(self) -> None:
        """Tell each press of the lives that ended on the others."""
        evaluators = {press: one.evaluator for press, one in self._judges.items()}
        try:
            self._lives.turn({press: one for press, one in evaluators.items() if one is not None})
        except StoreError as error:
            self._say_trouble(error, "the presses are told later of the lives that ended on others")
        except Exception:
            logger.exception("telling of lives failed; logging goes on")

    def _match_weights(self) -> None:
        """Find the shots of new weighings; the shots that gain a weight are judged again."""
        for press in sorted(self._weighed):
            try:
                match_new(self._log, press, self._clock.now(), say_proposal)
            except StoreError as error:
                self._say_trouble(error, "the weighings are stored and will be matched later")
            else:
                self._weighed.discard(press)

    def _how_far(self) -> dict[str, HowFar] | None:
        """Return how far each press is judged, asked at once of all; None where that cannot be read now."""
        if self._clock.monotonic() < self._looking_due:
            return None
        try:
            with self._log.reading() as connection:
                return how_far_all(connection)
        except StoreError as error:
            self._say_trouble(error, "the shots are stored and will be judged later")
        except Exception:
            logger.exception("looking how far the shots are judged failed; logging goes on")
        self._looking_due = self._clock.monotonic() + _JUDGE_AGAIN_S
        return None

    def _judge(self, press: str, far: HowFar) -> bool:
        if self._clock.monotonic() < self._judging_due.get(press, -inf):
            return False
        try:
            return self._judge_of(press).judge_some(self._show_all, far)
        except StoreError as error:
            self._say_trouble(error, "the shots are stored and will be judged later")
        except Exception:
            logger.exception("judging %s failed; logging goes on", press)
        self._judging_due[press] = self._clock.monotonic() + _JUDGE_AGAIN_S
        return False

    def _judge_of(self, press: str) -> "Judge":
        """Return what judges a press. It is loaded when it is first asked for, which is after the first polls."""
        if press not in self._judges:
            from shotlog.recorder.judge import Judge

            designs, false_calls = self._settings.designs, self._settings.false_calls
            self._judges[press] = Judge(
                self._log, press, designs, self._clock, false_calls, self._leaving, self._heart.beat
            )
        return self._judges[press]

    def _say_trouble(self, error: StoreError, then: str) -> None:
        if isinstance(error, StoreGone | StoreReplaced | StoreDamaged):
            # nobody knows yet what is stored: where the shots are is said there
            self._outbox.mistrust(error)
        else:
            logger.error("%s; %s", error, then)

    def _show_all(self, judged: list[Judged]) -> None:
        for item in judged:
            self._show(item)

    def _show(self, record: Spooled | Kept | Judged) -> None:
        for listener in self._listeners:
            try:
                listener(record)
            except Exception:
                logger.exception("showing %s failed; logging goes on", type(record).__name__)

    def _sign(self) -> Beat:
        return self._presence.sign(self._threads.silent(), self._preparing, self._waits.seconds(), self._has_ended)

    def _show_presence(self) -> None:
        self._preparing.note(())
        if self._outbox.is_behind:
            return
        try:
            self._presence.show(self._threads.silent(), self._preparing, self._waits.seconds(), self._has_ended)
        except StoreError as error:
            self._say_trouble(error, "that the logger is at work is not shown")
