"""The real logger beside a press that writes its shots into files, a process of its own by other hands."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from shotlog.cli.main import main
from shotlog.store.log.log import open_log
from tests.end_to_end.running import Run, write_config

SCENARIO = """
title = "somebody turns the knobs"
shots = 30
seed = 3

[[press]]
name = "P53"
preset = "pa66-gf30"
mount = [{ half = "moving", serial = "M-01", design = "nut-moving-r1" }]
edit = [
    { at_shot = 12, key = "hold_bar", value = 410.0 },
    { at_shot = 20, key = "speed_mm_s", value = 25.0 },
]
"""
PRESS = """
[[press]]
name = "P53"
{table}
    [press.collector.setpoints]
    hold = {{ token = "SetPrsHldSpec[1]" }}
    job = {{ token = "SetDescJob", text = true }}
"""


def test_every_shot_is_stored_with_its_values_and_a_change_told_twice_is_one_entry(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    scenario = tmp_path / "knobs.toml"
    scenario.write_text(SCENARIO, encoding="utf-8")
    ways = "P53=euromap63:pieces=two,others=yes,units=other"
    command = [sys.executable, "-m", "simulators", "serve", str(scenario), "--speed", "1000", "--press", ways, "--wait"]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as serving:
        assert serving.stdin is not None
        assert serving.stdout is not None
        place = json.loads(serving.stdout.readline())["serving"]["P53"]
        config = write_config(tmp_path, PRESS.format(table=place["config"]))
        with Run(config) as run:
            run.wait_for("P53: connected: ")
            serving.stdin.write("go\n")
            serving.stdin.flush()
            run.wait_for("P53: shot 30 ")
            assert run.stop() == 0
        diary = [json.loads(line) for line in Path(place["diary"]).read_text("utf-8").splitlines()]
        left = sorted(one.name for one in Path(place["folder"]).iterdir() if one.name.startswith("S01"))
        serving.stdin.close()
    made = {one["shot"]: one["values"] for one in diary if "shot" in one}
    with open_log(f"sqlite:///{tmp_path.as_posix()}/trial.db") as log:
        shots = {shot.shot: shot.values for shot in log.logged("P53")}
    assert list(shots) == list(range(1, 31))
    for number, values in shots.items():
        assert values["fill_time"] * 1000.0 == float(made[number]["ActTimFill[1]"])
        assert abs(values["cushion"] / 25.4 - float(made[number]["ActStrCsh[1]"])) < 1e-9
    assert main(["entries", str(config), "--json"]) == 0
    entries = json.loads(capsys.readouterr().out)
    told = [one for one in entries if "hold" in str(one)]
    assert len(told) == 1, entries
    assert len([one for one in entries if "SetSpdInj[1]" in str(one)]) == 1, "told by the press, and read by nobody"
    jobs = [one["text"].split(";")[1].split()[0] for one in diary if "job" in one]
    assert set(jobs) == {"GETINFO", "GETID", "REPORT", "EVENT"}
    assert left == [f"S01{letter}0001.{end}" for letter in "ER" for end in ("DAT", "JOB", "LOG")]
