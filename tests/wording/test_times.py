"""Times as people read them: with the date where it is another day, the year where it is another year."""

import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest

from shotlog.wording.times import at_time, clock_time, zone_named

NOW = datetime(2026, 3, 2, 15, 4, 5, tzinfo=UTC)


@pytest.fixture(autouse=True)
def somewhere(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Be where it is an hour later than UTC in winter."""
    with monkeypatch.context() as there:
        there.setenv("TZ", "CET-1")
        time.tzset()
        yield
    time.tzset()


def test_a_time_of_another_day_has_its_date() -> None:
    """The connection was "lost since 16:04" for three days."""
    assert at_time(NOW, NOW) == "16:04"
    assert at_time(NOW, NOW, seconds=True) == "16:04:05"
    assert at_time(NOW - timedelta(days=3), NOW, seconds=True) == "27 Feb 16:04:05"
    assert at_time(NOW - timedelta(days=300), NOW) == "06 May 2025 16:04"


def test_a_whole_time_carries_its_zone() -> None:
    assert clock_time(NOW) == "2026-03-02 16:04:05 +01:00"
    assert clock_time(None) == ""
    assert zone_named(NOW) == "UTC+01:00"
