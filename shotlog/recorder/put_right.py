"""Putting the log right beside the logging: in a thread of its own, while shots go into the journal.

Of a large log on a slow disk it takes minutes. Nothing else of this process uses the log meanwhile; whoever delivers
to it asks at every turn how far it is. What is broken off at the end leaves nothing, and is begun anew at the next
start.
"""

import logging
import threading
from collections.abc import Callable
from contextlib import suppress
from math import inf
from pathlib import Path

from shotlog.clock import Clock
from shotlog.errors import StoreDamaged, StoreError, StoreGone, StoreReplaced, StoreUnreachable
from shotlog.store.log.broken_off import BrokenOffError, break_off_when
from shotlog.store.log.log import Log
from shotlog.store.log.recovery import PutRight
from shotlog.wording.putting_right import begun_said, put_right_said

__all__ = ["PuttingRight", "say_put_right"]

_BREAK_OFF_S = 1.0
"""How long it may take to break off. What does not end then is reading still, and ends with the process."""
_PAUSE_S, _LONGEST_S = 5.0, 300.0
"""Pause after a mistake of our own, in seconds, doubled each time up to the longest."""

logger = logging.getLogger(__name__)


class PuttingRight:
    """Opens a log again that is in trouble, put right if need be; `place`: where shots wait meanwhile.

    `leaving` says when the end was asked for: it is broken off then, and not begun.
    """

    def __init__(self, log: Log, clock: Clock, place: Path, leaving: Callable[[], bool] = lambda: False) -> None:
        self._log, self._clock, self._place, self._leaving = log, clock, place, leaving
        self._thread: threading.Thread | None = None
        self._left = threading.Event()
        self.done: PutRight | None = None
        self._failed: StoreError | None = None
        self._said: StoreError | None = None
        self._mistake = ""
        self._pause_s, self._due = _PAUSE_S, -inf
        self.n_done = 0
        self.why = ""

    @property
    def is_begun(self) -> bool:
        """Whether it is being done, or was and nobody has looked yet how it ended."""
        return self._thread is not None

    def turn(self) -> bool:
        """Begin it where nothing is begun, or look how it ended; return whether the log is open again.

        Raises
        ------
        StoreError
            Why it is not, each time that it was tried.
        """
        if self._thread is None:
            if not self._is_left() and self._clock.monotonic() >= self._due:
                self._begin()
            return False
        if self._thread.is_alive():
            return False
        self._thread = None
        if self._failed is not None:
            raise self._failed
        done = self.done
        self._said, self._pause_s, self.why = None, _PAUSE_S, ""
        self.n_done += done is not None
        say_put_right(done)
        return True

    def join(self, for_s: float | None = None) -> None:
        """Wait until it has ended, where it was begun; for so many seconds at most."""
        if self._thread is not None:
            self._thread.join(for_s)

    def finish(self, for_s: float) -> None:
        """Wait for it a last time, beginning it where that is due, and break it off: nothing is begun any more."""
        if for_s > 0.0 and self._log.trouble is not None:
            with suppress(StoreError):
                self.turn()
            self.join(for_s)
        self._left.set()
        self.join(_BREAK_OFF_S)

    def _is_left(self) -> bool:
        return self._left.is_set() or self._leaving()

    def _begin(self) -> None:
        trouble = self._log.trouble
        if trouble is not self._said and isinstance(trouble, StoreGone | StoreReplaced | StoreDamaged):
            self.why = str(trouble)
            logger.error("%s", begun_said(self.why, str(self._place)))
        self._said = trouble
        self.done = self._failed = None
        self._thread = threading.Thread(target=self._go, name="putting right", daemon=True)
        self._thread.start()

    def _go(self) -> None:
        try:
            with break_off_when(self._is_left):
                self.done = self._log.reopen()
        except StoreError as error:
            self._failed = error
        except BrokenOffError:
            self._failed = StoreUnreachable(f"log {self._log.url}: it is put right at the next start")
        except Exception as error:
            why = f"{type(error).__name__}: {error}"
            if why != self._mistake:
                logger.exception("putting the log right failed; logging goes on, and it is tried again later")
            self._mistake = why
            self._failed = StoreUnreachable(f"log {self._log.url}: it cannot be put right yet ({why})")
            self._due = self._clock.monotonic() + self._pause_s
            self._pause_s = min(2.0 * self._pause_s, _LONGEST_S)


def say_put_right(done: PutRight | None) -> None:
    """Say what was done; nothing where nothing had to be."""
    if done is None:
        return
    lost, shots = ({}, {}) if done.found is None else (done.found.lost, done.found.shots)
    logger.error(
        "%s", put_right_said(done.how, str(done.path), done.aside, done.damage, done.whole, lost=lost, shots=shots)
    )
