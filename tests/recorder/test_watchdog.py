"""A supervisor hears that all goes on only while it does; a process that does not store any more is ended."""

from collections.abc import Mapping

import pytest

from shotlog.recorder.hearts import Heart
from shotlog.recorder.supervisor import Supervisor
from shotlog.recorder.watchdog import STORING_HANGS_S, STORING_STILL_S, Watchdog, Watched


class Noting(Supervisor):
    """A supervisor that wants a sign of life every 8 s, and keeps what it is told."""

    def __init__(self) -> None:
        super().__init__("@nobody", 8.0)
        self.told: list[str] = []

    def _tell(self, *lines: str) -> None:
        self.told += lines


class Bench:
    """A watchdog whose time is moved by hand, looks every 2 s, and everything it looks at."""

    def __init__(self) -> None:
        self.supervisor, self.heart = Noting(), Heart("storing")
        self.reading, self.ended = True, list[str]()
        self.silent: Mapping[str, float] = {}
        self.now = 0.0
        self.dog = Watchdog(
            Watched(self.supervisor, self.ended.append), self.heart, lambda: self.reading, lambda: self.silent
        )

    def go(self, seconds: float, storing: bool = True) -> list[str]:
        """Look until `seconds` have gone by; return what the supervisor was told."""
        self.supervisor.told.clear()
        for _ in range(int(seconds / 2.0)):
            self.now += 2.0
            if storing:
                self.heart.beat()
            self.dog.look(self.now)
        return [line for line in self.supervisor.told if not line.startswith("STATUS=presses")]


def test_it_is_ready_when_the_first_press_is_asked_and_not_before() -> None:
    bench = Bench()
    bench.reading = False
    assert bench.go(10.0) == []
    bench.reading = True
    assert bench.go(4.0) == ["READY=1", "WATCHDOG=1", "WATCHDOG=1"]


def test_a_press_that_is_not_read_is_said_and_ends_nothing_while_another_one_is() -> None:
    """Its adapter hangs at the next start as well: that ended every two minutes what read the others."""
    bench = Bench()
    bench.go(4.0)
    bench.silent = {"P25": 150.0}
    assert bench.go(4.0) == ["WATCHDOG=1", "STATUS=NOT READ: P25"] * 2
    bench.silent = {}
    assert bench.go(2.0) == ["WATCHDOG=1"]


def test_no_sign_of_life_is_given_where_nothing_is_read() -> None:
    bench = Bench()
    bench.go(4.0)
    bench.silent, bench.reading = {"P25": 150.0, "P32": 125.0}, False
    assert bench.go(4.0) == ["STATUS=NOT READ: P25, P32"] * 2
    bench.silent, bench.reading = {"P25": 160.0}, True
    assert bench.go(2.0) == ["WATCHDOG=1", "STATUS=NOT READ: P25"]


def test_storing_that_stands_still_is_told_first_and_ends_the_process_after_its_limit(
    caplog: pytest.LogCaptureFixture,
) -> None:
    bench = Bench()
    bench.go(4.0)
    bench.heart.beat("judging P25")
    told = bench.go(STORING_STILL_S + 6.0, storing=False)
    assert told[-1].startswith("STATUS=judging P25 has stood still for 6")
    assert "WATCHDOG=1" not in told[-1:]
    assert caplog.text.count("judging P25 has stood still") == 1, "said once, not at every look"
    assert bench.ended == []
    told = bench.go(STORING_HANGS_S - STORING_STILL_S + 2.0, storing=False)
    assert "WATCHDOG=1" not in told
    assert bench.ended[0].startswith("judging P25 has stood still for 12")


def test_storing_that_comes_back_is_well_again() -> None:
    bench = Bench()
    bench.go(STORING_STILL_S + 10.0, storing=False)
    assert bench.go(2.0) == ["WATCHDOG=1"]
    assert bench.ended == []


def test_a_computer_that_was_suspended_ends_nothing() -> None:
    bench = Bench()
    bench.go(4.0)
    bench.now += 7200.0
    bench.dog.look(bench.now)
    assert bench.ended == []
    assert "WATCHDOG=1" in bench.go(2.0)


def test_without_anybody_who_wants_it_no_thread_is_begun() -> None:
    assert not Watched().is_wanted
    dog = Watchdog(Watched(), Heart("storing"), lambda: True, dict)
    dog.start()
    dog.finish()
