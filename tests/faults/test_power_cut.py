"""A power cut at any instant, by the model of `power_cut`: what was told as logged is there, and the log opens whole.

The writes are those of a real `shotlog run`, recorded in their order at the edge of the process. `make soak` does the
same at some thousands of instants, and lets a real logger go on from some of them.
"""

import contextlib
import io
import shutil
import sqlite3
from pathlib import Path
from random import Random

import pytest

from shotlog.cli.main import main
from tests.faults import outside
from tests.faults.outside import Write, read_record
from tests.faults.power_cut import Disk, cut_points, told_before
from tests.faults.soak.referee import rows_of
from tests.faults.table.bed import Bed

CUTS, VERIFIED = 60, 6
CONFIG = '[log]\nstore = "sqlite:///trial.db"\n[[press]]\nname = "TCP"\n[press.collector]\nkind = "recording"\n'

pytestmark = pytest.mark.skipif(outside.shim() is None, reason="needs a C compiler, on Linux")


@pytest.fixture(scope="module")
def writes(tmp_path_factory: pytest.TempPathFactory) -> list[Write]:
    """Run a logger over some shots, to its end, and return what it did to the files of its folder."""
    folder = tmp_path_factory.mktemp("recorded")
    place = folder / "place"
    place.mkdir()
    record = folder / "record"
    with Bed(place, "TCP", environment=outside.recording(record, place)) as bed:
        bed.start()
        bed.make(40, 0.05)
        assert bed.caught_up() is not None
        assert bed.logger.stop(20) == 0
    return read_record(record)


def lay(files: dict[str, bytes], folder: Path) -> None:
    """Put the files of a cut into an empty folder."""
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir()
    for name, content in files.items():
        (folder / name).write_bytes(content)


def missing(folder: Path, told: list[tuple[str, int]]) -> set[tuple[str, int]]:
    """Return what was told and stands neither in the log nor waits beside it; the log must be whole."""
    with contextlib.closing(sqlite3.connect(folder / "trial.db")) as log:
        assert log.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    stored = [(one.press, one.shot) for one in rows_of(folder / "trial.db")[0]]
    assert len(set(stored)) == len(stored)
    return set(told) - set(stored)


def test_cut_at_any_instant(writes: list[Write], tmp_path: Path) -> None:
    assert any(one.what == "S" and one.file.endswith("-wal") for one in writes)
    chance = Random(20261128)
    points = cut_points(writes, CUTS, chance)
    disk, done, most = Disk(), 0, 0
    config = tmp_path / "cut" / "press.toml"
    for turn, point in enumerate(points):
        for one in writes[done : point + 1]:
            disk.do(one)
        done = point + 1
        told = told_before(writes[:done])
        most = max(most, len(told))
        for files in (disk.left(None, False), disk.left(None, True), disk.left(chance, False)):
            lay(files, config.parent)
            assert not missing(config.parent, told), f"cut after {point}: {writes[point].what} {writes[point].file}"
        if turn % (CUTS // VERIFIED) == 0:
            config.write_text(CONFIG, encoding="utf-8")
            with contextlib.redirect_stdout(io.StringIO()):
                assert main(["verify", str(config)]) == 0
    assert most >= 15  # of 40: a busy machine misses some


def test_the_model_sees_a_log_that_is_not_synchronised(writes: list[Write], tmp_path: Path) -> None:
    """The same writes without a single synchronisation since the log was made: the model must find shots lost."""
    begun = next(i for i, one in enumerate(writes) if one.what == "E" and b"logging " in one.data)
    idle = [one for i, one in enumerate(writes) if i < begun or one.what not in "SDTU"]
    last = max(i for i, one in enumerate(idle) if one.what == "E" and b": shot " in one.data)
    disk = Disk()
    for one in idle[: last + 1]:
        disk.do(one)
    lay(disk.left(None, False), tmp_path / "cut")
    assert missing(tmp_path / "cut", told_before(idle[: last + 1]))
