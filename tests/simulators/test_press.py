"""The press model: the demo's own figures, the mass balance, and what stays the same when something else changes."""

import csv
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from simulators.causes.insert import CoreLoss
from simulators.press import mould
from simulators.recording import truth
from simulators.story import load, read, scenario_names

CHECKPOINTS = Path(__file__).with_name("checkpoints_latch_pawl.csv")
HALF_A_DIGIT = {
    "switchover_pressure": 0.51,
    "peak_pressure": 0.51,
    "cushion": 0.0051,
    "recovery_time": 0.0051,
    "insert_temperature": 0.51,
    "part_weight": 0.0011,  # the published figures round the screw area to 380.1 mm2
}


def _checkpoints():
    lines = [line for line in CHECKPOINTS.read_text("utf-8").splitlines() if not line.startswith("#")]
    return list(csv.DictReader(lines))


@pytest.mark.parametrize("row", _checkpoints(), ids=lambda row: f"shot {row['shot']}")
def test_the_quiet_demo_press_gives_the_published_checkpoints(row):
    channels = mould(load("demo").presses[0], 345, seed=1, quiet=True).channels
    for name, tolerance in HALF_A_DIGIT.items():
        if row[name]:
            assert channels[name][int(row["shot"]) - 1] == pytest.approx(float(row[name]), abs=tolerance), name


@pytest.mark.parametrize("name", scenario_names())
def test_the_mass_balance_closes_to_rounding_in_every_shot(name):
    for press in load(name).presses:
        run = mould(press, 1500, seed=3)
        assert np.abs(run.balance.residual()).max() < 1e-13 * run.balance.dosed.max() * 100
        assert (run.balance.cushion >= 0.0).all()


@pytest.mark.parametrize("name", scenario_names())
def test_a_longer_run_begins_like_a_shorter_one(name):
    for press in load(name).presses:
        short, long = mould(press, 70, seed=5), mould(press, 200, seed=5)
        for channel, values in short.channels.items():
            np.testing.assert_array_equal(values, long.channels[channel][:70], err_msg=channel)


def test_a_cause_taken_out_leaves_every_other_number_as_it_was():
    press = load("demo").presses[0]
    sound = replace(press, causes=tuple(cause for cause in press.causes if not isinstance(cause, CoreLoss)))
    assert len(sound.causes) == len(press.causes) - 1
    with_all, without = mould(press, 345, seed=9), mould(sound, 345, seed=9)
    broken = (with_all.line.shot >= 152) & (with_all.line.shot <= 168)
    for channel, values in without.channels.items():
        np.testing.assert_array_equal(values[~broken], with_all.channels[channel][~broken], err_msg=channel)
    assert (without.channels["cushion"][broken] > with_all.channels["cushion"][broken] + 0.4).all()


def test_settled_spread_of_the_demo_press_is_the_published_one():
    """Shots 25 to 58 of the first insert, over many seeds: 4.0 bar (wander included), 0.057 mm, 0.015 g, cushion with
    weight -0.66.
    """
    press = replace(load("demo").presses[0], causes=())
    runs = [mould(press, 58, seed=seed).channels for seed in range(60)]
    cushion = np.array([run["cushion"][24:] for run in runs])
    weight = np.array([run["part_weight"][24:] for run in runs])
    pressure = np.array([run["switchover_pressure"][24:] for run in runs])
    assert cushion.std() == pytest.approx(0.057, rel=0.08)
    assert weight.std() == pytest.approx(0.015, rel=0.08)
    assert pressure.std() == pytest.approx(4.1, rel=0.08)
    assert np.corrcoef(cushion.ravel(), weight.ravel())[0, 1] == pytest.approx(-0.66, abs=0.05)


PUT_BACK = """
[[press]]
name = "T1"
noise = { sister_bar = 6.0 }
mount = [
    { half = "fixed", serial = "A-1" },
    { half = "moving", serial = "B-1" },
    { half = "moving", serial = "B-2", at_shot = 81 },
    { half = "moving", serial = "B-1", at_shot = 121 },
]
cause = [{ kind = "gate-erosion", half = "moving", onset_on_insert = [40, 60], rate = 0.001, spread = 0.3 }]
"""


def test_an_insert_put_back_is_as_worn_as_it_was():
    run = mould(read(PUT_BACK, "story").presses[0], 160, 4)
    level, half = run.levels[0], run.line.halves["moving"]
    assert half.used[79:82].tolist() == [80, 1, 2]
    assert half.used[119:122].tolist() == [40, 81, 82]
    step = level[79] - level[78]
    assert step > 0.0
    assert level[120] == pytest.approx(level[79] + step)
    assert level[80:119].max() < level[79]
    assert run.states.sisters("bar")[0] == run.states.sisters("bar")[130] != run.states.sisters("bar")[100]
    assert [(row[4], row[6]) for row in truth(run)] == [("B-1", 160)]


def test_a_cold_barrel_presses_harder_at_first_and_again_after_a_night():
    press = load("healthy_week").presses[0]
    level = replace(press.machine.level, barrel_cold_degc=0.0)
    warm = replace(press, machine=replace(press.machine, level=level))
    colder = mould(press, 400, 1, quiet=True).channels["peak_pressure"]
    more = colder - mould(warm, 400, 1, quiet=True).channels["peak_pressure"]
    for start in (1, 321):
        first = more[start - 1]
        assert 15.0 < first < 30.0
        assert more[start + 5] == pytest.approx(first / np.e, rel=0.1)
        assert more[start + 39] < 0.5
    assert more[160] < 0.5


PUBLISHED_SPREAD = {
    "switchover_pressure": (300.0, 9.0, 6.0),
    "peak_pressure": (314.0, 9.0, 6.0),
    "cushion": (5.89, 0.09, 0.05),
    "part_weight": (4.60, 0.06, 0.02),
    "fill_time": (1.20, 0.006, 0.0),
    "recovery_time": (6.4, 0.12, 0.0),
    "cycle_time": (150.0, 14.0, 0.0),
}
"""Level, spread within a plate and between plates of the demo's single-use press, as published for the rinse
manifold.
"""


@pytest.fixture(scope="module")
def plates():
    """Return {channel: (plates, pieces)} of settled plates of the single-use press with nothing wrong, over many
    seeds.
    """
    press = replace(load("demo").presses[1], causes=(), stops=(), mounts=load("demo").presses[1].mounts[:2])
    runs = [mould(press, 156, seed) for seed in range(60)]
    return {name: np.array([run.channels[name][48:].reshape(-1, 12) for run in runs]) for name in PUBLISHED_SPREAD}


@pytest.mark.parametrize("name", PUBLISHED_SPREAD)
def test_single_use_pieces_spread_within_and_between_plates_as_published(plates, name):
    level, within, between = PUBLISHED_SPREAD[name]
    values = plates[name]
    found = float(np.sqrt(values.var(axis=2, ddof=1).mean()))
    assert values.mean() == pytest.approx(level, abs=0.15 * within + 0.1 * between)
    assert found == pytest.approx(within, rel=0.08)
    means = float(values.mean(axis=2).var(axis=1, ddof=1).mean())
    assert np.sqrt(max(means - found**2 / 12, 0.0)) == pytest.approx(between, abs=0.15 * within)


def test_the_cracked_piece_and_the_swollen_plate_move_as_published():
    press = load("demo").presses[1]
    ill = mould(press, 48, 1, quiet=True).channels
    sound = mould(replace(press, causes=()), 48, 1, quiet=True).channels
    for shot, cushion, weight, pressure in ((19, -0.9, -0.10, -35.0), (25, 0.16, -0.031, 18.0), (37, 0.0, 0.0, 0.0)):
        moved = {name: ill[name][shot - 1] - sound[name][shot - 1] for name in ill}
        assert moved["cushion"] == pytest.approx(cushion, abs=0.002)
        assert moved["part_weight"] == pytest.approx(weight, abs=0.002)
        assert moved["switchover_pressure"] == pytest.approx(pressure, abs=0.1)
