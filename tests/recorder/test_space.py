"""Free space: how long it is enough for, and said once each when it gets low and when a disk is nearly full."""

import shutil
from collections import namedtuple
from pathlib import Path

import pytest

from shotlog.clock import HandClock
from shotlog.recorder.space import LOW_BYTES, Space, lowness
from shotlog.settings import load
from shotlog.wording.kept import space_said

CONFIG = '[log]\nstore = "{}"\n{}[[press]]\nname = "P"\n[press.collector]\nkind = "recording"\n'
Usage = namedtuple("Usage", "total used free")


@pytest.fixture
def free(monkeypatch: pytest.MonkeyPatch) -> dict[str, int]:
    """How much is free, by the name of the folder."""
    found: dict[str, int] = {}
    monkeypatch.setattr(shutil, "disk_usage", lambda folder: Usage(10**12, 0, found[Path(folder).name]))
    return found


def watching(folder: Path, clock: HandClock, store: str = "sqlite:///log/trial.db", more: str = "") -> Space:
    (folder / "log").mkdir(exist_ok=True)
    config = folder / "c.toml"
    config.write_text(CONFIG.format(store, more))
    return Space(load(config), clock)


def test_bounds() -> None:
    assert [lowness(n) for n in (LOW_BYTES[0], LOW_BYTES[0] - 1, LOW_BYTES[1], LOW_BYTES[1] - 1, 0)] == [0, 1, 1, 2, 2]


@pytest.mark.file
def test_low_is_said_once_each_and_again_only_after_there_was_room(
    tmp_path: Path, free: dict[str, int], caplog: pytest.LogCaptureFixture
) -> None:
    space = watching(tmp_path, HandClock())
    space.reserved = 8_000_000
    for megabytes in (2000, 1010, 990, 1010, 990, 150, 90, 80, 120, 90, 1100, 900, 5000, 900):
        free["log"] = megabytes * 10**6
        space.look()
    said = [record.getMessage() for record in caplog.records]
    assert [one.split(":")[0] for one in said] == ["low", "NEARLY FULL", "low"]
    assert said[1] == (
        f"NEARLY FULL: disk of the log and the journal ({tmp_path / 'log'}): 90 MB free, "
        "enough for about 25,000 shots; the reserve of the journal still takes about 20,000 shots; make room there"
    )


@pytest.mark.file
def test_a_full_disk_is_said_with_what_the_reserve_still_takes(tmp_path: Path, free: dict[str, int]) -> None:
    """With space kept for 20,000 shots it was said to be enough for about 0."""
    space, free["log"] = watching(tmp_path, HandClock()), 0
    for reserved, said in (
        (8_000_000, "0 MB free; the reserve of the journal still takes about 20,000 shots; make room there"),
        (0, "0 MB free; the journal has no reserve for shots (not taken, or used up); make room there"),
    ):
        space.reserved = reserved
        (disk,) = space.look()
        words = space_said(disk.what, disk.folder, disk.free_bytes, disk.shots, disk.hours, disk.low, disk.reserve)
        assert words.endswith(said)


def test_how_long_it_is_enough_follows_the_growth_of_the_log(tmp_path: Path, free: dict[str, int]) -> None:
    clock, free["log"] = HandClock(), 36_000_000_000
    space = watching(tmp_path, clock)
    (disk,) = space.look()
    assert (disk.what, disk.shots, disk.hours, disk.low) == ("the log and the journal", 10_000_000, None, 0)
    (tmp_path / "log" / "trial.db").write_bytes(bytes(12_000_000))
    space.n_logged = 1000
    clock.advance(3600.0)
    (disk,) = space.look()
    assert (disk.shots, disk.hours) == (3_000_000, 3000.0)


@pytest.mark.file
def test_a_disk_that_cannot_be_looked_at_and_a_server_are_left_out(tmp_path: Path, free: dict[str, int]) -> None:
    free[tmp_path.name] = 10**11
    (disk,) = watching(tmp_path, HandClock(), "postgresql+psycopg://ann@host/db").look()
    assert (disk.what, disk.folder) == ("the journal", str(tmp_path))
    free["log"] = 10**11
    space = watching(tmp_path, HandClock())
    (tmp_path / "log").rmdir()
    assert space.look() == ()
