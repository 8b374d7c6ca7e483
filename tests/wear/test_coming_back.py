"""An insert that was taken out and comes back keeps what it was: its clock, its level, and what was open on it."""

import json

from made import ALL, life

from shotlog.records import InForce, LoggedShot, Verdict
from shotlog.wear.monitor import Monitor

EROSION = {"peak_pressure": ("ramp", -0.4), "cushion": ("ramp", -0.05)}
OFF = {"peak_pressure": 10.0, "cushion": -0.12}
"""How far one insert lies off its sisters, in each channel's unit: two and a half spreads."""


def stay(
    monitor: Monitor, serial: str, shots: list[LoggedShot], first: int, off: dict[str, float] | None = None
) -> list[Verdict]:
    said = []
    for at, shot in enumerate(shots):
        values = {name: value + (off or {}).get(name, 0.0) for name, value in shot.values.items()}
        said.append(monitor.step(LoggedShot("p", first + at, shot.time, values, {"moving": InForce(serial, "d")})))
    return said


def healthy(monitor: Monitor, count: int) -> int:
    for k in range(count):
        stay(monitor, f"S-{k}", life(1000 + k, "", 60, channels=ALL, hours=3.0 * k), 60 * k + 1)
    return 60 * count + 1


def test_its_clock_goes_on_and_its_life_ends_once() -> None:
    monitor = Monitor("p", {})
    first = healthy(monitor, 3)
    stay(monitor, "B", life(1, "", 30, channels=ALL, hours=10), first)
    stay(monitor, "C", life(2, "", 30, channels=ALL, hours=12), first + 30)
    assert {one.serial: one.n_shots for one in monitor._mounted.pool.ended["d"]}["B"] == 30
    back = stay(monitor, "B", life(3, "", 20, channels=ALL, hours=14), first + 60)
    assert [v.shots_on_insert for v in back] == list(range(31, 51))
    assert {v.verdict for v in back} == {"keep"}
    assert "B" not in {one.serial for one in monitor._mounted.pool.ended["d"]}
    stay(monitor, "D", life(4, "", 2, channels=ALL, hours=16), first + 80)
    assert {one.serial: one.n_shots for one in monitor._mounted.pool.ended["d"]}["B"] == 50


def test_an_insert_pulled_with_an_open_change_comes_back_with_it() -> None:
    monitor = Monitor("p", {})
    first = healthy(monitor, 4)
    pulled = stay(monitor, "B", life(7, "", 50, channels=ALL, change=EROSION, onset=25, hours=13), first)[-1]
    assert (pulled.group, pulled.verdict) == ("insert", "swap")
    stay(monitor, "C", life(8, "", 30, channels=ALL, hours=16), first + 50)
    worn = {"peak_pressure": -0.4 * 4.0 * 26, "cushion": -0.05 * 0.05 * 26}
    back = stay(monitor, "B", life(9, "", 12, channels=ALL, hours=18), first + 80, off=worn)
    assert {v.verdict for v in back} == {"swap"}
    assert (back[0].insert, back[0].shots_on_insert, back[0].group) == ("B", 51, "insert")
    assert (back[0].onset, back[0].onset_low, back[0].onset_high) == (pulled.onset, pulled.onset_low, pulled.onset_high)


def test_what_a_swap_has_shown_to_be_the_press_s_does_not_come_back_with_the_insert() -> None:
    monitor = Monitor("p", {})
    first = healthy(monitor, 4)
    assert (
        stay(monitor, "B", life(7, "", 50, channels=ALL, change=EROSION, onset=25, hours=13), first)[-1].group
        == "insert"
    )
    down = {"peak_pressure": -0.4 * 4.0 * 26, "cushion": -0.05 * 0.05 * 26}
    after = stay(monitor, "C", life(8, "", 40, channels=ALL, hours=16), first + 50, off=down)
    assert [v.facts.swap.outcome for v in after if v.facts is not None and v.facts.swap is not None] == ["refuted"]
    assert monitor._mounted.pool.out["B"].changes == []


def test_an_insert_off_its_sisters_is_judged_by_its_own_level_when_it_comes_back() -> None:
    levels = {}
    for serial in ("B", "N"):
        monitor = Monitor("p", {})
        first = healthy(monitor, 4)
        stay(monitor, "B", life(20, "", 40, channels=ALL, hours=13), first, off=OFF)
        stay(monitor, "C", life(21, "", 30, channels=ALL, hours=16), first + 40)
        back = stay(monitor, serial, life(22, "", 1, channels=ALL, hours=18), first + 70, off=OFF)
        prior = monitor._mounted.lives["moving"].stretch.prior
        assert prior is not None
        at = prior.channels.index("peak_pressure")
        levels[serial] = prior.reference[at] + prior.mean[at, 0] * prior.sigma[at], prior.cov[at, 0, 0] ** 0.5
        back = stay(monitor, serial, life(22, "", 50, channels=ALL, hours=18)[1:], first + 71, off=OFF)
        assert {v.verdict for v in back} == {"keep"}
    assert abs(levels["B"][0] - (540.0 + OFF["peak_pressure"])) < 2.0
    assert levels["N"][0] < 545.0
    assert levels["B"][1] < 0.7 * levels["N"][1]


def test_what_is_kept_of_inserts_that_are_out_is_bounded_and_restored() -> None:
    monitor = Monitor("p", {})
    first = 1
    for k in range(30):
        stay(monitor, f"S-{k}", life(k, "", 6, channels=ALL, hours=1.0 * k), first)
        first += 6
    assert list(monitor._mounted.pool.out) == [f"S-{k}" for k in range(5, 29)]
    again = Monitor("p", {})
    again.restore(json.loads(json.dumps(monitor.save())))
    shots = life(50, "", 30, channels=ALL, hours=40)
    assert stay(monitor, "S-9", shots, first) == stay(again, "S-9", shots, first)
