"""What will not go into the log, today or ever: set aside beside the journal, put on record, and logging goes on."""

import logging
from collections.abc import Iterable
from dataclasses import replace

from shotlog.clock import Clock
from shotlog.errors import UsageError
from shotlog.records import Fault, Shot
from shotlog.store.log.journal import Damage, Journal
from shotlog.store.log.journal_line import OLD, Batch, line_of
from shotlog.store.log.log import Log

__all__ = ["REFUSED", "SetAside"]

REFUSED = (UsageError, OverflowError, ValueError, TypeError)
"""What a log raises that can be written, and does not take what it was given."""

logger = logging.getLogger(__name__)


class SetAside:
    """Puts batches into a log, and aside what of them it refuses; tells of what in the journal does not read.

    `presses`: those of the configuration. A name that stands in something damaged may be wrong, and the log is for
    ever: only one that is configured or in the log already is put there.
    """

    def __init__(self, log: Log, journal: Journal, clock: Clock, presses: Iterable[str] = ()) -> None:
        self._log, self._journal, self._clock = log, journal, clock
        self._presses = tuple(presses)

    def store(self, batch: Batch) -> Batch:
        """Put a batch into the log, without what it refuses; return what of it is there, and was put beside it.

        Raises
        ------
        StoreError
            The log cannot be written.
        OSError
            What it refuses cannot be set aside.
        """
        try:
            made = self._log.append(batch.records, batch.origin, batch.trial)
        except REFUSED as error:
            if len(batch.records) == 1:
                return self._without_set_points(batch, error)
        else:
            return replace(batch, records=(*batch.records, *made)) if made else batch
        # One by one, each with an origin that is the same at every try.
        alone = [replace(batch, records=(one,), origin=f"{batch.origin}:{n}") for n, one in enumerate(batch.records)]
        return replace(batch, records=tuple(record for one in alone for record in self.store(one).records))

    def _without_set_points(self, batch: Batch, error: Exception) -> Batch:
        """Set aside what is refused; a shot that was read with set-points is stored without, for it may be by them."""
        refused, (one,) = self.refuse(batch, error), batch.records
        if not isinstance(one, Shot) or not one.set_points:
            return refused
        return self.store(replace(batch, records=(replace(one, set_points={}),), origin=f"{batch.origin}:bare"))

    def refuse(self, batch: Batch, error: Exception) -> Batch:
        """Set a batch aside that the log refuses; return what is left of it: nothing. Raises as `store`."""
        refused = Damage(line_of(batch, OLD).rstrip(b"\n"), str(error))
        for damage in self._journal.set_aside([refused]):
            if damage is refused:
                logger.error(
                    "the log refuses what came from a press (%s); it is set aside in %s, and is not in the log. "
                    "Logging goes on", refused.why, self._journal.damaged,
                )  # fmt: skip
            else:
                self.say(damage)
        presses = [getattr(record, "press", "") for record in batch.records]
        self._record(refused, presses, f"the log refused what came ({_plain(refused.why)})")
        return replace(batch, records=())

    def tell(self, damage: Damage) -> None:
        """Put on record, once, that something waited and did not come back. Raises `StoreError`."""
        self._record(damage, damage.presses, f"a line of the journal does not read ({_plain(damage.why)})")

    def say(self, damage: Damage) -> None:
        """Say that something does not read."""
        logger.error(
            "%s: a line does not read (%s); it is set aside in %s, and what it held is not in the log. Logging goes on",
            self._journal.path, damage.why, self._journal.damaged,
        )  # fmt: skip

    def _record(self, damage: Damage, named: Iterable[str], what: str) -> None:
        known = dict.fromkeys((*self._presses, *self._log.presses()))
        presses = known.keys() & set(named) or self._presses or known
        detail, now = f"{what}; it was set aside in {self._journal.damaged.name}", self._clock.now()
        try:
            self._log.append([Fault(press, now, "journal", detail) for press in sorted(presses)], origin=damage.origin)
        except REFUSED:
            logger.exception("that something was set aside is not in the log; logging goes on")


def _plain(why: str) -> str:
    """Return a reason as any log takes it; it may quote what was refused."""
    return why if why.isprintable() else ascii(why)
