"""What a notebook gets of a log: frames with units, a log by its file or configuration, and types."""

from datetime import UTC, datetime, timedelta
from importlib.resources import files
from pathlib import Path

import pytest

import shotlog
from shotlog.errors import StoreUnreachable
from shotlog.parts.part import Part
from shotlog.records import Gap, Shot
from shotlog.settings import Bound
from shotlog.store.inserts.entries import mount, note, remove
from shotlog.store.log.log import Log, open_log
from shotlog.store.parts.dispositions import enter_decision
from shotlog.store.parts.inspections import inspect
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


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """P25: A-07 fixed throughout, B-11 moving for shots 1 to 4, B-12 from 5, B-11 again from 9; 7 and 8 missed."""
    (tmp_path / "trial.toml").write_text(CONFIG, encoding="utf-8")
    with open_log(f"sqlite:///{(tmp_path / 'trial.db').as_posix()}", read_only=False) as log:
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
    return tmp_path / "trial.db"


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
    assert (gap["first"], gap["last"], gap["shots"], gaps.attrs["units"]) == (7, 8, 2, {"shots": "shots"})


def test_an_empty_log_gives_frames_with_columns_and_no_rows(tmp_path: Path) -> None:
    open_log(f"sqlite:///{(tmp_path / 'new.db').as_posix()}", read_only=False).close()
    with shotlog.open_log(str(tmp_path / "new.db")) as log:
        for name in ("shots", "inserts", "signals", "verdicts", "parts", "inspections", "events", "gaps"):
            frame = getattr(log, name)()
            assert frame.empty, name
            assert len(frame.columns) > 3, name
            assert isinstance(frame.attrs["units"], dict), name


def test_a_log_is_opened_by_file_by_text_and_by_url(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(file.parent)
    for where in (file, str(file), "trial.db", f"sqlite:///{file.as_posix()}"):
        with shotlog.open_log(where) as log:
            assert log.presses() == ["P25", "P15"]
    with pytest.raises(StoreUnreachable, match=r"none\.db: there is no such file yet"):
        shotlog.open_log("none.db")
    assert not Path("none.db").exists(), "looking makes no log"


def test_the_package_says_that_it_is_typed() -> None:
    assert (files(shotlog) / "py.typed").is_file()
    project = (Path(__file__).parents[1] / "pyproject.toml").read_text(encoding="utf-8")
    assert 'shotlog = ["py.typed"]' in project, "else it is left out of the wheel"
