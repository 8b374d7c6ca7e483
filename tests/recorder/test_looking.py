"""A damaged page that no question of the logger meets is found all the same, and the log put right."""

import shutil
import threading
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from test_recorder import NOW, Script

from shotlog.clock import HandClock, SystemClock
from shotlog.errors import StoreDamaged
from shotlog.recorder import Recorder, looking
from shotlog.recorder.judge import Judge
from shotlog.recorder.looking import Looking
from shotlog.records import Shot
from shotlog.settings import Settings, load
from shotlog.store.asked import state
from shotlog.store.log.held_log import HeldLog, held_log
from shotlog.store.log.log import open_log
from tests.spoiled import spoil_older

N = 200


@pytest.fixture(scope="module")
def judged(fresh: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A log with some pages of shots and of verdicts, made once."""
    path = tmp_path_factory.mktemp("judged") / "trial.db"
    shutil.copy(fresh, path)
    with open_log(f"sqlite:///{path.as_posix()}", read_only=False) as log:
        log.append([Shot("P25", n, n, NOW + timedelta(seconds=30 * n), {"cushion": 5.0}) for n in range(1, N + 1)])
        Judge(log, "P25", {}, HandClock()).catch_up()
    return path


@pytest.fixture
def path(judged: Path, tmp_path: Path) -> Path:
    (tmp_path / "c.toml").write_text(
        '[log]\nstore = "sqlite:///trial.db"\nreserve_mb = 1\n'
        '[[press]]\nname = "P25"\n[press.collector]\nkind = "recording"\n'
    )
    shutil.copy(judged, tmp_path / "trial.db")
    return tmp_path / "trial.db"


@pytest.fixture
def settings(path: Path) -> Settings:
    return load(path.with_name("c.toml"))


@pytest.fixture
def held(path: Path, settings: Settings) -> Iterator[HeldLog]:
    with held_log(settings.store) as opened:
        opened.reopen()
        yield opened


def until_set_aside(held: HeldLog, settings: Settings, spoil: threading.Event | None = None, table: str = "") -> None:
    """Run until the damaged file is set aside and two more shots are in the log."""
    stop, path = threading.Event(), settings.file.with_name("trial.db")
    ended = threading.Timer(60, stop.set)
    ended.start()
    after: list[int] = []

    def show(record: object) -> None:
        if spoil is not None and not spoil.is_set():
            spoil_older(path, table)
            spoil.set()
        if isinstance(record, Shot) and [*path.parent.glob("trial.db.damaged-*")]:
            after.append(record.shot)
            if len(after) == 2:
                stop.set()

    Recorder(held, settings, {"P25": Script(10_000, poll_s=0.02)}, SystemClock(), (show,)).run(stop)
    ended.cancel()
    assert [*path.parent.glob("trial.db.damaged-*")]
    numbers = [one.shot for one in held.logged("P25")]
    assert numbers[-1] >= after[-1]
    missing = set(range(1, numbers[-1] + 1)) - set(numbers)
    told = {shot for gap in state.gaps(held, "P25") for shot in range(gap.first, gap.last + 1)}
    assert missing == told
    assert bool(missing) == (table == "shots")
    held.verify()


@pytest.mark.parametrize("table", ["shots", "verdicts"])
def test_a_page_damaged_before_the_start_is_found_beside_the_logging(
    path: Path, settings: Settings, table: str, caplog: pytest.LogCaptureFixture
) -> None:
    """It logged on into the damaged file for as long as nobody asked for that page, and said nothing."""
    spoil_older(path, table)
    with held_log(settings.store) as held:
        held.reopen()
        until_set_aside(held, settings, table=table)
    assert "trial.db.damaged-" in caplog.text


@pytest.mark.file
@pytest.mark.parametrize("table", ["verdicts", "shots"])
def test_a_page_damaged_during_the_run_is_found_at_the_next_look(
    held: HeldLog, settings: Settings, table: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(looking, "_EVERY_S", 0.2)
    until_set_aside(held, settings, threading.Event(), table)


@pytest.mark.file
def test_what_was_found_is_told_once_and_a_log_in_trouble_is_not_looked_at(path: Path, held: HeldLog) -> None:
    one = Looking(held, held.url)
    assert one.look()
    assert one.turn() is None
    spoil_older(path, "shots")
    assert not one.look()
    found = one.turn()
    assert isinstance(found, StoreDamaged)
    assert "a page of its file is damaged (" in str(found)
    assert one.turn() is None
    held.doubt(found)
    assert held.trouble is found
    assert not one.look()
    assert one.turn() is None


@pytest.mark.file
def test_the_end_does_not_wait_for_a_look(held: HeldLog, monkeypatch: pytest.MonkeyPatch) -> None:
    begun, broken_off = threading.Event(), threading.Event()
    one = Looking(held, held.url)
    assert one._pages is not None
    monkeypatch.setattr(one._pages, "damage", lambda: begun.set() or (broken_off.wait(60) and None))
    monkeypatch.setattr(one._pages, "break_off", broken_off.set)
    one.start()
    begun.wait(60)
    one.finish()
    assert broken_off.is_set()
    assert not one._thread.is_alive()
