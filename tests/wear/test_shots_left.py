"""Shots left and the swap rule, against figures that can be worked by hand."""

import numpy as np
import pytest
from made import THREE, life

from shotlog.facts import PassedLimit
from shotlog.records import InForce
from shotlog.settings import Bound, DesignSettings
from shotlog.wear.level.baseline import first_prior
from shotlog.wear.life.fitted import FittedChange
from shotlog.wear.life.half import HalfState
from shotlog.wear.life.lifetimes import Weibull
from shotlog.wear.life.marks import StretchShot
from shotlog.wear.verdict.shots_left import Limit, left_of, limits_of, shots_left
from shotlog.wear.verdict.swap_cost import call_rate, swap_costs

COSTS = {"part": 4.0, "insert": 18.0, "changeover": 12.0, "late_find": 9.0}


def test_median_is_distance_over_slope() -> None:
    left = shots_left({"cushion": 5.0}, {"cushion": -0.05}, {"cushion": Limit(4.0, None, False)}, 5.0, 30, None)
    assert left.median == pytest.approx(20, abs=1)
    assert left.low is not None
    assert left.high is not None
    assert 12 < left.low < 20 < left.high < 30


def test_beyond_the_limit_nothing_is_left_and_the_limit_is_named() -> None:
    left = shots_left({"cushion": 3.9}, {"cushion": 0.0}, {"cushion": Limit(4.0, None, False)}, 5.0, 30, None)
    assert (left.low, left.median, left.high) == (0.0, 0.0, 0.0)
    assert left.passed == PassedLimit("cushion", 4.0, False)
    above = shots_left({"cushion": 6.1}, {"cushion": 0.0}, {"cushion": Limit(None, 6.0, True)}, 5.0, 30, None)
    assert above.passed == PassedLimit("cushion", 6.0, True)


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


def test_a_derived_limit_is_three_least_changes_away_where_that_is_wider() -> None:
    assert limits_of({}, {"peak_pressure": 540.0}, {"peak_pressure": 4.0}, {"peak_pressure": 10.0}) == {
        "peak_pressure": Limit(510.0, 570.0, True)
    }


@pytest.mark.parametrize(("followed", "median"), [(True, 10.0), (False, 70.0)])
def test_only_a_change_of_the_insert_is_followed_to_its_limit(followed: bool, median: float) -> None:
    """Pressure falls by 1 bar a shot and the limit is 10 bar away: the end of the insert if it is the insert that
    changes. If not, sisters alone tell: shape 1 and scale 100 are 69.3 shots whatever was made."""
    shots = life(3, "A", 40)
    n = np.array([float(shot.shot) for shot in shots])
    values = np.array([[shot.values[name] for name in THREE] for shot in shots])
    half = HalfState(InForce("A", "d"), 1, "d|0")
    half.judge_by(first_prior(THREE, n, values, [], [], {}, 10), "position")
    for shot in shots:
        half.take(StretchShot(shot.shot, shot.values), waited=False)
    assert half.stretch.prior is not None
    assert half.stretch.filter is not None
    level = half.stretch.prior.named(half.stretch.filter.level()[0])["peak_pressure"] + float(
        half.stretch.prior.reference[1]
    )
    limits = {"peak_pressure": Bound(low=level - 15.0)}
    reading = FittedChange({}, {}, dict.fromkeys(THREE, 0.0) | {"peak_pressure": -5.0}, {"peak_pressure": -1.0}, 50.0)
    left = left_of(half, DesignSettings("d", limits=limits), Weibull(100.0, 1.0), reading if followed else None, 40)
    assert left.median == median


def test_without_costs_there_is_no_cost_rule() -> None:
    assert swap_costs(DesignSettings("d"), None, 0.9) is None
    assert call_rate(5.0, {}) == 5.0


def test_cheap_inserts_are_called_sooner() -> None:
    assert call_rate(5.0, {**COSTS, "insert": 4.0, "changeover": 3.0}) == 10.0
    assert call_rate(5.0, {**COSTS, "insert": 200.0}) == 2.5
    assert call_rate(5.0, COSTS) == pytest.approx(5.0)
