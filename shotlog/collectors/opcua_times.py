"""When a cycle was made, by this computer's clock: the press's own is mostly wrong, and only its differences are used.

An event that comes at once is stamped by when it came. Events that come in a burst, after the line stood, are spread
over the time nobody heard of the press, as their own times say: the least that the press's clock was seen to differ by
is the difference of the clocks, and the rest is how long an event was under way. A time found like that is never after
the event came, and never before the press was last heard of.
"""

from collections import deque
from datetime import datetime, timedelta

__all__ = ["EventTimes"]

_KEPT = 50
_OFF_S = 60.0
"""A clock that is off by more is said."""


class EventTimes:
    """State: by how much the last events' own times differed from when they came, and what was said of it."""

    def __init__(self) -> None:
        self._differences: deque[timedelta] = deque(maxlen=_KEPT)
        self._told_s: float | None = None
        self._last: datetime | None = None

    def made_at(self, said: datetime | None, came: datetime, heard: datetime | None) -> datetime:
        """Return when a cycle was made.

        Parameters
        ----------
        said
            The event's own time; None where it has none.
        came
            When it was taken from the line.
        heard
            When the press was last heard of before; None where it was not.
        """
        if said is None:
            return came
        self._differences.append(came - said)
        earliest = came if heard is None else heard
        if self._last is not None and self._last > earliest:
            earliest = self._last
        made = max(min(said + min(self._differences), came), min(earliest, came))
        self._last = made
        return made

    def off_said(self) -> str:
        """Say, once and again where it changed, that the press's clock is off; empty where there is nothing new."""
        if not self._differences:
            return ""
        off_s = -self._differences[-1].total_seconds()
        if abs(off_s) <= _OFF_S:
            self._told_s = None
            return ""
        if self._told_s is not None and abs(off_s - self._told_s) <= _OFF_S:
            return ""
        self._told_s = off_s
        way = "ahead of" if off_s > 0 else "behind"
        return (
            f"the press's clock is {_span(abs(off_s))} {way} this computer's: shots bear this computer's time, "
            "and the press's own stands in what came"
        )


def _span(seconds: float) -> str:
    minutes = round(seconds / 60.0)
    days, rest = divmod(minutes, 24 * 60)
    if days:
        return f"{days:,} days" if days > 1 else "1 day"
    return f"{rest // 60} h {rest % 60} min" if rest >= 60 else f"{rest} min"
