"""`shotlog status`: what could not be taken from a press, as it is said."""

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from shotlog.cli.main import main
from shotlog.clock import HandClock
from shotlog.recorder.budget import FaultBudget
from shotlog.records import Fault, Gap, Shot
from shotlog.store.log.log import Log
from shotlog.wording.times import clock_time

NOW = datetime(2026, 1, 5, 6, 0, tzinfo=UTC)
CONFIG = '[log]\nstore = "sqlite:///trial.db"\n[[press]]\nname = "P25"\n[press.collector]\nkind = "recording"\n'


def test_values_that_cannot_be_read_are_said_once_and_counted(
    log: Log, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Shots were stored without a value, and nothing was said of it."""
    (tmp_path / "trial.toml").write_text(CONFIG, encoding="utf-8")
    clock = HandClock(NOW)
    budget = FaultBudget(clock)
    for n in range(1, 45):
        log.append([Shot("P25", n, n, clock.now(), {"fill_time": 0.72})])
        if n >= 31:
            came = Fault("P25", clock.now(), "cushion text", "cushion came as 'ERR'", b"31;ERR", n)
            log.append(one for one in budget.take([came]) if isinstance(one, Fault))
        clock.advance(75.0)
    log.append(one for one in budget.close() if isinstance(one, Fault))
    main(["status", str(tmp_path / "trial.toml")])
    said = capsys.readouterr().out
    first = NOW + timedelta(seconds=30 * 75)
    assert f"Cushion came as 'ERR': 14 times since {clock_time(first)}, first at shot 31" in said
    assert "faults 14" in said
    main(["status", str(tmp_path / "trial.toml"), "--json"])
    (kind,) = json.loads(capsys.readouterr().out)["presses"][0]["faults_by_kind"]
    assert (kind["kind"], kind["n"], kind["first_shot"]) == ("cushion text", 14, 31)


def test_a_gap_of_uncertain_size_is_said_with_its_ends(
    log: Log, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "trial.toml").write_text(CONFIG, encoding="utf-8")
    reason = "counter rolled over or began again: from 65000 to 904 while not connected"
    log.append([Shot("P25", 65_000, 65_000, NOW, {}), Gap("P25", 65_001, 65_903, NOW, reason, 903, 1439)])
    log.append([Shot("P25", 65_904, 904, NOW, {})])
    main(["status", str(tmp_path / "trial.toml")])
    said = capsys.readouterr().out
    assert "stored 2, missed 903 to 1,439, faults 0" in said
    assert f"903 to 1,439 shots were missed before shot 65904: shots on an insert are counted by 903 ({reason})" in said
    main(["status", str(tmp_path / "trial.toml"), "--json"])
    (press,) = json.loads(capsys.readouterr().out)["presses"]
    assert press["shots_missed"] == 903
    assert [(gap["least"], gap["most"]) for gap in press["uncertain"]] == [(903, 1439)]
