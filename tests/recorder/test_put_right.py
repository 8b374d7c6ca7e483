"""A log is put right beside the logging: shots wait in the journal, and an end does not wait for it."""

import os
import sqlite3
import threading
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from shotlog.clock import HandClock
from shotlog.errors import StoreDamaged, StoreUnreachable
from shotlog.recorder.outbox import Outbox
from shotlog.records import Shot
from shotlog.store.log.held_log import HeldLog, held_log
from shotlog.store.log.journal import Journal
from shotlog.store.log.log import Log
from shotlog.store.log.recovery import PutRight

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)


def shot(n: int) -> list[Shot]:
    return [Shot("P25", n, n, NOW + timedelta(seconds=30 * n), {"cushion": 5.0})]


class Slow(Log):
    """The log under test, which is in trouble and takes as long to be put right as the test likes."""

    def __init__(self, log: Log) -> None:
        super().__init__(log.url, log._writer, log._reader)
        self._trouble = StoreDamaged("log: database disk image is malformed")
        self.may_end = threading.Event()
        self.mistakes = 0
        self.tried = 0

    def reopen(self) -> PutRight | None:
        self.tried += 1
        if self.mistakes:
            self.mistakes -= 1
            raise ZeroDivisionError("on purpose")
        assert self.may_end.wait(60)
        return super().reopen()


@pytest.fixture
def slow(log: Log) -> Slow:
    return Slow(log)


@pytest.fixture
def journal(tmp_path: Path) -> Journal:
    return Journal(tmp_path / "trial.db.p.journal", 50_000)


def test_shots_go_into_the_journal_while_the_log_is_put_right(
    slow: Slow, journal: Journal, caplog: pytest.LogCaptureFixture
) -> None:
    """It was done by the thread that stores, before the batch in hand was on disk."""
    outbox = Outbox(slow, journal, HandClock())
    assert outbox.deliver(shot(1))[0] == "journal"
    assert [one.n_shots for one in journal.batches()] == [1]
    assert not outbox.drain()
    assert outbox.deliver(shot(2))[0] == "journal"
    assert (outbox.n_waiting, outbox.is_behind, outbox.is_moving, slow.tried) == (2, True, False, 1)
    assert f"is being put right: {slow.trouble}; shots wait in {journal.path}" in caplog.text
    assert outbox.why == str(slow.trouble)
    slow.may_end.set()
    outbox.putting_right.join()
    assert outbox.drain()
    assert [one.shot for one in slow.logged("P25")] == [1, 2]
    assert (outbox.is_behind, outbox.why, caplog.text.count("is being put right")) == (False, "", 1)


def test_a_mistake_in_putting_right_is_said_once_and_tried_again_ever_more_seldom(
    slow: Slow, journal: Journal, caplog: pytest.LogCaptureFixture
) -> None:
    clock = HandClock()
    outbox = Outbox(slow, journal, clock)
    slow.mistakes = 3
    slow.may_end.set()
    times: list[float] = []
    n = 0
    while outbox.is_behind or n == 0:
        n += 1
        before = slow.tried
        assert outbox.deliver(shot(n))[0] in ("journal", "log")
        outbox.putting_right.join()
        if slow.tried > before:
            times.append(clock.monotonic())
        outbox.drain()
        clock.advance(1.0)
    assert [round(b - a) for a, b in pairwise(times)] == [5, 10, 20]
    assert caplog.text.count("putting the log right failed; logging goes on") == 1
    assert [one.shot for one in slow.logged("P25")] == list(range(1, n + 1))


@pytest.fixture
def held(log: Log, tmp_path: Path) -> Iterator[HeldLog]:
    """A log of which a page is damaged, opened as a start does."""
    for n in range(1, 400):
        log.append(shot(n), f"a:{n}")
    log.close()
    path = tmp_path / "trial.db"
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        page = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = 'shots'").fetchone()[0]
        size = connection.execute("PRAGMA page_size").fetchone()[0]
    with path.open("r+b") as file:
        file.seek((page - 1) * size)
        file.write(os.urandom(size))
    with held_log(f"sqlite:///{path.as_posix()}") as held:
        yield held


def made(folder: Path) -> list[str]:
    return [one.name for one in folder.glob("trial.db*") if one.suffix not in (".db", ".db-wal", ".db-shm", ".journal")]


def test_opening_puts_nothing_right(held: HeldLog, tmp_path: Path) -> None:
    """It looked through the whole file and wrote it anew before any press was asked."""
    held.open()
    assert isinstance(held.trouble, StoreDamaged)
    assert made(tmp_path) == []
    done = held.reopen()
    assert done is not None
    assert (done.how, held.trouble) == ("salvaged", None)


@pytest.mark.parametrize("looks", [0, 2, 5, 20, 60, 500, 1500])
def test_what_is_broken_off_leaves_nothing_and_is_done_at_the_next_try(
    held: HeldLog, journal: Journal, tmp_path: Path, looks: int
) -> None:
    held.open()
    left = looks

    def leaving() -> bool:
        nonlocal left
        left -= 1
        return left < 0 and threading.current_thread().name == "putting right"

    outbox = Outbox(held, journal, HandClock(), leaving=leaving)
    assert outbox.deliver(shot(400))[0] == "journal"
    outbox.putting_right.join(60)
    if held.trouble is not None:
        assert made(tmp_path) == []
    assert outbox.close() == []
    assert outbox.n_waiting == (held.trouble is not None)
    again = Outbox(held, journal, HandClock())
    again.drain()
    again.putting_right.join()
    assert again.drain()
    held.verify()
    last = held.last_shot("P25")
    assert last is not None
    assert last[0] == 400


def test_nobody_else_uses_a_log_that_is_being_put_right(held: HeldLog, monkeypatch: pytest.MonkeyPatch) -> None:
    held.open()
    began, may_end = threading.Event(), threading.Event()
    look_over: Callable[[], None] = held._look_over

    def slowly() -> None:
        began.set()
        assert may_end.wait(60)
        look_over()

    monkeypatch.setattr(held, "_look_over", slowly)
    thread = threading.Thread(target=held.reopen)
    thread.start()
    assert began.wait(60)
    for use in (held.presses, lambda: held.append(shot(401))):
        with pytest.raises(StoreUnreachable, match="it is being put right"):
            use()
    assert "it is being put right" in str(held.trouble)
    may_end.set()
    thread.join()
    assert held.trouble is None
    held.append(shot(401))
