"""Plays of a trial: against exact quantiles, renewal theory, age replacement, and a trial played shot by shot."""

import csv
from math import gamma, sqrt
from pathlib import Path
from random import Random

import numpy as np
import pytest
from scipy.stats import betabinom, nbinom

from shotlog.review import plan_run
from shotlog.review.plan_lives import LifeBelief, given_lives
from shotlog.review.plan_run import PlannedHalf, Share, TrialPlan, need, play

REFERENCE = Path(__file__).parents[1] / "reference"


def known(shape: float, scale: float) -> LifeBelief:
    return LifeBelief(np.array([shape]), np.array([scale]), np.ones(1))


@pytest.mark.parametrize("scrap", [0.0, 0.02, 0.1, 0.4])
@pytest.mark.parametrize("parts", [1, 48, 300])
def test_pieces_for_single_use_halves_are_the_negative_binomial_quantile(scrap: float, parts: int) -> None:
    """A piece a part: the pieces until the N-th accepted one, less N, are negative binomial (scipy.stats.nbinom)."""
    plays = play(TrialPlan(parts, 1, Share(scrap), (), 0, Share(0.0)))
    for certainty in (0.5, 0.9):
        more = nbinom.ppf(certainty, parts, 1.0 - scrap) if scrap else 0
        assert need([plays.pieces], certainty) == (parts + more,)


def test_a_piece_broken_before_it_makes_a_part_is_one_more_to_print() -> None:
    """Each piece gives an accepted part with chance (1 - breakage) (1 - scrap)."""
    plays = play(TrialPlan(100, 1, Share(0.1), (), 0, Share(0.05)))
    for certainty in (0.1, 0.5, 0.9):
        exact = 100 + nbinom.ppf(certainty, 100, 0.9 * 0.95)
        assert abs(need([plays.pieces], certainty)[0] - exact) <= 1
    assert plays.pieces.mean() == pytest.approx(100 / (0.9 * 0.95), rel=0.002)


@pytest.mark.parametrize(("bad", "looked_at"), [(0, 10), (2, 40), (5, 20)])
def test_a_share_known_from_few_parts_counts_as_little_as_it_is_known(bad: int, looked_at: int) -> None:
    """Accepted of n pieces, the share being beta: beta-binomial (scipy.stats.betabinom)."""
    share = Share(bad / looked_at, bad + 0.5, looked_at + 1.0)
    plays = play(TrialPlan(60, 1, share, (), 0, Share(0.0)))
    for pieces in (62, 66, 75, 90):
        exact = betabinom.sf(59, pieces, looked_at - bad + 0.5, bad + 0.5)
        assert (plays.pieces <= pieces).mean() == pytest.approx(exact, abs=0.005)
    (enough,) = need([plays.pieces], 0.9)
    assert betabinom.sf(59, enough, looked_at - bad + 0.5, bad + 0.5) >= 0.9 - 0.003
    assert betabinom.sf(59, enough - 1, looked_at - bad + 0.5, bad + 0.5) < 0.9 + 0.003


def test_cavities_make_parts_together() -> None:
    plays = play(TrialPlan(100, 4, Share(0.1), (), 3, Share(0.0)))
    for certainty in (0.5, 0.9):
        shots = np.ceil((100 + nbinom.ppf(certainty, 100, 0.9)) / 4)
        assert need([plays.shots], certainty) == (shots + 3,)


@pytest.mark.parametrize(("shape", "scale"), [(1.5, 60.0), (3.0, 110.0)])
def test_in_a_long_trial_inserts_come_at_the_rate_of_renewals(shape: float, scale: float) -> None:
    """Elementary renewal theorem: inserts / shots wanted -> 1 / mean of the shots an insert gives."""
    parts, settling = 20_000, 6
    plays = play(TrialPlan(parts, 1, Share(0.0), (PlannedHalf(known(shape, scale), 5, settling),), settling), 256)
    n = np.arange(1, 5000)
    gives = np.exp(-(((n + settling) / scale) ** shape)).sum()
    assert plays.inserts[0].mean() == pytest.approx(parts / gives, rel=0.005)
    assert plays.shots.mean() == pytest.approx(parts + (parts / gives) * (settling + 5), rel=0.05)


def ages() -> list[dict[str, float]]:
    with (REFERENCE / "age_replacement.csv").open(encoding="utf-8") as file:
        lines = [line for line in file if not line.startswith("#")]
    return [{name: float(value) for name, value in row.items()} for row in csv.DictReader(lines)]


@pytest.mark.parametrize("row", ages()[1::6], ids=lambda row: f"{row['shape']:g} {row['cost_failure']:g}")
def test_a_planned_swap_costs_in_the_long_run_what_age_replacement_says(row: dict[str, float]) -> None:
    """Barlow and Proschan 1965, chapter 4, in whole shots: each failure makes one bad shot and is seen at once."""
    planned = int(row["optimal_integer_shots"])
    half = PlannedHalf(known(row["shape"], row["scale"]), 1, 0, planned)
    plays = play(TrialPlan(30_000, 1, Share(0.0), (half,), 0), 128)
    spent = row["cost_planned"] * plays.changes + (row["cost_failure"] - row["cost_planned"]) * plays.bad
    assert spent.sum() / plays.shots.sum() == pytest.approx(row["cost_per_shot_integer"], rel=0.01)


def test_planned_lives_that_nobody_watches_cost_what_the_trades_worked_example_says() -> None:
    """Weibull shape 2.5, scale 110, all bad from the failure to the swap: 3.19, 3.07, 3.08, 3.18, 3.66, 4.48 a part."""
    for planned, said in ((30, 3.19), (40, 3.07), (50, 3.08), (60, 3.18), (80, 3.66), (100, 4.48)):
        half = PlannedHalf(known(2.5, 110.0), 10_000, 0, planned)
        plays = play(TrialPlan(20_000, 1, Share(0.0), (half,), 0), 256)
        spent = (18.0 + 11.0) * plays.inserts[0] + 2.1 * plays.shots + 7.0 * plays.bad
        # The example counts lives in halves of a shot, the plan in whole ones.
        assert spent.mean() / 20_000 == pytest.approx(said, rel=0.012)


def shot_by_shot(
    random: Random, parts: int, scrap: float, lives: list[tuple[float, float]], late: int, settling: int
) -> list[int]:
    """Run a trial one shot at a time with plain counters; return the inserts each half took."""
    used, age, end, bad_left = [1] * len(lives), [0] * len(lives), [0.0] * len(lives), 0
    for k, (shape, scale) in enumerate(lives):
        end[k] = random.weibullvariate(scale, shape)
    since, accepted = 0, 0
    while True:
        for k, (shape, scale) in enumerate(lives):
            while age[k] + 1 > end[k] and bad_left == 0:
                bad_left = late
                for _ in range(late):
                    age = [one + 1 for one in age]
                bad_left = 0
                used[k] += 1
                age[k], end[k], since = 0, random.weibullvariate(scale, shape), 0
        age = [one + 1 for one in age]
        since += 1
        if since > settling and random.random() >= scrap:
            accepted += 1
            if accepted == parts:
                return used


@pytest.mark.parametrize("lives", [[(2.0, 50.0)], [(2.0, 50.0), (3.0, 140.0)]])
def test_it_takes_as_many_inserts_as_a_trial_played_shot_by_shot(lives: list[tuple[float, float]]) -> None:
    n, random = 1500, Random(7)
    plain = [shot_by_shot(random, 200, 0.08, lives, 7, 6) for _ in range(n)]
    halves = tuple(PlannedHalf(known(*one), 7, 6) for one in lives)
    plays = play(TrialPlan(200, 1, Share(0.08), halves, 6))
    for k in range(len(lives)):
        for inserts in range(1, 12):
            share = sum(one[k] <= inserts for one in plain) / n
            played = (plays.inserts[k] <= inserts).mean()
            assert abs(share - played) <= 4.0 * sqrt(max(played * (1 - played), 1 / n) / n)


def test_stocks_of_two_halves_hold_together() -> None:
    halves = tuple(PlannedHalf(known(*one), 7, 6) for one in ((2.0, 50.0), (2.0, 90.0)))
    plays = play(TrialPlan(200, 1, Share(0.05), halves, 6))
    first, second = need(plays.inserts, 0.9)
    assert ((plays.inserts[0] <= first) & (plays.inserts[1] <= second)).mean() >= 0.9
    assert first >= need(plays.inserts[:1], 0.9)[0]


def test_the_same_figures_give_the_same_plays() -> None:
    plan = TrialPlan(
        200, 1, Share(0.05, 1.0, 20.0), (PlannedHalf(given_lives(60.0), 7, 6, 50),), 6, Share(0.03, 0.6, 20.0)
    )
    first, again = play(plan, 512), play(plan, 512)
    for name in ("pieces", "shots", "changes", "bad", "scrap"):
        assert (getattr(first, name) == getattr(again, name)).all()
    assert (first.inserts[0] == again.inserts[0]).all()


def test_inserts_that_never_outlive_their_settling_are_given_up() -> None:
    plays = play(TrialPlan(10, 1, Share(0.0), (PlannedHalf(known(20.0, 4.0), 2, 30),), 30), 32)
    assert need(plays.inserts, 0.5) == (float("inf"),)


def test_what_takes_hundreds_of_inserts_goes_on_as_it_went(monkeypatch: pytest.MonkeyPatch) -> None:
    """Played to its end, and taken on from its 60th change: half of the trials, and nine of ten, take as many."""
    halves = tuple(PlannedHalf(known(*one), 7, 6) for one in ((2.0, 50.0), (3.0, 140.0)))
    plan = TrialPlan(400, 1, Share(0.5, 1.5, 3.0), halves, 6)
    monkeypatch.setattr(plan_run, "_PLAYED_CHANGES", 1 << 20)
    whole = play(plan, 1 << 10)
    monkeypatch.setattr(plan_run, "_PLAYED_CHANGES", 60)
    monkeypatch.setattr(plan_run, "_KNOWN_CHANGES", 10)
    taken_on = play(plan, 1 << 10)
    assert (whole.changes != taken_on.changes).any()
    for certainty in (0.5, 0.9, 0.95):
        for name in ("shots", "changes", "bad"):
            exact = need([getattr(whole, name)], certainty)
            assert need([getattr(taken_on, name)], certainty) == pytest.approx(exact, rel=0.05), name
        assert need(taken_on.inserts, certainty) == pytest.approx(need(whole.inserts, certainty), rel=0.05)


@pytest.mark.parametrize(("parts", "fast", "slow"), [(6_000, 8.0, 2_000.0), (12_000, 4.0, 40.0)])
def test_a_half_that_lives_long_takes_as_many_beside_one_that_does_not(parts: int, fast: float, slow: float) -> None:
    """Every shot makes an accepted part, so its inserts are one more than the renewals in all shots but the last.

    Their mean is the renewal function in whole shots, exact; that of 1024 plays lies within four standard errors.
    """
    reached = np.exp(-((np.arange(parts + 1) / slow) ** 2.5))
    ends = -np.diff(reached)
    renews = np.zeros(parts)
    for shot in range(parts):
        renews[shot] = (ends[shot] + ends[1 : shot + 1] @ renews[:shot][::-1]) / (1.0 - ends[0])
    halves = tuple(PlannedHalf(known(2.5, scale), 0, 0) for scale in (fast, slow))
    plays = play(TrialPlan(parts, 1, Share(0.0), halves, 0), 1024)
    assert plays.inserts[0].min() > 600, "all are long enough to be taken on"
    error = plays.inserts[1].std() / sqrt(1024)
    assert abs(plays.inserts[1].mean() - 1.0 - renews.sum()) < 4.0 * error


def test_a_trial_of_nearly_nothing_but_scrap_is_not_played_insert_by_insert(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of twelve parts none was accepted: in one play of ten it takes thousands of inserts, and a person waits."""
    drawn: list[int] = []
    played = plan_run._insert
    monkeypatch.setattr(plan_run, "_insert", lambda *given: drawn.append(1) or played(*given))
    plays = play(TrialPlan(200, 1, Share(1.0, 12.5, 13.0), (PlannedHalf(known(2.5, 60.0), 7, 5),), 5), 256)
    assert 1000 < need(plays.inserts, 0.9)[0] < float("inf")
    assert len(drawn) <= 301


def test_with_a_planned_life_no_insert_runs_longer() -> None:
    lives = known(2.0, 50.0)
    plays = play(TrialPlan(300, 1, Share(0.0), (PlannedHalf(lives, 8, 0, 30),), 0), 1024)
    assert (plays.shots <= 30 * plays.inserts[0]).all()
    assert plays.bad.mean() > 0.0
    assert gamma(1.5) * 50.0 > 30.0
