"""One press, one thread: what comes is handed over, a lost line is tried again, nothing ends the thread but stop."""

import queue
import threading
from collections.abc import Callable
from datetime import UTC, datetime

import pytest

from shotlog.clock import HandClock
from shotlog.collectors.base import Reading
from shotlog.errors import PressRefused, PressUnreachable, RefusedForNow
from shotlog.recorder.press_loop import Batch, PressLoop
from shotlog.records import Fault, Gap, Link, Shot, Weighing

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)
SHOT = Shot("P25", 1, 1, NOW, {"cushion": 4.97})

Act = Callable[[], list[Shot | Gap | Fault]]


def give(*records: Shot | Gap | Fault) -> Act:
    return lambda: list(records)


def fail(error: Exception) -> Act:
    def act() -> list[Shot | Gap | Fault]:
        raise error

    return act


class Scripted:
    """A collector that does as told at each `open`, `poll` and `close`; the end of the polls sets `stop`."""

    def __init__(self, stop: threading.Event, opens: list[Act], polls: list[Act], closes: list[Act]) -> None:
        self.stop, self.opens, self.polls, self.closes = stop, opens, polls, closes

    def open(self) -> None:
        if self.opens:
            self.opens.pop(0)()

    def poll(self) -> list[Shot | Gap | Fault]:
        act = self.polls.pop(0)
        if not self.polls:
            self.stop.set()
        return act()

    def probe(self) -> list[Reading]:
        return []

    def close(self) -> list[Shot | Gap | Fault]:
        return self.closes.pop(0)() if self.closes else []


class WaitingClock(HandClock):
    """Notes how long was waited."""

    def __init__(self) -> None:
        super().__init__()
        self.waits: list[float] = []

    def wait(self, stop: threading.Event, seconds: float) -> bool:
        self.waits.append(seconds)
        return super().wait(stop, seconds)


def run(polls: list[Act], opens: list[Act] | None = None, closes: list[Act] | None = None) -> tuple[Batch, list[float]]:
    stop, clock = threading.Event(), WaitingClock()
    out: queue.Queue[Batch] = queue.Queue()
    collector = Scripted(stop, opens or [], polls, closes or [])
    PressLoop("P25", collector, 0.2, out, stop, clock).run()
    records: Batch = []
    while not out.empty():
        records += out.get()
    return records, clock.waits


def links(records: Batch) -> list[tuple[str, str]]:
    return [(record.state, record.detail) for record in records if isinstance(record, Link)]


UNREACHABLE = PressUnreachable("no connection to 127.0.0.1:502: refused")
REFUSED = PressRefused("illegal data address")


def test_what_was_held_back_comes_with_the_end() -> None:
    last = Fault("P25", NOW, "half line", "the connection ended within a line", b"12;")
    records, waits = run([give(SHOT), give()], closes=[give(last)])
    assert records[1:3] == [SHOT, last]
    assert links(records) == [("connected", "the press answers"), ("stopped", "logging ended")]
    assert waits == [0.2, 0.2]


def test_a_press_that_is_away_is_tried_again_with_growing_pauses() -> None:
    records, waits = run([give(SHOT)], opens=[fail(UNREACHABLE)] * 9)
    assert waits == [0.5, 1.0, 2.0, 4.0, 8.0, 16.0, 30.0, 30.0, 30.0, 0.2]
    assert links(records) == [
        ("lost", str(UNREACHABLE)),
        ("connected", "the press answers"),
        ("stopped", "logging ended"),
    ]
    assert SHOT in records


def test_the_pause_starts_small_again_after_an_answer() -> None:
    records, waits = run([give(), fail(UNREACHABLE), fail(UNREACHABLE), give(), fail(UNREACHABLE), give()])
    assert waits == [0.2, 0.5, 1.0, 0.2, 0.5, 0.2]
    assert [state for state, _ in links(records)] == ["connected", "lost", "connected", "lost", "connected", "stopped"]


def test_a_press_that_refuses_is_asked_seldom() -> None:
    records, waits = run([fail(REFUSED), give()])
    assert waits == [30.0, 0.2]
    assert links(records)[0] == ("lost", "illegal data address")


def test_a_press_that_refuses_what_it_answered_is_asked_again_soon_and_then_later_each_time() -> None:
    """A gateway that started anew refused its map once, and 30 s of shots were missed."""
    starting = fail(RefusedForNow("illegal data address, and answered it before"))
    records, waits = run([give(), *[starting] * 8, give(), starting, give()])
    assert waits == [0.2, 0.5, 1.0, 2.0, 4.0, 8.0, 16.0, 30.0, 30.0, 0.2, 0.5, 0.2]
    assert links(records)[1] == ("lost", "illegal data address, and answered it before")


def test_a_lost_press_that_comes_back_and_refuses_says_what_is_wrong_now() -> None:
    """Only the first reason was recorded: the screen said "no connection" while the press refused the address."""
    records, _ = run([fail(UNREACHABLE), fail(UNREACHABLE), fail(REFUSED), give()])
    assert [detail for state, detail in links(records) if state == "lost"] == [str(UNREACHABLE), str(REFUSED)]


def test_a_collector_that_fails_unexpectedly_is_a_fault_and_tried_again(caplog: pytest.LogCaptureFixture) -> None:
    records, waits = run([fail(ZeroDivisionError("on purpose")), give(SHOT)])
    assert "the collector failed" in caplog.text
    assert [record.kind for record in records if isinstance(record, Fault)] == ["internal"]
    assert SHOT in records
    assert waits == [30.0, 0.2]


def test_a_port_that_fails_to_close_is_opened_again(caplog: pytest.LogCaptureFixture) -> None:
    """The thread ended there, and the press was never logged again."""
    records, _ = run([fail(UNREACHABLE), give(SHOT)], closes=[fail(OSError("gone")), fail(OSError("gone"))])
    assert SHOT in records
    assert [state for state, _ in links(records)] == ["lost", "connected", "stopped"]
    assert [record.detail for record in records if isinstance(record, Fault)] == ["closing failed: OSError('gone')"] * 2
    assert "closing failed" in caplog.text


def test_a_press_whose_shots_nobody_took_for_a_while_says_that_its_line_was_not_read() -> None:
    """What a serial line sends meanwhile runs over its buffer: that it may be lost was not said."""
    stop, clock = threading.Event(), WaitingClock()

    class Slow(list[Shot | Gap | Fault | Link]):
        def put(self, batch: Batch) -> None:
            clock.advance(8.0 if SHOT in batch else 0.0)
            self.extend(record for record in batch if not isinstance(record, Weighing))

    out = Slow()
    PressLoop("P25", Scripted(stop, [], [give(SHOT), give()], []), 0.2, out, stop, clock).run()
    (fault,) = [record for record in out if isinstance(record, Fault)]
    assert fault.kind == "held up"
    assert fault.detail.startswith("nothing was read for 8 s: ")


class Halting(WaitingClock):
    """A clock of a process that is halted for 70 s in its second pause, or whose computer is suspended then."""

    def __init__(self, suspended: bool) -> None:
        super().__init__()
        self.is_suspended = suspended

    def wait(self, stop: threading.Event, seconds: float) -> bool:
        if len(self.waits) == 1:
            (self.sleep if self.is_suspended else self.advance)(70.0)
        return super().wait(stop, seconds)


@pytest.mark.parametrize("suspended", [False, True])
def test_while_the_process_is_halted_nobody_looks_and_that_is_on_record(suspended: bool) -> None:
    """42 shots were missed in 70 s, and no row of the record said that nobody had been looking."""
    stop, clock, out = threading.Event(), Halting(suspended), queue.Queue[Batch]()
    began = clock.now()
    polls = [give(), give(), give(Gap("P25", 3, 44, NOW, "the counter went on"), SHOT), give()]
    PressLoop("P25", Scripted(stop, [], polls, []), 0.2, out, stop, clock).run()
    found = [record for batch in out.queue for record in batch if isinstance(record, Link)]
    assert [(one.state, (one.time - began).total_seconds()) for one in found] == [
        ("connected", 0.0),
        ("stopped", 0.2),
        ("connected", 70.4),
        ("stopped", 70.8),
    ]
    assert found[1].detail == "the logger or its computer stood still"


def test_a_connection_that_broke_meanwhile_is_lost_since_the_press_was_last_seen() -> None:
    stop, clock, out = threading.Event(), Halting(False), queue.Queue[Batch]()
    began = clock.now()
    PressLoop("P25", Scripted(stop, [], [give(), give(), fail(UNREACHABLE), give()], []), 0.2, out, stop, clock).run()
    found = [record for batch in out.queue for record in batch if isinstance(record, Link)]
    assert [(one.state, (one.time - began).total_seconds()) for one in found][1] == ("lost", 0.2)


def test_what_the_first_answer_brings_came_with_the_connection() -> None:
    """Stamped a moment before it, such a shot was taken for the last one of the logging that had broken off."""
    stop, clock, out = threading.Event(), WaitingClock(), queue.Queue[Batch]()

    def answer() -> list[Shot | Gap | Fault]:
        clock.advance(0.01)
        return [Shot("P25", 332, 332, clock.now(), {})]

    PressLoop("P25", Scripted(stop, [], [answer], []), 0.2, out, stop, clock).run()
    connected, shot = out.get()[0], out.get()[0]
    assert isinstance(connected, Link)
    assert isinstance(shot, Shot)
    assert connected.time < shot.time
