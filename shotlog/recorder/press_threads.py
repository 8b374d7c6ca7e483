"""The threads of all presses; one that ended by itself is noticed, said and started again, one that hangs replaced.

A driver may never come back. Its thread cannot be ended, but another one can take its place: it asks from where the log
stands, and what the old one brings, should it come back, is not taken. A serial port stays held by the one that hangs:
the press counts as not read until it lets go.
"""

import logging
import threading
import time
from collections.abc import Callable, Hashable, Iterable, Mapping
from datetime import timedelta

from shotlog.clock import Clock
from shotlog.errors import StoreError
from shotlog.recorder.hearts import Stillness
from shotlog.recorder.inbox import Batch
from shotlog.recorder.press_loop import PressLoop
from shotlog.records import Fault, Link
from shotlog.restarts import Restarts

__all__ = ["PressThreads"]

_LOOK_S = 5.0
"""What one look counts for at most: `look` is called several times a second where nothing holds it up."""
_MOST_GIVEN_UP = 3
"""Threads of a press that hang and were replaced, at most: one that always hangs wants somebody to look at it."""

logger = logging.getLogger(__name__)


class PressThreads:
    """Begun by `start`; who calls `look` now and then keeps them going.

    Parameters
    ----------
    make
        Makes the thread of a press, from where the log and what waits for it stand now.
    stop
        Ends them all; one that ends then does not end by itself.
    steady
        Seconds by which a thread hangs: not those of a clock that is driven by hand.
    """

    def __init__(
        self,
        make: Callable[[str], PressLoop],
        stop: threading.Event,
        clock: Clock,
        steady: Callable[[], float] = time.monotonic,
    ) -> None:
        self._make, self._stop, self._clock, self._steady = make, stop, clock, steady
        self._given_up: dict[str, list[PressLoop]] = {}
        self._turning, self._reading = Stillness(_LOOK_S), Stillness(_LOOK_S)
        self._read: dict[str, Hashable] = {}
        self._silent: Mapping[str, float] = {}
        self._loops: dict[str, PressLoop] = {}
        self._ends: dict[str, Restarts] = {}
        self._due: dict[str, float] = {}

    def start(self, presses: Iterable[str]) -> None:
        """Begin the threads of presses."""
        for press in presses:
            self._ends[press] = Restarts()
            self._loops[press] = self._make(press)
        for loop in self._loops.values():
            loop.start()

    @property
    def are_alive(self) -> bool:
        """Whether one of them has not ended."""
        return any(loop.is_alive() for loop in self._loops.values())

    @property
    def are_reading(self) -> bool:
        """Whether any press is read: one was asked by now, and not every thread stands still."""
        return any(loop.turns for loop in self._loops.values()) and not self._silent.keys() >= self._loops.keys()

    @property
    def all_answer(self) -> bool:
        """Whether every press answered when it was asked last."""
        return all(loop.answers for loop in self._loops.values())

    def silent(self) -> Mapping[str, float]:
        """Return the presses that are not read because a thread hangs, and for how many seconds."""
        return self._silent

    def look(self, has_waiting: Callable[[str], bool]) -> Batch:
        """Start threads again that ended by themselves, once all that they brought is stored, and replace those that
        hang; return what to store.

        `has_waiting` says whether something that a press brought is not stored yet: a new thread goes on from there.
        """
        found = self._replace(has_waiting)
        for press, loop in self._loops.items():
            if (loop.is_alive() and not loop.is_given_up) or self._stop.is_set():
                continue
            if press not in self._due:
                found += self._notice(press, loop)
            elif self._clock.monotonic() >= self._due[press] and not has_waiting(press):
                self._again(press)
        return found

    def _replace(self, has_waiting: Callable[[str], bool]) -> Batch:
        """See which threads hang, and put another one in the place of those that do and can be let go."""
        now = self._steady()
        turns = {press: (len(self._given_up.get(press, ())), loop.turns) for press, loop in self._loops.items()}
        turning = self._turning.look(turns, now)
        self._read |= {press: count for press, count in turns.items() if not self._is_held(press)}
        read = self._reading.look(self._read, now)
        self._silent = {
            press: read[press]
            for press, loop in self._loops.items()
            if loop.is_alive() and read[press] > loop.hangs_after_s
        }
        found: Batch = []
        for press in self._silent:
            loop, given_up = self._loops[press], self._given_up.setdefault(press, [])
            hangs = turning[press] > loop.hangs_after_s and not loop.is_given_up and not self._stop.is_set()
            if hangs and len(given_up) < _MOST_GIVEN_UP and not has_waiting(press) and loop.give_up():
                given_up.append(loop)
                self._due[press] = self._clock.monotonic()
                found += self._say_replaced(press, turning[press])
        return found

    def _say_replaced(self, press: str, still_s: float) -> Batch:
        now = self._clock.now()
        said = f"the thread that reads the press stood still for {still_s:.0f} s; another one takes its place"
        logger.error("press %s: %s", press, said)
        # of the connection as well, since when: the pages show that, and the new thread says when it is back
        return [Link(press, now - timedelta(seconds=still_s), "lost", said), Fault(press, now, "internal", said)]

    def _is_held(self, press: str) -> bool:
        """Say whether a thread that hangs still holds the press: nobody reads it before that lets go."""
        self._given_up[press] = [loop for loop in self._given_up.get(press, ()) if loop.is_alive()]
        return bool(self._given_up[press]) and not self._loops[press].answers

    def _notice(self, press: str, loop: PressLoop) -> Batch:
        wait_s = self._ends[press].ended(self._clock.monotonic())
        self._due[press] = self._clock.monotonic() + wait_s
        said = f"the thread that reads the press ended by itself; it is started again in {wait_s:.0f} s"
        logger.error("press %s: %s", press, said)
        return [*loop.let_go(), Fault(press, self._clock.now(), "internal", said)]

    def _again(self, press: str) -> None:
        try:
            self._loops[press] = self._make(press)
        except StoreError as error:
            self._due[press] = self._clock.monotonic() + self._ends[press].ended(self._clock.monotonic())
            logger.error("press %s: %s; its thread is started later", press, error)
            return
        del self._due[press]
        self._loops[press].start()
