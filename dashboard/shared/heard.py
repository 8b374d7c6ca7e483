"""Whether an edge is heard at the centre, which has only copies: of its logger it knows what came last.

The clocks of edge and centre may differ by hours. So a sign of life of the logger counts by when it came to be another
one here, and not by the time that it says.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta

from shotlog.clock import Clock
from shotlog.store.centre.edges import UNHEARD_S

__all__ = ["UNHEARD_S", "Heard", "Unheard"]

_MOVES_S = 45.0
"""Within so many seconds another sign of life of the logger has come here; one is given every 5 s (own)."""
_LIKELY_S = 600.0
"""A sign of life that is no older than that when it is met first is taken for a new one, until none follows (own)."""


@dataclass(frozen=True, slots=True)
class Unheard:
    """An edge that is not heard, and when it was heard last, by the clock of the centre."""

    edge: str
    since: datetime


class Heard:
    """Tells of one edge; `last` gives when it was heard last and how many seconds ago that was, by the centre."""

    def __init__(self, edge: str, last: Callable[[], tuple[datetime, float]], clock: Clock) -> None:
        self.edge, self._last, self._clock = edge, last, clock
        self._beat: datetime | None = None
        self._moved_s = 0.0

    def unheard(self) -> Unheard | None:
        """Return that the edge is not heard, None where it is."""
        since, silent_s = self._last()
        return Unheard(self.edge, since) if silent_s > UNHEARD_S else None

    def logger_seen(self, beat: datetime | None, now: datetime) -> datetime | None:
        """Return when the logger of the edge was seen, by the clock of whoever asks; `beat`: its last sign of life."""
        if beat is None:
            return None
        if beat != self._beat:
            first = self._beat is None
            self._beat, self._moved_s = beat, self._clock.monotonic()
            if first and abs((now - beat).total_seconds()) > _LIKELY_S:
                self._moved_s -= _MOVES_S + 1.0
        if self._clock.monotonic() - self._moved_s <= _MOVES_S:
            return now
        return beat if beat < now else now - timedelta(seconds=_MOVES_S)
