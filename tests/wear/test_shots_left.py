"""Shots left and the swap rule, against figures that can be worked by hand."""

import pytest

from shotlog.settings import Bound
from shotlog.wear.life.lifetimes import Weibull
from shotlog.wear.verdict.shots_left import Limit, limits_of, shots_left
from shotlog.wear.verdict.swap_cost import call_rate, weigh_swap

COSTS = {"part": 4.0, "insert": 18.0, "changeover": 12.0, "late_find": 9.0}


def test_median_is_distance_over_slope() -> None:
    left = shots_left({"cushion": 5.0}, {"cushion": -0.05}, {"cushion": Limit(4.0, None, False)}, 5.0, 30, None)
    assert left.median == pytest.approx(20, abs=1)
    assert left.low is not None
    assert left.high is not None
    assert 12 < left.low < 20 < left.high < 30


def test_beyond_the_limit_nothing_is_left() -> None:
    left = shots_left({"cushion": 3.9}, {"cushion": 0.0}, {"cushion": Limit(4.0, None, False)}, 5.0, 30, None)
    assert (left.low, left.median, left.high) == (0.0, 0.0, 0.0)


def test_no_change_and_no_lives_have_no_end_in_sight() -> None:
    left = shots_left({"cushion": 5.0}, {}, {"cushion": Limit(4.0, None, False)}, 0.0, 30, None)
    assert left.median is None


def test_sister_lives_alone_give_the_conditional_median() -> None:
    """Exponential lives (shape 1) have no memory: the median left is scale x ln 2 = 69.3 whatever was made."""
    for made in (0, 50):
        assert shots_left({}, {}, {}, 0.0, made, Weibull(100.0, 1.0)).median == 70.0


def test_sister_lives_shorten_a_forecast() -> None:
    drift = ({"cushion": 5.0}, {"cushion": -0.05}, {"cushion": Limit(4.0, None, False)}, 5.0, 60)
    alone, both = shots_left(*drift, None), shots_left(*drift, Weibull(70.0, 3.0))
    assert alone.median is not None
    assert both.median is not None
    assert both.median < alone.median


def test_limits_are_those_given_or_derived_and_said_so() -> None:
    limits = limits_of(
        {"cushion": Bound(low=2.0)},
        {"cushion": 5.0, "peak_pressure": 540.0},
        {"cushion": 0.05, "peak_pressure": 4.0},
        {"cushion": 0.05, "peak_pressure": 4.0},
    )
    assert limits["cushion"] == Limit(2.0, None, False)
    assert limits["peak_pressure"] == Limit(516.0, 564.0, True)


@pytest.mark.parametrize(("chance", "swap"), [(0.0, False), (0.02, False), (0.1, True), (0.9, True)])
def test_swap_when_the_next_shot_costs_more_than_a_new_insert_per_part(chance: float, swap: bool) -> None:
    """Bad part 13, new insert 30 over 90 shots is 0.333 a part: the balance lies at a chance of 0.0256."""
    costs = weigh_swap(COSTS, chance, 90.0)
    assert costs is not None
    assert costs.per_part == pytest.approx(1 / 3)
    assert costs.next_shot == pytest.approx(13.0 * chance)
    assert costs.swap is swap


def test_without_costs_there_is_no_cost_rule() -> None:
    assert weigh_swap({}, 0.9, 90.0) is None
    assert call_rate(5.0, {}) == 5.0


def test_cheap_inserts_are_called_sooner() -> None:
    assert call_rate(5.0, {**COSTS, "insert": 4.0, "changeover": 3.0}) == 10.0
    assert call_rate(5.0, {**COSTS, "insert": 200.0}) == 2.5
    assert call_rate(5.0, COSTS) == pytest.approx(5.0)
