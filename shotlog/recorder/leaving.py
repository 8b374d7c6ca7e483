"""Coming to an end in seconds, with everything that was read in the log or in the journal.

Whoever asks for the end may be a system that shuts down, and ends the process itself if it takes too long. So nothing
is waited for longer than a share of the time there is: not a press that answers slowly, not a log that another program
keeps locked (the journal takes what came), not a compiler, not the judging (what is left is judged at the next start).
"""

import threading
from math import inf

from shotlog.clock import Clock

__all__ = ["Leaving"]

_END_S = 4.0
"""From the wish to the end of the judging; what comes after it (the last head written down, the process itself) is
short."""
_PRESSES_S = 2.0
"""Of that, for presses that are in the middle of an answer."""
_LAST_JUDGING_S = 10.0
"""Where nobody hurries: the number of shots that was asked for is there."""


class Leaving:
    """Whether the end was asked for, and how much of the time is left."""

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._stop: threading.Event | None = None
        self._by_itself = False
        self._began = inf

    def watch(self, stop: threading.Event) -> None:
        """Go by this event from now on."""
        self._stop = stop

    def __call__(self) -> bool:
        """Say whether somebody hurries: no lock and no long reading is waited for then."""
        return not self._by_itself and self._stop is not None and self._stop.is_set()

    def begin(self, hurried: bool) -> None:
        """Begin the end; not `hurried`: it came by itself."""
        self._began = self._clock.monotonic()
        self._by_itself = not hurried

    def waits_for_presses(self) -> bool:
        """Say whether presses that have not ended are still waited for."""
        return self._by_itself or self._clock.monotonic() - self._began < _PRESSES_S

    def judges(self) -> bool:
        """Say whether there is time to judge."""
        return self._clock.monotonic() - self._began < (_LAST_JUDGING_S if self._by_itself else _END_S)
