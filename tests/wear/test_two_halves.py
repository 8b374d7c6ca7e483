"""Two reused halves in one mould: each has its own clock, level, sisters and life."""

import json

import pytest
from made import ALL, life

from shotlog.records import InForce, LoggedShot, Verdict
from shotlog.wear.monitor import Monitor

EROSION = {"peak_pressure": ("ramp", -0.4), "cushion": ("ramp", -0.05), "part_weight": ("ramp", 0.02)}


def mould(fixed: str, moving: str) -> dict[str, InForce]:
    return {"fixed": InForce(fixed, "f"), "moving": InForce(moving, "m")}


def two(turns: list[tuple[str, str, list[LoggedShot]]]) -> list[LoggedShot]:
    """Return shots one after the other, each stretch with its fixed and its moving insert."""
    out: list[LoggedShot] = []
    for fixed, moving, shots in turns:
        for shot in shots:
            held = mould(fixed, moving)
            out.append(LoggedShot("p", len(out) + 1, shot.time, shot.values, held, shot.events))
    return out


def run(monitor: Monitor, shots: list[LoggedShot]) -> list[Verdict]:
    return [monitor.step(shot) for shot in shots]


def test_the_swap_of_one_half_leaves_the_other_its_clock() -> None:
    shots = life(1, "", 90, channels=ALL)
    turned = [("F1", "M1", shots[:40]), ("F2", "M1", shots[40:80]), ("F2", "M2", shots[80:])]
    monitor = Monitor("p", {})
    said = run(monitor, two(turned))
    assert [(v.insert, v.shots_on_insert) for v in (said[39], said[40], said[79], said[80], said[89])] == [
        ("M1", 40), ("F2", 1), ("F2", 40), ("M2", 1), ("M2", 10),
    ]  # fmt: skip
    monitor.step(LoggedShot("p", 91, shots[89].time, shots[89].values, {"fixed": InForce("F2", "f")}))
    back = monitor.step(LoggedShot("p", 92, shots[89].time, shots[89].values, {"fixed": InForce("F2", "f")}))
    assert (back.insert, back.shots_on_insert) == ("F2", 52)


@pytest.mark.parametrize("every", [7, 13])
def test_two_halves_are_saved_and_restored_bit_for_bit(every: int) -> None:
    shots = life(2, "", 160, channels=ALL, change=EROSION, onset=100)
    turned = [
        ("F1", "M1", shots[:50]),
        ("F2", "M1", shots[50:70]),
        ("F2", "M2", shots[70:115]),
        ("F3", "M2", shots[115:]),
    ]
    whole, pieces = Monitor("p", {}), Monitor("p", {})
    for at, shot in enumerate(two(turned)):
        assert whole.step(shot) == pieces.step(shot)
        if at % every == 0:
            state = json.loads(json.dumps(pieces.save()))
            pieces = Monitor("p", {})
            pieces.restore(state)
            assert json.loads(json.dumps(pieces.save())) == state


def test_only_the_life_of_the_half_that_comes_out_ends() -> None:
    shots = life(3, "", 100, channels=ALL)
    monitor = Monitor("p", {})
    run(monitor, two([("F1", "M1", shots[:30]), ("F2", "M1", shots[30:60]), ("F2", "M2", shots[60:])]))
    ended = monitor.save()[4][1]
    assert ended == {"f": [[30, False]], "m": [[60, False]]}
