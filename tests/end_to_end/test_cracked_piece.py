"""The piece that cracked on loading, shot 19 of P15 of the demo: its part is held though nobody noted anything."""

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from shotlog import recording
from shotlog.evaluator import Evaluator
from shotlog.parts.far import FarOut
from shotlog.records import Verdict
from simulators.recording import runs, write_recording
from simulators.story import load

DEMO = Path(__file__).parents[2] / "simulators" / "scenarios" / "demo.toml"
NOON = datetime(2026, 3, 2, 12, tzinfo=UTC)


def test_a_part_far_out_alone_is_held_and_its_neighbours_are_not(tmp_path: Path) -> None:
    scenario = load(DEMO)
    run = [one for one in runs(scenario, shots=30) if one.press.name == "P15"]
    path = tmp_path / "p15.csv"
    with path.open("w", encoding="utf-8") as out:
        write_recording(scenario, run, out)
    evaluator = Evaluator("P15", {})
    silent = (replace(shot, events=(), about=()) for shot in recording.read(path))
    verdicts = [one for shot in silent for one in evaluator.step(shot) if isinstance(one, Verdict)]
    odd = [
        FarOut(one.shot, one.insert, one.facts.odd_channel, one.facts.odd_by, 0, NOON)
        for one in verdicts
        if one.facts is not None and one.facts.odd_shot == one.shot
    ]
    assert [one.shot for one in odd if one.holds] == [19]
    assert {one.verdict for one in verdicts} == {"keep"}
