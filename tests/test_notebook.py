"""What a notebook gets of a log: frames with units, a log by its file or configuration, and types."""

import contextlib
import os
import re
import runpy
import shutil
import sqlite3
from datetime import UTC, datetime, timedelta
from importlib.resources import files
from pathlib import Path

import pytest

import shotlog
from shotlog.errors import StoreUnreachable, UsageError
from shotlog.parts.part import Part
from shotlog.records import Fault, Gap, Shot
from shotlog.settings import Bound
from shotlog.store.inserts.entries import mount, note, remove
from shotlog.store.log.log import Log, open_log
from shotlog.store.parts.dispositions import enter_decision
from shotlog.store.parts.inspections import inspect
from shotlog.store.parts.places import put_at
from shotlog.store.undo import take_back

START = datetime(2026, 11, 28, 6, 0, tzinfo=UTC)
CONFIG = """
[log]
store = "sqlite:///trial.db"
[[press]]
name = "P25"
  [press.collector]
  kind = "recording"
[design.cap-r2]
cavities = 2
"""


def at(shot: int) -> datetime:
    return START + timedelta(minutes=shot)


def shoot(log: Log, *shots: int, press: str = "P25") -> None:
    log.append([Shot(press, n, n, at(n), {"cushion": 4.9, "peak_pressure": 540.0}) for n in shots])


@pytest.fixture(scope="module")
def filled(fresh: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """P25: A-07 fixed throughout, B-11 moving for shots 1 to 4, B-12 from 5, B-11 again from 9; 7 and 8 missed."""
    path = shutil.copy(fresh, tmp_path_factory.mktemp("filled") / "trial.db")
    with open_log(f"sqlite:///{path.as_posix()}", read_only=False) as log:
        mount(log, "P25", "A-07", at(0), half="fixed", design="cap-r2")
        mount(log, "P25", "B-11", at(0), half="moving", design="cap-r2")
        shoot(log, 1, 2, 3, 4)
        mount(log, "P25", "B-12", at(4), half="moving", design="cap-r2")
        shoot(log, 5, 6)
        note(log, "P25", "finding", "flash at the gate", at(6), half="moving", initials="RK")
        wrong = note(log, "P25", "lot", "L9", at(6))
        take_back(log, "events", wrong.entry_id, at(6), "typed into the wrong press")
        log.append([Gap("P25", 7, 8, at(8), "the counter jumped")])
        remove(log, "P25", "B-12", at(8), reason="flash", at_shot=9)
        mount(log, "P25", "B-11", at(8), half="moving", design="cap-r2", at_shot=9)
        shoot(log, 9, 10)
        mount(log, "P15", "S-001", at(0), half="moving", single_use=True)
        shoot(log, 1, 2, press="P15")
        inspect(log, Part("P25", 2), at(20), quantity="wall", value=1.4, tolerance=Bound(1.1, 1.3), initials="QM")
        enter_decision(log, [Part("P25", 3)], "scrapped", at(21), reason="cracked", initials="QM")
    return path


@pytest.fixture
def file(filled: Path, tmp_path: Path) -> Path:
    (tmp_path / "trial.toml").write_text(CONFIG, encoding="utf-8")
    return shutil.copy(filled, tmp_path / "trial.db")


def test_shots_count_the_shots_on_each_half(file: Path) -> None:
    with shotlog.open_log(file) as log:
        shots = log.shots("P25")
        assert shots["moving"].tolist() == ["B-11"] * 4 + ["B-12"] * 2 + ["B-11"] * 2
        assert shots["moving_shots"].tolist() == [1, 2, 3, 4, 1, 2, 5, 6]
        assert shots["fixed_shots"].tolist() == [1, 2, 3, 4, 5, 6, 9, 10], "those nobody saw were made on it as well"
        assert shots["core_shots"].isna().all()
        assert (shots.attrs["units"]["cushion"], shots.attrs["units"]["moving_shots"]) == ("mm", "shots")
        assert log.shots()["moving_shots"].tolist()[-2:] == [1, 1], "a single-use piece makes one"


def test_parts_with_how_they_stand(file: Path) -> None:
    with shotlog.open_log(file) as log:
        parts = log.parts("P25").set_index("shot")
    assert parts.index.tolist() == list(range(1, 11)), "parts of a gap were made as well"
    assert parts.loc[3, "state"] == "scrapped"
    assert (parts.loc[3, "initials"], parts.loc[3, "decided"]) == ("QM", at(21))
    assert parts.loc[2, "state"] == "held"
    assert "wall 1.4" in parts.loc[2, "why"]
    assert parts["time"].isna().tolist() == [shot in (7, 8) for shot in parts.index]
    assert parts.loc[5, "moving"] == "B-12"


def test_a_configuration_brings_the_cavities(file: Path) -> None:
    with shotlog.open_log(file.with_suffix(".toml")) as log:
        assert log.parts("P25")["cavity"].tolist() == [1, 2] * 10
        assert log.parts("P15")["cavity"].tolist() == [1, 1]


def test_inspections_events_and_gaps(file: Path) -> None:
    with shotlog.open_log(file) as log:
        found, events, gaps = log.inspections(), log.events(), log.gaps()
    (one,) = found.to_dict("records")
    assert (one["shot"], one["quantity"], one["value"], one["high"], one["unit"]) == (2, "wall", 1.4, 1.3, "mm")
    assert (one["bad"], one["initials"], one["entered"]) == (True, "QM", at(20))
    assert found.attrs["units"]["value"] == "see column unit"
    (noted,) = events.to_dict("records")
    assert [noted[name] for name in ("press", "shot", "kind", "half", "initials")] == [
        "P25",
        6,
        "finding",
        "moving",
        "RK",
    ]
    (gap,) = gaps.to_dict("records")
    assert (gap["first"], gap["last"], gap["shots"], gap["least"], gap["most"]) == (7, 8, 2, 2, 2)
    assert set(gaps.attrs["units"].values()) == {"shots"}


def test_shots_say_what_the_display_showed_and_which_made_no_part(file: Path) -> None:
    with open_log(f"sqlite:///{file.as_posix()}", read_only=False) as log:
        log.use_trial("cap trial 7", "cap", "PP", "2026-11-28T06:30:00Z")
        log.append([Shot("P25", 65_537, 1, at(30), {"cushion": 4.9}, no_part="stood there")])
        note(log, "P25", "dry", "purged", at(31), at_shot=65_537)
    with shotlog.open_log(file) as log:
        newest = log.shots("P25").iloc[-1]
        first = log.shots("P25").iloc[0]
    assert (newest["shot"], newest["counter"], newest["trial"], newest["dry"]) == (65_537, 1, "cap trial 7", True)
    assert (first["counter"], first["trial"], first["dry"]) == (1, "", False)


def test_entries_of_every_kind_with_what_was_taken_back(file: Path) -> None:
    with shotlog.open_log(file) as log:
        entries = log.entries("P25")
        assert set(log.entries()["press"]) == {"P25", "P15"}
    lot = entries[entries["about"] == "lot"].iloc[0]
    assert (lot["text"], lot["taken_back"], lot["why"]) == ("L9", at(6), "typed into the wrong press")
    assert entries["taken_back"].notna().sum() == 1
    assert set(entries["via"]) == {""}, "the store was opened past the notebook"
    assert set(entries["kind"]) == {"mounting", "removal", "event", "decision", "inspection"}
    assert entries.loc[entries["kind"] == "mounting", "about"].tolist() == ["A-07", "B-11", "B-12", "B-11"]


def test_what_is_entered_from_python_is_signed(file: Path) -> None:
    with shotlog.open_log(file, read_only=False, initials="RK") as log:
        note(log, "P25", "finding", "sink", at(30), initials="RK")
        newest = log.entries("P25").iloc[-1]
    assert (newest["text"], newest["initials"], newest["via"], newest["account"]) == ("sink", "RK", "python", "")
    assert "@" in newest["address"]


def test_lives_over_all_stays(file: Path) -> None:
    with shotlog.open_log(file) as log:
        lives = log.lives().set_index("serial")
        assert log.lives("P15").empty, "a single-use piece has no life of its own"
    assert lives["shots"].to_dict() == {"A-07": 10, "B-11": 6, "B-12": 4}
    assert lives["gone_off"].to_dict() == {"A-07": False, "B-11": True, "B-12": True}, "shot 2 on B-11 was out"
    assert lives["mounted"].to_dict() == {"A-07": True, "B-11": True, "B-12": False}
    assert lives.loc["B-12", "reason"] == "flash"


def test_faults_and_where_parts_are(file: Path) -> None:
    with open_log(f"sqlite:///{file.as_posix()}", read_only=False) as log:
        log.append([Fault("P25", at(9), "torn", "values changed while they were read", more=4)])
        put_at(log, [Part("P25", 2)], "box 4", at(20))
    with shotlog.open_log(file) as log:
        faults = log.faults()
        parts = log.parts("P25").set_index("shot")
    (fault,) = faults.to_dict("records")
    assert (fault["kind"], fault["times"], fault["time"]) == ("torn", 5, at(9))
    assert faults["shot"].isna().all(), "it belongs to no shot"
    assert parts.loc[[1, 2], "place"].tolist() == ["", "box 4"]


FRAMES = (
    "shots", "inserts", "lives", "signals", "verdicts", "parts", "inspections", "events", "entries", "gaps", "faults",
    "set_points", "told",
)  # fmt: skip


def test_an_empty_log_gives_frames_with_columns_of_the_same_types(file: Path, fresh: Path) -> None:
    with shotlog.open_log(str(fresh)) as empty, shotlog.open_log(file) as filled:
        for name in FRAMES:
            frame, other = getattr(empty, name)(), getattr(filled, name)()
            assert frame.empty, name
            assert len(frame.columns) > 3, name
            assert isinstance(frame.attrs["units"], dict), name
            assert frame.dtypes.to_dict() == other.dtypes[list(frame.columns)].to_dict(), name


def test_a_press_that_the_log_does_not_know_is_named(file: Path) -> None:
    with shotlog.open_log(file) as log:
        for name in FRAMES:
            with pytest.raises(UsageError, match=r"press: given 'P99', allowed: P25 | P15"):
                getattr(log, name)("P99")


def test_a_log_of_an_earlier_schema_is_read_and_stays_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "earlier.db"
    with contextlib.closing(sqlite3.connect(path)) as connection:
        connection.executescript((Path(__file__).parent / "store/earlier/0001.sql").read_text(encoding="utf-8"))
    before = path.read_bytes()
    with shotlog.open_log(path) as log:
        assert len(log.shots()) == len(log.verdicts()) == 24
        assert (len(log.entries()), log.entries()["taken_back"].notna().sum()) == (13, 1)
        assert all(len(getattr(log, name)().columns) > 3 for name in FRAMES)
    assert path.read_bytes() == before


def test_a_log_that_is_written_at_this_moment_is_read(file: Path) -> None:
    with open_log(f"sqlite:///{file.as_posix()}", read_only=False) as logger, shotlog.open_log(file) as log:
        with logger.transaction():
            assert len(log.shots("P25")) == 8, "a reader waits for nobody"
        shoot(logger, 11)
        assert len(log.shots("P25")) == 9, "each frame is the log as it stands"


def test_a_log_in_a_folder_that_may_not_be_written_is_read(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """SQLite would put two files beside it to read it, and fail where it may not; `access` stands for such a folder."""
    monkeypatch.setattr(os, "access", lambda path, _: Path(path) != file.parent)
    beside = sorted(file.parent.iterdir())
    with shotlog.open_log(file) as log:
        assert len(log.shots("P25")) == 8
        assert sorted(file.parent.iterdir()) == beside, "nothing was put beside it"
        with open_log(f"sqlite:///{file.as_posix()}", read_only=False) as logger:
            shoot(logger, 11)
            assert len(log.shots("P25")) == 9, "somebody else may write there, and has begun to"


def test_a_log_is_opened_by_file_by_text_and_by_url(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(file.parent)
    for where in (file, str(file), "trial.db", f"sqlite:///{file.as_posix()}"):
        with shotlog.open_log(where) as log:
            assert log.presses() == ["P25", "P15"]
    with pytest.raises(StoreUnreachable, match=r"none\.db: there is no such file yet"):
        shotlog.open_log("none.db")
    assert not Path("none.db").exists(), "looking makes no log"
    with pytest.raises(StoreUnreachable, match=r"this is a folder, allowed: the file of a log, or the configuration"):
        shotlog.open_log(file.parent)


def test_what_the_readme_shows_runs(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    readme = (Path(__file__).parents[1] / "README.md").read_text(encoding="utf-8")
    _, _, section = readme.partition("### In Python")
    shown = re.findall(r"^    (.*)$", section.partition("| frame |")[0], re.MULTILINE)
    (file.parent / "demo").mkdir()
    for name in ("trial.db", "trial.toml"):
        shutil.copy(file.parent / name, file.parent / "demo" / name)
    (file.parent / "demo" / "trial.toml").rename(file.parent / "demo" / "demo.toml")
    monkeypatch.chdir(file.parent)
    Path("shown.py").write_text("\n".join(shown), encoding="utf-8")
    names = runpy.run_path("shown.py")
    names["log"].close()
    assert names["unit"] == "mm"
    assert names["sound"].loc["B-11", "count"] == 6
    assert set(names["held"]["shot"]) >= {2}
    frames = re.findall(r"^\| `(\w+)` \|", section.partition("## ")[0], re.MULTILINE)
    assert sorted(frames) == sorted(FRAMES)


def test_the_package_says_that_it_is_typed() -> None:
    assert (files(shotlog) / "py.typed").is_file()
    project = (Path(__file__).parents[1] / "pyproject.toml").read_text(encoding="utf-8")
    assert 'shotlog = ["py.typed"' in project, "else it is left out of the wheel"
