"""The planned swap against a table worked out elsewhere and the worked example of trade practice."""

import csv
from pathlib import Path

import numpy as np
import pytest

from shotlog.parts.renewal import age_replacement, plan_costs
from shotlog.review.replacement import unwatched_costs, unwatched_plan

TABLE = Path(__file__).parents[1] / "reference" / "age_replacement.csv"
COSTS = {"part": 2.1, "insert": 18.0, "changeover": 11.0, "late_find": 7.0}


def rows() -> list[dict[str, str]]:
    with TABLE.open(encoding="utf-8") as file:
        file.readline()
        return list(csv.DictReader(file))


@pytest.mark.parametrize("row", rows(), ids=lambda row: f"shape {row['shape']}, costs 1 to {row['cost_failure']}")
def test_the_best_whole_shot_is_that_of_the_table(row: dict[str, str]) -> None:
    plan = age_replacement(*(float(row[name]) for name in ("shape", "scale", "cost_planned", "cost_failure")))
    assert plan.shots == int(row["optimal_integer_shots"])
    assert plan.cost == pytest.approx(float(row["cost_per_shot_integer"]), rel=1e-6)


@pytest.mark.parametrize("shape", [0.7, 1.0])
def test_inserts_that_do_not_age_need_no_plan(shape: float) -> None:
    plan = age_replacement(shape, 80.0, 29.0, 120.0)
    assert plan.shots is None
    assert plan.cost <= plan.cost_unplanned


@pytest.mark.parametrize(("shots", "cost"), [(30, 3.19), (40, 3.07), (50, 3.08), (60, 3.18), (80, 3.66), (100, 4.48)])
def test_unwatched_costs_are_near_those_of_the_trade_example(shots: int, cost: float) -> None:
    """Scale 110, shape 2.5. How the example was summed is not told; the exact sum lies up to 1.2 % from it."""
    assert unwatched_costs(2.5, 110.0, COSTS)[shots - 1] == pytest.approx(cost, rel=0.013)


@pytest.mark.parametrize("shots", [20, 40, 80])
def test_unwatched_costs_are_those_of_simulated_lives(shots: int) -> None:
    """100,000 lives; an insert that fails within shot n makes bad parts from shot n on. Standard error under 0.2 %."""
    lives = 110.0 * np.random.default_rng(8).weibull(2.5, 100_000)
    bad = np.clip(shots + 1 - np.ceil(lives), 0, shots)
    spent = 29.0 + 2.1 * shots + 7.0 * bad.mean()
    assert unwatched_costs(2.5, 110.0, COSTS)[shots - 1] == pytest.approx(spent / (shots - bad.mean()), rel=0.006)


def test_the_unwatched_plan_is_the_cheapest() -> None:
    plan, costs = unwatched_plan(2.5, 110.0, COSTS), unwatched_costs(2.5, 110.0, COSTS)
    assert plan.shots is not None
    assert 40 < plan.shots < 50
    assert plan.cost == min(costs)
    assert plan.cost_unplanned > 2 * plan.cost


def test_a_dearer_failure_makes_the_plan_shorter() -> None:
    plans = [age_replacement(2.5, 110.0, 29.0, 29.0 + bad * 9.1).shots for bad in (2, 10, 40)]
    assert plans == sorted(plans, reverse=True)
    assert len(set(plans)) == 3


def test_costs_of_a_plan_add_up() -> None:
    assert plan_costs(COSTS, 10) == pytest.approx((29.0, 29.0 + 91.0))
    assert plan_costs(COSTS, 0) == pytest.approx((29.0, 29.0 + 9.1))
    assert plan_costs({"part": 2.1}, 10) is None
    assert plan_costs({"insert": 18.0}, 10) is None
