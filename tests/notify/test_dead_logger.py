"""The messenger tells people that the logger is dead, and ends once they know."""

import os
import subprocess
import sys
import threading
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from types import SimpleNamespace

import pytest

from shotlog.cli import messages as beside
from shotlog.clock import HandClock, SystemClock
from shotlog.notify import __main__ as process
from shotlog.notify import messenger as room
from shotlog.notify.lifeline import FAREWELL, Lifeline
from shotlog.notify.messenger import Messenger
from shotlog.notify.own_log import OwnLog
from shotlog.notify.teller import Teller
from shotlog.store.asked.heartbeat import Beat, beat, this_host
from shotlog.store.asked.told import NOTED, told_rows
from tests.notify.told_shop import Receiver, Shop

PROCESS = 4711


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Shop]:
    made = Shop(tmp_path)
    yield made
    made.close()


def messenger(shop: Shop, clock: SystemClock | HandClock, receiver: Receiver, lifeline: Lifeline) -> Messenger:
    log = OwnLog(shop.settings.store, read_only=False)
    teller = Teller(log, shop.settings, clock, lambda _: receiver.send)
    return Messenger(shop.settings, clock, lifeline, None, teller, log, threading.Event(), PROCESS)


@pytest.mark.parametrize("farewell", [False, True])
def test_a_logger_that_was_killed_is_told_of_and_one_that_ends_is_not(shop: Shop, farewell: bool) -> None:
    ours, its = os.pipe()
    receiver, lifeline = Receiver(), Lifeline(ours)
    made = messenger(shop, SystemClock(), receiver, lifeline)
    made.turn()
    lifeline.start()
    os.write(its, FAREWELL if farewell else b"")
    os.close(its)
    assert lifeline.ended.wait(30.0)
    made.run()
    os.close(ours)
    told = [] if farewell else ["hall-2: the logger is dead"] * 2  # two receivers
    assert receiver.subjects == told
    assert [row.receiver for row in told_rows(shop.log)] == ([] if farewell else [NOTED, "json", "mailto"])


def test_a_logger_that_hangs_is_told_of_once_a_new_one_may_have_come(shop: Shop) -> None:
    clock = HandClock()
    beat(shop.log, Beat(9, clock.now(), clock.now(), clock.monotonic(), this_host(), PROCESS))
    made = messenger(shop, clock, Receiver(), Lifeline(0))
    for seconds in (1.0, 20.0, 5.0):
        clock.advance(seconds)
        made.turn()
    assert told_rows(shop.log) == []
    clock.advance(40.0)
    made.turn()
    rows = [row.said for row in told_rows(shop.log)]
    assert rows[0].startswith("hall-2: the logger is dead. Since 2026-01-05 06:00:00 +00:00: it hangs")
    beat(shop.log, Beat(10, clock.now(), clock.now(), clock.monotonic(), this_host(), PROCESS, {"P25": 40.0}))
    clock.advance(2.0)
    made.turn()
    beat(shop.log, Beat(11, clock.now(), clock.now(), clock.monotonic(), this_host(), PROCESS))
    clock.advance(6.0)
    made.turn()
    assert [row.phase for row in told_rows(shop.log) if row.receiver == NOTED] == ["begins", "ends"]
    made.finish()


def test_a_press_that_is_not_read_is_named(shop: Shop) -> None:
    clock = HandClock()
    made = messenger(shop, clock, Receiver(), Lifeline(0))
    clock.advance(60.0)
    beat(shop.log, Beat(9, clock.now(), clock.now(), clock.monotonic(), this_host(), PROCESS, {"P25": 40.0}))
    made.turn()
    (row,) = [one for one in told_rows(shop.log) if one.receiver == NOTED]
    assert row.said.startswith("hall-2: P25 not read. Since 2026-01-05 06:00:20 +00:00: what reads it hangs")
    assert row.time == clock.now() - timedelta(seconds=40)
    made.finish()


def test_the_process_of_the_logger_is_told_and_not_guessed(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    """Between the logger and what sends there may be another process, as a virtual environment's on Windows."""
    commands: list[list[str]] = []
    begun = threading.Event()
    got: list[object] = []

    def begin(command: list[str], **_: object) -> None:
        commands.append(command)
        begun.set()
        raise OSError("not begun")

    def note(*given: object) -> object:
        got.extend(given)
        return SimpleNamespace(run=lambda: None)

    monkeypatch.setattr(subprocess, "Popen", begin)
    monkeypatch.setattr(beside, "own_python", lambda *arguments: list(arguments))
    monkeypatch.setattr(room, "Messenger", note)
    with beside.messages(shop.settings):
        assert begun.wait(30.0)
    module, name, *arguments = commands[0]
    assert (module, name, arguments[-2:]) == ("-m", "shotlog.notify", ["--logger", str(os.getpid())])
    ours, its = os.pipe()
    os.close(its)
    monkeypatch.setattr(sys, "stdin", SimpleNamespace(fileno=lambda: ours))
    monkeypatch.setattr(process, "heed_signals", lambda _: None)
    assert process.main([*arguments[:-1], "77"]) == 0
    assert 77 in got
    os.close(ours)


def test_a_mistake_that_lasts_is_told_once(
    shop: Shop, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    clock = HandClock()
    made = messenger(shop, clock, Receiver(), Lifeline(0))

    def broken(*_: object) -> None:
        raise KeyError("a mistake of ours")

    monkeypatch.setattr(Teller, "look", broken)
    for _ in range(5):
        clock.advance(1.0)
        made.turn()
    (told,) = [one for one in caplog.records if "telling people failed" in one.message]
    assert told.exc_info is not None
