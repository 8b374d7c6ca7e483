"""What has to be done once before anything can be judged, done beside the logging; it says which shots wait for it."""

import logging
import threading
from collections.abc import Callable, Iterable

from shotlog.clock import Clock
from shotlog.records import Shot
from shotlog.wording.logger import getting_ready, ready

__all__ = ["GettingReady"]

_SOON_S = 2.0
"""Sooner than this it is not worth a word."""
_SAY_AGAIN_S = 60.0
_ASKED_S = 2.0
"""How long the presses' first answers go before: loading what judges holds them up. A press that is off does not."""

logger = logging.getLogger(__name__)


class GettingReady:
    """Prepares in a thread of its own, once `answered` is set or for some time was not; what fails there is said, and
    judging goes on without.
    """

    def __init__(
        self, prepare: Callable[[], None] | None, clock: Clock, answered: threading.Event | None = None
    ) -> None:
        self._prepare, self._clock, self._answered = prepare, clock, answered
        self._thread = threading.Thread(target=self._prepared, name="preparing", daemon=True)
        self._n = 0
        self._say_at = self._began = 0.0
        self._said = False

    def start(self) -> None:
        """Begin."""
        self._began = self._clock.monotonic()
        self._say_at = self._began + _SOON_S
        self._thread.start()

    @property
    def is_ready(self) -> bool:
        """Whether shots can be judged."""
        return not self._thread.is_alive()

    @property
    def n_waiting(self) -> int:
        """How many shots came meanwhile."""
        return 0 if self.is_ready else self._n

    @property
    def for_s(self) -> float | None:
        """For how many seconds it has been getting ready; None once it is."""
        return None if self.is_ready else round(self._clock.monotonic() - self._began, 1)

    def note(self, batch: Iterable[object]) -> None:
        """Count the shots that come meanwhile, and say that they wait, or that they no longer do."""
        if self.is_ready:
            if self._said:
                logger.warning(ready(self._n))
            self._said, self._n = False, 0
            return
        self._n += sum(isinstance(record, Shot) for record in batch)
        if self._n and self._clock.monotonic() >= self._say_at:
            self._say_at = self._clock.monotonic() + _SAY_AGAIN_S
            self._said = True
            logger.warning(getting_ready(self._n))

    def join(self) -> None:
        """Wait until it is ready."""
        self._thread.join()

    def _prepared(self) -> None:
        try:
            if self._prepare is not None:
                if self._answered is not None:
                    self._answered.wait(_ASKED_S)
                self._prepare()
        except Exception:
            logger.exception("preparing to judge failed; shots are judged all the same")
