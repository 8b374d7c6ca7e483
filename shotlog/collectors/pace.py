"""How many shots a press can have made while nobody watched its counter: the time over what a shot usually takes.

Time is that of the clock that never steps; only over a restart of the logger there is no other than the wall clock.
"""

from collections import deque
from collections.abc import Sequence
from statistics import median

from shotlog.clock import Clock
from shotlog.collectors.base import Resume
from shotlog.records import Gap, Shot

__all__ = ["Pace"]

_KEPT = 20
_ENOUGH = 3
"""Intervals from which a usual one is taken; before, the press's own word for its cycle time counts."""


class Pace:
    """State: the last intervals between shots that followed one another, and when the counter was last seen."""

    def __init__(self, clock: Clock, resume: Resume | None) -> None:
        self._clock, self._resume = clock, resume
        self._intervals: deque[float] = deque(maxlen=_KEPT)
        self._said_s = None if resume is None else resume.values.get("cycle_time")
        self._shot_at: float | None = None
        self._seen_at: float | None = None

    def took(self, records: Sequence[object], watched: bool) -> None:
        """Take what a look at the press brought; `watched`: what the counter shows is known up to now."""
        now = self._clock.monotonic()
        if watched:
            self._seen_at = now
        if not records:
            return
        shots = [record for record in records if isinstance(record, Shot)]
        if len(shots) == 1 and self._shot_at is not None and not any(isinstance(one, Gap) for one in records):
            self._intervals.append(now - self._shot_at)
        if shots:
            self._shot_at, self._said_s = now, shots[-1].values.get("cycle_time", self._said_s)

    @property
    def cycle_s(self) -> float | None:
        """What a shot usually takes, in seconds; None where nothing tells."""
        if len(self._intervals) >= _ENOUGH:
            return median(self._intervals) or None
        if self._resume is not None and self._resume.cycle_s:
            return self._resume.cycle_s
        return self._said_s

    def expected(self) -> float | None:
        """Return how many shots fit in the time since the counter was last seen; None where that is not known."""
        cycle_s, away_s = self.cycle_s, self._away_s()
        return None if cycle_s is None or away_s is None or cycle_s <= 0.0 else away_s / cycle_s

    def _away_s(self) -> float | None:
        if self._seen_at is not None:
            return self._clock.monotonic() - self._seen_at
        if self._resume is None or self._resume.time is None:
            return None
        away_s = (self._clock.now() - self._resume.time).total_seconds()
        return away_s if away_s >= 0.0 else None  # the clock was set back meanwhile
