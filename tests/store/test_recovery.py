"""Whatever a person or a disk does to the file of a running log: what was acknowledged is there again, and is said."""

import shutil
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from sqlalchemy.exc import OperationalError

from shotlog.errors import StoreDamaged, StoreError, StoreGone, StoreUnreachable
from shotlog.records import Event, Fault, Insert, Mounting, Shot
from shotlog.store.asked import state
from shotlog.store.asked.presence import last_seen
from shotlog.store.log import copied_out, recovery
from shotlog.store.log.copied_out import made_new
from shotlog.store.log.held_log import HeldLog, held_log
from shotlog.store.log.identity import Identity
from shotlog.store.log.log import Log, open_log
from shotlog.store.log.looked_at import refuse_strangers, verifies
from shotlog.store.log.recovery import PutRight
from shotlog.store.log.salvage import salvage, what_reads
from shotlog.wording.putting_right import put_right_said

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
    assert log._writing is not None
    log._writing.give_back()
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


def test_what_lies_between_an_older_copy_and_what_is_at_hand_is_a_gap(
    held: HeldLog, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Shots of a run before this one, made after the copy: nobody has them, and no counter will tell that."""
    older = fill(held, path, 39)
    checkpoint(held)
    held._newest.clear()
    held.append([shot(40)], origin="run:40")
    written_over(path, older)
    monkeypatch.setattr(recovery, "rescue", lambda *_: None)
    assert brought_back(held, 41) is not None
    there = shots(held)
    missed = [(gap.first, gap.last, gap.reason) for gap in state.gaps(held, "P25")]
    assert missed == [(there[-3] + 1, 39, "between what the log still holds and what was at hand of it")]
    assert there[-2:] == [40, 41]
    held.verify()


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
    appended: list[Log] = []
    append = Log.append

    def counted(self: Log, *given: Any) -> None:
        appended.append(self)
        append(self, *given)

    monkeypatch.setattr(Log, "append", counted)
    done = held.reopen()
    assert done is not None
    assert done.found is not None
    assert done.found.lost["shots"] > 0
    assert shots(held) == list(range(1, 151))
    assert len(appended) <= done.found.lost["shots"] + 3  # those of which nothing is missing need few: new shots wait
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


def test_what_may_have_locks_on_a_file_is_closed_before_it_is_read_as_bytes(path: Path) -> None:
    """Whoever closes a file gives back the locks that the database of the same process has on it."""
    with pytest.raises(StoreDamaged, match="some other kind of file"):
        refuse_strangers(path, Identity("here", path), "damaged", lambda: _written(path))


def _written(path: Path) -> None:
    path.write_text("a picture", encoding="utf-8")


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


def no_room(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let no new file beside a log grow beyond a few pages: the disk is full."""
    connect = sqlite3.connect

    def short(*given: object, **named: object) -> sqlite3.Connection:
        connection: sqlite3.Connection = connect(*given, **named)  # type: ignore[call-overload]
        connection.execute("PRAGMA max_page_count = 8")
        return connection

    monkeypatch.setattr(copied_out.sqlite3, "connect", short)


def beside(path: Path) -> list[str]:
    """Return what lies beside a log that is none of its own."""
    return sorted(one.name for one in path.parent.iterdir() if one.name.startswith(f"{path.name}."))


def test_a_disk_too_full_to_copy_the_log_back_is_waited_for_as_long_as_the_file_is_open(
    held: HeldLog, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A new log was begun, which closed the only file that held the shots; each try left half a copy on the disk."""
    fill(held, path, 150)
    held._newest.clear()
    monkeypatch.setattr(recovery, "GRACE_S", 0.0)
    for one in path.parent.glob("trial.db*"):
        one.unlink()
    with pytest.raises(StoreGone):
        held.append([shot(151)], origin="run:151")
    with monkeypatch.context() as full:
        no_room(full)
        for _ in range(2):
            with pytest.raises(StoreUnreachable, match="all of it is still open, and cannot be copied back"):
                held.reopen()
            assert beside(path) == []
    with monkeypatch.context() as full:
        full.setattr(copied_out.shutil, "disk_usage", lambda _: SimpleNamespace(free=1000))
        with pytest.raises(StoreUnreachable, match="1 MB must be free on its disk: make room"):
            held.reopen()
    done = held.reopen()
    assert done is not None
    assert (done.how, done.whole) == ("put back", True)
    assert shots(held) == list(range(1, 151))
    assert beside(path) == []


def test_a_damaged_log_on_a_full_disk_is_salvaged_once_there_is_room(long: HeldLog, path: Path, url: str) -> None:
    """Fifteen empty files lay beside it, one for each try."""
    long.close()
    damage(path, pages_of(path, "shots")[2])
    before = path.read_bytes()
    with held_log(url) as log, pytest.MonkeyPatch.context() as full:
        with pytest.raises(StoreDamaged):
            assert (log.reopen(), log.verify()) is None
        full.setattr(recovery, "salvage", fails(OperationalError("INSERT", {}, sqlite3.OperationalError("disk full"))))
        for _ in range(2):
            with pytest.raises(StoreUnreachable, match="disk full"):
                log.reopen()
            assert beside(path) == []
            assert path.read_bytes() == before
        full.undo()
        done = log.reopen()
        assert done is not None
        assert done.how == "salvaged"
        assert [one for one in beside(path) if not one.startswith(done.aside)] == []


def fails(error: Exception) -> Callable[..., Any]:
    def call(*_: object) -> Any:
        raise error

    return call


def test_a_copy_that_could_not_be_put_at_the_path_is_put_there_later(
    held: HeldLog, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another program had the new file open for a moment, as on Windows: the log began anew, the copy beside it."""
    fill(held, path)
    held._newest.clear()
    monkeypatch.setattr(recovery, "GRACE_S", 0.0)
    deleted(path, path)
    with pytest.raises(StoreGone):
        held.append([shot(41)], origin="run:41")
    rename = Path.rename

    def in_use(one: Path, to: Path) -> Path:
        if "rescued" in one.name:
            raise PermissionError(13, "used by another process")
        return rename(one, to)

    with monkeypatch.context() as busy:
        busy.setattr(Path, "rename", in_use)
        with pytest.raises(StoreUnreachable, match="used by another process"):
            held.reopen()
    done = held.reopen()
    assert done is not None
    assert (done.how, done.whole) == ("put back", True)
    assert shots(held) == list(range(1, 41))


def test_a_salvaged_log_that_could_not_be_put_at_the_path_is_put_there_later(
    long: HeldLog, path: Path, url: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A new log was begun without a word of what had been salvaged."""
    long.close()
    damage(path, pages_of(path, "shots")[2])
    before = path.read_bytes()
    monkeypatch.setattr(recovery, "GRACE_S", 0.0)
    rename = Path.rename

    def in_use(one: Path, to: Path) -> Path:
        if "salvaged" in one.name:
            raise PermissionError(13, "used by another process")
        return rename(one, to)

    with held_log(url) as log:
        with pytest.raises(StoreDamaged):
            assert (log.reopen(), log.verify()) is None
        with monkeypatch.context() as busy:
            busy.setattr(Path, "rename", in_use)
            with pytest.raises(StoreUnreachable, match="used by another process"):
                log.reopen()
        assert (path.read_bytes(), beside(path)) == (before, [])
        done = log.reopen()
        assert done is not None
        assert done.how == "salvaged"
        assert 300 < len(shots(log)) < 400


def holding_anything(path: Path) -> None:
    """Put numbers and bytes where texts belong: what stands on a page that was written over may be anything."""

    def declared(before: str, after: str) -> None:
        with closing(sqlite3.connect(path)) as connection:
            connection.execute("PRAGMA writable_schema = ON")
            connection.execute("UPDATE sqlite_master SET sql = replace(sql, ?, ?)", (before, after))
            connection.commit()

    declared("TEXT", "BLOB")
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("UPDATE ledger SET rows = 7 WHERE id = 9")
        connection.execute("UPDATE ledger SET rows = x'ff', digest = 3.5 WHERE id = 11")
        connection.execute("UPDATE events SET text = 5")
        connection.commit()
    declared("BLOB", "TEXT")


def test_what_stands_on_a_damaged_page_may_be_anything_and_ends_nothing(long: HeldLog, path: Path, url: str) -> None:
    """A number where the names of rows belong ended `run`, and every start after it."""
    long.append([Fault("P25", NOW, "torn", "x", b"")])
    long.close()
    holding_anything(path)
    assert not verifies(path)
    damage(path, pages_of(path, "shots")[2])
    with held_log(url) as log:
        done = log.reopen() or found_damaged(log)
        assert done is not None
        assert done.found is not None
        assert (done.found.lost["ledger"], done.found.lost["events"]) == (2, 1)
        ((first, last),) = done.found.shots["P25"]
        assert shots(log) == [*range(1, first), *range(last + 1, 401)]
        log.append([shot(401)], origin="run:401")
        log.verify()


def test_rows_that_are_there_twice_and_numbers_out_of_reach_are_lost_alone(long: HeldLog, path: Path) -> None:
    old = what_reads(long._reader)
    old.rows["presses"][2] = old.rows["presses"][1]
    old.rows["shots"][401] = {**old.rows["shots"][400], "id": 401}
    old.rows["gaps"][1] = {"id": 1, "press_id": 1, "first": 401, "last": 2**60, "time": "", "reason": ""}
    target = made_new(path.with_name("new.db"))
    found = salvage(old, target)
    assert (found.lost, found.shots) == ({"presses": 1, "shots": 1}, {})
    with target.connect() as connection:
        assert connection.exec_driver_sql("SELECT max(shot) FROM shots").scalar() == 400
    target.dispose()


def test_a_mistake_in_putting_right_is_said_once_and_ends_nothing(
    held: HeldLog, path: Path, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    fill(held, path)
    moved_away(path, path)
    with pytest.raises(StoreGone):
        held.append([shot(41)], origin="run:41")
    with monkeypatch.context() as wrong:
        wrong.setattr(recovery, "rescue", fails(AttributeError("no such thing")))
        for _ in range(3):
            with pytest.raises(StoreUnreachable, match=r"by a mistake in this program .*; move the file away"):
                held.reopen()
    assert [bool(one.exc_info) for one in caplog.records if "a mistake in putting it right" in one.message] == [True]
    assert held.reopen() is not None
    held.append([shot(41)], origin="run:41")
    assert shots(held) == list(range(1, 42))


def test_what_was_lost_is_brought_in_also_where_the_new_log_cannot_be_opened_at_once(
    held: HeldLog, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The shots still at hand were not brought in, nothing was said, and the log did not name the one before it."""
    fill(held, path)
    uid = held._identity.uid
    monkeypatch.setattr(recovery, "rescue", lambda *_: None)
    monkeypatch.setattr(recovery, "GRACE_S", 0.0)
    moved_away(path, path)
    with pytest.raises(StoreGone):
        held.append([shot(41)], origin="run:41")
    with monkeypatch.context() as locked:
        locked.setattr(held, "prepare", fails(StoreUnreachable("database is locked")))
        with pytest.raises(StoreUnreachable, match="locked"):
            held.reopen()
    done = held.reopen()
    assert done is not None
    assert (done.how, done.uid) == ("new", uid)
    assert shots(held) == list(range(1, 41))
    with held.reading() as connection:
        assert connection.exec_driver_sql("SELECT follows FROM logs ORDER BY id DESC").scalar() == uid


def test_nothing_is_said_to_be_lost_of_what_reads_to_its_end() -> None:
    """ "lost are ." was said."""
    said = put_right_said("salvaged", "trial.db", "old.db", "another file was written over it", False, {}, {})
    assert "; what came into the log later than that is lost, but for what the logger still had" in said
