"""Presses taken by turns: one that floods waits itself, and holds up nobody."""

import threading
from datetime import UTC, datetime

from shotlog.recorder.inbox import Inbox
from shotlog.records import Shot

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)


def shots(press: str, first: int, n: int = 1) -> list[Shot]:
    return [Shot(press, number, number, NOW) for number in range(first, first + n)]


def test_every_press_has_its_turn_however_much_one_brought() -> None:
    inbox = Inbox(["P25", "P50"])
    for n in range(900):
        inbox.put("P25", [*shots("P25", n + 1)])
    inbox.put("P50", [*shots("P50", 1)])
    first = list(inbox.turn(0.0))
    assert [(batch[0].press, len(batch)) for batch in first] == [("P25", 250), ("P50", 1)]
    rest = [batch for _ in range(3) for batch in inbox.turn(0.0)]
    numbers = [record.shot for batch in [first[0], *rest] for record in batch if isinstance(record, Shot)]
    assert numbers == list(range(1, 901))
    assert inbox.empty


def test_a_press_that_brings_more_than_is_taken_waits_and_the_others_do_not() -> None:
    inbox = Inbox(["P25", "P50"])
    inbox.put("P25", [*shots("P25", 1, 2000)])
    done = threading.Event()

    def more() -> None:
        inbox.put("P25", [*shots("P25", 2001)])
        done.set()

    thread = threading.Thread(target=more)
    thread.start()
    inbox.put("P50", [*shots("P50", 1)])
    assert not done.is_set()
    assert len(list(inbox.turn(0.0))) == 2
    assert done.wait(60.0)
    thread.join()


def test_what_is_left_can_be_taken_after_the_end_and_nothing_is_added() -> None:
    inbox = Inbox(["P25"])
    inbox.put("P25", [*shots("P25", 1)])
    inbox.close()
    assert not inbox.put("P25", [*shots("P25", 2)])
    assert [len(batch) for batch in inbox.turn(0.0)] == [1]
    assert list(inbox.turn(0.0)) == []


def test_a_reader_that_fails_leaves_the_others_where_they_are() -> None:
    inbox = Inbox(["P25", "P50"])
    inbox.put("P25", [*shots("P25", 1, 250)])
    inbox.put("P50", [*shots("P50", 1)])
    next(inbox.turn(0.0))
    assert [batch[0].press for batch in inbox.turn(0.0)] == ["P50"]


def test_what_several_presses_brought_meanwhile_is_taken_together() -> None:
    names = [f"P{n}" for n in range(50)]
    inbox = Inbox(names)
    for name in names:
        inbox.put(name, [*shots(name, 1)])
    (batch,) = inbox.turn(0.0)
    assert [record.press for record in batch if isinstance(record, Shot)] == names
    assert inbox.empty
