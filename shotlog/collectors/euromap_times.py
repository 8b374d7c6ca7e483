"""When shots were made that are read late, by the clock of a press that gives local time without a zone. Pure.

A line read at once bears our own time, and shows by how much the press's clock is away from it, whatever its zone, its
summer time and however wrong it is set. A line read late bears the press's time moved by as much, and never lies before
the shot ahead of it or in the future. Where no line was read at once yet, the press is taken to have the zone of this
computer.
"""

from collections import deque
from datetime import UTC, datetime, timedelta
from statistics import median

__all__ = ["PressClock"]

_STEPPED_S = 60.0
"""By so much more than before, the press's clock was set, or its summer time began or ended (own)."""
_STEADY = 3
"""Differences that agree, before one that does not is a clock that was set; a clock that runs away is never told."""
_AWAY_S = 90.0


class PressClock:
    """By how much the clock of one press is away. State: the last differences seen."""

    def __init__(self) -> None:
        self._away: deque[float] = deque(maxlen=9)

    @property
    def is_known(self) -> bool:
        """Whether a line was read at once yet."""
        return bool(self._away)

    def seen(self, press: datetime, ours: datetime) -> float | None:
        """Take what the press's clock showed at a time of ours; return by how many seconds it was set, if it was."""
        away_s = (ours - press.replace(tzinfo=UTC)).total_seconds()
        usual = median(self._away) if self._away else away_s
        stepped, was_steady = abs(away_s - usual) > _STEPPED_S, len(self._away) >= _STEADY
        if stepped:
            self._away.clear()
        self._away.append(away_s)
        return usual - away_s if stepped and was_steady else None

    def time_of(self, press: datetime, earliest: datetime | None, latest: datetime) -> tuple[datetime, bool]:
        """Return a time of the press in UTC, between two times of ours, and whether it lay far outside of them."""
        try:
            if self._away:
                moved = press.replace(tzinfo=UTC) + timedelta(seconds=median(self._away))
            else:
                moved = press.astimezone(UTC)
        except (OSError, OverflowError, ValueError):  # of a year that no calendar has
            return latest, True
        held = min(max(moved, earliest) if earliest is not None else moved, latest)
        return held, abs((held - moved).total_seconds()) > _AWAY_S
