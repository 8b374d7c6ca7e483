"""What the presses hand over, press by press, and taken by turns: one that floods holds up nobody but itself.

What several presses brought while something was stored is taken together: it goes into the log with one transaction,
and so waits for the disk once. The more presses there are, and the slower the disk, the more go at a time.
"""

import logging
import threading
from collections import deque
from collections.abc import Iterable, Iterator

from shotlog.records import Fault, Gap, Link, SetPointChange, Shot, Weighing

__all__ = ["Batch", "Inbox", "Slot"]

Batch = list[Shot | Gap | Fault | Link | Weighing | SetPointChange]

_MOST = 2000
"""Records of a press that may wait; a press that brings more waits itself, and its line with it."""
_AT_ONCE = 250
"""Records of a press taken at one turn, and of several together, about; what came together stays together."""


logger = logging.getLogger(__name__)


class Inbox:
    """A queue a press. Any number of threads put; one takes."""

    def __init__(self, presses: Iterable[str]) -> None:
        self._changed = threading.Condition()
        self._waiting: dict[str, deque[Batch]] = {press: deque() for press in presses}
        self._closed = False

    def slot(self, press: str) -> "Slot":
        """Return where a press hands over what it brings."""
        return Slot(self, press)

    def put(self, press: str, batch: Batch) -> bool:
        """Add a batch, after waiting until there is room for it; return whether it was taken in before the end."""
        with self._changed:
            mine = self._waiting[press]
            self._changed.wait_for(lambda: self._closed or sum(map(len, mine)) < _MOST)
            if self._closed:
                return False
            mine.append(batch)
            self._changed.notify_all()
            return True

    def turn(self, wait_s: float) -> Iterator[Batch]:
        """Yield what waits, of each press that brought something; waits for the first for at most `wait_s`.

        Each is taken out only when it is asked for: a reader that fails leaves the others where they are.
        """
        with self._changed:
            self._changed.wait_for(lambda: any(self._waiting.values()), wait_s)
            presses = [press for press, mine in self._waiting.items() if mine]
        while presses:
            batch: Batch = []
            with self._changed:
                while presses and len(batch) < _AT_ONCE:
                    batch += _joined(self._waiting[presses.pop(0)])
                self._changed.notify_all()
            yield batch

    @property
    def empty(self) -> bool:
        """Whether nothing waits."""
        with self._changed:
            return not any(self._waiting.values())

    def holds(self, press: str) -> bool:
        """Say whether something of a press waits."""
        with self._changed:
            return bool(self._waiting[press])

    def close(self) -> None:
        """Take nothing in any more; what waits can still be taken."""
        with self._changed:
            self._closed = True
            self._changed.notify_all()


class Slot:
    """The place of one press."""

    def __init__(self, inbox: Inbox, press: str) -> None:
        self._inbox, self._press = inbox, press

    def put(self, batch: Batch) -> None:
        """Hand a batch over; see `Inbox.put`."""
        if not self._inbox.put(self._press, batch):
            logger.error("press %s: answered after the end; %d records of it are not kept", self._press, len(batch))


def _joined(mine: deque[Batch]) -> Batch:
    joined: Batch = []
    while mine and len(joined) < _AT_ONCE:
        joined += mine.popleft()
    return joined
