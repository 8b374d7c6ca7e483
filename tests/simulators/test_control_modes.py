"""How the control mode of the press changes the picture, and how set-points answer."""

from dataclasses import replace

import numpy as np
import pytest

from simulators.press import mould
from simulators.story import read

BARE = """
[[press]]
name = "T1"
preset = "{preset}"
mount = [{{ half = "moving", serial = "B-1" }}]
stop = [{stop}]
cause = [{cause}]
"""
STORY = """
[[press]]
name = "T1"
set = {{ {mode} }}
mount = [{{ half = "fixed", serial = "A-1" }}, {{ half = "moving", serial = "B-1" }}]
edit = [{edit}]
cause = [{cause}]
"""
EROSION = '{ kind = "gate-erosion", half = "moving", onset_on_insert = [61], rate = 0.0012 }'


def change(mode="", edit="", cause="", shots=120):
    """Return by how much each channel of the quiet run has moved from shot 60 to the last."""
    press = read(STORY.format(mode=mode, edit=edit, cause=cause), "story").presses[0]
    with_it = mould(press, shots, 1, quiet=True).channels
    sound = mould(replace(press, causes=()), shots, 1, quiet=True).channels
    return {name: float(with_it[name][-1] - sound[name][-1]) for name in with_it}


def edited(key, value):
    return change(edit=f'{{ at_shot = 61, key = "{key}", value = {value} }}')


def test_by_position_erosion_moves_pressure_and_neither_time_nor_position():
    moved = change(cause=EROSION)
    assert moved["switchover_pressure"] < -10
    assert moved["fill_time"] == pytest.approx(0.0, abs=1e-9)
    assert moved["switchover_position"] == pytest.approx(0.0, abs=1e-9)


def test_by_pressure_erosion_moves_position_and_time_and_no_pressure():
    moved = change('switchover = "pressure"', cause=EROSION)
    assert moved["switchover_pressure"] == pytest.approx(0.0, abs=1e-9)
    assert moved["peak_pressure"] == pytest.approx(0.0, abs=1e-9)
    assert moved["switchover_position"] < -0.1
    assert moved["fill_time"] > 0.005


def test_by_time_erosion_moves_pressure_and_no_position():
    moved = change('switchover = "time"', cause=EROSION)
    assert moved["switchover_pressure"] < -10
    assert moved["switchover_position"] == pytest.approx(0.0, abs=1e-9)


def test_at_the_limit_erosion_shortens_the_fill_and_leaves_the_peak():
    moved = change("limit_bar = 440.0", cause=EROSION)
    assert moved["peak_pressure"] == pytest.approx(0.0, abs=1e-9)
    assert moved["fill_time"] < -0.004


def test_a_stiffer_lot_lengthens_the_fill_at_the_limit():
    moved = change("limit_bar = 500.0", cause='{ kind = "lot-change", onset = 61, stiffness = 0.09 }')
    assert moved["fill_time"] > 0.004


def bare(preset, cause="", stop=""):
    return read(BARE.format(preset=preset, cause=cause, stop=stop), "story").presses[0]


def test_resins_near_the_limit_clip_one_to_two_shots_in_ten():
    for preset in ("pc", "paek-cf30"):
        run = mould(bare(preset), 3000, 5)
        assert 0.08 < run.filling.limited[100:].mean() < 0.25, preset


def test_a_hotter_insert_raises_pressure_of_a_reactive_resin_only():
    heat = '{ kind = "heat-build-up", half = "moving", onset = 61, heat = 12.0 }'
    for preset, sign in (("silicone", 1), ("pa66-gf30", -1)):
        press = bare(preset, heat)
        hot = mould(press, 120, 1, quiet=True).channels["peak_pressure"]
        sound = mould(replace(press, causes=()), 120, 1, quiet=True).channels["peak_pressure"]
        assert sign * (hot[-1] - sound[-1]) > 3.0, preset


def test_pot_life_thickens_until_the_purge():
    pot = '{ kind = "pot-life", onset = 1, per_hour = 0.01 }'
    press = bare("silicone", pot, "{ at_shot = 150, minutes = 30.0, purge = true }")
    level = mould(press, 200, 1, quiet=True).levels[0]
    assert (np.diff(level[:149]) > 0).all()
    assert level[149] < 0.05 * level[148]


def test_set_points_answer_with_sign_and_size():
    faster, hold, cooling = edited("speed_mm_s", 40.0), edited("hold_bar", 420.0), edited("cooling_s", 55.0)
    assert faster["switchover_pressure"] == pytest.approx(520 * ((40 / 30) ** 0.35 - 1), rel=0.1)
    assert faster["fill_time"] == pytest.approx(20 / 40 - 20 / 30, abs=1e-6)
    assert hold["part_weight"] == pytest.approx(10.2 * 40e-4, rel=0.05)
    assert hold["cushion"] < -0.05
    assert cooling["cycle_time"] == pytest.approx(10.0)
    assert cooling["insert_temperature"] < -2.0
    assert edited("dose_mm", 27.5)["cushion"] == pytest.approx(0.5, rel=0.1)
    assert edited("barrel_shift_degc", 5.0)["switchover_pressure"] < -5.0
    earlier = edited("switchover_mm", 10.0)
    assert earlier["fill_time"] < 0.0
    assert earlier["cushion"] > 0.0 > earlier["part_weight"]
    below = edited("switchover_mm", 4.0)
    assert below["cushion"] == pytest.approx(4.0 - 4.94, abs=0.05)
    assert 0.01 < below["part_weight"] < 0.05
