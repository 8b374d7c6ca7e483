"""Whatever a person or a disk does to the file of a running log: what was acknowledged is there again, and is said."""

import shutil
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from shotlog.errors import StoreDamaged, StoreError, StoreGone, StoreUnreachable
from shotlog.records import Event, Fault, Insert, Mounting, Shot
from shotlog.store.asked import state
from shotlog.store.asked.presence import last_seen
from shotlog.store.log import recovery
from shotlog.store.log.held_log import HeldLog, held_log
from shotlog.store.log.log import Log, open_log
from shotlog.store.log.recovery import PutRight

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)
PAGE = 4096


def shot(number: int) -> Shot:
    return Shot("P25", number, number, NOW, {"cushion": 4.97})


def shots(log: Log) -> list[int]:
    return [one.shot for one in log.logged("P25")]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "trial.db"


@pytest.fixture
def held(url: str, fresh: Path, path: Path) -> Iterator[HeldLog]:
    shutil.copy(fresh, path)
    with held_log(url) as log:
        assert log.reopen() is None
        yield log


def checkpoint(log: Log) -> None:
    assert log._writer is not None
    raw = log._writer.raw_connection()
    raw.execute("PRAGMA wal_checkpoint(TRUNCATE)")  # type: ignore[attr-defined]
    raw.close()


def fill(log: Log, path: Path, n: int = 40) -> Path:
    """Store shots one by one, an insert mounted before them; return a copy of the log as it was after a few."""
    log.append([Mounting("P25", "moving", Insert("B-11", "cap-r2"), 1, NOW)])
    copy = path.with_name("older.db")
    for number in range(1, n + 1):
        log.append([shot(number)], origin=f"run:{number}")
        if number == 5:
            checkpoint(log)
            shutil.copyfile(path, copy)
        if number == 30:
            checkpoint(log)
    return copy


def brought_back(log: HeldLog, number: int) -> PutRight | None:
    """Store one more shot, as the outbox does: refused, opened again, delivered again."""
    with pytest.raises(StoreError):
        log.append([shot(number)], origin=f"run:{number}")
    with pytest.raises(StoreUnreachable):
        log.append([shot(number)], origin=f"run:{number}")
    done = log.reopen()
    log.append([shot(number)], origin=f"run:{number}")
    return done


def deleted(path: Path, _: Path) -> None:
    for one in path.parent.glob("trial.db*"):
        one.unlink()


def only_the_file_deleted(path: Path, _: Path) -> None:
    path.unlink()


def moved_away(path: Path, _: Path) -> None:
    path.rename(path.with_name("elsewhere.db"))


def put_over(path: Path, older: Path) -> None:
    older.replace(path)


def put_over_with_all_gone(path: Path, older: Path) -> None:
    deleted(path, older)
    older.replace(path)


def another_file_put_over(path: Path, older: Path) -> None:
    older.write_bytes(b"no database at all, only some text that a person saved here " * 200)
    older.replace(path)


def written_over(path: Path, older: Path) -> None:
    shutil.copyfile(older, path)


EVERYTHING = [
    (deleted, "put back", ""),
    (only_the_file_deleted, "put back", ""),
    (moved_away, "put back", ""),
    (put_over, "put back", "trial.db.put-aside-"),
    (put_over_with_all_gone, "put back", "trial.db.put-aside-"),
    (another_file_put_over, "put back", "trial.db.put-aside-"),
    (written_over, "put back", "trial.db.put-aside-"),
]


@pytest.mark.parametrize(("does", "how", "aside"), EVERYTHING)
def test_nothing_acknowledged_is_lost_whatever_is_done_to_the_file(
    held: HeldLog, path: Path, url: str, does: Callable[[Path, Path], None], how: str, aside: str
) -> None:
    """139 acknowledged shots were gone, nothing was said, and `verify` was content."""
    older = fill(held, path)
    before = held.verify()
    put_there = older.read_bytes()
    does(path, older)
    done = brought_back(held, 41)
    assert done is not None
    assert (done.how, done.whole) == (how, True)
    assert done.aside.startswith(aside)
    if does in (put_over, put_over_with_all_gone):
        assert path.with_name(done.aside).read_bytes() == put_there
    assert shots(held) == list(range(1, 42))
    assert held.timeline("P25").halves(41)["moving"].serial == "B-11"
    held.close()
    with open_log(url) as again:
        assert shots(again) == list(range(1, 42))
        assert again.verify()[0] == before[0] + 1
        with again.reading() as connection:
            assert len(connection.exec_driver_sql("SELECT uid FROM logs").all()) == 1
    assert not [one.name for one in path.parent.iterdir() if "rescued" in one.name]


def test_an_older_copy_written_over_a_file_that_can_be_read_from_nowhere_else(
    held: HeldLog, path: Path, url: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its pages are gone; what the logger still has of its shots goes into the copy, which names what it follows."""
    older = fill(held, path, 39)
    checkpoint(held)
    with open_log(url, read_only=False) as people:
        people.append([Mounting("P25", "fixed", Insert("A-07", "cap-f1"), 20, NOW), Event("P25", 30, "lot", "A7", NOW)])
    held.append([shot(40)], origin="run:40")
    head, uid = held._identity.head, held._identity.uid
    written_over(path, older)
    monkeypatch.setattr(recovery, "rescue", lambda *_: None)  # its pages may all be in memory still
    done = brought_back(held, 41)
    assert done is not None
    assert (done.how, done.whole, done.uid) == ("older", False, uid)
    assert head is not None
    assert done.digest == head.digest
    assert shots(held) == list(range(1, 42))
    assert {half: one.serial for half, one in held.timeline("P25").halves(41).items()} == {
        "moving": "B-11",
        "fixed": "A-07",
    }
    assert [row.event.text for row in state.entries(held, "P25", 1, 41)] == ["A7"]
    assert path.with_name(done.aside).exists()
    held.verify()
    with held.reading() as connection:
        named = connection.exec_driver_sql("SELECT follows, follows_digest, reason FROM logs ORDER BY id").all()
    assert tuple(named[-1])[:2] == (uid, head.digest)
    assert named[-1].reason == f"an older copy was written over it; set aside as {done.aside}"


def test_another_file_written_over_the_open_one(held: HeldLog, path: Path) -> None:
    fill(held, path, 39)
    checkpoint(held)
    held.append([shot(40)], origin="run:40")
    path.write_bytes(b"only some text that a person saved here, longer than a page " * 200)
    done = brought_back(held, 41)
    assert done is not None
    assert done.how == "new"
    assert shots(held) == list(range(1, 42))  # from memory
    held.verify()


def test_a_log_that_is_back_is_only_opened_again(held: HeldLog, path: Path) -> None:
    fill(held, path)
    away = path.parent.with_name("away")
    path.parent.rename(away)
    with pytest.raises(StoreGone):
        held.append([shot(41)], origin="run:41")
    with pytest.raises(StoreGone, match="its folder is gone"):
        held.reopen()
    assert held.trouble is not None
    away.rename(path.parent)
    assert held.reopen() is None
    assert held.trouble is None
    held.append([shot(41)], origin="run:41")
    assert shots(held) == list(range(1, 42))


def test_a_moved_log_that_is_put_over_what_was_put_back_is_only_an_older_copy(held: HeldLog, path: Path) -> None:
    fill(held, path)
    moved_away(path, path)
    brought_back(held, 41)
    path.with_name("elsewhere.db").replace(path)
    done = brought_back(held, 42)
    assert done is not None
    assert done.how == "put back"
    assert shots(held) == list(range(1, 43))


def test_a_log_that_is_nowhere_is_waited_for_before_a_new_one_is_begun(
    held: HeldLog, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The disk behind the open file is gone as well: nothing can be copied out of it."""
    fill(held, path)
    uid, head = held._identity.uid, held._identity.head
    monkeypatch.setattr(recovery, "rescue", lambda *_: None)
    moved_away(path, path)
    with pytest.raises(StoreGone):
        held.append([shot(41)], origin="run:41")
    with pytest.raises(StoreGone, match="a new one is begun 60 s after it went"):
        held.reopen()
    monkeypatch.setattr(recovery, "GRACE_S", 0.0)
    done = held.reopen()
    assert done is not None
    assert head is not None
    assert (done.how, done.whole, done.uid, done.digest) == ("new", False, uid, head.digest)
    held.append([shot(41)], origin="run:41")
    assert shots(held) == list(range(1, 42))  # from memory
    held.verify()


def pages_of(path: Path, table: str) -> list[int]:
    """Return the pages, from 1, on which the rows of a table lie."""
    with closing(sqlite3.connect(path)) as connection:
        root = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = ?", (table,)).fetchone()[0]
    data = path.read_bytes()

    def leaves(page: int) -> list[int]:
        at = (page - 1) * PAGE
        head = at + (100 if page == 1 else 0)
        if data[head] == 13:
            return [page]
        n = int.from_bytes(data[head + 3 : head + 5], "big")
        cells = [int.from_bytes(data[head + 12 + 2 * k : head + 14 + 2 * k], "big") for k in range(n)]
        below = [int.from_bytes(data[at + cell : at + cell + 4], "big") for cell in cells]
        return [leaf for child in [*below, int.from_bytes(data[head + 8 : head + 12], "big")] for leaf in leaves(child)]

    return leaves(root)


def found_damaged(log: HeldLog) -> PutRight | None:
    """Read all of the log, as somebody does some time; then open it again."""
    if log.reopen() is None:
        with pytest.raises(StoreDamaged):
            assert (log.verify(), last_seen(log, "run")) is None
        return log.reopen()
    raise AssertionError


def damage(path: Path, page: int) -> None:
    with path.open("r+b") as file:
        file.seek((page - 1) * PAGE)
        file.write(b"\xa5" * PAGE)


@pytest.fixture
def long(held: HeldLog, path: Path) -> HeldLog:
    """A log of 400 shots, all of them in its file, and only the newest at hand."""
    held.append([Mounting("P25", "moving", Insert("B-11", "cap-r2"), 1, NOW)])
    held.append([Event("P25", 7, "lot", "A7", NOW)])
    for first in range(1, 401, 20):
        held.append([shot(number) for number in range(first, first + 20)], origin=f"run:{first}")
    checkpoint(held)
    held._newest.clear()
    return held


def test_a_damaged_page_is_set_aside_and_what_reads_goes_on(long: HeldLog, path: Path, url: str) -> None:
    """`run` ended, and could not be started again."""
    head, uid = long._identity.head, long._identity.uid
    long.close()
    damage(path, pages_of(path, "shots")[2])
    with held_log(url) as log:
        done = found_damaged(log)
        assert done is not None
        assert head is not None
        assert (done.how, done.whole, done.uid, done.digest) == ("salvaged", False, uid, head.digest)
        assert done.aside.startswith("trial.db.damaged-")
        assert path.with_name(done.aside).stat().st_size == 0 or path.with_name(done.aside).exists()
        assert done.found is not None
        assert set(done.found.lost) == {"shots"}
        ((first, last),) = done.found.shots["P25"]
        assert 0 < last - first < 100
        assert done.found.lost["shots"] == last - first + 1
        assert shots(log) == [*range(1, first), *range(last + 1, 401)]
        (gap,) = state.gaps(log, "P25")
        assert (gap.first, gap.last, gap.reason) == (first, last, "lost with a damaged page of the log")
        assert log.timeline("P25").halves(400)["moving"].serial == "B-11"
        log.append([shot(401)], origin="run:401")
        log.verify()
    with held_log(url) as log:
        assert log.reopen() is None
        assert log.last_shot("P25") == (401, 401)


def test_a_page_that_is_damaged_on_the_disk_and_whole_in_memory_costs_nothing(held: HeldLog, path: Path) -> None:
    fill(held, path)
    before = held.verify()
    checkpoint(held)
    damage(path, pages_of(path, "shots")[0])
    held._reader.dispose()
    with pytest.raises(StoreDamaged):
        held.verify()
    done = held.reopen()
    assert done is not None
    assert (done.how, done.whole, done.aside[:17]) == ("put back", True, "trial.db.damaged-")
    assert done.damage
    assert held.verify() == before
    assert shots(held) == list(range(1, 41))


def test_shots_on_a_damaged_page_that_are_still_at_hand_come_back(
    held: HeldLog, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    fill(held, path, 150)
    checkpoint(held)
    damage(path, pages_of(path, "shots")[1])
    held._reader.dispose()
    with pytest.raises(StoreDamaged):
        held.verify()
    monkeypatch.setattr(recovery, "rescue", lambda *_: None)
    done = held.reopen()
    assert done is not None
    assert done.found is not None
    assert done.found.lost["shots"] > 0
    assert shots(held) == list(range(1, 151))
    assert state.gaps(held, "P25") == []
    held.verify()


@pytest.mark.parametrize("table", ["ledger", "mountings", "presence", "logs"])
def test_whichever_page_is_damaged_logging_goes_on(long: HeldLog, path: Path, url: str, table: str) -> None:
    long.append([Fault("P25", NOW, "torn", "x", b"")])
    with long.transaction() as work:
        work.connection.exec_driver_sql("INSERT INTO presence (role, detail, time) VALUES ('run', 'x', 'y')")
    checkpoint(long)
    before = long.verify()
    long.close()
    damage(path, pages_of(path, table)[-1])
    with held_log(url) as log:
        done = log.reopen() or found_damaged(log)
        assert done is not None
        assert shots(log) == list(range(1, 401))
        log.append([shot(401)], origin="run:401")
        after = log.verify()
        if table == "presence":  # no part of the record: the chain is the old one
            assert done.whole
            assert after[0] == before[0] + 1


def test_a_first_page_that_is_damaged_takes_all_and_logging_goes_on(long: HeldLog, path: Path, url: str) -> None:
    long.close()
    kept = path.read_bytes()
    damage(path, 1)
    with held_log(url) as log:
        done = log.reopen()
        assert done is not None
        assert (done.how, done.found) == ("new", None)
        assert path.with_name(done.aside).read_bytes()[PAGE:] == kept[PAGE:]
        log.append([shot(401)], origin="run:401")
        assert shots(log) == [401]
        with log.reading() as connection:
            assert connection.exec_driver_sql("SELECT follows FROM logs").scalar() == done.aside


def test_a_row_that_was_changed_does_not_come_into_the_new_log(long: HeldLog, path: Path, url: str) -> None:
    long.close()
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("UPDATE events SET text = 'A8'")
        connection.commit()
    damage(path, pages_of(path, "shots")[2])
    with held_log(url) as log:
        done = found_damaged(log)
        assert done is not None
        assert done.found is not None
        assert done.found.lost["events"] == 1
        log.verify()


def test_a_file_of_some_other_kind_is_left_alone(url: str, path: Path) -> None:
    """A store that was typed wrong: nothing of it is ours."""
    path.write_bytes(b"a picture, or a report, that the configuration names by mistake " * 200)
    before = path.read_bytes()
    with held_log(url) as log, pytest.raises(StoreDamaged, match="this is some other kind of file"):
        log.reopen()
    assert path.read_bytes() == before
    assert [one.name for one in path.parent.iterdir()] == ["trial.db"]


def test_a_log_of_a_newer_release_is_left_alone(held: HeldLog, path: Path, url: str) -> None:
    held.close()
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
        connection.commit()
    with held_log(url) as log, pytest.raises(StoreDamaged, match="written by a newer release"):
        log.reopen()
    assert not list(path.parent.glob("*.damaged-*"))
