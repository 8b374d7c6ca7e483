"""One receiver and the thread that sends to it: retried with back-off until it is taken, beside everything else."""

import logging
import threading
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from shotlog.clock import Clock
from shotlog.notify.due import Due
from shotlog.notify.not_taken import NotTaken
from shotlog.notify.people import Message, Send
from shotlog.store.asked.told import ToldRow

__all__ = ["Courier", "Parcel", "Standing"]

_FIRST_S, _LONGEST_S = 5.0, 300.0
"""A receiver that does not take a message is tried again after so long, each time twice as long, and at the longest."""
_TURN_S = 1.0

logger = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class Parcel:
    """A message that is due, and what is sent of it."""

    due: Due
    message: Message

    @property
    def key(self) -> tuple[str, str]:
        return (self.due.spell, self.due.phase)


@dataclass(frozen=True, slots=True)
class Standing:
    """How it stands with a receiver: since when it takes nothing, None where it does; how many messages wait.

    `why` it took nothing at the last try, and when the `next_try` is.
    """

    waits: int = 0
    failing_since: datetime | None = None
    last: datetime | None = None
    why: str = ""
    next_try: datetime | None = None


class Courier:
    """Sends what is `offered`, one after the other, and keeps what was taken until it is `collected`."""

    def __init__(self, receiver: str, send: Send, clock: Clock) -> None:
        self.receiver = receiver
        self._send, self._clock = send, clock
        self._lock = threading.Lock()
        self._waiting: list[Parcel] = []
        self._sending: Parcel | None = None
        self._taken: list[tuple[Parcel, datetime]] = []
        self._wait_s, self._not_before_s = _FIRST_S, 0.0
        self._standing = Standing()
        self._stop, self._news = threading.Event(), threading.Event()
        self._thread: threading.Thread | None = None

    def start(self) -> None:
        """Begin to send, in a thread of its own."""
        self._thread = threading.Thread(target=self._go_on, name=f"tell {self.receiver}", daemon=True)
        self._thread.start()

    def offer(self, parcels: Iterable[Parcel]) -> None:
        """Replace what waits by what is due now; what is on its way or was just taken is not sent again."""
        with self._lock:
            gone = {one.key for one, _ in self._taken}
            if self._sending is not None:
                gone.add(self._sending.key)
            self._waiting = [one for one in parcels if one.key not in gone]
        if self._waiting:
            self._news.set()

    def collect(self) -> list[ToldRow]:
        """Return what was taken since, as rows of the log."""
        with self._lock:
            taken, self._taken = self._taken, []
        return [_row(one, self.receiver, at) for one, at in taken]

    @property
    def standing(self) -> Standing:
        """How it stands by now."""
        with self._lock:
            waits = len(self._waiting) + (self._sending is not None)
            return replace(self._standing, waits=waits)

    def step(self) -> bool:
        """Send the next message if it is time; return whether one was taken."""
        with self._lock:
            if not self._waiting or self._clock.monotonic() < self._not_before_s:
                return False
            self._sending = parcel = self._waiting.pop(0)
        taken, why = self._try(parcel)
        now = self._clock.now()
        with self._lock:
            self._sending = None
            if taken:
                self._taken.append((parcel, now))
                self._standing = Standing(last=now)
                self._wait_s, self._not_before_s = _FIRST_S, 0.0
            else:
                self._waiting.insert(0, parcel)
                since, again = self._standing.failing_since or now, now + timedelta(seconds=self._wait_s)
                self._standing = replace(self._standing, failing_since=since, why=why, next_try=again)
                self._not_before_s = self._clock.monotonic() + self._wait_s
                self._wait_s = min(2.0 * self._wait_s, _LONGEST_S)
        return taken

    def finish(self, wait_s: float) -> None:
        """End; what is on its way gets so many seconds."""
        self._stop.set()
        self._news.set()
        if self._thread is not None:
            self._thread.join(wait_s)

    def _try(self, parcel: Parcel) -> tuple[bool, str]:
        """Return whether it was taken, and why not."""
        try:
            return self._send(parcel.message), ""
        except NotTaken as error:
            return False, error.why
        except Exception as error:  # noqa: BLE001  (a library of many hands; what it says may hold the address)
            why = f"{type(error).__name__} in the library that sends it"
            logger.warning("message to %s: %s", self.receiver, why)
            return False, why

    def _go_on(self) -> None:
        while not self._stop.is_set():
            if not self.step():
                self._news.wait(_TURN_S)
                self._news.clear()


def _row(parcel: Parcel, receiver: str, at: datetime) -> ToldRow:
    due = parcel.due
    return ToldRow(due.press, due.about, due.spell, due.phase, receiver, parcel.message.text, at)
