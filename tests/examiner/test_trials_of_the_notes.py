"""The trials of the trade notes are drawn as the sheet has them, and what the call surely says of them is said."""

import itertools
import math

import numpy as np
import pytest

from tests.benchmark.examiner.trials import manifold, manifold_demands, pawl
from tests.benchmark.examiner.trials.demand import held_from, held_share
from tests.benchmark.examiner.trials.examine import BUILDING_SEED, TRIALS, figure_of, play_one
from tests.benchmark.examiner.trials.trial import Trial
from tests.benchmark.examiner.trials.watched import told, watch

_DAY = pawl.course(pawl.day(), np.zeros(pawl.N_SHOTS))
_COLUMNS = ("switchover_pressure", "peak_pressure", "cushion", "recovery_time", "insert_temperature", "part_weight")
_ROUNDED = (1.0, 1.0, 0.01, 0.01, 1.0, 0.001)
_CHECKPOINTS = {
    1: (555, 577, 5.23, 4.60, 32, 10.066),
    5: (543, 565, 5.11, 4.60, 43, 10.123),
    20: (524, 546, 4.97, 4.60, 60, 10.188),
    58: (520, 542, 4.94, 4.60, 64, 10.200),
    75: (509, 531, 4.91, 4.60, 64, 10.214),
    92: (499, 521, 4.88, 4.60, 64, 10.228),
    93: (543, 565, 5.21, 4.60, 34, 10.075),
    117: (522, 544, 4.95, 4.60, 62, 10.194),
    125: (560, 582, 5.01, 4.50, 63, 10.170),
    140: (562, 584, 5.01, 4.49, 64, 10.170),
    141: (572, 594, 5.14, 4.49, 39, 10.108),
    144: (578, 600, 5.11, 4.49, 46, 10.122),
    151: (571, 593, 5.05, 4.49, 56, 10.147),
    152: (558, 580, 4.59, 4.49, 57, 10.369),
    168: (551, 573, 4.56, 4.49, 63, 10.386),
    190: (565, 587, 5.02, 4.49, 61, 10.162),
    220: (561, 583, 4.96, 4.49, 64, 10.191),
    240: (558, 580, 4.84, 4.49, 64, 10.250),
    262: (551, 573, 4.52, 4.49, 64, 10.405),
    263: (573, 595, 4.77, 4.49, 34, 10.291),
    282: (540, 562, 3.84, 4.49, 60, 10.732),
    283: (583, 605, 5.28, 4.49, 34, 10.046),
    300: (566, None, 5.04, 4.49, None, 10.156),
    324: (559, None, 5.01, 4.49, None, 10.169),
    345: (562, None, 5.03, 4.49, None, 10.160),
}


@pytest.mark.parametrize("shot", _CHECKPOINTS)
def test_the_pawl_day_without_noise_passes_the_checkpoints_of_the_sheet(shot: int) -> None:
    for channel, unit, stated in zip(_COLUMNS, _ROUNDED, _CHECKPOINTS[shot], strict=True):
        if stated is not None:
            assert _DAY[shot - 1][channel] == pytest.approx(stated, abs=0.5 * unit + 1e-9), channel


def test_the_settled_pawl_spreads_as_the_table_says_and_weight_goes_against_cushion() -> None:
    shots = [
        shot.values
        for nth in range(12)
        for shot in pawl.draw(np.random.default_rng([21, nth]), lot_noted=False, sisters=0).shots[45:58]
    ]
    seen = {channel: np.array([values[channel] for values in shots]) for channel in shots[0]}
    stated = {
        "fill_time": (0.720, 0.004),
        "switchover_position": (9.0, 0.02),
        "switchover_pressure": (520.0, 4.0),
        "peak_pressure": (542.0, 4.5),
        "cushion": (4.94, 0.057),
        "recovery_time": (4.60, 0.09),
        "clamp_force": (80.0, 0.25),
        "insert_temperature": (64.0, 0.8),
        "melt_temperature": (285.0, 0.5),
        "part_weight": (10.200, 0.015),
        "mass_balance": (0.4823 * (27.0 - 4.94) - 10.2, 0.02),
    }
    for channel, (mean, sigma) in stated.items():
        assert seen[channel].std() == pytest.approx(sigma, rel=0.25), channel
        assert seen[channel].mean() == pytest.approx(mean, abs=0.45 * sigma), channel
    assert np.corrcoef(seen["cushion"], seen["part_weight"])[0, 1] == pytest.approx(-0.66, abs=0.12)


def test_the_lossy_ring_spreads_the_cushion_and_opens_the_balance() -> None:
    late = [
        shot.values
        for nth in range(6)
        for shot in pawl.draw(np.random.default_rng([22, nth]), lot_noted=True, sisters=0).shots[319:]
    ]
    cushion, weight, balance = (np.array([v[c] for v in late]) for c in ("cushion", "part_weight", "mass_balance"))
    assert 5.0 < cushion.std() / 0.057 < 7.5  # the sheet: x5-6, flyers of 1 mm among them
    assert abs(np.corrcoef(cushion, weight)[0, 1]) < 0.25
    assert 0.14 < balance.mean() - (0.4823 * (27.0 - 5.01) - 10.17) < 0.24


@pytest.mark.parametrize(("sisters", "lot_noted"), [(0, True), (4, False)])
def test_the_pawl_day_is_logged_as_the_time_line_has_it(sisters: int, lot_noted: bool) -> None:
    trial = pawl.draw(np.random.default_rng(23), lot_noted=lot_noted, sisters=sisters)
    assert [shot.shot for shot in trial.shots] == list(range(1, trial.before + 346))
    assert all(a.time < b.time for a, b in itertools.pairwise(trial.shots))
    day = trial.shots[trial.before :]
    swaps = {
        half: [n for n, (a, b) in enumerate(itertools.pairwise(day), 2) if a.halves[half] != b.halves[half]]
        for half in ("fixed", "moving")
    }
    assert swaps == {"fixed": [283], "moving": [93, 169, 263, 325]}
    noted = {n: shot.events[0][0] for n, shot in enumerate(day, 1) if shot.events}
    assert noted == ({118: "lot"} if lot_noted else {}) | {168: "finding"}
    assert 34.0 < (day[140].time - day[139].time).total_seconds() / 60.0 < 36.0
    assert sum(shot.halves["fixed"].serial == "A-07" for shot in trial.shots[: trial.before]) == (186 if sisters else 0)
    assert len({shot.halves["moving"].serial for shot in trial.shots[: trial.before]}) == sisters


def test_the_manifold_moves_by_what_the_sheet_says() -> None:
    drawn = [manifold.draw(np.random.default_rng([24, nth]), crack="note", plates=0).shots for nth in range(60)]
    warm = manifold.simple_half_temperature()
    assert warm[0] == pytest.approx(24.0 + 22.0 * (1.0 - math.exp(-0.1)))
    assert warm[30] < 40.0 < warm[29]
    cold = np.array([46.0 - now for now in warm])
    means = {c: np.mean([[shot.values[c] for shot in shots] for shots in drawn], axis=0) for c in drawn[0][0].values}
    for channel, level, per_degree, error in (
        ("switchover_pressure", 300.0, 0.8, 9.0),
        ("peak_pressure", 314.0, 0.8, 9.0),
        ("cushion", 5.89, 0.004, 0.09),
        ("part_weight", 4.60, 0.0, 0.06),
    ):
        moved = [manifold.moves(n).get(channel.replace("peak", "switchover"), 0.0) for n in range(1, 49)]
        off = means[channel] - level - per_degree * cold - np.array(moved)
        assert np.abs(off).max() < 5.0 * 1.7 * error / np.sqrt(60), channel
    of_a_plate = np.array([[shot.values["cushion"] for shot in shots[:12]] for shots in drawn]) - 0.004 * cold[:12]
    assert of_a_plate.std(axis=1, ddof=1).mean() == pytest.approx(0.09, rel=0.06)
    assert of_a_plate.mean(axis=1).std() == pytest.approx(math.hypot(0.05, 0.09 / math.sqrt(12)), rel=0.3)
    first = drawn[0]
    assert [shot.halves["moving"].print_batch for shot in first] == [f"PL-{n // 12 + 1}" for n in range(48)]
    assert {shot.halves["fixed"].serial for shot in first} == {"SH-02"}
    assert [n for n, shot in enumerate(first, 1) if shot.events] == [19]


def test_whoever_knows_all_but_the_noise_finds_the_plate_and_mostly_the_ramp() -> None:
    assert manifold_demands.best_share(range(25, 37), 1.5) > 0.95
    assert 0.6 < manifold_demands.best_share(range(37, 49)) < 0.9
    assert manifold_demands.best_share(range(1, 13)) == pytest.approx(0.05)


def test_what_was_said_is_told_run_by_run_and_held_back_to_the_onset() -> None:
    trial = pawl.draw(np.random.default_rng(25), lot_noted=True, sisters=0)
    watched = watch(Trial(trial.shots[:170], trial.designs))
    assert len(watched.of_day) == 170
    assert told(watched, 1, 30) == "1-30 keep B-11 [-]"
    assert "swap B-12 [insert/crack or breakage since 152" in told(watched, 150, 168)
    assert watched.first_open(145, 168, "insert", 149) in (152, 153)
    assert watched.first_open(1, 30) is None
    assert held_share(watched, 152, 168) == 1.0
    assert held_from(watched, 2, 30) in (None, *range(1, 31))


_SURE = {
    "S1": (
        "118 lot: material said by 130",
        "152 blade: called as the insert by 168",
        "152 blade: no keep from the call to 168",
        "152-168: share of parts held",
        "206 flash: called as the insert by 262",
        "263-282 flash stays: no keep",
        "263-282 flash stays: A-07 named at 282",
        "297 ring: press said by 324",
        "every half its own clock, share of shots",
    ),
    "S2": ("19: held back as an odd single shot",),
}


@pytest.mark.parametrize(
    ("name", "variant"),
    [("S1", "lot noted, no sisters"), ("S1", "lot unnoted, 4 sisters"), ("S2", "crack a note, no plates")],
)
def test_what_is_surely_said_of_a_trial_is_said_in_each_of_three(name: str, variant: str) -> None:
    played = [play_one(name, variant, BUILDING_SEED, nth) for nth in range(3)]
    demands = {demand.name: demand for kind in TRIALS for demand in kind.demands if kind.name == name}
    assert {sure: figure_of(demands[sure], played).value for sure in _SURE[name]} == dict.fromkeys(_SURE[name], 1.0)
    if name == "S1":
        assert figure_of(demands["152 blade: shots after 152"], played).value <= 2
