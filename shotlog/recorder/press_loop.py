"""One press, one thread: poll, hand over what came, and after a lost connection try again for ever.

The pause between tries doubles up to half a minute: a press that is switched off for the night must not be hammered,
and one that comes back must not wait long. What is told of faults and of the connection keeps within a budget.
"""

import logging
import threading
from datetime import datetime
from typing import Protocol

from shotlog.clock import Clock
from shotlog.collectors.base import Collector
from shotlog.errors import CollectorError, PressRefused, RefusedForNow
from shotlog.recorder.budget import FaultBudget, LinkBudget
from shotlog.recorder.inbox import Batch
from shotlog.records import Fault

__all__ = ["Batch", "Out", "PressLoop"]

_FIRST_WAIT_S = 0.5
_LONGEST_WAIT_S = 30.0
_HELD_UP_S = 5.0
"""Bytes of a serial line are lost some seconds after nobody reads them: its buffer holds a few thousand."""

_LOST = "what a serial line sent meanwhile may be lost, and shows as a gap of its counter"
_BLIND_S = 20.0
"""Where a press was not looked at for longer, apart from the pause, it is on record: the process was halted, or the
computer was suspended. A press that takes so long to answer would want more."""
_HANGS_S = 120.0
"""A thread waits half a minute at most before it tries again, and for an answer no longer than is configured."""

logger = logging.getLogger(__name__)


class Out(Protocol):
    """Where a press hands over what it brings."""

    def put(self, batch: Batch) -> None:
        """Take a batch; this may wait until there is room for it."""


class PressLoop(threading.Thread):
    """Runs one collector until `stop` is set."""

    def __init__(
        self,
        press: str,
        collector: Collector,
        poll_s: float,
        out: Out,
        stop: threading.Event,
        clock: Clock,
    ) -> None:
        super().__init__(name=f"press {press}", daemon=True)
        self._press, self._collector, self._poll_s = press, collector, poll_s
        self._out, self._stop_event, self._clock = out, stop, clock
        self._faults, self._links = FaultBudget(clock), LinkBudget(press, clock)
        self._wait_s = _FIRST_WAIT_S
        self._handing = threading.Lock()
        self._is_handing_over = self.is_given_up = self._is_late = False
        self.turns = 0
        self._seen: tuple[float, datetime] | None = None

    @property
    def hangs_after_s(self) -> float:
        """For how long, in seconds, this thread may not go round: longer than any pause or answer takes."""
        return _HANGS_S + self._poll_s

    @property
    def answers(self) -> bool:
        """Whether the press answered when it was asked last."""
        return self._seen is not None

    def give_up(self) -> bool:
        """Let a thread that hangs in its collector go, for another one to take its place; return whether it could be.

        What it brings when it comes back is not taken, and it closes its connection and ends. One that waits to hand
        over what it has is none of those: what it waits for is the log.
        """
        with self._handing:
            self.is_given_up = not self._is_handing_over
            return self.is_given_up

    def let_go(self) -> Batch:
        """Close the connection after this thread has ended by itself, and return what was still held there."""
        try:
            return [*self._faults.take([*self._collector.close()]), *self._faults.close()]
        except Exception:
            logger.exception("press %s: closing failed", self._press)
            return []

    def run(self) -> None:
        """Connect, poll, reconnect; at the end hand over what the collector still held."""
        while not self._is_over():
            try:
                self.turns += 1
                self._collector.open()
                self._poll_until_stopped()
            except CollectorError as error:
                self._lost(str(error), self._next_wait_s(error))
            except Exception as error:
                logger.exception("press %s: the collector failed", self._press)
                self._hand_over([Fault(self._press, self._clock.now(), "internal", repr(error))])
                self._lost(f"the collector failed: {error!r}", _LONGEST_WAIT_S)
        self._close()
        self._say("stopped", "logging ended")
        self._put(self._faults.close())

    def _is_over(self) -> bool:
        return self._stop_event.is_set() or self.is_given_up

    def _poll_until_stopped(self) -> None:
        while not self._is_over():
            self.turns += 1
            asked_at = self._clock.now()  # what the answer brings is stamped later, and came with the connection
            records = self._collector.poll()
            unseen_since = self._unseen_since()
            if unseen_since is not None:
                self._say("stopped", "the logger or its computer stood still", unseen_since)
                asked_at = self._clock.now()
            self._say("connected", "the press answers", asked_at)
            self._wait_s = _FIRST_WAIT_S
            self._hand_over([*records])
            self._seen = (self._steady_s(), self._clock.now())
            self._clock.wait(self._stop_event, self._poll_s)

    def _steady_s(self) -> float:
        """Return a time that nobody sets, and that goes on while the computer is suspended, in seconds."""
        return self._clock.monotonic() + self._clock.suspended()

    def _unseen_since(self) -> datetime | None:
        """Return since when the press was not looked at, None where that is not long."""
        if self._seen is None or self._steady_s() - self._seen[0] <= _BLIND_S + self._poll_s:
            return None
        return self._seen[1]

    def _next_wait_s(self, error: CollectorError) -> float:
        """Return how long to wait before the next try: long at once where the press says that asking is of no use."""
        if isinstance(error, PressRefused) and not isinstance(error, RefusedForNow):
            return _LONGEST_WAIT_S
        wait_s, self._wait_s = self._wait_s, min(2 * self._wait_s, _LONGEST_WAIT_S)
        return wait_s

    def _lost(self, detail: str, wait_s: float) -> None:
        unseen_since, self._seen = self._unseen_since(), None
        self._close()
        self._say("lost", detail, unseen_since)
        self._clock.wait(self._stop_event, wait_s)

    def _close(self) -> None:
        try:
            self._hand_over([*self._collector.close()])
        except Exception as error:
            # A port that is gone may also fail to close; this thread must live to open it again.
            logger.exception("press %s: closing failed", self._press)
            self._hand_over([Fault(self._press, self._clock.now(), "internal", f"closing failed: {error!r}")])

    def _say(self, state: str, detail: str, since: datetime | None = None) -> None:
        """Report a change: of the state, or of what is wrong (first no answer, then a refusal)."""
        self._put(self._links.say(state, detail, since))

    def _hand_over(self, records: Batch) -> None:
        self._put(self._faults.take(records))

    def _put(self, records: Batch) -> None:
        if not records or not self._begins_handing_over():
            return
        try:
            self._hand(records)
        finally:
            self._is_handing_over = False

    def _begins_handing_over(self) -> bool:
        with self._handing:
            self._is_handing_over = not self.is_given_up
        if not self._is_handing_over and not self._is_late:
            self._is_late = True
            logger.error("press %s: a thread that stood still came back; another one reads the press", self._press)
        return self._is_handing_over

    def _hand(self, records: Batch) -> None:
        began = self._clock.monotonic()
        self._out.put(records)
        held_up_s = self._clock.monotonic() - began
        if held_up_s > _HELD_UP_S:
            detail = f"nothing was read for {held_up_s:.0f} s: the log did not take what came before it; {_LOST}"
            self._out.put(self._faults.take([Fault(self._press, self._clock.now(), "held up", detail)]))
