"""The shots that damage took with it: what is missing between those before and after is a gap, as any other."""

from collections.abc import Iterable

from shotlog.records import Gap, Shot
from shotlog.store.log.journal_line import Spooled
from shotlog.store.log.log import Log

__all__ = ["OF_THE_JOURNAL", "OF_THE_LOG", "Holes"]

OF_THE_JOURNAL = "lost with a damaged line of the journal"
OF_THE_LOG = "lost with what is missing of the log"


class Holes:
    """Follows the numbers of each press past what was lost, up to its next shot at least; `why` it was."""

    def __init__(self, log: Log, why: str) -> None:
        self._log, self._why = log, why
        self._upto: dict[str, int] = {}

    def filled(self, records: Iterable[Spooled]) -> list[Spooled]:
        """Return records on their way into the log, with a gap before what does not follow on what was there.

        Raises
        ------
        StoreError
            The log cannot be asked what was there.
        """
        found: list[Spooled] = []
        for record in records:
            if isinstance(record, Shot | Gap):
                first, last = (record.shot, record.shot) if isinstance(record, Shot) else (record.first, record.last)
                upto = self._last(record.press, first)
                if first > upto + 1:
                    found.append(Gap(record.press, upto + 1, first - 1, record.time, self._why))
                self._upto[record.press] = max(upto, last)
            found.append(record)
        return found

    def _last(self, press: str, first: int) -> int:
        if press not in self._upto:
            stored = self._log.last_shot(press)
            self._upto[press] = first - 1 if stored is None else stored[0]
        return self._upto[press]
