"""What the log will not take waits and goes in later, in order, once."""

import logging
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

import pytest

from shotlog.clock import HandClock
from shotlog.errors import StoreDamaged, StoreUnreachable
from shotlog.recorder.outbox import Outbox
from shotlog.records import Gap, Shot
from shotlog.store.asked import state
from shotlog.store.log.journal import Journal, Spooled
from shotlog.store.log.log import Log

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)


def batch(number: int) -> list[Spooled]:
    return [Gap("P25", 2 * number, 2 * number, NOW, "x"), Shot("P25", 2 * number + 1, 0, NOW, {"cushion": 4.97})]


class Trouble(Log):
    """The log under test, with a switch: refuses every transaction, or takes it and says that it did not."""

    def __init__(self, log: Log) -> None:
        super().__init__(log.url, log._writer, log._reader)
        self.mood = ""

    @contextmanager
    def transaction(self, origin: str | None = None) -> Iterator[object]:
        if self.mood == "out of reach":
            raise StoreUnreachable("log: database is locked")
        if self.mood == "damaged":
            raise StoreDamaged("log: database disk image is malformed")
        with super().transaction(origin) as work:
            yield work
        if self.mood == "silent":
            raise StoreUnreachable("log: server closed the connection unexpectedly")


@pytest.fixture
def trouble(log: Log) -> Trouble:
    return Trouble(log)


@pytest.fixture
def clock() -> HandClock:
    return HandClock()


@pytest.fixture
def journal(tmp_path: Path) -> Journal:
    return Journal(tmp_path / "trial.db.p.spool")


@pytest.fixture
def outbox(trouble: Trouble, journal: Journal, clock: HandClock) -> Outbox:
    return Outbox(trouble, journal, clock)


def stored(log: Log) -> list[int]:
    assert [gap.first + 1 for gap in state.gaps(log, "P25")] == [shot.shot for shot in log.logged("P25")]
    return [shot.shot for shot in log.logged("P25")]


def test_a_log_that_works_needs_no_journal(outbox: Outbox, journal: Journal, log: Log) -> None:
    assert outbox.deliver(batch(1))
    assert outbox.drain()
    assert stored(log) == [3]
    assert not journal.path.exists()


def test_what_is_refused_waits_in_the_journal_and_goes_in_later_in_order(
    outbox: Outbox, journal: Journal, trouble: Trouble, clock: HandClock, caplog: pytest.LogCaptureFixture
) -> None:
    outbox.deliver(batch(1))
    trouble.mood = "out of reach"
    assert not outbox.deliver(batch(2))
    assert "database is locked; shots are kept in " in caplog.text
    assert not outbox.deliver(batch(3))
    trouble.mood = ""
    assert not outbox.deliver(batch(4))  # too soon to try again
    assert outbox.waiting == len(journal.batches()) == 3
    clock.advance(5.0)
    assert outbox.deliver(batch(5))
    assert stored(trouble) == [3, 5, 7, 9, 11]
    assert outbox.waiting == 0
    assert not journal.path.exists()
    assert "the log can be written again; 3 kept batches are in it now" in caplog.text
    trouble.verify()


def test_what_a_killed_run_left_in_the_journal_goes_in_at_the_next_start(
    outbox: Outbox, journal: Journal, trouble: Trouble
) -> None:
    trouble.mood = "out of reach"
    outbox.deliver(batch(1))
    outbox.deliver(batch(2))
    trouble.mood = ""
    restarted = Outbox(trouble, journal, HandClock())
    assert restarted.waiting == 2
    waiting = restarted.last_shot("P25")
    assert waiting is not None
    assert waiting.shot == 5
    assert restarted.last_shot("P50") is None
    assert restarted.drain()
    assert stored(trouble) == [3, 5]


def test_drained_and_killed_before_the_journal_was_cleared(outbox: Outbox, journal: Journal, trouble: Trouble) -> None:
    trouble.mood = "out of reach"
    outbox.deliver(batch(1))
    kept = journal.path.read_bytes()
    trouble.mood = ""
    for _ in range(2):
        journal.path.write_bytes(kept)
        assert Outbox(trouble, journal, HandClock()).drain()
    assert stored(trouble) == [3]


def test_a_log_that_goes_away_half_way_through_a_drain(
    outbox: Outbox, journal: Journal, trouble: Trouble, clock: HandClock
) -> None:
    trouble.mood = "out of reach"
    for number in (1, 2, 3):
        outbox.deliver(batch(number))
    trouble.mood = "silent"
    clock.advance(5.0)
    assert not outbox.drain()
    assert outbox.waiting == 3
    trouble.mood = ""
    clock.advance(5.0)
    assert outbox.drain()
    assert stored(trouble) == [3, 5, 7]


def test_a_batch_the_log_took_without_being_able_to_say_so_is_stored_once(
    outbox: Outbox, trouble: Trouble, clock: HandClock
) -> None:
    """The shot was known by its number; the gap before it was counted twice."""
    trouble.mood = "silent"
    assert not outbox.deliver(batch(1))
    trouble.mood = ""
    clock.advance(5.0)
    assert outbox.drain()
    assert stored(trouble) == [3]


def test_log_and_journal_out_of_reach_keeps_in_memory_and_says_so_loudly(
    outbox: Outbox, journal: Journal, trouble: Trouble, clock: HandClock, caplog: pytest.LogCaptureFixture
) -> None:
    trouble.mood = "out of reach"
    journal.path.mkdir()
    caplog.set_level(logging.ERROR)
    assert not outbox.deliver(batch(1))
    assert not outbox.deliver(batch(2))
    assert "kept in memory only: DO NOT SWITCH OFF" in caplog.text
    assert outbox.waiting == 2
    journal.path.rmdir()
    assert not outbox.deliver(batch(3))  # the journal can be written again: memory goes there first
    assert [records for _, records in journal.batches()] == [batch(1), batch(2), batch(3)]
    trouble.mood = ""
    clock.advance(5.0)
    assert outbox.drain()
    assert stored(trouble) == [3, 5, 7]


def test_closing_tries_a_last_time(outbox: Outbox, journal: Journal, trouble: Trouble) -> None:
    """What was in memory only was lost with exit status 0."""
    trouble.mood = "out of reach"
    outbox.deliver(batch(1))
    trouble.mood = ""
    outbox.close()
    assert stored(trouble) == [3]
    assert not journal.path.exists()


def test_closing_says_what_is_lost(outbox: Outbox, journal: Journal, trouble: Trouble) -> None:
    trouble.mood = "out of reach"
    journal.path.mkdir()
    outbox.deliver(batch(1))
    outbox.deliver(batch(2))
    with pytest.raises(StoreUnreachable, match=r"2 shots \(P25 shot 3 to P25 shot 5\) are lost"):
        outbox.close()
    journal.path.rmdir()
    outbox.close()
    assert [records for _, records in journal.batches()] == [batch(1), batch(2)]


def test_a_damaged_log_keeps_the_batch_and_is_not_tried_again(
    outbox: Outbox, journal: Journal, trouble: Trouble, clock: HandClock
) -> None:
    trouble.mood = "damaged"
    with pytest.raises(StoreDamaged):
        outbox.deliver(batch(1))
    clock.advance(60.0)
    assert not outbox.deliver(batch(2))
    outbox.close()
    assert [records for _, records in journal.batches()] == [batch(1), batch(2)]
