"""Time, handed in: the system's clock at the press, a hand-driven one in tests."""

import threading
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Protocol

__all__ = ["Clock", "HandClock", "SystemClock", "iso_utc", "parse_utc"]


class Clock(Protocol):
    """What the rest of the program may ask of time."""

    def now(self) -> datetime:
        """Return the time of day, aware, in UTC."""

    def monotonic(self) -> float:
        """Return seconds on a scale that never steps back."""

    def suspended(self) -> float:
        """Return for how many seconds the computer slept that `monotonic` left out; a growing number, or 0."""

    def wait(self, stop: threading.Event, seconds: float) -> bool:
        """Wait up to `seconds`; return True at once when `stop` is set."""


def _wall() -> datetime:
    return datetime.now(UTC)


def _suspended() -> float:
    """Return what the clock that counts a sleep has over the one that does not; 0 on a system without the two."""
    if hasattr(time, "CLOCK_BOOTTIME"):
        return time.clock_gettime(time.CLOCK_BOOTTIME) - time.monotonic()
    if hasattr(time, "CLOCK_UPTIME_RAW"):
        return time.clock_gettime(time.CLOCK_MONOTONIC) - time.monotonic()
    return 0.0


class SystemClock:
    """The computer's clock. Who must see it step hands in `wall`, or `suspended`."""

    def __init__(
        self, wall: Callable[[], datetime] | None = None, suspended: Callable[[], float] | None = None
    ) -> None:
        self._wall, self._suspended = wall or _wall, suspended or _suspended

    def now(self) -> datetime:
        return self._wall()

    def monotonic(self) -> float:
        return time.monotonic()

    def suspended(self) -> float:
        return self._suspended()

    def wait(self, stop: threading.Event, seconds: float) -> bool:
        return stop.wait(seconds)


class HandClock:
    """A clock that moves only when told to, or when somebody waits on it."""

    def __init__(self, start: datetime = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)) -> None:
        self._now = start
        self._monotonic = 0.0
        self._slept = 0.0

    def now(self) -> datetime:
        return self._now

    def monotonic(self) -> float:
        return self._monotonic

    def suspended(self) -> float:
        return self._slept

    def wait(self, stop: threading.Event, seconds: float) -> bool:
        self.advance(seconds)
        return stop.is_set()

    def advance(self, seconds: float) -> None:
        """Move time on by `seconds`."""
        self._now += timedelta(seconds=seconds)
        self._monotonic += seconds

    def set_by(self, seconds: float) -> None:
        """Set the wall clock, forward where positive: no time goes by."""
        self._now += timedelta(seconds=seconds)

    def sleep(self, seconds: float) -> None:
        """Let the computer be suspended: time goes by that `monotonic` leaves out."""
        self._now += timedelta(seconds=seconds)
        self._slept += seconds


def iso_utc(moment: datetime) -> str:
    """Write a time as ISO 8601 in UTC with microseconds, e.g. ``2026-01-05T06:00:00.000000Z`` (sorts as text)."""
    # not strftime, which writes the year 26 as 26
    return f"{moment.astimezone(UTC).replace(tzinfo=None).isoformat(timespec='microseconds')}Z"


def parse_utc(text: str) -> datetime:
    """Read an ISO 8601 time; one without an offset is taken as UTC.

    Raises
    ------
    ValueError
        The text is not an ISO 8601 date and time, or lies outside the years 1 to 9999 in UTC.
    """
    moment = datetime.fromisoformat(text)
    try:
        return moment.replace(tzinfo=UTC) if moment.tzinfo is None else moment.astimezone(UTC)
    except OverflowError as error:
        raise ValueError(f"{text} is outside the calendar") from error
