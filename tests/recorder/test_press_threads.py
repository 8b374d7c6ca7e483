"""A thread that hangs in a driver: named since when, replaced by another one, and what it brings late not taken."""

import threading
from collections.abc import Callable, Iterator

import pytest

from shotlog.clock import HandClock
from shotlog.collectors.base import Reading
from shotlog.recorder.inbox import Inbox
from shotlog.recorder.press_loop import PressLoop
from shotlog.recorder.press_threads import PressThreads
from shotlog.records import Fault, Gap, Link, Shot

Records = list[Shot | Gap | Fault]


class Driver:
    """Hangs at its first poll until it is let go, then brings a shot; one that does not `hang` brings one a poll."""

    def __init__(self, clock: HandClock, hang: bool) -> None:
        self._clock, self._hang = clock, hang
        self.asked, self.let_go, self.closed = threading.Event(), threading.Event(), threading.Event()
        self.connects = True
        self.n = 0

    def open(self) -> None:
        if not self.connects:
            raise OSError("held by the other one")

    def poll(self) -> Records:
        self.asked.set()
        if self._hang:
            assert self.let_go.wait(60)
        self.n += 1
        return [Shot("P25", self.n, self.n, self._clock.now(), {"cushion": 4.97})]

    def probe(self) -> list[Reading]:
        return []

    def close(self) -> Records:
        self.closed.set()
        return []


class Bench:
    """Threads of one press, whose drivers are made in turn, looked at by hand; `steady` is the time by which they hang.

    A turn of a thread takes no time of its own: it waits between two polls until `turn` is set.
    """

    def __init__(self, *hang: bool) -> None:
        self.stop, self.steady = threading.Event(), 0.0
        self.clock = HandClock()
        self.inbox = Inbox(["P25", "P32"])
        self.drivers = [Driver(self.clock, one) for one in hang]
        self.begun: list[PressLoop] = []
        self.threads = PressThreads(self._make, self.stop, self.clock, lambda: self.steady)

    def _make(self, press: str) -> PressLoop:
        driver = self.drivers[len(self.begun)]
        self.begun.append(PressLoop(press, driver, 1.0, self.inbox.slot(press), self.stop, self.clock))
        return self.begun[-1]

    def pass_by(self, seconds: float, waiting: Callable[[str], bool] = lambda _: False) -> Records:
        found: Records = []
        for _ in range(int(seconds / 5.0)):
            self.steady += 5.0
            found += self.threads.look(waiting)  # type: ignore[arg-type]
        return found

    def taken(self) -> Records:
        return [record for batch in self.inbox.turn(0.0) for record in batch if isinstance(record, Shot)]


@pytest.fixture
def bench(request: pytest.FixtureRequest) -> Iterator[Bench]:
    made = Bench(*request.param)
    yield made
    made.stop.set()
    for driver in made.drivers:
        driver.let_go.set()
    made.inbox.close()
    for loop in made.begun:
        loop.join(60)


@pytest.mark.parametrize("bench", [(True, True)], indirect=True)
def test_a_thread_that_hangs_is_named_and_replaced_and_what_it_brings_late_is_not_taken(
    bench: Bench, caplog: pytest.LogCaptureFixture
) -> None:
    first, second = bench.drivers
    bench.threads.start(["P25"])
    assert first.asked.wait(60)
    assert bench.threads.are_reading
    assert bench.pass_by(120.0) == []
    assert bench.threads.silent() == {}, "a pause or a slow answer is none"
    link, fault = bench.pass_by(10.0)
    said = "the thread that reads the press stood still for 125 s; another one takes its place"
    assert isinstance(link, Link)
    assert (link.state, link.detail) == ("lost", said)
    assert (bench.clock.now() - link.time).total_seconds() == 125.0, "since when, not when it was noticed"
    assert isinstance(fault, Fault)
    assert (fault.kind, fault.detail) == ("internal", said)
    assert second.asked.wait(60)
    first.let_go.set()
    bench.begun[0].join(60)
    assert first.closed.is_set(), "its port is let go"
    assert bench.taken() == []
    assert caplog.text.count("a thread that stood still came back; another one reads the press") == 1


@pytest.mark.parametrize("bench", [(True, False)], indirect=True)
def test_a_press_whose_port_the_old_thread_holds_is_not_read_until_it_lets_go(bench: Bench) -> None:
    first, second = bench.drivers
    second.connects = False
    bench.threads.start(["P25"])
    assert first.asked.wait(60)
    bench.pass_by(130.0)
    assert len(bench.begun) == 2
    bench.pass_by(60.0)
    assert bench.threads.silent() == {"P25": 185.0}
    assert not bench.threads.are_reading, "there is no other"
    first.let_go.set()
    bench.begun[0].join(60)
    bench.pass_by(5.0)
    assert bench.threads.silent() == {}, "from now on it is a press that does not answer, as others are"
    assert bench.threads.are_reading


@pytest.mark.parametrize("bench", [(True,) * 8], indirect=True)
def test_one_press_that_is_not_read_leaves_the_other_one_read(bench: Bench) -> None:
    bench.threads.start(["P25", "P32"])
    assert all(driver.asked.wait(60) for driver in bench.drivers[:2])
    for _ in range(30):
        bench.begun[1].turns += 1  # P32 goes round
        bench.pass_by(5.0)
    assert bench.threads.silent().keys() == {"P25"}
    assert bench.threads.are_reading
    bench.pass_by(130.0)
    assert bench.threads.silent().keys() == {"P25", "P32"}
    assert not bench.threads.are_reading


@pytest.mark.parametrize("bench", [(True, False)], indirect=True)
def test_nothing_new_is_begun_while_what_the_press_brought_is_not_stored(bench: Bench) -> None:
    bench.threads.start(["P25"])
    assert bench.drivers[0].asked.wait(60)
    assert bench.pass_by(200.0, lambda _: True) == []
    assert len(bench.begun) == 1
    assert bench.threads.silent() == {"P25": 195.0}, "named all the same"


@pytest.mark.parametrize("bench", [(True, True, True, True, True)], indirect=True)
def test_one_that_always_hangs_is_replaced_three_times_and_then_named_only(bench: Bench) -> None:
    bench.threads.start(["P25"])
    for n in range(4):
        assert bench.drivers[n].asked.wait(60)
        bench.pass_by(130.0)
    bench.pass_by(200.0)
    assert len(bench.begun) == 4
    assert bench.threads.silent() == {"P25": 715.0}


@pytest.mark.parametrize("bench", [(False,)], indirect=True)
def test_a_thread_that_waits_for_the_log_is_not_one_that_hangs(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    waits, goes_on = threading.Event(), threading.Event()

    def full(_press: str, _batch: object) -> bool:
        waits.set()
        return goes_on.wait(60)

    monkeypatch.setattr(bench.inbox, "put", full)
    bench.threads.start(["P25"])
    assert waits.wait(60)
    assert bench.pass_by(300.0) == []
    assert len(bench.begun) == 1
    bench.stop.set()
    goes_on.set()
