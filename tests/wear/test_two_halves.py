"""Two reused halves in one mould: each has its own clock, level, sisters and life."""

import json
from datetime import UTC, datetime

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


def ended(monitor: Monitor) -> dict[str, list[tuple[int, bool, str]]]:
    """Return by design how lives ended: shots it was sound for, whether it had gone off then, serial."""
    return {
        d: [(one.n_shots, one.failed, one.serial) for one in lives] for d, lives in monitor._mounted.pool.ended.items()
    }


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
    assert ended(monitor) == {"f": [(30, False, "F1")], "m": [(60, False, "M1")]}


def history(seed: int, worn_from: int = 10_000, swapped_at: int = 10_000) -> list[LoggedShot]:
    """Return three sound moving halves under fixed ones swapped in their middle, then one that wears from a shot on.

    `swapped_at`: shot of the last one before which a new fixed half comes in, which differs by a spread and warms up.
    """
    turns, n_fixed = [], 0
    for nth in range(4):
        last = nth == 3
        change = EROSION if last else None
        shots = life(seed + nth, "", 70, channels=ALL, change=change, onset=worn_from, hours=3.0 * nth)
        at = min(swapped_at, 71) if last else 36
        brought = [raised(shot, 4.0 + 8.0 * 0.8**k, 0.05) for k, shot in enumerate(shots[at - 1 :])]
        turns += [(f"F{n_fixed}", f"M{nth}", shots[: at - 1]), (f"F{n_fixed + 1}", f"M{nth}", brought)]
        n_fixed += len(brought) > 0
    return two(turns)


def raised(shot: LoggedShot, bar: float, mm: float) -> LoggedShot:
    values = {
        **shot.values,
        "peak_pressure": shot.values["peak_pressure"] + bar,
        "cushion": shot.values["cushion"] + mm,
    }
    return LoggedShot(shot.press, shot.shot, shot.time, values, shot.halves, shot.events)


def test_the_half_that_wore_before_the_other_was_swapped_is_named() -> None:
    said = run(Monitor("p", {}), history(20, worn_from=31, swapped_at=37))
    assert {v.verdict for v in said[:210]} == {"keep"}
    last = said[-1]
    assert (last.verdict, last.insert, last.group, last.shots_on_insert) == ("swap", "M3", "insert", 70)
    assert last.onset is not None
    assert 210 + 27 <= last.onset <= 210 + 36
    assert last.facts is not None
    assert (last.facts.half, last.facts.halves_alike) == ("moving", None)
    assert all(other.group == "insert" for other in last.others)


def test_a_sound_half_is_not_called_for_what_a_new_half_beside_it_brings() -> None:
    said = run(Monitor("p", {}), history(40, swapped_at=37))
    assert {v.verdict for v in said} == {"keep"}


def test_halves_of_one_age_cannot_be_told_apart_and_it_is_said() -> None:
    monitor = Monitor("p", {})
    for nth in range(3):
        shots = life(60 + nth, "", 60, channels=ALL, hours=3.0 * nth)
        run(
            monitor,
            [
                LoggedShot("p", 60 * nth + at, s.time, s.values, mould(f"F{nth}", f"M{nth}"))
                for at, s in enumerate(shots, 1)
            ],
        )
    shots = life(63, "", 60, channels=ALL, change=EROSION, onset=31, hours=9.0)
    said = run(
        monitor, [LoggedShot("p", 180 + at, s.time, s.values, mould("F3", "M3")) for at, s in enumerate(shots, 1)]
    )
    call = said[-1]
    assert (call.group, call.insert, call.others) == ("insert", "M3", ())
    assert call.facts is not None
    assert call.facts.halves_alike == "F3"


def swapped_while_called(seed: int, whose: str) -> tuple[Monitor, list[Verdict]]:
    """Three sound moving halves, then one on which wear is called from 25 on; the fixed half is swapped at 45.

    `whose`: the half that wears; with the fixed one the wear ends at 45. From there on the press has 40 shots more.
    """
    monitor = Monitor("p", {})
    run(monitor, history(seed)[:210])
    sound, worn = (
        life(seed + 9, "", 84, channels=ALL, change=change, onset=25, hours=9.0) for change in (None, EROSION)
    )
    after = (sound if whose == "fixed" else worn)[44:]
    brought = [raised(shot, 4.0 + 8.0 * 0.8**k, 0.05) for k, shot in enumerate(after)]
    shots = two([("F3", "M3", worn[:44]), ("F4", "M3", brought)])
    return monitor, run(monitor, [LoggedShot("p", 210 + s.shot, s.time, s.values, s.halves, s.events) for s in shots])


def swaps_of(verdicts: list[Verdict]) -> list[tuple[str, str]]:
    return [
        (v.facts.swap.insert, v.facts.swap.outcome)
        for v in verdicts
        if v.facts is not None and v.facts.swap is not None
    ]


@pytest.mark.parametrize("seed", [100, 140])
def test_a_change_that_goes_with_the_other_half_was_that_half_s(seed: int) -> None:
    monitor, said = swapped_while_called(seed, "fixed")
    assert said[43].group == "insert"
    assert swaps_of(said) == [("F3", "confirmed")]
    assert "swap" in {v.verdict for v in said[:44]}
    # the half that may have had it is out: no second swap is asked for before it shows
    assert "swap" not in {v.verdict for v in said[44:]}
    assert said[-1].verdict == "keep"
    sound, *rest = ended(monitor)["f"][-1]
    assert sound == pytest.approx(24 + 35, abs=3), "up to the onset, those of before the other half came counted in"
    assert rest == [True, "F3"]
    # the half that stays goes on with its own clock, and with the level it had before the change
    run(monitor, [LoggedShot("p", 295, said_time(), {}, mould("F4", "M4"))])
    assert ended(monitor)["m"][-1] == (84, False, "M3")


def said_time() -> datetime:
    return datetime(2026, 3, 3, 6, 0, tzinfo=UTC)


@pytest.mark.parametrize("seed", [100, 140])
def test_a_change_that_outlives_the_swap_of_the_other_half_stays_with_its_onset(seed: int) -> None:
    monitor, said = swapped_while_called(seed, "moving")
    before, last = said[43], said[-1]
    assert before.group == last.group == "insert"
    assert swaps_of(said) == [("F3", "refuted")]
    assert (last.insert, last.shots_on_insert, last.verdict) == ("M3", 84, "swap")
    assert last.onset is not None
    assert abs(last.onset - (210 + 25)) <= 5
    assert last.facts is not None
    assert last.facts.halves_alike is None
    assert ended(monitor)["f"][-1][1:] == (False, "F3")


def test_state_stays_bounded_however_often_one_half_is_swapped() -> None:
    monitor, sizes = Monitor("p", {}), []
    for nth in range(24):
        shots = life(300 + nth, "", 40, hours=1.0 * nth)
        run(
            monitor,
            [LoggedShot("p", 40 * nth + at, s.time, s.values, mould("F1", f"M{nth}")) for at, s in enumerate(shots, 1)],
        )
        sizes.append(len(json.dumps(monitor.save())))
    assert sizes[-1] < 1.5 * sizes[11]
    assert len(monitor._mounted.lives["fixed"].stretch.beside) < 8
