"""What ends the fill decides which channels an insert shows in."""

from pathlib import Path

import pytest
from made import prior_of

from shotlog import recording
from shotlog.records import LoggedShot, Verdict
from shotlog.settings import DesignSettings
from shotlog.wear.change.hypotheses import hypotheses
from shotlog.wear.change.signatures import MODES, SIGNATURES, in_spreads, placed
from shotlog.wear.monitor import Monitor
from simulators import story
from simulators.recording import runs, write_recording

SCALE = {
    "cushion": 20.0,
    "peak_pressure": 130.0,
    "fill_time": 180.0,
    "switchover_pressure": 130.0,
    "switchover_position": 50.0,
    "recovery_time": 50.0,
    "melt_temperature": 2.0,
    "insert_temperature": 1.0,
    "clamp_force": 300.0,
    "part_weight": 70.0,
    "mass_balance": 40.0,
}
"""Spreads in a share of the level, or in a unit: a peak of 540 bar within 4 bar, a cushion within 0.05 mm."""


@pytest.fixture(scope="module")
def eroded(tmp_path_factory: pytest.TempPathFactory) -> list[LoggedShot]:
    """Three inserts of 100 shots under switchover by pressure; gates erode from shots 58, 162 and 246 on."""
    scenario = story.load("pressure_switchover")
    file: Path = tmp_path_factory.mktemp("modes") / "shots.csv"
    with file.open("w", encoding="utf-8") as out:
        write_recording(scenario, runs(scenario), out)
    return [shot for shot in recording.read(file) if shot.press == "P56"]


def judged(shots: list[LoggedShot], design: DesignSettings) -> list[Verdict]:
    monitor = Monitor("P56", {"tab-fixed-r1": design, "tab-moving-r1": design})
    return [monitor.step(shot) for shot in shots]


def test_an_eroded_gate_is_named_where_the_mode_is_known(eroded: list[LoggedShot]) -> None:
    """Judged as if by position none is named. The fixed half stays in all along: it is blamed where the two cannot be
    told apart, and in the three shots after a swap in which that is asked."""
    verdicts = judged(eroded, DesignSettings(switchover="pressure"))
    for serial, last in (("M-01", 100), ("M-02", 200), ("M-03", 300)):
        assert (verdicts[last - 1].insert, verdicts[last - 1].cause) == (serial, "gate erosion")
    blamed = [one for one in verdicts if one.insert == "F-01" and one.verdict != "keep"]
    assert all(one.facts is not None and (one.facts.halves_alike or (one.shot - 1) % 100 < 3) for one in blamed)
    assert "gate erosion" not in {one.cause for one in judged(eroded, DesignSettings())}


def test_an_easier_flow_shows_where_the_mode_lets_it() -> None:
    """Shared knowledge of how a fill is controlled: common practice, no source."""
    opened = SIGNATURES["restriction opens"]
    by_position = in_spreads(placed(opened, SCALE, "position"), SCALE)
    assert by_position == in_spreads(placed(opened, SCALE, "time"), SCALE)
    assert by_position["peak_pressure"] == pytest.approx((-1.1, -0.9))
    by_pressure = in_spreads(placed(opened, SCALE, "pressure"), SCALE)
    assert "switchover_pressure" not in by_pressure
    assert by_pressure["switchover_position"][1] < 0 < by_pressure["fill_time"][0]
    at_the_limit = in_spreads(placed(opened, SCALE, "limited"), SCALE)
    assert set(at_the_limit) == {"fill_time", "cushion", "part_weight"}
    assert at_the_limit["fill_time"][1] < 0


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("name", SIGNATURES)
def test_the_leading_channel_stays_one_in_every_mode(name: str, mode: str) -> None:
    effect = in_spreads(placed(SIGNATURES[name], SCALE, mode), SCALE)
    assert all(low <= high for low, high in effect.values())
    assert max(abs(low + high) / 2.0 for low, high in effect.values()) == pytest.approx(1.0)


@pytest.mark.parametrize("mode", MODES)
def test_erosion_can_be_told_from_three_channels_in_every_mode(mode: str) -> None:
    table = hypotheses(prior_of(), mode)
    assert "gate erosion" in {table.names[at] for at in table.cause}
