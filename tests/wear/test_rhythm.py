"""Another rhythm is followed, learnt and said; it is never laid to the insert, and a jitter costs nothing."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import timedelta
from math import exp, log

import numpy as np
import pytest
from made import START, life

from shotlog.records import LoggedShot, Verdict
from shotlog.wear.change.causes import RHYTHM
from shotlog.wear.level.rhythm import (
    Paced,
    Response,
    follow,
    pace_spread,
    pooled_response,
    response_of,
    usual_of,
)
from shotlog.wear.level.settling import CadenceWatch, warm_columns
from shotlog.wear.level.sister import N_LEVEL, sister_of
from shotlog.wear.level.sisters import pooled_prior
from shotlog.wear.level.whitening import GRID
from shotlog.wear.monitor import Monitor

SLOWER = 0.4
"""Log ratio of 89.5 s to 60 s."""
COLDER = {"peak_pressure": 12.0, "cushion": 0.07}
"""What follows it: bar and mm, three spreads and one and a half."""


def test_a_new_rhythm_is_followed_by_two_thirds_in_nine_shots() -> None:
    pace = 0.0
    for _ in range(9):
        pace = follow(pace, 60.0 * exp(SLOWER), 60.0)
    assert pace == pytest.approx(SLOWER * (1.0 - exp(-1.0)))


def test_an_unknown_time_leaves_the_pace_and_one_late_shot_is_no_rhythm() -> None:
    assert follow(0.2, None, 60.0) == follow(0.2, 90.0, 0.0) == 0.2
    assert follow(0.0, 3600.0, 60.0) == follow(0.0, 200.0, 60.0) < 0.08


def test_the_usual_rhythm_is_the_middle_of_the_known_times() -> None:
    assert usual_of([None, 58.0, 61.0, 60.0, 700.0, 59.0]) == 60.0
    assert usual_of([None, None]) == 0.0


def test_what_the_rhythm_may_do_follows_from_the_trade_notes() -> None:
    """25 K a log ratio: 500 bar x 0.2 % x 25 = 25 bar, 0.006 mm x 25 = 0.15 mm."""
    assert pace_spread("peak_pressure", 500.0, 5.0) == pytest.approx(5.0)
    assert pace_spread("cushion", 5.0, 0.05) == pytest.approx(3.0)
    assert pace_spread("insert_temperature", 60.0, 0.5) == pytest.approx(50.0)
    assert pace_spread("fill_time", 0.7, 0.004) == 2.0


def test_what_a_rhythm_did_is_found_beside_level_and_warm_up() -> None:
    shots = np.arange(1.0, 61.0)
    pace = np.where(shots > 30, 0.3, 0.0)
    columns = np.hstack([np.ones((60, 1)), warm_columns(shots)])
    found = response_of(
        2.0 + 5.0 * np.exp(-(shots - 1.0) / 4.0) + 8.0 * pace, pace, columns, N_LEVEL, GRID.index((0, 0.02))
    )
    assert found.value == pytest.approx(8.0, abs=0.01)
    assert found.variance < 4.0
    steady = response_of(shots % 2, np.zeros(60), columns, N_LEVEL, GRID.index((0, 0.02)))
    assert steady.variance > 1e3


def test_sisters_whose_rhythm_varied_tell_and_the_others_leave_it_open() -> None:
    none = Response(0.0, 1e4, np.zeros(N_LEVEL))
    mean, variance = pooled_response([none, none], 1.0, 5.0)
    assert mean == pytest.approx(0.0)
    assert variance == pytest.approx(25.0 * (1.0 + 0.25**2), rel=0.01)
    told = Response(16.0, 0.5, np.zeros(N_LEVEL))
    mean, variance = pooled_response([told, told, none], 2.0, 5.0)
    # in spreads each says 8, known to within sqrt(0.5 + (0.25 x 5)^2); the prior counts 1/25
    weight = 2.0 / (0.5 + 1.25**2)
    assert mean == pytest.approx(8.0 * weight / (weight + 1.0 / 25.0), rel=1e-3)
    assert variance == pytest.approx(1.0 / (weight + 1.0 / 25.0) + 1.25**2, rel=1e-3)


def test_a_rhythm_varied_when_its_pace_did() -> None:
    jitter = np.random.default_rng(1).normal(0.0, 0.005, 60)
    assert not Paced(60.0, jitter).varied
    assert Paced(60.0, np.where(np.arange(60) > 30, 0.3, 0.0)).varied


def paced(shots: Sequence[LoggedShot], times_s: Sequence[float], colder: float = 0.0) -> list[LoggedShot]:
    """Return shots in a rhythm; an insert that is colder by it shows `COLDER` times `colder` at a log ratio of 0.4."""
    out, time, pace = [], shots[0].time, 0.0
    for shot, took in zip(shots, times_s, strict=True):
        time += timedelta(seconds=took)
        pace = follow(pace, took, 60.0)
        moved = {name: size * colder * pace / SLOWER for name, size in COLDER.items()}
        values = {name: value + moved.get(name, 0.0) for name, value in shot.values.items()}
        out.append(replace(shot, time=time, values=values))
    return out


def history(
    last_s: Sequence[float], colder: float = 1.0, jitter: float = 0.0, varied: bool = False
) -> list[LoggedShot]:
    """Return four sisters at 60 s and one insert with the times given; `varied`: a sister's rhythm varied as well.

    The insert is one of the 38 in 40 seeds (510 to 549) on which nothing is called in an even rhythm.
    """
    rng, out = np.random.default_rng(3), []
    for k in range(4):
        times = 60.0 * np.exp(rng.normal(0.0, jitter, 60))
        if varied:
            times[30:] *= exp(SLOWER)
        out += paced(life(500 + k, f"R-{k}", 60, first=1 + 60 * k, hours=3.0 * k), times.tolist(), colder)
    return out + paced(life(511, "R-9", len(last_s), first=241, hours=14.0), last_s, colder)


def judged(shots: Sequence[LoggedShot]) -> list[Verdict]:
    monitor = Monitor("p", {})
    return [verdict for shot in shots if (verdict := monitor.step(shot)).insert == "R-9"]


SLOWED = [60.0] * 35 + [60.0 * exp(SLOWER)] * 45


def test_another_rhythm_is_said_from_its_first_shot_and_the_insert_is_not_blamed() -> None:
    verdicts = judged(history(SLOWED))
    said = [v for v in verdicts if v.cause]
    assert {(v.verdict, v.group, v.cause, v.onset) for v in said} == {("watch", "press", RHYTHM, 276)}
    assert said[0].shots_on_insert <= 45
    assert verdicts[-1].facts is not None
    rhythm = verdicts[-1].facts.rhythm
    assert rhythm is not None
    assert rhythm.shot == 276
    assert (rhythm.before_s, rhythm.now_s) == pytest.approx((60.0, 60.0 * exp(SLOWER)), abs=0.1)
    moved = {one.channel: one.size for one in verdicts[-1].facts.changes}
    assert moved["peak_pressure"] == pytest.approx(12.0, abs=4.0)


def test_it_ends_when_the_rhythm_comes_back() -> None:
    verdicts = judged(history(SLOWED + [60.0] * 40))
    assert verdicts[79].cause == RHYTHM
    assert verdicts[-1].verdict == "keep"
    assert verdicts[-1].facts is not None
    assert verdicts[-1].facts.rhythm is None


def test_a_rhythm_that_does_nothing_is_not_said() -> None:
    assert {v.cause for v in judged(history(SLOWED, colder=0.0))} == {""}


def test_a_rhythm_a_tenth_slower_is_none_to_speak_of() -> None:
    verdicts = judged(history([60.0] * 35 + [66.0] * 45))
    assert {v.cause for v in verdicts} == {""}


def test_wear_under_another_rhythm_is_called_and_the_rhythm_stands_beside_it() -> None:
    """A gate that wears: 2.4 bar a shot, and with 4 % of the pressure 0.057 mm of cushion (trade notes)."""

    def worn(values: Mapping[str, float], shots: int) -> dict[str, float]:
        bar, mm = values["peak_pressure"] - 2.4 * shots, values["cushion"] - 2.4 * shots * 0.057 / (0.04 * 550.0)
        return {**values, "peak_pressure": bar, "cushion": mm}

    shots = [replace(one, values=worn(one.values, max(one.shot - 290, 0))) for one in history(SLOWED)]
    last = judged(shots)[-1]
    assert last.group == "insert"
    assert [one.cause for one in last.others] == [RHYTHM]


def test_a_jitter_of_the_rhythm_costs_nothing() -> None:
    rng = np.random.default_rng(8)
    even = judged(history([60.0] * 60))
    uneven = judged(history((60.0 * np.exp(rng.normal(0.0, 0.02, 60))).tolist(), jitter=0.02, colder=0.0))
    assert {v.cause for v in uneven} == {""}
    pairs = [(a.statistic, b.statistic) for a, b in zip(even, uneven, strict=True)]
    assert max(abs(a - b) for a, b in pairs if a is not None and b is not None) < 0.3


def test_sisters_that_followed_a_rhythm_make_it_expected_at_the_rhythm_of_most() -> None:
    """Sisters whose level holds at 60 s, and one at 90 s that reads 8 x log(1.5) = 3.2 spreads more."""
    rng, shots = np.random.default_rng(5), np.arange(1.0, 61.0)
    pace = np.where(shots > 30, 0.4, 0.0)
    sisters = []
    for usual_s in (60.0, 60.0, 90.0):
        level = 540.0 + 4.0 * 8.0 * log(usual_s / 60.0)
        values = level + 4.0 * (8.0 * pace + rng.normal(0.0, 1.0, 60))
        sisters.append(sister_of("R", ("peak_pressure",), shots, values[:, None], [], paced=Paced(usual_s, pace)))
    prior = pooled_prior(sisters, ("peak_pressure",), {})
    assert prior is not None
    assert prior.usual_s == 60.0
    assert prior.pace_mean[0] * prior.sigma[0] == pytest.approx(32.0, rel=0.15)
    assert prior.pace_sd[0] < 0.5 * pace_spread("peak_pressure", 540.0, float(prior.sigma[0]))
    assert prior.reference[0] == pytest.approx(540.0, abs=3.0)


def test_a_life_in_two_rhythms_goes_on_bit_for_bit_after_a_restart_at_any_shot() -> None:
    whole, pieces = Monitor("p", {}), Monitor("p", {})
    for at, shot in enumerate(history(SLOWED + [60.0] * 10)):
        assert whole.step(shot) == pieces.step(shot)
        if at % 19 == 0 or at >= 270:
            state = json.loads(json.dumps(pieces.save()))
            pieces = Monitor("p", {})
            pieces.restore(state)
            assert json.loads(json.dumps(pieces.save())) == state


def test_the_clock_tells_the_time_a_shot_took_unless_a_recording_is_played_fast() -> None:
    watch = CadenceWatch()
    times = [0.0, 60.0, 121.0, 301.0, 362.0, 2162.0, 2222.0]
    took = []
    for shot, seconds in zip((1, 2, 3, 6, 7, 8, 9), times, strict=True):
        watch.waited(shot, START + timedelta(seconds=seconds))
        took.append(watch.took_s)
    assert took == [None, 60.0, 61.0, 60.0, 61.0, None, 60.0]
    assert not watch.at_speed
    fast = CadenceWatch()
    for shot in range(1, 5):
        fast.waited(shot, START + timedelta(seconds=0.2 * shot))
    assert fast.took_s is None
    assert fast.at_speed


def test_a_recording_played_fast_goes_by_the_reported_cycle() -> None:
    shots = history(SLOWED)
    fast, before = [], None
    for at, shot in enumerate(shots):
        cycle = 60.0 if before is None else (shot.time - before).total_seconds()
        values = {**shot.values, "cycle_time": min(cycle, 120.0)}
        fast.append(replace(shot, time=START + timedelta(seconds=0.1 * at), values=values))
        before = shot.time
    said = {(v.group, v.cause) for v in judged(fast) if v.cause}
    assert said == {("press", RHYTHM)}
