"""What ends the fill decides which channels an insert shows in."""

from pathlib import Path

import pytest

from shotlog import recording
from shotlog.records import LoggedShot, Verdict
from shotlog.settings import DesignSettings
from shotlog.wear.change.hypotheses import hypotheses
from shotlog.wear.change.signatures import MODES, SIGNATURES, under
from shotlog.wear.monitor import Monitor
from simulators import story
from simulators.recording import runs, write_recording

THREE = ("cushion", "peak_pressure", "fill_time")


@pytest.fixture(scope="module")
def eroded(tmp_path_factory: pytest.TempPathFactory) -> list[LoggedShot]:
    """Three inserts of 100 shots under switchover by pressure; gates erode from shots 58, 162 and 246 on."""
    scenario = story.load("pressure_switchover")
    file: Path = tmp_path_factory.mktemp("modes") / "shots.csv"
    with file.open("w", encoding="utf-8") as out:
        write_recording(scenario, runs(scenario), out)
    return [shot for shot in recording.read(file) if shot.press == "P56"]


def calls(shots: list[LoggedShot], design: DesignSettings) -> dict[str, Verdict]:
    """Return the last call made on each insert."""
    monitor = Monitor("P56", {"tab-fixed-r1": design, "tab-moving-r1": design})
    verdicts = [monitor.step(shot) for shot in shots]
    return {verdict.insert: verdict for verdict in verdicts if verdict.verdict != "keep"}


def test_an_eroded_gate_is_named_where_the_mode_is_known(eroded: list[LoggedShot]) -> None:
    """Judged as if by position, two of the three are never called, and the third as nobody knows what."""
    known = calls(eroded, DesignSettings(switchover="pressure"))
    assert {serial: call.cause for serial, call in known.items()} == dict.fromkeys(
        ("M-01", "M-02", "M-03"), "gate erosion"
    )
    assert "gate erosion" not in {call.cause for call in calls(eroded, DesignSettings()).values()}


def test_an_easier_flow_shows_where_the_mode_lets_it() -> None:
    """Shared knowledge of how a fill is controlled: common practice, no source."""
    opened = SIGNATURES["restriction opens"]
    assert under(opened, "position") == opened == under(opened, "time")
    by_pressure = under(opened, "pressure").effect
    assert "switchover_pressure" not in by_pressure
    assert by_pressure["switchover_position"][1] < 0 < by_pressure["fill_time"][0]
    at_the_limit = under(opened, "limited").effect
    assert set(at_the_limit) == {"fill_time", "cushion", "part_weight"}
    assert at_the_limit["fill_time"][1] < 0


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("name", SIGNATURES)
def test_the_leading_channel_stays_one_in_every_mode(name: str, mode: str) -> None:
    effect = under(SIGNATURES[name], mode).effect
    assert all(low <= high for low, high in effect.values())
    assert max(max(abs(low), abs(high)) for low, high in effect.values()) >= 0.9


@pytest.mark.parametrize("mode", MODES)
def test_erosion_can_be_told_from_three_channels_in_every_mode(mode: str) -> None:
    table = hypotheses(THREE, mode)
    assert "gate erosion" in {table.names[at] for at in table.cause}
