"""Several changes in a life: the next is seen behind an open one, the worst decides, and time alone closes none."""

import json
from collections.abc import Mapping

import numpy as np
import pytest
from made import ALL, SPREAD, THREE, life
from made import knowing as after_sisters

from shotlog.records import LoggedShot, Verdict
from shotlog.wear.life.marks import StretchShot
from shotlog.wear.life.stretch import Stretch
from shotlog.wear.monitor import Monitor

DOSE = {"cushion": -8.0, "recovery_time": 9.0, "peak_pressure": -0.5, "part_weight": -3.0}
BROKEN = {"cushion": -9.0, "peak_pressure": -2.5, "part_weight": 9.0}
LOT = {"peak_pressure": 8.0, "cushion": 0.8, "recovery_time": -4.0, "part_weight": -2.0}
FLASH = {"cushion": -0.4, "peak_pressure": -0.08, "part_weight": 0.4}

SEEDS = [0, 1, *(pytest.param(seed, marks=pytest.mark.long) for seed in range(2, 6))]
"""The first two lives of each kind; the others are left to `make claims`."""


def changed(shots: list[LoggedShot], onset: int, sizes: Mapping[str, float], shape: str = "step") -> list[LoggedShot]:
    """Return a life changed from its shot `onset` on, by sizes in spreads; a ramp's are a shot."""
    out = []
    for n, shot in enumerate(shots, 1):
        grown = 0.0 if n < onset else 1.0 if shape == "step" else n - onset + 1.0
        values = {c: round(v + grown * sizes.get(c, 0.0) * SPREAD[c], 4) for c, v in shot.values.items()}
        out.append(LoggedShot("p", shot.shot, shot.time, values, shot.halves, shot.events))
    return out


def knowing(count: int = 4, channels: tuple[str, ...] = ALL) -> tuple[Monitor, int]:
    """Return a monitor that knows `count` sisters, and the next shot's number."""
    return after_sisters(count, channels), 60 * count + 1


def run(monitor: Monitor, shots: list[LoggedShot]) -> list[Verdict]:
    return [monitor.step(shot) for shot in shots]


def groups(verdict: Verdict) -> list[str]:
    return [verdict.group, *(one.group for one in verdict.others)]


@pytest.mark.parametrize("seed", SEEDS[:6])
@pytest.mark.parametrize("first", [DOSE, LOT])
def test_wear_behind_an_open_change_is_called_as_the_inserts(seed: int, first: Mapping[str, float]) -> None:
    """Flash from shot 55 on, 0.4 spreads a shot, 25 shots after a dose that runs short or another lot."""
    monitor, at = knowing()
    shots = changed(changed(life(seed, "B", 90, at, ALL, hours=13), 30, first), 55, FLASH, "ramp")
    verdicts = run(monitor, shots)
    assert verdicts[52].group != "insert"
    said = next(n for n, one in enumerate(verdicts, 1) if one.group == "insert")
    assert 55 <= said <= 70
    assert abs((verdicts[-1].onset or 0) - (at + 54)) <= 5
    if first is DOSE:
        assert ("press", "short dosing") in [(one.group, one.cause) for one in verdicts[-1].others]


@pytest.mark.parametrize("seed", SEEDS[:6])
def test_a_break_is_not_taken_as_the_level_however_long_it_lasts(seed: int) -> None:
    """210 shots after the break, longer than the shots of a life that are kept."""
    monitor, at = knowing(channels=THREE)
    verdicts = run(monitor, changed(life(seed, "B", 250, at, THREE, hours=13), 40, BROKEN))
    called = next(n for n, one in enumerate(verdicts) if one.cause)
    assert 39 <= called <= 42
    assert {one.verdict for one in verdicts[called:]} <= {"watch", "swap"}
    assert verdicts[-1].verdict == "swap"
    assert verdicts[-1].group == "insert"
    assert abs((verdicts[-1].onset or 0) - (at + 39)) <= 2


def test_the_state_of_a_life_with_an_open_change_is_bounded() -> None:
    monitor, at = knowing(channels=THREE)
    sizes = []
    for shot in changed(life(1, "B", 900, at, THREE, hours=13), 40, BROKEN):
        monitor.step(shot)
        if shot.shot % 10 == 0:  # as a logger does now and then: to save takes longer than to judge
            sizes.append(len(json.dumps(monitor.save())))
    assert len(sizes) == 90
    assert max(sizes[50:]) <= 1.05 * max(sizes[:50])


@pytest.mark.parametrize("seed", SEEDS[:4])
def test_a_return_to_the_level_closes_a_change_and_what_undid_it(seed: int) -> None:
    """The dose runs short at shot 30 and is put right at 60."""
    monitor, at = knowing()
    back = {c: -v for c, v in DOSE.items()}
    verdicts = run(monitor, changed(changed(life(seed, "B", 100, at, ALL, hours=13), 30, DOSE), 60, back))
    assert verdicts[55].cause == "short dosing"
    assert [one.verdict for one in verdicts[70:]] == ["keep"] * 30
    facts = verdicts[-1].facts
    assert facts is not None
    assert facts.quiet_since is not None
    assert abs(facts.quiet_since - (at + 59)) <= 2


@pytest.mark.parametrize("seed", SEEDS[:4])
def test_found_sound_closes_what_is_laid_to_the_insert_and_nothing_else(seed: int) -> None:
    monitor, at = knowing()
    sound = {70: (("sound", "A. Weaver: both faces, no missing piece"),)}
    shots = changed(changed(life(seed, "B", 100, at, ALL, events=sound, hours=13), 30, DOSE), 50, BROKEN)
    verdicts = run(monitor, shots)
    assert "insert" in groups(verdicts[68])
    after = verdicts[69:]
    assert not [one for one in after if "insert" in groups(one)]
    assert all(one.cause == "short dosing" for one in after)


@pytest.mark.parametrize("seed", SEEDS[:4])
def test_a_press_fault_carried_over_a_swap_hides_no_break(seed: int) -> None:
    """The dose runs short on one insert and goes on so on the next, which breaks at its shot 30."""
    monitor, at = knowing()
    run(monitor, changed(life(seed, "B", 60, at, ALL, hours=13), 30, DOSE))
    following = changed(changed(life(seed + 50, "C", 60, at + 60, ALL, hours=15), 1, DOSE), 30, BROKEN)
    verdicts = run(monitor, following)
    assert verdicts[28].cause == "short dosing"
    assert verdicts[28].facts is not None
    assert verdicts[28].facts.outlived_swap == at + 60
    assert verdicts[-1].group == "insert"
    assert abs((verdicts[-1].onset or 0) - (at + 60 + 29)) <= 2
    assert "press" in [one.group for one in verdicts[-1].others]


def test_saved_and_restored_while_changes_stand_open_goes_on_bit_for_bit() -> None:
    whole, at = knowing()
    pieces, _ = knowing()
    shots = changed(changed(life(3, "B", 90, at, ALL, hours=13), 30, DOSE), 55, FLASH, "ramp")
    for nth, shot in enumerate(shots):
        assert whole.step(shot) == pieces.step(shot)
        if nth % 3 == 0:
            state = json.loads(json.dumps(pieces.save()))
            pieces = Monitor("p", {})
            pieces.restore(state)
            assert json.loads(json.dumps(pieces.save())) == state


@pytest.mark.parametrize(("lives", "most"), [(16, 2), pytest.param(48, 5, marks=pytest.mark.long)])
def test_one_change_is_seldom_taken_for_two(lives: int, most: int) -> None:
    """Lives with one change of a usual size: a second one beside it on few of them."""
    monitor, at = knowing()
    state = json.loads(json.dumps(monitor.save()))
    beside = 0
    for seed in range(lives):
        monitor = Monitor("p", {})
        monitor.restore(state)
        rng = np.random.default_rng(seed)
        kind, shape = [(DOSE, "step"), (LOT, "step"), (FLASH, "ramp"), (BROKEN, "step")][seed % 4]
        size = {c: v * float(rng.uniform(0.5, 1.5)) for c, v in kind.items()}
        shots = changed(life(seed + 500, "B", 90, at, ALL, hours=13), int(rng.integers(20, 50)), size, shape)
        beside += any(one.others for one in run(monitor, shots))
    assert beside <= most


@pytest.mark.parametrize(("at", "first"), [(30, 121), (100, 100), (118, 118), (125, 121)])
def test_a_long_life_is_not_cut_where_it_still_settles(at: int, first: int) -> None:
    """Of 240 shots the last 120 are kept, and what was before them back to a wait of which they still warm up."""
    rows = [StretchShot(n, {"cushion": 5.0}, "pause" if n == at else "") for n in range(1, 241)]
    assert Stretch(rows).shortened(120).rows[0].n == first
