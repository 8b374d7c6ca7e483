"""What is sent to a broker, and how far: in order, from the log, never ahead of what the broker acknowledged."""

import json
import shutil
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from shotlog.clock import HandClock
from shotlog.errors import StoreFull
from shotlog.notify.mqtt_line import ROOM, Will
from shotlog.notify.online import Online, end_of, online_of
from shotlog.notify.own_log import OwnLog
from shotlog.notify.sender import RECEIVER, Sender
from shotlog.recorder.judge import Judge
from shotlog.records import Link, Start
from shotlog.store.asked.cursors import broker_stands, cursor
from shotlog.store.asked.heartbeat import Beat
from shotlog.store.asked.log_place import Place, newest_place
from shotlog.store.asked.logger_state import LoggerState
from shotlog.store.inserts.entries import mount
from shotlog.store.log.log import Log
from tests.made_shots import START, moulded, shot, shots
from tests.notify.schema_of_messages import check

PROCESS = 4711


class FakeBroker:
    """What all lines of a test lead to: acknowledges at once, or when told to."""

    def __init__(self) -> None:
        self.is_up, self.answers, self.knows_us = True, True, True
        self.taken: list[tuple[str, dict[str, Any], bool]] = []
        self.wills: dict[str, bytes] = {}
        self.waiting: list[list[bool]] = []
        self.cleanly: list[bool] = []
        self.most_waiting = 0

    def answer(self) -> None:
        for one in self.waiting:
            one[0] = True
        self.waiting.clear()

    def of(self, end: str) -> list[Any]:
        return [one.get("shot", one.get("state")) for topic, one, _ in self.taken if topic.endswith(f"/{end}")]


class FakeLine:
    def __init__(self, broker: FakeBroker, will: Will) -> None:
        self._broker, self._was_up = broker, False
        self._sent: list[list[bool]] = []
        broker.wills[will[0]] = will[1]

    def start(self) -> None:
        pass

    def came_up(self) -> bool | None:
        is_new = self._broker.is_up and not self._was_up
        self._was_up = self._broker.is_up
        return self._broker.knows_us if is_new else None

    @property
    def has_room(self) -> bool:
        return self._broker.is_up and self._n_waiting < ROOM

    @property
    def is_idle(self) -> bool:
        return self._broker.is_up and not self._n_waiting

    @property
    def _n_waiting(self) -> int:
        return sum(not one[0] for one in self._sent)

    @property
    def trouble(self) -> str:
        return "" if self._broker.is_up else "Connection refused"

    def send(self, topic: str, payload: bytes, retain: bool) -> Callable[[], bool]:
        assert self._broker.is_up
        document = json.loads(payload)
        check(document)
        self._broker.taken.append((topic, document, retain))
        done = [self._broker.answers]
        self._sent.append(done)
        if not done[0]:
            self._broker.waiting.append(done)
        self._broker.most_waiting = max(self._broker.most_waiting, self._n_waiting)
        return lambda: done[0]

    def end(self, cleanly: bool) -> None:
        self._broker.cleanly.append(cleanly)


@pytest.fixture
def broker() -> FakeBroker:
    return FakeBroker()


@pytest.fixture
def clock() -> HandClock:
    return HandClock(moulded(0))


def sender_of(log: Log, broker: FakeBroker, clock: HandClock, *presses: str) -> Sender:
    own = OwnLog(log.url, read_only=False)
    names = presses or ("P25",)
    made = Sender("mqtt://b:1883", "hall-2", names, {}, own, lambda _, will: FakeLine(broker, will), clock, PROCESS)
    for press in (*names, None):
        made.say(Online(press, "at work", START))
    return made


def go_on(sender: Sender, clock: HandClock, n: int = 8) -> None:
    for _ in range(n):
        while sender.turn():
            pass
        clock.advance(2.0)


def judged(log: Log) -> None:
    Judge(log, "P25", {}, HandClock()).catch_up()


@pytest.fixture
def started(log: Log) -> Log:
    """A log with an hour of history, and a logger that has just been started on it."""
    mount(log, "P25", "R2-07", START, half="moving", design="cap-r2")
    log.append([Link("P25", START, "connected", "127.0.0.1"), *shots(1, 3)])
    judged(log)
    log.append([Start(moulded(4), "0.2.0", "", "", "", "{}", "host", str(PROCESS))])
    return log


@pytest.mark.either
def test_a_broker_never_met_is_sent_what_comes_from_this_start_on_and_how_it_stands(
    started: Log, broker: FakeBroker, clock: HandClock
) -> None:
    broker.knows_us = False
    started.append([shot(4)])  # before the sender was there
    sender = sender_of(started, broker, clock)
    go_on(sender, clock)
    assert broker.of("shot") == [4]
    assert broker.of("verdict") == [3], "as it stands: no verdict on shot 4 is there yet"
    assert broker.of("link") == ["connected"]
    judged(started)
    go_on(sender, clock)
    assert broker.of("verdict") == [3, 4]
    retained = {topic.rpartition("/")[2] for topic, _, kept in broker.taken if kept}
    assert retained == {"online", "link", "verdict"}
    assert {topic for topic, _, _ in broker.taken} == {
        "shotlog/hall-2/online", *(f"shotlog/hall-2/P25/{what}" for what in ("online", "link", "shot", "verdict")),
    }  # fmt: skip
    assert json.loads(broker.wills["shotlog/hall-2/P25/online"])["state"] == "gone"
    assert broker_stands(started) == (clock.now() - timedelta(seconds=32), "")


def test_the_cursor_moves_only_behind_what_was_acknowledged(started: Log, broker: FakeBroker, clock: HandClock) -> None:
    sender = sender_of(started, broker, clock)
    go_on(sender, clock)
    before = cursor(started, RECEIVER)
    broker.answers = False
    started.append(shots(4, 6))
    go_on(sender, clock)
    assert broker.of("shot") == [4, 5, 6]
    assert cursor(started, RECEIVER) == before
    # killed here: whoever comes next begins where the broker stands
    broker.taken.clear()
    broker.answers = True
    go_on(sender_of(started, broker, clock), clock)
    assert broker.of("shot") == [4, 5, 6]
    with started.reading() as connection:
        assert cursor(started, RECEIVER) == newest_place(connection)
    broker.taken.clear()
    go_on(sender_of(started, broker, clock), clock)
    assert broker.of("shot") == [], "nothing twice"


def test_a_broker_that_takes_all_and_answers_nothing_costs_a_few_messages(
    started: Log, broker: FakeBroker, clock: HandClock
) -> None:
    broker.answers = False
    sender = sender_of(started, broker, clock)
    sender.turn()
    broker.answer()
    started.append(shots(4, 300))
    go_on(sender, clock, 50)
    assert broker.most_waiting == ROOM
    assert broker.of("shot") == list(range(4, 4 + ROOM))
    while broker.waiting:
        broker.answer()
        go_on(sender, clock, 1)
    assert broker.of("shot") == list(range(4, 301)), "in order, each once"


def test_what_came_while_the_broker_was_away_is_sent_in_order_and_it_is_said_once(
    started: Log, broker: FakeBroker, clock: HandClock, caplog: pytest.LogCaptureFixture
) -> None:
    sender = sender_of(started, broker, clock)
    go_on(sender, clock)
    broker.is_up = False
    for n in range(4, 40):
        started.append([shot(n)])
        go_on(sender, clock, 1)
    assert broker.of("shot") == []
    stands = broker_stands(started)
    assert stands is not None
    assert stands[1] == "Connection refused"
    broker.is_up = True
    go_on(sender, clock)
    assert broker.of("shot") == list(range(4, 40))
    (away, *back) = [one.getMessage() for one in caplog.records]
    assert away.startswith("the broker mqtt://b:1883 cannot be told (Connection refused); what comes stays in the log")
    assert back == [
        "the broker mqtt://b:1883 is reached again; what came meanwhile is sent now",
    ]
    n_online = len(broker.of("online"))
    assert n_online == 4, "of the press and of the logger, at the start and after the outage"
    assert broker.of("verdict") == [], "it has kept what it retained"


def test_a_broker_that_has_lost_its_memory_is_told_how_it_stands_once_more(
    started: Log, broker: FakeBroker, clock: HandClock
) -> None:
    sender = sender_of(started, broker, clock)
    started.append([shot(4)])
    judged(started)
    go_on(sender, clock)
    (first,) = [one for topic, one, _ in broker.taken if topic.endswith("/verdict")]
    broker.is_up = False
    sender.turn()
    broker.is_up, broker.knows_us = True, False
    started.append([shot(5)])
    go_on(sender, clock)
    (_, again) = [one for topic, one, _ in broker.taken if topic.endswith("/verdict")]
    assert again == first, "the same, with its id: whoever counts can tell"
    assert [topic.rpartition("/")[2] for topic, _, _ in broker.taken][-3:] == ["shot", "link", "verdict"]


def test_an_entry_that_reaches_back_brings_the_retained_verdict_along(
    started: Log, broker: FakeBroker, clock: HandClock
) -> None:
    sender = sender_of(started, broker, clock)
    started.append(shots(4, 8))
    judged(started)
    go_on(sender, clock)
    mount(started, "P25", "R2-08", START, half="moving", at_shot=6)
    go_on(sender, clock)
    judged(started)
    go_on(sender, clock)
    assert broker.of("rejudged") == [6, 7]
    assert broker.of("verdict") == [4, 5, 6, 7, 8, 8]
    newest = [one for topic, one, kept in broker.taken if topic.endswith("/verdict") and kept][-1]
    assert (newest["shot"], newest["insert"], newest["again"]) == (8, "R2-08", True)


def test_a_full_disk_holds_up_no_message(
    started: Log,
    broker: FakeBroker,
    clock: HandClock,
    monkeypatch: pytest.MonkeyPatch,
    caplog: pytest.LogCaptureFixture,
) -> None:
    def full(*_: object) -> None:
        raise StoreFull("log trial.db: database or disk is full")

    sender = sender_of(started, broker, clock)
    go_on(sender, clock)
    kept = cursor(started, RECEIVER)
    monkeypatch.setattr("shotlog.notify.sender.save_cursor", full)
    started.append(shots(4, 30))
    go_on(sender, clock)
    started.append([shot(31)])
    go_on(sender, clock)
    assert broker.of("shot") == list(range(4, 32))
    assert cursor(started, RECEIVER) == kept
    assert not caplog.records, "mostly it can be written again soon"
    clock.advance(60.0)
    go_on(sender, clock)
    (said,) = [one.getMessage() for one in caplog.records]
    assert said.startswith(
        "log trial.db: database or disk is full; until it can be written, nothing that comes is missed"
    )
    monkeypatch.undo()
    go_on(sender, clock)
    assert cursor(started, RECEIVER) != kept


def test_a_log_that_is_away_is_gone_on_with_and_another_one_is_begun(
    started: Log, broker: FakeBroker, clock: HandClock, tmp_path: Path, fresh: Path, caplog: pytest.LogCaptureFixture
) -> None:
    sender = sender_of(started, broker, clock)
    started.append([shot(4)])
    go_on(sender, clock)
    started.close()
    (tmp_path / "trial.db").rename(tmp_path / "elsewhere.db")
    go_on(sender, clock)
    shutil.copy(tmp_path / "elsewhere.db", tmp_path / "trial.db")
    with OwnLog(started.url, read_only=False)() as back:
        back.append([shot(5)])
    go_on(sender, clock)
    assert broker.of("shot") == [4, 5]
    assert sum("once it can be read" in one.getMessage() for one in caplog.records) == 1
    Path(shutil.copy(fresh, tmp_path / "new.db")).replace(tmp_path / "trial.db")
    for rest in tmp_path.glob("trial.db-*"):
        rest.unlink()
    with OwnLog(started.url, read_only=False)() as new:
        new.append([Start(moulded(9), "0.2.0", "", "", "", "{}", "host", str(PROCESS)), shot(1)])
    go_on(sender, clock)
    assert broker.of("shot") == [4, 5, 1]


def test_the_end_is_said_after_all_else_and_leaves_no_will(started: Log, broker: FakeBroker, clock: HandClock) -> None:
    sender = sender_of(started, broker, clock, "P25")
    go_on(sender, clock)
    started.append(shots(4, 90))
    sender.end([end_of(press, False, clock.now()) for press in ("P25", None)], 3.0)
    assert broker.of("shot") == list(range(4, 91))
    assert [topic for topic, _, _ in broker.taken][-2:] == ["shotlog/hall-2/P25/online", "shotlog/hall-2/online"]
    assert broker.of("online")[-2:] == ["ended", "ended"]
    assert broker.cleanly == [True, True]
    with started.reading() as connection:
        assert cursor(started, RECEIVER) == newest_place(connection)


@pytest.mark.parametrize("has_died", [False, True])
def test_a_broker_that_is_away_at_the_end_is_waited_for_only_where_the_logger_died(
    started: Log, broker: FakeBroker, clock: HandClock, has_died: bool
) -> None:
    sender = sender_of(started, broker, clock)
    go_on(sender, clock)
    broker.is_up = False
    asked: Iterator[int] = iter(range(1000))

    def is_over() -> bool:
        broker.is_up = next(asked) == 100
        return False

    began = clock.monotonic()
    ends = [end_of(press, has_died, clock.now()) for press in ("P25", None)]
    sender.end(ends, *((600.0, is_over) if has_died else (3.0,)))
    assert broker.of("online")[-1] == ("dead" if has_died else "at work")
    assert (clock.monotonic() - began > 10.0) == has_died
    assert broker.cleanly == [has_died, has_died]


def test_how_it_stands_with_a_press() -> None:
    now, since = moulded(10), moulded(1)
    beat = Beat(7, now, since, 100.0, "host", PROCESS)
    running = LoggerState("running", now, beat)
    assert online_of("P25", running, True) == Online("P25", "at work", since)
    assert online_of("P25", LoggerState("log not written", now, beat), False).state == "at work"
    hangs = Beat(8, now, since, 100.0, "host", PROCESS, {"P26": 60.0})
    assert online_of("P25", LoggerState("silent press", now, hangs), False).state == "at work"
    assert online_of("P26", LoggerState("silent press", now, hangs), False) == Online("P26", "silent press", moulded(9))
    assert online_of(None, LoggerState("silent press", now, hangs), False).state == "at work"
    stale = LoggerState("stale", now, beat)
    assert online_of("P25", stale, True) == Online("P25", "starting"), "an earlier run's: this one has just begun"
    assert online_of("P25", stale, False) == Online("P25", "stale", now)
    assert online_of("P25", None, False).state == "unknown"
    assert [one for one in ("starting", "ended", "dead", "stale", "silent press", "unknown", "gone")
            if Online("P25", one, now).document["online"]] == []  # type: ignore[arg-type]  # fmt: skip
    for state in ("at work", "starting", "ended", "dead", "stale", "silent press", "unknown", "gone"):
        check(Online(None, state, now).document)  # type: ignore[arg-type]


def test_a_cursor_is_no_part_of_the_record(started: Log, broker: FakeBroker, clock: HandClock) -> None:
    digest = started.verify()
    go_on(sender_of(started, broker, clock), clock)
    assert cursor(started, RECEIVER) not in (None, Place())
    assert started.verify() == digest
