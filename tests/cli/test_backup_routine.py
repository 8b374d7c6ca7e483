"""Backups as a routine: a new file each time, the oldest make room; what goes wrong is said where people look."""

import json
import os
import shutil
import zipfile
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest

from dashboard import Source
from dashboard.shared.backups import backup_notices
from shotlog.cli import backup
from shotlog.cli.main import main
from shotlog.clock import HandClock, SystemClock
from shotlog.errors import StoreUnreachable
from shotlog.parts.picture import Pictured
from shotlog.settings import BackupSettings, load
from shotlog.store.asked.backed_up import BackedUp, backed_up
from shotlog.store.keeping import backup as keeping
from shotlog.store.log.log import open_log
from shotlog.store.parts.pictures import picture_folder, take_picture
from tests.made_pictures import picture
from tests.made_shots import shots

CONFIG = """[log]
store = "sqlite:///trial.db"
backup = "share"
backup_every_h = 12
backup_keep = 2
[[press]]
name = "P25"
[press.collector]
kind = "recording"
"""
Say = Callable[..., tuple[int, str, str]]

pytestmark = pytest.mark.file


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> HandClock:
    hand = HandClock(SystemClock().now().replace(microsecond=0) - timedelta(days=3))
    monkeypatch.setattr(backup, "SystemClock", lambda: hand)
    return hand


@pytest.fixture
def config(tmp_path: Path) -> Path:
    file = tmp_path / "trial.toml"
    file.write_text(CONFIG, encoding="utf-8")
    with open_log(load(file).store, read_only=False) as log:
        log.append(shots(1, 20))
    (tmp_path / "share").mkdir()
    return file


@pytest.fixture
def say(config: Path, capsys: pytest.CaptureFixture[str]) -> Say:
    def run(command: str, *more: str) -> tuple[int, str, str]:
        capsys.readouterr()
        status = main([command, str(config), *more])
        return status, *capsys.readouterr()

    return run


def kept(config: Path) -> list[str]:
    return sorted(path.name for path in (config.parent / "share").iterdir())


def notices(config: Path, in_short: bool = False) -> list[str]:
    source = Source(load(config))
    try:
        return backup_notices(source, SystemClock().now(), in_short)
    finally:
        source.close()


def test_the_oldest_make_room_and_nothing_else_in_the_folder_is_touched(
    config: Path, say: Say, clock: HandClock
) -> None:
    others = {"trial-notes.zip", "trial-20260101T000000Z.zip", "other-20260101T000000Z.zip"}
    for name in others:
        (config.parent / "share" / name).write_text("mine", encoding="utf-8")
    made = []
    for _ in range(4):
        made.append(f"trial-{clock.now():%Y%m%dT%H%M%SZ}.zip")
        assert say("backup")[0] == 0
        clock.advance(3600.0)
    assert set(kept(config)) == {*made[-2:], *others}
    status, said, _ = say("backup")
    assert status == 0
    assert "read back and verified; digest" in said
    assert f"{made[-2]}: deleted, log.backup_keep is 2" in said


def another_trial(config: Path, name: str) -> Path:
    """Make a trial in another folder whose log bears the same name and whose backups go to the same share."""
    file = config.parent / name / config.name
    file.parent.mkdir()
    file.write_text(CONFIG.replace('"share"', '"../share"'), encoding="utf-8")
    return file


def test_two_logs_of_one_name_leave_each_others_backups_where_they_are(
    config: Path, say: Say, clock: HandClock
) -> None:
    """Two press PCs, one share: each deleted the other's, the last one too."""
    other = another_trial(config, "hall-b")
    with open_log(load(other).store, read_only=False) as log:
        log.append(shots(1, 30))
    assert say("backup")[0] == 0
    ours = kept(config)
    for n in range(4):
        assert main(["backup", str(other)]) == 0, "the first of them within the same second"
        clock.advance(3600.0 if n else 0.0)
    assert set(ours) < set(kept(config))
    assert len(kept(config)) == 1 + 2


def test_a_log_put_back_elsewhere_leaves_what_the_first_one_has_beyond_it(
    config: Path, say: Say, clock: HandClock
) -> None:
    """A copy to try something with, and its configuration: it goes on from that log, and is not that log."""
    assert say("backup")[0] == 0
    (first,) = kept(config)
    other = another_trial(config, "tried-on")
    assert main(["restore", str(other), str(config.parent / "share" / first)]) == 0
    with open_log(load(config).store, read_only=False) as log:
        log.append(shots(21, 30))
    clock.advance(3600.0)
    assert say("backup")[0] == 0
    (second,) = {*kept(config)} - {first}
    for _ in range(3):
        clock.advance(3600.0)
        assert main(["backup", str(other)]) == 0
    assert second in kept(config), "shots 21 to 30 are in no other"
    assert first not in kept(config), "the copy holds all of it"


def test_one_that_lacks_a_picture_makes_no_room_of_one_that_has_it(config: Path, say: Say, clock: HandClock) -> None:
    """It was deleted a moment before the picture was said to be missing: it was the last that had it."""
    settings = load(config)
    folder = picture_folder(settings.store, settings.file)
    with open_log(settings.store, read_only=False) as log:
        take_picture(log, folder, picture(), Pictured("P25", 7), clock.now(), remark="flash")
    assert say("backup")[0] == 0
    (whole,) = kept(config)
    shutil.rmtree(folder)
    for _ in range(4):
        clock.advance(3600.0)
        status, _, err = say("backup")
        assert status == 1
        assert "1 picture on record could not be put into it" in err
    assert whole in kept(config)
    assert len(kept(config)) == 1 + 2, "those that lack it do not pile up"
    with open_log(settings.store) as log:
        assert backed_up(log).file == whole, "and it is there"


def test_what_a_killed_one_left_is_gone_before_the_next_looks_for_room(
    config: Path, say: Say, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    left = config.parent / "share" / ".trial-20260101T000000Z.zip.abc.part"
    left.mkdir()
    os.utime(left, (0.0, 0.0))
    monkeypatch.setattr(keeping, "room_for", no_room)
    assert say("backup")[0] == 1
    assert not left.exists()


def no_room(n_bytes: int, where: Path) -> None:
    raise StoreUnreachable(f"{where}: needs {n_bytes} bytes")


def test_one_by_a_clock_that_was_ahead_makes_room_in_its_turn(config: Path, say: Say, clock: HandClock) -> None:
    assert say("backup")[0] == 0
    (ahead,) = kept(config)
    (config.parent / "share" / ahead).rename(config.parent / "share" / "trial-20991231T000000Z.zip")
    for n in range(2):
        with open_log(load(config).store, read_only=False) as log:
            log.append(shots(21 + n, 21 + n))
        clock.advance(3600.0)
        assert say("backup")[0] == 0
    assert len(kept(config)) == 2
    assert "trial-20991231T000000Z.zip" not in kept(config)


def test_the_newest_of_them_brings_the_log_back(config: Path, say: Say, clock: HandClock) -> None:
    """As it is documented: the day after the disk is lost."""
    assert say("backup")[0] == 0
    (newest,) = kept(config)
    with zipfile.ZipFile(config.parent / "share" / newest) as packed:
        assert {"log.db", "backup.json"} <= set(packed.namelist())
    with open_log(load(config).store) as log:
        before = [shot.shot for shot in log.logged("P25")]
    for file in config.parent.glob("trial.db*"):
        file.unlink()
    status, said, err = say("restore", str(config.parent / "share" / newest))
    assert (status, err) == (0, "")
    assert "it verifies" in said
    with open_log(load(config).store) as log:
        assert [shot.shot for shot in log.logged("P25")] == before == list(range(1, 21))
    assert say("verify")[0] == 0


def test_a_share_that_is_not_mounted_is_said_and_nothing_is_made_in_its_place(
    config: Path, say: Say, clock: HandClock
) -> None:
    assert say("backup")[0] == 0
    (file,) = kept(config)
    (config.parent / "share").rename(config.parent / "gone")
    clock.advance(3600.0)
    for _ in range(2):
        status, _, err = say("backup")
        assert status == 1
        assert "there is no folder" in err
        assert "its disk or share is mounted" in err
        clock.advance(3600.0)
    assert not (config.parent / "share").exists()
    status, said, _ = say("status")
    (line,) = [line for line in said.splitlines() if "BACKUP" in line]
    assert line.startswith("  BACKUP FAILED since ")
    assert f"; last backup {file}, at " in line
    assert line.endswith("shotlog backup CONFIG tries again")
    assert [line.strip()] == notices(config)
    assert notices(config, in_short=True)[0].startswith("Backups fail since ")
    told = json.loads(say("status", "--json")[1])["logging"]["backup"]
    assert told["failed_since"] > told["done"]
    with open_log(load(config).store) as log:
        assert (backed_up(log).failed or clock.now()) == clock.now() - timedelta(hours=2), "since the first that failed"
    (config.parent / "gone").rename(config.parent / "share")
    assert say("backup")[0] == 0
    assert json.loads(say("status", "--json")[1])["logging"]["backup"]["failed_since"] is None


def test_one_that_nobody_makes_is_said(config: Path, say: Say, clock: HandClock) -> None:
    assert "NO BACKUP yet, and one is wanted every 12 h" in say("status")[1]
    assert say("backup")[0] == 0
    assert "NO BACKUP since " in say("status")[1], "it is three days old by the clock that wrote it"
    assert notices(config)[0].startswith("NO BACKUP since ")
    clock.advance(3 * 86_400.0 - 3600.0)
    assert say("backup")[0] == 0
    assert "last backup trial-" in say("status")[1]
    assert notices(config) == []


def test_when_one_is_due() -> None:
    clock, wanted = HandClock(), BackupSettings(Path("share"), 12.0, 2)
    fresh = BackedUp(clock.now(), "a.zip")
    clock.advance(18 * 3600.0)
    assert not fresh.is_due(wanted, clock.now())
    clock.advance(1.0)
    assert fresh.is_due(wanted, clock.now())


def test_without_a_folder_the_file_is_named(config: Path, say: Say) -> None:
    config.write_text(CONFIG.replace('backup = "share"\n', ""), encoding="utf-8")
    status, _, err = say("backup")
    assert status == 2
    assert "--out: given nothing, allowed: the name of a file, or a folder as log.backup" in err
    assert "backup" not in say("status")[1].lower()
    assert json.loads(say("status", "--json")[1])["logging"]["backup"] is None
    assert notices(config) == []
