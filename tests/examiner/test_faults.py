"""A drawn change moves what its cause moves, by the size and from the shot that the truth states."""

import numpy as np
import pytest

from tests.benchmark.examiner.faults import FAULTS, GROUP_SHARES, draw_change, faults_of
from tests.benchmark.examiner.press import draw_press
from tests.benchmark.examiner.shapes import shape_of


@pytest.mark.parametrize("kind", ["step", "smeared", "ramp", "root", "quadratic", "accelerating", "saturating"])
def test_a_shape_is_nothing_before_its_onset_and_whole_after_its_time(kind: str) -> None:
    course = shape_of(kind, 60, 20, 10.0)
    assert not course[:20].any()
    assert course[20] > 0.0
    assert course[29] == pytest.approx(1.0, abs=0.11)
    assert np.all(np.diff(course[20:]) >= -1e-12)


def test_a_root_flattens_and_an_accelerating_course_does_not() -> None:
    ramp, root, fast = (np.diff(shape_of(kind, 40, 0, 30.0)) for kind in ("ramp", "root", "accelerating"))
    assert root[-1] < 0.6 * root[0]
    assert fast[-1] > 2.0 * fast[0]
    assert ramp == pytest.approx(ramp[0])


@pytest.mark.parametrize("name", FAULTS)
def test_size_and_onset_are_those_stated(name: str) -> None:
    rng = np.random.default_rng(11)
    press = draw_press(rng, 7, must=("clamp_force",))
    change = draw_change(press, FAULTS[name], 80, 30, rng, size=6.0, over=20.0)
    assert not change.added[:30].any()
    moved = np.max(np.abs(change.mean_course / press.spread), axis=1)
    reached = 79 if change.shape == "smeared" else 49
    assert moved[reached] == pytest.approx(6.0, rel=0.2)


def test_a_lossy_ring_spreads_to_the_low_side_about_its_mean_course() -> None:
    rng = np.random.default_rng(12)
    press = draw_press(rng, 3)
    change = draw_change(press, FAULTS["check ring"], 4000, 0, rng, size=6.0, shape="step")
    loss = change.added[:, 0]
    assert loss.max() <= 0.0
    assert loss.mean() == pytest.approx(change.mean_course[0, 0], rel=0.05)
    assert loss.std() > 0.5 * abs(loss.mean())


def _unit(name: str, seed: int) -> dict[str, float]:
    rng = np.random.default_rng(seed)
    press = draw_press(rng, 7, must=("part_weight",))
    return dict(zip(press.channels, press.vector(FAULTS[name].moves(press, rng)), strict=True))


@pytest.mark.parametrize("seed", range(5))
def test_what_a_cavity_takes_the_shot_weighs_and_what_a_ring_loses_it_does_not(seed: int) -> None:
    flash, ring = _unit("parting line", seed), _unit("check ring", seed)
    assert flash["cushion"] < 0 < flash["part_weight"]
    assert ring["cushion"] < 0
    assert ring["part_weight"] <= 0


@pytest.mark.parametrize("seed", range(5))
def test_a_sensor_moves_what_shares_it_and_nothing_else(seed: int) -> None:
    bar, mm = _unit("pressure sensor", seed), _unit("position sensor", seed)
    assert bar["peak_pressure"] == bar["switchover_pressure"] != 0.0
    assert mm["cushion"] == mm["switchover_position"] != 0.0
    assert sum(map(bool, bar.values())) == sum(map(bool, mm.values())) == 2


@pytest.mark.parametrize("seed", range(5))
def test_recovery_follows_viscosity_the_other_way_off_the_table(seed: int) -> None:
    on, off = _unit("lot", seed), _unit("lot, recovery the other way", seed)
    assert on["recovery_time"] * on["peak_pressure"] < 0 < off["recovery_time"] * off["peak_pressure"]


def test_the_seen_melt_shows_in_the_thermocouple_and_the_unseen_does_not() -> None:
    rng = np.random.default_rng(13)
    press = draw_press(rng, 7, must=("melt_temperature",))
    at = press.channels.index("melt_temperature")
    assert press.vector(FAULTS["barrel"].moves(press, rng))[at] != 0.0
    assert press.vector(FAULTS["unseen melt"].moves(press, rng))[at] == 0.0


def test_every_group_has_causes_on_every_press_and_shares_add_up() -> None:
    assert sum(GROUP_SHARES.values()) == pytest.approx(1.0)
    press = draw_press(np.random.default_rng(14), 3)
    for group in GROUP_SHARES:
        assert {fault.group for fault in faults_of(group, press)} == {group}
    assert "slow vents" in {fault.name for fault in faults_of("insert", press, off_table=True)}
