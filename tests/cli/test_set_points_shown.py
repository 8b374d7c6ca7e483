"""What a press is set to: where people find it, by command, page and frame; and that a replay says the same."""

import csv
import json
from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from random import Random
from types import SimpleNamespace
from typing import Any

import pytest

from dashboard.presses.page import _set_to
from shotlog.cli.main import main
from shotlog.clock import HandClock
from shotlog.collectors import options
from shotlog.evaluator import Evaluator
from shotlog.recorder.judge import Judge
from shotlog.recorder.started import start_of
from shotlog.records import SetPoint, SetPointChange, Shot, Verdict
from shotlog.settings import load
from shotlog.store.asked.set_points import set_points_at
from shotlog.store.inserts.entries import mount
from shotlog.store.log.log import Log, open_log

CONFIG = """
[log]
store = "sqlite:///trial.db"
[[press]]
name = "P25"
  [press.collector]
  kind = "modbus-tcp"
  host = "127.0.0.1"
  shot_counter = { address = 0, type = "uint32" }
    [press.collector.channels]
    cushion = { address = 8, type = "int16", scale = 0.01, unit = "mm" }
    peak_pressure = { address = 7, type = "uint16", scale = 0.1, unit = "bar" }
    fill_time = { address = 4, type = "uint16", unit = "ms" }
    [press.collector.setpoints]
    hold_pressure = { address = 40, type = "uint16", scale = 0.1, unit = "bar" }
    cooling = { address = 41, type = "uint16", unit = "s" }
"""

EDITED_AT, LAST = 41, 60


def fill(log: Log, clock: HandClock, config: Path) -> None:
    """Sixty shots of one insert; the hold pressure is set from 350 to 360 bar before shot 41, and values follow it."""
    settings, noise = load(config), Random(17).gauss
    for press in settings.presses:
        options(press)
    log.append([start_of(settings, clock.now())])
    mount(log, "P25", "B-11", clock.now())
    for n in range(1, LAST + 1):
        clock.advance(75.0)
        edited = n >= EDITED_AT
        values = {
            "cushion": round(4.94 - 0.3 * edited + noise(0, 0.05), 2),
            "peak_pressure": round(542.0 + 14.0 * edited + noise(0, 4.0), 1),
            "fill_time": round(0.72 + noise(0, 0.004), 3),
        }
        read = {"hold_pressure": SetPoint(360.0 if edited else 350.0, "bar")}
        read |= {} if n == 50 else {"cooling": SetPoint(45.0, "s")}
        told = [SetPointChange("P25", n, clock.now(), "hold_pressure", 350.0, 360.0, "bar", "K")]
        log.append([*(told if n == EDITED_AT else []), Shot("P25", n, n, clock.now(), values, set_points=read)])
    Judge(log, "P25", settings.designs, clock).catch_up()


@pytest.fixture(scope="module")
def config(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("set")
    (folder / "trial.toml").write_text(CONFIG, "utf-8")
    with open_log(f"sqlite:///{folder / 'trial.db'}", read_only=False) as log:
        fill(log, HandClock(), folder / "trial.toml")
    return folder / "trial.toml"


@pytest.fixture
def log(config: Path) -> Iterator[Log]:
    with open_log(f"sqlite:///{config.with_name('trial.db')}") as log:
        yield log


def said(capsys: pytest.CaptureFixture[str], *words: object) -> str:
    capsys.readouterr()
    assert main([str(word) for word in words]) == 0
    return capsys.readouterr().out


def test_status_says_how_many_there_are_and_what_was_changed_last(
    config: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    capsys.readouterr()
    main(["status", str(config)])
    line = "  set to:     2 set-points, last changed at shot 41: hold pressure 360 bar\n"
    assert line in capsys.readouterr().out
    main(["status", str(config), "--json"])
    (press,) = json.loads(capsys.readouterr().out)["presses"]
    assert press["set_points"] == {
        "hold_pressure": {"value": "360", "unit": "bar", "since_shot": 41, "changed": True, "by": "K"},
        "cooling": {"value": "45", "unit": "s", "since_shot": 51, "changed": False, "by": ""},
    }


@pytest.mark.parametrize(
    ("shot", "hold", "cooling"),
    [
        (40, "350 bar  shot 1, when it was first read", "45 s     shot 1, when it was first read"),
        (41, "360 bar   shot 41, by K at the press", "45 s      shot 1, when it was first read"),
        (50, "360 bar   shot 41, by K at the press", "not read  shot 50"),
    ],
)
def test_a_part_says_what_the_press_was_set_to_and_since_which_shot(
    config: Path, capsys: pytest.CaptureFixture[str], shot: int, hold: str, cooling: str
) -> None:
    text = " ".join(said(capsys, "part", config, "P25", shot).split())
    for name, words in (("Hold pressure", hold), ("Cooling", cooling)):
        assert " ".join(f"{name} {words}".split()) in text
    (document,) = json.loads(said(capsys, "part", config, "P25", shot, "--json"))
    assert document["set_points"]["hold_pressure"]["value"] == ("350" if shot < EDITED_AT else "360")


def test_check_says_what_is_read_from_where(config: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = said(capsys, "check", config)
    assert (
        "set-point hold_pressure: holding register 40 (40041 in a map that counts from 40001), uint16, x 0.1 bar"
        in text
    )
    assert "press[1].collector.setpoints.hold_pressure.scale = 0.1" in text


def test_the_page_of_presses_shows_value_since_when_and_where_from(log: Log) -> None:
    came: Any = SimpleNamespace(set_points=tuple(set_points_at(log, "P25")))
    places: Mapping[str, str] = {"hold_pressure": "register 40, uint16, x 0.1", "mould_heat": "register 42, uint16"}
    (table,) = _set_to("P25", came, places)
    rows = [[cell.children for cell in row.children] for row in table.children[2].children]
    assert rows == [
        ["Hold pressure", "360", "bar", "shot 41, by K at the press", "register 40, uint16, x 0.1"],
        ["Cooling", "45", "s", "shot 51, when it was first read", ""],
        ["Mould heat", "not read", "", "", "register 42, uint16"],
    ]
    assert _set_to("P25", SimpleNamespace(set_points=()), {}) == []  # type: ignore[arg-type]


def test_a_frame_of_them_for_notebooks(log: Log) -> None:
    frame = log.set_points("P25")
    assert frame[["shot", "name", "value", "unit", "old", "by"]].values.tolist() == [
        [1, "hold_pressure", "350", "bar", "", ""],
        [1, "cooling", "45", "s", "", ""],
        [41, "hold_pressure", "360", "bar", "350", "K"],
        [50, "cooling", "", "s", "", ""],
        [51, "cooling", "45", "s", "", ""],
    ]
    assert frame["number"].tolist()[:3] == [350.0, 45.0, 360.0]
    assert str(frame["time"].dtype) == "datetime64[ns, UTC]"
    assert log.set_points("P15").empty


def test_what_a_person_entered_as_well_is_no_second_set_up(log: Log) -> None:
    """It would be a second new baseline, and twice as likely to be the work of the set-up."""

    def said(more: tuple[tuple[str, str], ...]) -> list[tuple[object, ...]]:
        evaluator, found = Evaluator("P25", {}), []
        for shot in log.logged("P25"):
            given = replace(shot, events=(*more, *shot.events)) if shot.shot == EDITED_AT else shot
            *_, verdict = evaluator.step(given)
            assert isinstance(verdict, Verdict)
            found.append((verdict.verdict, verdict.settling, verdict.statistic, verdict.threshold, verdict.signals))
        return found

    assert said((("setup", "hold up by 10"),)) == said(())


def test_the_call_knows_the_change_and_a_replay_says_the_same(
    config: Path, log: Log, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """P10: an exact step at the shot of the edit is that of the set-up, and no call on the insert."""
    shots = {shot.shot: shot for shot in log.logged("P25")}
    assert shots[EDITED_AT].events == (("setup", "hold pressure 350 -> 360 bar (by K at the press)"),)
    live = log.verdicts("P25")
    assert set(live["verdict"]) == {"keep"}
    out, verdicts, again = tmp_path / "rec.csv", tmp_path / "v.csv", tmp_path / "again.toml"
    said(capsys, "export", config, "--out", out)
    again.write_text('[log]\nstore = "sqlite:///again.db"\n[[press]]\nname = "P25"\n[press.collector]\n'
                     'kind = "recording"\n', "utf-8")  # fmt: skip
    said(capsys, "replay", again, out, "--verdicts", verdicts)
    with verdicts.open(encoding="utf-8", newline="") as file:
        replayed = list(csv.DictReader(file))
    assert [(int(row["shot"]), row["verdict"], row["settling"]) for row in replayed] == [
        (int(row.shot), row.verdict, str(bool(row.settling)).lower()) for row in live.itertuples()
    ]
    assert [row["statistic"] for row in replayed if row["statistic"]] == [
        repr(float(one)) for one in live["statistic"].dropna()
    ]
