"""Shots that wait for the compiler are logged at once, and said to wait."""

import threading
from datetime import UTC, datetime

import pytest

from shotlog.clock import HandClock
from shotlog.recorder.getting_ready import GettingReady
from shotlog.records import Shot

SHOT = Shot("P25", 1, 1, datetime(2026, 1, 5, 6, 0, tzinfo=UTC), {})


def test_shots_that_wait_are_said_to_and_then_no_more(caplog: pytest.LogCaptureFixture) -> None:
    compiled, clock = threading.Event(), HandClock()
    ready = GettingReady(lambda: bool(compiled.wait(60)) and None, clock)
    ready.start()
    ready.note([SHOT])
    assert not ready.is_ready
    assert caplog.text == "", "a second is not worth a word"
    clock.advance(3.0)
    ready.note([SHOT])
    ready.note([SHOT])
    assert (ready.n_waiting, ready.for_s) == (3, 3.0)
    compiled.set()
    ready.join()
    assert ready.is_ready
    assert (ready.n_waiting, ready.for_s) == (0, None)
    for _ in range(2):
        ready.note([])
    assert [record.getMessage() for record in caplog.records] == [
        "judging gets ready; 2 shots are logged and wait to be judged",
        "judging is ready; the 3 shots that waited are judged now",
    ]


def test_where_it_is_ready_soon_nothing_is_said(caplog: pytest.LogCaptureFixture) -> None:
    ready = GettingReady(None, HandClock())
    ready.start()
    ready.join()
    ready.note([SHOT])
    assert (ready.n_waiting, caplog.text) == (0, "")


def test_the_first_answers_of_the_presses_go_before() -> None:
    order: list[object] = []
    answered = threading.Event()
    answered.wait = lambda timeout=None: bool(order.append(timeout))  # type: ignore[method-assign]
    ready = GettingReady(lambda: order.append("prepared"), HandClock(), answered)
    ready.start()
    ready.join()
    assert order == [2.0, "prepared"]
