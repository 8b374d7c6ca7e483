"""Which lines of reports were taken already. Pure.

A report may be read over from its beginning, since it was written anew; and a new report begins while the one before
still runs, so that no shot falls between them. There, and only there, what was taken is passed over in silence, up to
the last line that was. A line before that one which was not taken, since it was damaged when it came, comes too late.
"""

from collections import deque
from collections.abc import Sequence
from datetime import datetime

from shotlog.collectors.euromap_report import ReportRow
from shotlog.collectors.lines import Rejection

__all__ = ["ReadLine", "TakenLines"]

_REMEMBERED = 50_000
"""Lines that are known again: the shots of some days (own)."""
_LAST = 200
_BESIDE_S = 2.0
"""Two reports of one press say the time of a shot within so much of each other (own)."""

ReadLine = tuple[bytes, ReportRow | Rejection | None]


class TakenLines:
    """State: the lines taken, newest last; those of the last shots; whether lines taken before may come again."""

    def __init__(self) -> None:
        self._lines: dict[bytes, None] = {}
        self._rows: deque[ReportRow] = deque(maxlen=_LAST)
        self._may_come_again = False

    def begins(self) -> None:
        """Note that the lines to come may tell of shots that were taken already."""
        self._may_come_again = True

    def add(self, said: ReportRow | Rejection) -> None:
        """Remember a line."""
        if isinstance(said, Rejection):
            self._lines[said.raw] = None
        else:
            self._lines[said.line.raw] = None
            self._rows.append(said)
        while len(self._lines) > _REMEMBERED:
            del self._lines[next(iter(self._lines))]

    def part(self, said: Sequence[ReadLine]) -> tuple[list[ReportRow], list[ReadLine]]:
        """Return the lines that come too late, and those that are new; what was taken is in neither."""
        if not self._may_come_again:
            return [], [*said]
        last = max((n for n, (raw, one) in enumerate(said) if self._was_taken(raw, one)), default=-1)
        self._may_come_again = not any(isinstance(one, ReportRow) for _, one in said[last + 1 :])
        late = [one for raw, one in said[: last + 1] if isinstance(one, ReportRow) and not self._was_taken(raw, one)]
        return late, [(raw, one) for raw, one in said[last + 1 :]]

    def _was_taken(self, raw: bytes, said: ReportRow | Rejection | None) -> bool:
        if said is None:
            return False
        if raw in self._lines or isinstance(said, Rejection):
            return raw in self._lines
        return any(_tell_one_shot(row, said) for row in self._rows)


def _tell_one_shot(one: ReportRow, other: ReportRow) -> bool:
    """Say whether lines of two reports tell of one shot: a count alone may have begun anew."""
    if one.line.counter != other.line.counter or not _beside(one.moment, other.moment):
        return False
    both = one.line.values.keys() & other.line.values.keys()
    return bool(both) and all(one.line.values[name] == other.line.values[name] for name in both)


def _beside(one: datetime | None, other: datetime | None) -> bool:
    return one is None or other is None or abs((one - other).total_seconds()) <= _BESIDE_S
