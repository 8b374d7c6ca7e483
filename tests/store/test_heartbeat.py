"""Whether the logger is at work, by its signs of life; clocks that are set make no difference."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from shotlog.clock import HandClock
from shotlog.store.asked.heartbeat import STALE_S, Beat, beat, heard, is_fresh
from shotlog.store.asked.logger_state import Listening
from shotlog.store.asked.presence import touch
from shotlog.store.log.log import Log

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)
SIGN = Beat(7, NOW, NOW - timedelta(hours=2), 7200.0, "here", 4711, {"P25": 130.5}, 3, waits_s={"P25": 61.5})


def test_a_sign_of_life_comes_back_as_it_was_written(log: Log) -> None:
    assert heard(log) is None
    beat(log, SIGN)
    beat(log, replace(SIGN, count=8))
    assert heard(log) == replace(SIGN, count=8)


@pytest.mark.parametrize("steps_h", [-5, 0, 5])
def test_on_its_own_computer_a_clock_that_is_set_makes_it_neither_old_nor_new(steps_h: int) -> None:
    later = NOW + timedelta(hours=steps_h)
    assert is_fresh(SIGN, later + timedelta(seconds=29), 7229.0, "here") is True
    assert is_fresh(SIGN, later + timedelta(seconds=31), 7231.0, "here") is False


def test_elsewhere_the_time_of_day_tells_unless_it_cannot_be_right() -> None:
    for host, monotonic_s in (("elsewhere", 9000.0), ("here", 12.0)):  # the second was started again
        assert is_fresh(SIGN, NOW + timedelta(seconds=STALE_S), monotonic_s, host) is True
        assert is_fresh(SIGN, NOW + timedelta(seconds=STALE_S + 1), monotonic_s, host) is None
        assert is_fresh(SIGN, NOW - timedelta(hours=1), monotonic_s, host) is None, (
            "of the future is not fresh for ever"
        )


@pytest.mark.either
def test_states(log: Log) -> None:
    clock = HandClock(NOW)
    listening = Listening(clock, "here")
    assert listening.look(log).state == "never"
    touch(log, "run", "2 presses", NOW)
    assert listening.look(log).state == "earlier release"
    for sign, state, failure in (
        (replace(SIGN, silent={}, monotonic_s=0.0), "running", False),
        (replace(SIGN, monotonic_s=0.0), "silent press", True),
        (replace(SIGN, monotonic_s=0.0, ended=True), "ended", False),
    ):
        beat(log, sign)
        found = listening.look(log)
        assert (found.state, found.is_failure, found.seen) == (state, failure, NOW)
    clock.advance(3600)
    assert listening.look(log).state == "ended", "an end that was said is no failure, however long ago"
    beat(log, replace(SIGN, silent={}, monotonic_s=0.0))
    assert listening.look(log).state == "stale"
    assert clock.monotonic() == 3600.0, "nothing was waited for"


class Elsewhere(HandClock):
    """A computer whose clock is an hour ahead; the logger gives a sign of life every 5 s until it dies."""

    def __init__(self, log: Log, lives: bool) -> None:
        super().__init__(NOW + timedelta(hours=1))
        self._log, self._lives, self._count = log, lives, 0
        self._beat()

    def advance(self, seconds: float) -> None:
        super().advance(seconds)
        if self._lives and self.monotonic() // 5 > self._count:
            self._beat()

    def _beat(self) -> None:
        self._count = int(self.monotonic() // 5)
        time = self.now() - timedelta(hours=1)
        beat(self._log, Beat(self._count, time, NOW, 7200.0 + self.monotonic(), "there", 1))


@pytest.mark.parametrize(("lives", "state"), [(True, "running"), (False, "stale")])
def test_where_only_another_sign_can_tell_it_is_waited_for(log: Log, lives: bool, state: str) -> None:
    clock = Elsewhere(log, lives)
    assert Listening(clock, "here").look_well(log).state == state
    assert clock.monotonic() <= 12.0


def test_who_asks_again_and_again_hears_it_move_and_stop(log: Log) -> None:
    clock = Elsewhere(log, True)
    listening = Listening(clock, "here")
    assert listening.look(log).state == "stale", "not known yet"
    clock.advance(10.0)
    assert listening.look(log).state == "running"
    clock._lives = False
    clock.advance(STALE_S + 1.0)
    assert listening.look(log).state == "stale"
