"""The threads of all presses; one that ended by itself is noticed, said and started again."""

import logging
import threading
from collections.abc import Callable, Iterable, Mapping

from shotlog.clock import Clock
from shotlog.errors import StoreError
from shotlog.recorder.inbox import Batch
from shotlog.recorder.press_loop import PressLoop
from shotlog.records import Fault
from shotlog.restarts import Restarts

__all__ = ["PressThreads"]

logger = logging.getLogger(__name__)


class PressThreads:
    """Begun by `start`; who calls `look` now and then keeps them going.

    Parameters
    ----------
    make
        Makes the thread of a press, from where the log and what waits for it stand now.
    stop
        Ends them all; one that ends then does not end by itself.
    """

    def __init__(self, make: Callable[[str], PressLoop], stop: threading.Event, clock: Clock) -> None:
        self._make, self._stop, self._clock = make, stop, clock
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

    def silent(self) -> Mapping[str, float]:
        """Return the presses whose thread hangs, and for how many seconds."""
        return {press: loop.silent_s() for press, loop in self._loops.items() if loop.is_hanging()}

    def look(self, has_waiting: Callable[[str], bool]) -> Batch:
        """Start threads again that ended by themselves, once all that they brought is stored; return what to store.

        `has_waiting` says whether something that a press brought is not stored yet: a new thread goes on from there.
        """
        found: Batch = []
        for press, loop in self._loops.items():
            if loop.is_alive() or self._stop.is_set():
                continue
            if press not in self._due:
                found += self._notice(press, loop)
            elif self._clock.monotonic() >= self._due[press] and not has_waiting(press):
                self._again(press)
        return found

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
