"""Watching, from a thread of its own, that presses are read, and that what they bring is stored and judged.

While that goes on a supervisor is told so, and no longer where nothing is read at all, or stored; then it starts
the program anew. One press of several that is not read is said, and ends nothing: a driver that hangs would hang again
after the start, and each start costs the other presses what their lines send meanwhile.

The thread that stores cannot be replaced, for nobody knows what it holds and where it stands; where it does not come
back, the process ends. What was stored, or kept in the journal, is on disk; the next start goes on from there.
"""

import logging
import threading
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from shotlog.recorder.hearts import Heart, Stillness
from shotlog.recorder.supervisor import Supervisor

__all__ = ["STORING_HANGS_S", "STORING_STILL_S", "Watchdog", "Watched"]

STORING_STILL_S = 60.0
"""A supervisor hears nothing more from then on. No turn of storing takes as long: a lock is waited for some seconds,
and judging that goes back far counts every shot."""
STORING_HANGS_S = 120.0
"""The process is ended from then on. Someone with a disk that is away for longer, and comes back, would take more."""

_EVERY_S = 2.0
_SOON_S = 0.05
_SHARE = 4
"""A supervisor hears that many signs of life in the time in which it wants one."""

logger = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class Watched:
    """Who is told, and what ends this process, told why, where it does not store any more; None: nothing does."""

    supervisor: Supervisor = field(default_factory=Supervisor)
    end: Callable[[str], None] | None = None

    @property
    def is_wanted(self) -> bool:
        """Whether watching is of use to anybody."""
        return self.supervisor.is_there or self.end is not None


class Watchdog:
    """Looks every few seconds.

    Parameters
    ----------
    storing
        The heart of the thread that stores and judges.
    reading
        Whether any press is read.
    silent
        The presses that are not read, and for how many seconds.
    """

    def __init__(
        self,
        watched: Watched,
        storing: Heart,
        reading: Callable[[], bool],
        silent: Callable[[], Mapping[str, float]],
    ) -> None:
        self._supervisor, self._end = watched.supervisor, watched.end
        self._storing, self._reading, self._silent = storing, reading, silent
        wanted_s = watched.supervisor.every_s
        self._every_s = _EVERY_S if wanted_s is None else min(_EVERY_S, wanted_s / _SHARE)
        self._stillness = Stillness(2.0 * self._every_s)
        self._is_ready = self._has_said = False
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._go_on, name="watchdog", daemon=True)
        self._is_wanted = watched.is_wanted

    def start(self) -> None:
        """Begin, beside whoever calls, where anybody wants it."""
        if self._is_wanted:
            self._thread.start()

    def finish(self) -> None:
        """End, and tell the supervisor that the process ends; what it does from now on is short by itself."""
        self._stop.set()
        if self._thread.is_alive():
            self._thread.join(_EVERY_S)
        self._supervisor.stopping()

    def look(self, now: float) -> None:
        """Look now; `now`: seconds on a scale that never steps back."""
        still_s = self._stillness.look({"storing": self._storing.count}, now)["storing"]
        reading, silent = self._reading(), sorted(self._silent())
        said = f"NOT READ: {', '.join(silent)}" if silent else "presses are read, shots are logged"
        if reading and not self._is_ready:
            self._is_ready = True
            self._supervisor.ready(said)
        if still_s > STORING_STILL_S:
            self._stands(still_s)
        elif reading:
            self._has_said = False
            self._supervisor.alive(said)
        elif silent:
            self._supervisor.says(said)

    def _stands(self, still_s: float) -> None:
        said = f"{self._storing.doing} has stood still for {still_s:.0f} s; nothing that comes is stored meanwhile"
        self._supervisor.says(said)
        if still_s > STORING_HANGS_S and self._end is not None:
            self._end(said)
        elif not self._has_said:
            self._has_said = True
            logger.error("%s", said)

    def _go_on(self) -> None:
        while not self._stop.wait(self._every_s if self._is_ready else _SOON_S):
            try:
                self.look(time.monotonic())
            except Exception:
                logger.exception("watching failed; logging goes on")
