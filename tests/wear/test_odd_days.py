"""Days on which much comes together: a break in a bad print batch, an insert back before any sister, half a report."""

import json
from collections.abc import Mapping
from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest
from made import CENTRE, SPREAD, START, THREE, life

from shotlog.records import InForce, LoggedShot, Verdict
from shotlog.settings import Bound, DesignSettings
from shotlog.wear.monitor import Monitor


def made(n: int, off: Mapping[str, float], halves: Mapping[str, InForce], rng: np.random.Generator) -> LoggedShot:
    """Return shot `n` of a press, channels off by spreads."""
    values = {c: CENTRE[c] + SPREAD[c] * (float(rng.normal()) + off.get(c, 0.0)) for c in THREE}
    return LoggedShot("p", n, START + timedelta(minutes=n), {c: round(v, 4) for c, v in values.items()}, halves)


@pytest.mark.parametrize("seed", range(4))
def test_a_break_in_a_bad_print_batch_outlives_the_batch(seed: int) -> None:
    """The batch of shots 61 to 72 is swollen, and the reused half breaks at 68."""
    rng, monitor, said = np.random.default_rng(seed), Monitor("p", {}), []
    for n in range(1, 131):
        swollen = {"cushion": 4.0, "peak_pressure": 6.0} if 61 <= n <= 72 else {}
        off = {c: swollen.get(c, 0.0) - (15.0 if c == "cushion" else 8.0) * (n >= 68) for c in THREE}
        off["fill_time"] = 0.0
        piece = InForce(f"S-{n}", "s", f"PL-{(n - 1) // 12 + 1}", single_use=True)
        said.append(monitor.step(made(n, off, {"fixed": InForce("H", "h"), "moving": piece}, rng)))
    assert said[65].cause == "print batch of the single-use half"
    assert {one.verdict for one in said[70:]} == {"swap"}
    assert abs((said[-1].onset or 0) - 68) <= 1


def test_a_broken_first_insert_that_comes_back_before_any_sister_is_still_a_swap() -> None:
    rng, monitor, said = np.random.default_rng(3), Monitor("p", {}), []
    for n in range(1, 25):
        serial = "M2" if 21 <= n <= 23 else "M1"
        off = {"cushion": -20.0, "peak_pressure": -6.0} if n >= 13 and serial == "M1" else {}
        said.append(monitor.step(made(n, off, {"moving": InForce(serial, "d")}, rng)))
    assert [one.verdict for one in said[19:]] == ["swap", "keep", "keep", "keep", "swap"]


def test_a_life_that_reported_each_channel_too_seldom_does_not_part_a_restart_from_the_day() -> None:
    rng, live = np.random.default_rng(5), Monitor("p", {})
    seen = [THREE] * 9 + [("cushion", "fill_time")] * 2 + [THREE] + [("peak_pressure",)] * 2 + [THREE] * 6
    shots = []
    for n, channels in enumerate(seen, 1):
        serial = "M1" if n <= 9 else "M2" if n <= 14 else "M3" if n <= 17 else "M4"
        shot = made(n, {}, {"moving": InForce(serial, "d")}, rng)
        shots.append(replace(shot, values={c: shot.values[c] for c in channels}))
    for shot in shots[:15]:
        live.step(shot)
    again = Monitor("p", {})
    again.restore(json.loads(json.dumps(live.save())))
    assert [live.step(one) for one in shots[15:]] == [again.step(one) for one in shots[15:]]


def test_found_and_looked_at_within_one_shot_is_answered_in_the_order_of_the_log() -> None:
    found, sound = ("finding", "core cracked"), ("sound", "R. K., both faces")
    answered = [Monitor("p", {}).step(one) for one in life(1, "B", 1, events={1: (found, sound)})]
    standing = [Monitor("p", {}).step(one) for one in life(1, "B", 1, events={1: (sound, found)})]
    assert (answered[0].verdict, standing[0].verdict) == ("keep", "swap")


def test_a_limit_that_is_passed_stands_while_its_channel_is_not_reported() -> None:
    monitor = Monitor("p", {"d": DesignSettings("d", limits={"cushion": Bound(low=4.5)})})
    rng, said = np.random.default_rng(7), list[Verdict]()
    for n in range(1, 31):
        shot = made(n, {"cushion": -20.0} if 10 <= n <= 14 else {}, {"moving": InForce("B", "d")}, rng)
        values = {c: v for c, v in shot.values.items() if c != "cushion" or not 15 <= n <= 18}
        said.append(monitor.step(replace(shot, values=values)))
    assert [one.limits for one in said[9:18]] == [("cushion",)] * 9
    assert "keep" not in {one.verdict for one in said[9:18]}


@pytest.mark.parametrize("at", [3, 6, 9])
@pytest.mark.parametrize("size", [-20.0, -60.0])
def test_one_odd_shot_while_a_first_insert_settles_does_not_blind_it(at: int, size: float) -> None:
    """The cushion falls by twelve spreads from shot 35 on; one short shot before took its spread to eight times."""
    monitor, shots = Monitor("p", {}), life(2, "B", 60, change={"cushion": ("step", -12.0)}, onset=35)
    odd = replace(shots[at - 1], values={**shots[at - 1].values, "cushion": 5.0 + size * SPREAD["cushion"]})
    verdicts = [monitor.step(odd if n == at else one) for n, one in enumerate(shots, 1)]
    assert {one.verdict for one in verdicts[:34]} == {"keep"}
    called = next(n for n, one in enumerate(verdicts, 1) if one.cause)
    assert 35 <= called <= 37
