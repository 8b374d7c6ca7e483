"""A log that is not at its path any more, or not itself, is noticed at the next transaction, and never written into."""

import shutil
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from shotlog.errors import StoreGone, StoreReplaced, StoreUnreachable
from shotlog.records import Shot
from shotlog.store.log.identity import MixedPages, head_in_file
from shotlog.store.log.log import Log, open_log

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)


def shot(number: int) -> Shot:
    return Shot("P25", number, number, NOW, {"cushion": 4.97})


def shots(log: Log) -> list[int]:
    return [one.shot for one in log.logged("P25")]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "trial.db"


@pytest.fixture
def older(log: Log, path: Path) -> Path:
    """A copy of the log with its first shot; the log goes on to its second, and into its file."""
    log.append([shot(1)])
    checkpoint(log)
    copy = path.with_name("copy.db")
    shutil.copyfile(path, copy)
    log.append([shot(2)])
    return copy


def checkpoint(log: Log) -> None:
    assert log._writer is not None
    assert log._writing is not None
    log._writing.give_back()
    raw = log._writer.raw_connection()
    raw.execute("PRAGMA wal_checkpoint(TRUNCATE)")  # type: ignore[attr-defined]
    raw.close()


def deleted(path: Path, _: Path) -> None:
    for one in path.parent.glob("trial.db*"):
        one.unlink()


def moved_away(path: Path, _: Path) -> None:
    path.rename(path.with_name("elsewhere.db"))


def folder_renamed(path: Path, _: Path) -> None:
    path.parent.rename(path.parent.with_name("renamed"))


def put_over(path: Path, older: Path) -> None:
    older.replace(path)


def put_over_clean(path: Path, older: Path) -> None:
    deleted(path, older)
    older.replace(path)


def written_over(path: Path, older: Path) -> None:
    shutil.copyfile(older, path)


def written_over_with_another_file(path: Path, _: Path) -> None:
    path.write_bytes(b"no database at all, only some text that a person saved here " * 200)


def cut_off(path: Path, _: Path) -> None:
    path.write_bytes(b"")


@pytest.mark.parametrize(
    ("does", "error", "said"),
    [
        (deleted, StoreGone, "its file is not there any more: it was deleted or moved away"),
        (moved_away, StoreGone, "its file is not there any more: it was deleted or moved away"),
        (folder_renamed, StoreGone, "its file is not there any more: the folder .* is gone"),
        (put_over, StoreReplaced, "another file was put in its place"),
        (put_over_clean, StoreReplaced, "another file was put in its place"),
    ],
)
def test_what_a_person_does_to_the_file_is_noticed_before_anything_is_written(
    log: Log,
    path: Path,
    older: Path,
    does: Callable[[Path, Path], None],
    error: type[StoreUnreachable],
    said: str,
) -> None:
    does(path, older)
    with pytest.raises(error, match=said) as caught:
        log.append([shot(3)])
    assert "\n" not in str(caught.value)
    assert not log.is_at_its_path()


@pytest.mark.parametrize("does", [written_over, written_over_with_another_file, cut_off])
def test_what_is_written_over_the_file_that_is_open_is_noticed(
    log: Log, path: Path, older: Path, does: Callable[[Path, Path], None]
) -> None:
    """The file keeps its number, and the write-ahead log beside it covers up what lies below."""
    checkpoint(log)
    log.append([shot(3)])
    does(path, older)
    with pytest.raises(StoreReplaced, match="written over it"):
        log.append([shot(4)])


def test_a_checkpoint_that_a_reader_held_up_is_no_change_of_the_log(log: Log, path: Path) -> None:
    """SQLite then leaves out of the file what was written again since: by itself it reads as malformed."""
    n = 0

    def goes_on(shots: int) -> None:
        nonlocal n
        log.append([shot(n + k) for k in range(1, shots + 1)])
        for k in range(shots + 1, shots + 9):
            log.append([shot(n + k)])
        n += shots + 8

    mixed = False
    with closing(sqlite3.connect(path, isolation_level=None)) as reads, closing(sqlite3.connect(path)) as other:
        while not mixed and n < 2000:
            goes_on(20)
            reads.execute("BEGIN")
            reads.execute("SELECT count(*) FROM shots").fetchone()
            goes_on(20)
            other.execute("PRAGMA wal_checkpoint(PASSIVE)").fetchone()
            try:
                head_in_file(path)
            except MixedPages:
                mixed = True
            log.append([shot(n := n + 1)])
            reads.execute("COMMIT")
    assert mixed
    checkpoint(log)
    log.append([shot(n := n + 1)])
    assert shots(log) == list(range(1, n + 1))


def test_a_file_that_goes_away_while_a_transaction_runs_is_not_acknowledged(log: Log, path: Path) -> None:
    def shots_until_it_moves() -> Iterator[Shot]:
        yield shot(1)
        moved_away(path, path)

    with pytest.raises(StoreGone):
        log.append(shots_until_it_moves())


def test_a_log_that_comes_back_is_opened_again(log: Log, path: Path) -> None:
    log.append([shot(1)])
    moved_away(path, path)
    with pytest.raises(StoreGone):
        log.append([shot(2)])
    path.with_name("elsewhere.db").rename(path)
    log.append([shot(2)])
    assert log.reopen() is None
    log.append([shot(3)])
    assert shots(log) == [1, 2, 3]
    log.verify()


@pytest.mark.file
def test_a_checkpoint_of_anybody_is_no_change_of_the_log(log: Log, url: str) -> None:
    log.append([shot(1)])
    checkpoint(log)
    with open_log(url, read_only=False) as other:
        other.append([shot(2)])
        checkpoint(other)
    log.append([shot(3)])
    assert shots(log) == [1, 2, 3]


@pytest.mark.parametrize("turned", ["at another log", "at nothing"])
def test_a_link_to_the_log_that_is_turned_elsewhere_is_noticed(
    url: str, path: Path, tmp_path: Path, turned: str
) -> None:
    disk, other = tmp_path / "disk", tmp_path / "other"
    disk.mkdir()
    other.mkdir()
    path.symlink_to(disk / "trial.db")
    open_log(f"sqlite:///{(disk / 'trial.db').as_posix()}", read_only=False).close()
    with open_log(url, read_only=False) as log:
        log.append([shot(1)])
        path.unlink()
        if turned == "at another log":
            shutil.copyfile(disk / "trial.db", other / "trial.db")
        path.symlink_to(other / "trial.db")
        with pytest.raises(StoreReplaced if turned == "at another log" else StoreGone):
            log.append([shot(2)])


def test_a_log_is_named_with_the_first_that_is_written_and_never_again(log: Log) -> None:
    log.append([shot(1)])
    log.append([shot(2)])
    with log.reading() as connection:
        named = connection.exec_driver_sql("SELECT uid, follows FROM logs").all()
    assert len(named) == 1
    assert len(named[0].uid) == 32
    assert named[0].follows is None
    log.verify()
