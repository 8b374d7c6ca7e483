"""One press, one thread: poll, hand over what came, and after a lost connection try again for ever.

The pause between tries doubles up to half a minute: a press that is switched off for the night must not be hammered,
and one that comes back must not wait long.
"""

import logging
import queue
import threading

from shotlog.clock import Clock
from shotlog.collectors.base import Collector
from shotlog.errors import CollectorError, PressRefused
from shotlog.records import Fault, Gap, Link, Shot, Weighing

__all__ = ["Batch", "PressLoop"]

Batch = list[Shot | Gap | Fault | Link | Weighing]

_FIRST_WAIT_S = 0.5
_LONGEST_WAIT_S = 30.0

logger = logging.getLogger(__name__)


class PressLoop(threading.Thread):
    """Runs one collector until `stop` is set."""

    def __init__(
        self,
        press: str,
        collector: Collector,
        poll_s: float,
        out: "queue.Queue[Batch]",
        stop: threading.Event,
        clock: Clock,
    ) -> None:
        super().__init__(name=f"press {press}", daemon=True)
        self._press, self._collector, self._poll_s = press, collector, poll_s
        self._out, self._stop_event, self._clock = out, stop, clock
        self._said = ("", "")
        self._wait_s = _FIRST_WAIT_S

    def run(self) -> None:
        """Connect, poll, reconnect; at the end hand over what the collector still held."""
        while not self._stop_event.is_set():
            try:
                self._collector.open()
                self._poll_until_stopped()
            except PressRefused as error:
                self._lost(str(error), _LONGEST_WAIT_S)
            except CollectorError as error:
                self._lost(str(error), self._wait_s)
                self._wait_s = min(2 * self._wait_s, _LONGEST_WAIT_S)
            except Exception as error:
                logger.exception("press %s: the collector failed", self._press)
                self._hand_over([Fault(self._press, self._clock.now(), "internal", repr(error))])
                self._lost(f"the collector failed: {error!r}", _LONGEST_WAIT_S)
        self._close()
        self._say("stopped", "logging ended")

    def _poll_until_stopped(self) -> None:
        while not self._stop_event.is_set():
            records = self._collector.poll()
            self._say("connected", "the press answers")
            self._wait_s = _FIRST_WAIT_S
            self._hand_over([*records])
            self._clock.wait(self._stop_event, self._poll_s)

    def _lost(self, detail: str, wait_s: float) -> None:
        self._close()
        self._say("lost", detail)
        self._clock.wait(self._stop_event, wait_s)

    def _close(self) -> None:
        try:
            self._hand_over([*self._collector.close()])
        except Exception as error:
            # A port that is gone may also fail to close; this thread must live to open it again.
            logger.exception("press %s: closing failed", self._press)
            self._hand_over([Fault(self._press, self._clock.now(), "internal", f"closing failed: {error!r}")])

    def _say(self, state: str, detail: str) -> None:
        """Report a change: of the state, or of what is wrong (first no answer, then a refusal)."""
        if (state, detail) != self._said:
            self._said = (state, detail)
            self._hand_over([Link(self._press, self._clock.now(), state, detail)])

    def _hand_over(self, records: Batch) -> None:
        if records:
            self._out.put(records)
