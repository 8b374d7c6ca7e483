"""A start at which the log of before is not at its path: what was left beside it is found, or a new one names it."""

import shutil
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from shotlog.collectors.base import Resume
from shotlog.errors import StoreDamaged, StoreError, StoreGone
from shotlog.recorder.blind import start_of_press
from shotlog.records import Shot
from shotlog.store.log import recovery
from shotlog.store.log.held_log import HeldLog, held_log
from shotlog.store.log.identity import Seen, write_ahead
from shotlog.store.log.journal import Waiting
from shotlog.store.log.journal_note import Note, Position
from shotlog.store.log.log import Log
from shotlog.store.log.recovery import PutRight
from tests.store.test_recovery import damage, pages_of

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)
ALL = list(range(1, 41))


def shot(number: int) -> Shot:
    return Shot("P25", number, number, NOW, {"cushion": 4.97})


def shots(log: Log) -> list[int]:
    return [one.shot for one in log.logged("P25")]


def follows(log: Log) -> list[tuple[str | None, str | None]]:
    with log.reading() as connection:
        found = connection.exec_driver_sql("SELECT follows, follows_digest FROM logs ORDER BY id").all()
    return [(row[0], row[1]) for row in found]


def opened(path: Path, seen: Seen | None = None) -> tuple[HeldLog, PutRight | None]:
    log = held_log(f"sqlite:///{path.as_posix()}")
    if seen is not None:
        log.expect(seen)
    return log, log.reopen()


def checkpoint(log: Log) -> None:
    assert log._writer is not None
    assert log._writing is not None
    log._writing.give_back()
    raw = log._writer.raw_connection()
    raw.execute("PRAGMA wal_checkpoint(TRUNCATE)")  # type: ignore[attr-defined]
    raw.close()


def filled(folder: Path) -> tuple[HeldLog, Path, Path]:
    """Return a log of 40 shots that is open, its path and a copy of it as it was after five."""
    folder.mkdir()
    path, older = folder / "trial.db", folder / "older.db"
    log, done = opened(path)
    assert done is None
    for number in ALL:
        log.append([shot(number)], origin=f"run:{number}")
        if number == 5:
            checkpoint(log)
            shutil.copyfile(path, older)
        if number == 30:
            checkpoint(log)
    return log, path, older


def seen_of(log: Log) -> Seen:
    assert log.seen is not None
    return log.seen


def deleted(path: Path, _: Path) -> None:
    for one in path.parent.glob("trial.db*"):
        one.unlink()


def put_over(path: Path, older: Path) -> None:
    older.replace(path)


def killed_at_each_line(
    log: HeldLog, folder: Path, monkeypatch: pytest.MonkeyPatch, number: int = 41
) -> tuple[list[Path], PutRight | None]:
    """Have a log put right; return the folder as a kill would leave it before each of its files is moved."""
    left: list[Path] = []

    def kept_before(does: Callable[..., object]) -> Callable[..., object]:
        def moved(self: Path, *arguments: object, **named: object) -> object:
            if self.parent == folder:
                copy = folder.with_name(f"{folder.name}-{len(left)}")
                shutil.copytree(folder, copy)
                left.append(copy)
            return does(self, *arguments, **named)

        return moved

    with monkeypatch.context() as patched:
        for name in ("rename", "replace"):
            patched.setattr(Path, name, kept_before(getattr(Path, name)))
        with pytest.raises(StoreError):
            log.append([shot(number)], origin=f"run:{number}")
        return left, log.reopen()


@pytest.mark.parametrize("does", [deleted, put_over])
def test_a_kill_at_any_line_while_a_log_is_put_right_leaves_a_log_that_is_found(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, does: Callable[[Path, Path], None]
) -> None:
    """All of it lay there under another name, and the next start began a new log in silence."""
    log, path, older = filled(tmp_path / "a")
    with log:
        seen = seen_of(log)
        does(path, older)
        left, done = killed_at_each_line(log, path.parent, monkeypatch)
        assert done is not None
    assert left
    ways: list[str | None] = []
    for folder in left:
        again, how = opened(folder / path.name, seen)
        with again:
            if how is not None:  # else all of it is read with the write-ahead log that still lies there
                assert (how.how, how.whole) == ("taken up", True)
            ways.append(None if how is None else how.how)
            assert shots(again) == ALL
            assert seen_of(again).uid == seen.uid
            assert follows(again) == [(None, None)]
            again.append([shot(41)], origin="run:41")
            again.verify()
    assert ways[-1] == "taken up"


def found_damaged(log: HeldLog) -> PutRight | None:
    """Open a log, read all of it, as somebody does some time, and open it again."""
    done = log.reopen()
    if done is None:
        with pytest.raises(StoreDamaged):
            log.verify()
        done = log.reopen()
    return done


def test_a_kill_at_any_line_while_a_damaged_log_is_put_right(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    log, path, _ = filled(tmp_path / "a")
    with log:
        log.append([shot(n) for n in range(41, 400)])
        checkpoint(log)
        seen = seen_of(log)
    damage(path, pages_of(path, "shots")[2])
    left: list[Path] = []
    with held_log(f"sqlite:///{path.as_posix()}") as damaged, monkeypatch.context() as patched:
        moved = Path.rename

        def rename(self: Path, to: Path) -> Path:
            left.append(tmp_path / f"left-{len(left)}")
            shutil.copytree(path.parent, left[-1])
            return moved(self, to)

        patched.setattr(Path, "rename", rename)
        done = found_damaged(damaged)
        read = shots(damaged)
    assert done is not None
    assert (done.how, done.whole) == ("salvaged", False)
    assert left
    for folder in left:
        again = held_log(f"sqlite:///{(folder / path.name).as_posix()}")
        again.expect(seen)
        with again:
            done = found_damaged(again)
            assert done is not None
            assert (done.how, done.whole) == ("salvaged", False)
            assert shots(again) == read
            assert follows(again)[-1] == (seen.uid, seen.head.digest)
            again.verify()


def test_a_kill_before_what_was_put_there_is_named(tmp_path: Path) -> None:
    """What lies at the path then is a log of the same name that does not hold all, or one without a name."""
    log, _, older = filled(tmp_path / "a")
    seen = seen_of(log)
    log.close()
    for name, how in (("older", "other"), ("new", "new")):
        at = tmp_path / f"{name}.db"
        if name == "older":
            shutil.copyfile(older, at)
        else:
            opened(at)[0].close()
        again, done = opened(at, seen)
        with again:
            assert done is not None
            assert (done.how, done.whole) == (how, False)
            assert follows(again)[-1] == (seen.uid, seen.head.digest)
        after, done = opened(at, seen)  # killed once more, before it was noted
        with after:
            assert done is None
            assert len(follows(after)) == len(follows(again))


@pytest.mark.parametrize("leaves", ["nothing", "empty", "write-ahead"])
def test_a_log_that_is_nowhere_is_waited_for_and_then_named_by_the_new_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, leaves: str
) -> None:
    log, path, _ = filled(tmp_path / "a")
    with log:
        seen = seen_of(log)
        ahead = write_ahead(path).read_bytes()
    path.rename(tmp_path / "elsewhere.db")
    if leaves == "empty":
        path.touch()
    if leaves == "write-ahead":
        write_ahead(path).write_bytes(ahead)
    again = held_log(f"sqlite:///{path.as_posix()}")
    again.expect(seen)
    with again:
        with pytest.raises(StoreGone, match="it is not there any more, though it was logged into before"):
            again.reopen()
        assert again.seen == seen  # and is noted again
        monkeypatch.setattr(recovery, "GRACE_S", 0.0)
        done = again.reopen()
        assert done is not None
        assert (done.how, done.whole) == ("new", False)
        assert follows(again) == [(seen.uid, seen.head.digest)]
        assert seen_of(again).uid != seen.uid
        position = Position(40, 40, {"cushion": 4.97}, NOW, 60.0)
        note = Note(NOW, "a log", {"P25": position})
        assert start_of_press("P25", again, Waiting(), note).resume == Resume(40, 40)
        assert start_of_press("P25", again, Waiting(), replace(note, unsafe=1)).resume is None
    if leaves == "write-ahead":
        assert [one.read_bytes() for one in path.parent.glob("*.put-aside-*-wal")] == [ahead]


def test_a_log_that_comes_back_is_only_opened(tmp_path: Path) -> None:
    log, path, _ = filled(tmp_path / "a")
    with log:
        seen = seen_of(log)
    path.rename(tmp_path / "elsewhere.db")
    again = held_log(f"sqlite:///{path.as_posix()}")
    again.expect(seen)
    with again:
        with pytest.raises(StoreGone):
            again.reopen()
        (tmp_path / "elsewhere.db").replace(path)
        assert again.reopen() is None
        assert shots(again) == ALL


def test_a_copy_of_another_log_or_half_of_one_is_not_taken(tmp_path: Path) -> None:
    log, path, older = filled(tmp_path / "a")
    with log:
        checkpoint(log)
        seen = seen_of(log)
    half = path.read_bytes()[: path.stat().st_size // 2]
    path.rename(tmp_path / "elsewhere.db")
    older.rename(path.with_name("trial.db.put-aside-20260105T060000Z"))
    path.with_name("trial.db.rescued-20260105T060000Z").write_bytes(half)
    other, _ = opened(path.with_name("trial.db.damaged-20260105T060000Z"))
    with other:
        other.append([shot(n) for n in ALL])
    again = held_log(f"sqlite:///{path.as_posix()}")
    again.expect(seen)
    with again, pytest.raises(StoreGone):
        again.reopen()
