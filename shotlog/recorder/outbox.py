"""The way into the log that loses nothing: what the log will not take waits in the journal, and goes in later, once."""

import logging
import uuid
from math import inf

from shotlog.clock import Clock
from shotlog.errors import StoreDamaged, StoreUnreachable
from shotlog.records import Shot
from shotlog.store.log.journal import Journal, Spooled
from shotlog.store.log.log import Log

__all__ = ["Outbox"]

_RETRY_S = 5.0

Batch = tuple[str, list[Spooled]]

logger = logging.getLogger(__name__)


class Outbox:
    """Delivers batches of records to a log in order, through a journal while the log is out of reach.

    Every batch carries an origin of its own, so that it is stored once even where the log took it and could not say so.
    """

    def __init__(self, log: Log, journal: Journal, clock: Clock) -> None:
        self._log, self._journal, self._clock = log, journal, clock
        self._memory: list[Batch] = []
        self._n_spooled = len(journal.batches())
        self._next_try = -inf
        self._prefix = uuid.uuid4().hex
        self._n = 0

    @property
    def waiting(self) -> int:
        """How many batches are not in the log yet."""
        return self._n_spooled + len(self._memory)

    def last_shot(self, press: str) -> Shot | None:
        """Return the last shot of a press among what waits."""
        shots = (r for _, records in self._waiting_batches() for r in records if isinstance(r, Shot))
        return max((shot for shot in shots if shot.press == press), key=lambda shot: shot.shot, default=None)

    def deliver(self, records: list[Spooled]) -> bool:
        """Store a batch; return whether it is in the log (else it is in the journal, or at worst in memory).

        Raises
        ------
        StoreDamaged
            The log is no log any more. The batch is kept as if the log were out of reach.
        """
        self._n += 1
        origin = f"{self._prefix}:{self._n}"
        if self.waiting and not self.drain():
            self._keep(origin, records)
            return False
        try:
            self._append(origin, records)
        except StoreUnreachable as error:
            logger.error("%s; shots are kept in %s until it can be written again", error, self._journal.path)
            self._keep(origin, records)
            return False
        except StoreDamaged:
            self._keep(origin, records)
            raise
        return True

    def drain(self) -> bool:
        """Try to move what waits into the log, at most every few seconds; return whether nothing waits any more."""
        if not self.waiting:
            return True
        if self._clock.monotonic() < self._next_try:
            return False
        waited = self.waiting
        try:
            for origin, records in self._waiting_batches():
                self._append(origin, records)
            self._journal.clear()
        except StoreUnreachable:
            self._spill()
            return False
        except OSError as error:
            # Not lost: every batch knows its origin, and is stored once however often it is delivered.
            logger.error("%s: %s; its batches wait until it can be read and cleared", self._journal.path, error)
            self._next_try = self._clock.monotonic() + _RETRY_S
            return False
        self._memory.clear()
        self._n_spooled = 0
        logger.warning("the log can be written again; %d kept batches are in it now", waited)
        return True

    def close(self) -> None:
        """Try a last time to bring what waits to the log, or at least to the journal.

        Raises
        ------
        StoreUnreachable
            There are records that could be stored nowhere and are lost with this process.
        """
        if self._next_try < inf:
            self._next_try = -inf
            self.drain()
        self._spill()
        lost = [f"{r.press} shot {r.shot}" for _, records in self._memory for r in records if isinstance(r, Shot)]
        if self._memory:
            shots = f"{len(lost)} shots ({lost[0]} to {lost[-1]})" if lost else f"{len(self._memory)} records"
            raise StoreUnreachable(f"neither the log nor {self._journal.path} can be written: {shots} are lost")

    def _append(self, origin: str, records: list[Spooled]) -> None:
        try:
            self._log.append(records, origin=origin)
        except StoreUnreachable:
            self._next_try = self._clock.monotonic() + _RETRY_S
            raise
        except StoreDamaged:
            self._next_try = inf
            raise

    def _waiting_batches(self) -> list[Batch]:
        return [*(self._journal.batches() if self._n_spooled else ()), *self._memory]

    def _keep(self, origin: str, records: list[Spooled]) -> None:
        self._memory.append((origin, records))
        self._spill()

    def _spill(self) -> None:
        """Move what is in memory to the journal, in order."""
        while self._memory:
            try:
                self._journal.append(*self._memory[0])
            except OSError as error:
                logger.error("%s: %s; shots are kept in memory only: DO NOT SWITCH OFF", self._journal.path, error)
                return
            del self._memory[0]
            self._n_spooled += 1
