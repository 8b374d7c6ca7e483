"""The way into the log that loses nothing: what the log will not take waits in the journal, and goes in later, once."""

import logging
import uuid

from shotlog.clock import Clock
from shotlog.errors import StoreUnreachable
from shotlog.store.journal import Journal, Spooled
from shotlog.store.log import Log

__all__ = ["Outbox"]

_RETRY_S = 5.0

logger = logging.getLogger(__name__)


class Outbox:
    """Delivers batches of records to a log in order, through a journal while the log is out of reach."""

    def __init__(self, log: Log, journal: Journal, clock: Clock) -> None:
        self._log, self._journal, self._clock = log, journal, clock
        self._memory: list[tuple[str, list[Spooled]]] = []
        self._waiting = len(journal.batches())
        self._next_try = 0.0
        self._prefix = uuid.uuid4().hex
        self._n = 0

    @property
    def waiting(self) -> int:
        """How many batches are not in the log yet."""
        return self._waiting + len(self._memory)

    def deliver(self, records: list[Spooled]) -> bool:
        """Store a batch; return whether it is in the log (else it is in the journal, or at worst in memory)."""
        self._n += 1
        origin = f"{self._prefix}:{self._n}"
        if self.waiting and not self.drain():
            self._keep(origin, records)
            return False
        try:
            self._log.append(records)
        except StoreUnreachable as error:
            logger.error("%s; shots are kept in %s until it can be written again", error, self._journal.path)
            self._next_try = self._clock.monotonic() + _RETRY_S
            self._keep(origin, records)
            return False
        return True

    def drain(self) -> bool:
        """Try to move what waits into the log, at most every few seconds; return whether nothing waits any more."""
        if not self.waiting:
            return True
        if self._clock.monotonic() < self._next_try:
            return False
        self._next_try = self._clock.monotonic() + _RETRY_S
        waited = self.waiting
        try:
            for origin, records in [*self._journal.batches(), *self._memory]:
                self._log.append(records, origin=origin)
        except StoreUnreachable:
            return False
        self._journal.clear()
        self._memory.clear()
        self._waiting = 0
        logger.warning("the log can be written again; %d kept batches are in it now", waited)
        return True

    def _keep(self, origin: str, records: list[Spooled]) -> None:
        if not self._memory:
            try:
                self._journal.append(origin, records)
            except OSError as error:
                logger.error("%s: %s; shots are kept in memory only: DO NOT SWITCH OFF", self._journal.path, error)
            else:
                self._waiting += 1
                return
        self._memory.append((origin, records))
