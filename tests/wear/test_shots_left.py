"""Shots left and the swap rule, against figures that can be worked by hand."""

import json
from itertools import pairwise

import numpy as np
import pytest
from made import CENTRE, SPREAD, knowing, life, sisters

from shotlog.facts import PassedLimit
from shotlog.records import Verdict
from shotlog.settings import Bound, DesignSettings
from shotlog.wear.change.past import Courses
from shotlog.wear.compiled.passage import Way, passage, pooled_time, settle
from shotlog.wear.constants import COURSE_AT, HORIZON, LEFT_SHARES
from shotlog.wear.life.ends import ends_of
from shotlog.wear.life.lifetimes import EndedLife, Weibull
from shotlog.wear.life.worn import COURSES, Rate, Worn
from shotlog.wear.monitor import Monitor
from shotlog.wear.verdict.bounds import Limit, limits_of
from shotlog.wear.verdict.outlook import Room, _nearest
from shotlog.wear.verdict.shots_left import _counting, lives_left
from shotlog.wear.verdict.swap_cost import call_rate, swap_costs

COSTS = {"part": 4.0, "insert": 18.0, "changeover": 12.0, "late_find": 9.0}
EVEN = 3
"""Row of the table of courses that goes on evenly."""
NEVER = (1.0, 0.0, 0.0, 0.0, 1.0)
"""No sudden break and no lives."""


def left(way: Way, room: float = 10.0, beside: tuple[float, ...] = NEVER, wide: float = 0.0) -> list[float]:
    """Return the shots at which the chance to be good falls to 90, 50 and 10 %."""
    out = np.empty(4)
    passage(room, 0.0, wide, 30.0, way, len(way[0]), COURSES, beside, np.array(LEFT_SHARES), HORIZON, out)
    return out.tolist()[:3]


def one_way(course: int, since: int, rate: float, spread: float) -> Way:
    """Return a single course with a rate known to within `spread`, as a log."""
    at = np.array([course]), np.array([since]), np.ones(1)
    return *at, np.array([np.log(rate)]), np.array([spread]), np.zeros(1), np.zeros(1)


def test_a_course_that_is_known_reaches_its_limit_when_it_does() -> None:
    """By hand, a hair over 10 spreads by 30 shots: a ramp 10 shots old has 20 left, a square 21 shots old 9."""
    assert left(one_way(EVEN, 10, 10.001, 1e-5)) == [20.0, 20.0, 20.0]
    assert left(one_way(5, 21, 10.001, 1e-5)) == [9.0, 9.0, 9.0]


def test_a_rate_known_to_within_a_factor_gives_the_quantiles_of_its_distribution() -> None:
    """The whole course takes 30 shots by the median, log-normal; 10 of them are gone."""
    quantiles = 30.0 * np.exp(0.3 * np.array([-1.2816, 0.0, 1.2816])) - 10.0
    assert left(one_way(EVEN, 10, 10.0, 0.3)) == pytest.approx(quantiles.tolist(), abs=1.0)


def test_a_sudden_break_comes_beside_the_wear() -> None:
    """By hand: with one break expected in 100 shots and no wear, half are left after 100 shots (1 / (1 + k / 100))."""
    slow = one_way(EVEN, 10, 1e-6, 0.1)
    assert left(slow, beside=(100.0, 1.0, 0.0, 0.0, 1.0))[:2] == [12.0, 100.0]
    both = left(one_way(EVEN, 10, 10.0, 0.3), beside=(100.0, 1.0, 0.0, 0.0, 1.0))
    assert both[1] < left(one_way(EVEN, 10, 10.0, 0.3))[1]


def test_what_does_not_grow_is_left_to_the_lives_of_sisters() -> None:
    """Exponential lives (shape 1) have no memory: the median left is scale x ln 2 = 69.3."""
    stays = one_way(0, 10, 1.0, 1.0)
    assert left(stays, beside=(1.0, 5.0, 40.0, 100.0, 1.0))[1] == 70.0
    assert left(stays) == [-1.0, -1.0, -1.0]


def test_a_limit_counts_though_the_likeliest_course_leads_away_from_it() -> None:
    """Else no channel would count, and the next part would be bad with a chance of -1."""
    h = len(COURSES)
    at = np.zeros((2, h))
    fit = Courses(np.column_stack([np.full(h, 2.0), np.full(h, -1.0)]), np.ones((h, 2)), np.zeros(h), at, at)
    down, up = Room(False, 8.0, 8.0, True), Room(True, 8.0, 8.0, True)
    channels, onsets = ("cushion", "peak_pressure"), np.array([10])
    assert _nearest({"cushion": down}, channels, fit, 20, onsets) == [("cushion", down)]
    assert _nearest({"cushion": up, "peak_pressure": up}, channels, fit, 20, onsets) == [("cushion", up)]


def test_sister_lives_alone_give_the_conditional_median() -> None:
    for made in (0, 50):
        assert lives_left(Weibull(100.0, 1.0), made).median == 70.0
    assert lives_left(None, 30).median is None
    assert lives_left(Weibull(10_000.0, 1.0), 30).median is None


def test_the_time_to_a_limit_is_pooled_over_sisters_and_an_open_prior() -> None:
    """Four sisters that took 40 shots to go 10 spreads, all by a ramp, tell more than the prior of 80."""
    powers, open_, apart = np.array([1.0]), np.array([np.log(80.0), 1.0]), np.array([0.4, 1.0])
    log_rate = np.full((4, 1), np.log(10.0 * COURSE_AT / 40.0))
    given = (log_rate, np.full((4, 1), 1e-4), np.ones((4, 1)), powers, np.log(10.0), COURSE_AT, open_, apart)
    mean, variance = pooled_time(*given)
    assert np.exp(mean) == pytest.approx(40.0, rel=0.1)
    assert 0.1 < variance**0.5 < 0.4
    nobody = tuple(one[:0] for one in given[:3])
    assert pooled_time(*nobody, *given[3:]) == (np.log(80.0), 1.0)


def test_the_rate_is_that_of_a_numerical_integral() -> None:
    """Normal likelihood times log-normal prior, by quadrature: evidence to 5 %, the middle to a fifth of a spread."""
    size, variance, width, mean, spread = 4.0, 1.5, 6.0, float(np.log(7.0)), 0.4
    gain, log_rate, sd = settle(size, variance, width, mean, spread)
    x = np.linspace(mean - 6 * spread, mean + 6 * spread, 20_001)
    found = np.exp(-0.5 * (np.exp(x) - size) ** 2 / variance) / variance**0.5
    found /= np.exp(-0.5 * np.exp(x) ** 2 / width**2) / width
    found *= np.exp(-0.5 * ((x - mean) / spread) ** 2) / (spread * (2 * np.pi) ** 0.5)
    middle = float((found * x).sum() / found.sum())
    assert gain == pytest.approx(np.log(found.sum() * (x[1] - x[0])), abs=0.05)
    assert log_rate == pytest.approx(middle, abs=0.2 * spread)
    assert sd == pytest.approx(float(((found * (x - middle) ** 2).sum() / found.sum()) ** 0.5), rel=0.1)


def test_ends_count_what_broke_and_what_wore_apart() -> None:
    """Of four lives two wore, by a ramp, one broke and one was taken out sound."""
    shares = np.array([0.05, 0.0, 0.05, 0.8, 0.1, 0.0])
    worn = Worn(shares, {"cushion": Rate(False, np.zeros(5), np.ones(5))})
    ended = [EndedLife(60, True, "A", 70, worn=worn), EndedLife(50, True, "B", 60, worn=worn)]
    ended += [EndedLife(20, True, "C", 20), EndedLife(90, False, "D", 90)]
    ends = ends_of(ended, None, None)
    assert [one.sudden for one in ended] == [False, False, True, False]
    assert ends.sudden - ends_of([], None, None).sudden == 1.0
    assert ends.shots - ends_of([], None, None).shots == 240.0
    assert int(ends.log_share.argmax()) == EVEN
    assert len(ends.rates["cushion", False][0]) == 2
    assert ("cushion", True) not in ends.rates


def worn(size: float, limits: dict[str, Bound], n_shots: int = 70, seed: int = 5) -> list[Verdict]:
    """Return what is said beside sisters of an insert that wears from shot 30 on: cushion by `size` spreads a shot,
    pressure by less."""
    monitor = Monitor("p", {"d": DesignSettings("d", limits=limits)})
    shots = sisters(3)
    for shot in shots:
        monitor.step(shot)
    change = {"cushion": ("ramp", size), "peak_pressure": ("ramp", 0.3 * size)}
    last = life(seed, "W", n_shots, first=len(shots) + 1, change=change, onset=30)
    return [monitor.step(shot) for shot in last]


@pytest.mark.parametrize("limits", [{}, {"cushion": Bound(low=CENTRE["cushion"] - 10.0 * SPREAD["cushion"])}])
def test_shots_left_and_the_chance_of_a_bad_part_never_contradict_each_other(limits: dict[str, Bound]) -> None:
    seen = 0
    for seed in range(5, 9):
        for one in worn(-0.2, limits, 82, seed=seed):
            chance = one.facts.bad_chance if one.facts is not None else None
            if chance is None or one.group != "insert":
                continue
            for left, share in zip((one.left_low, one.left_median, one.left_high), LEFT_SHARES, strict=True):
                assert chance < 1.0 - share or left == 0.0, (one.shot, chance, left)
                seen += left == 0.0
    assert seen > 10


def test_shots_left_run_down_to_a_given_limit() -> None:
    """The level passes ten spreads 50 shots after its onset, and no sister has worn: at 16, 26 and 36 shots after it
    the interval holds that in at least 13 of 18 cases, and the middle is within a factor of two and a half."""
    limits = {"cushion": Bound(low=CENTRE["cushion"] - 10.0 * SPREAD["cushion"])}
    held = 0
    for seed in range(5, 11):
        said = worn(-0.2, limits, seed=seed)
        for n in (45, 55, 65):
            verdict, truth = said[n - 1], 79.5 - n
            assert verdict.group == "insert"
            assert verdict.left_low is not None
            assert verdict.left_median is not None
            assert verdict.left_high is not None
            held += verdict.left_low <= truth <= verdict.left_high
            assert 0.4 < verdict.left_median / truth < 2.5
    assert held >= 13


def test_a_state_taken_up_in_the_middle_of_a_wear_says_the_same_to_the_last_bit() -> None:
    """Beside sisters that wore before: their courses are kept, and those of the insert at hand are found again."""
    change = {"cushion": ("ramp", -0.3), "peak_pressure": ("ramp", -0.1)}
    designs = {"d": DesignSettings("d", limits={"cushion": Bound(low=CENTRE["cushion"] - 10.0 * SPREAD["cushion"])})}
    shots = [one for k in range(3) for one in life(20 + k, f"W-{k}", 60, first=60 * k + 1, change=change, onset=25)]
    whole, parted, state = Monitor("p", designs), Monitor("p", designs), ""
    for nth, shot in enumerate(shots):
        if nth >= 120 and nth % 7 == 0:
            state = json.dumps(parted.save())
            parted = Monitor("p", designs)
            parted.restore(json.loads(state))
        assert whole.step(shot) == parted.step(shot)
    assert '"W-1"' in state
    assert sum(one.worn is not None for one in whole._mounted.pool.ended["d"]) == 2


def test_beyond_a_limit_nothing_is_left_and_the_limit_is_named() -> None:
    said = worn(-0.3, {})[-1]
    assert said.facts is not None
    assert (said.left_low, said.left_median, said.left_high) == (0.0, 0.0, 0.0)
    assert said.facts.passed is not None
    assert (said.facts.passed.channel, said.facts.passed.derived) == ("cushion", True)


def test_a_derived_limit_is_none_where_a_given_one_lies_ahead() -> None:
    """The same insert, ten spreads from its start: people said that it may go on to fifteen."""
    limit = CENTRE["cushion"] - 15.0 * SPREAD["cushion"]
    said = worn(-0.3, {"cushion": Bound(low=limit), "part_weight": Bound(high=11.0)}, n_shots=62)[-1]
    assert said.facts is not None
    assert said.facts.passed is None
    assert said.left_median == pytest.approx(17.0, abs=8.0)
    assert said.facts.passed != PassedLimit("cushion", limit, False)


def test_a_derived_limit_gives_way_little_by_little_to_a_given_one() -> None:
    monitor = knowing(4)
    prior = next(iter(monitor._mounted.lives.values())).stretch.prior
    assert prior is not None
    spread = dict(zip(prior.channels, prior.sigma.tolist(), strict=True))
    limits = {"cushion": Limit(4.0, None, False), "peak_pressure": Limit(500.0, 600.0, True)}
    reach, decides = [], []
    for share in np.linspace(0.0, 0.49, 148):
        moved = {"cushion": -10.0 * share * spread["cushion"], "peak_pressure": -10.0 * spread["peak_pressure"]}
        counting, given = _counting(prior, limits, moved)
        low = counting["peak_pressure"].low
        assert low is not None
        reach.append(550.0 - low)
        decides.append(given)
    assert reach[0] == reach[29] == 50.0, "up to a tenth of the move the derived limit stands as it is"
    assert all(0.0 <= b - a < 0.04 * b or b > 150.0 for a, b in pairwise(reach)), "and then it goes off without a jump"
    assert all(0.0 <= b - a < 0.02 for a, b in pairwise(decides)), "nor does the chance of a bad part jump"
    counting, given = _counting(prior, limits, moved | {"cushion": -8.0 * spread["cushion"]})
    assert ("peak_pressure" in counting, decides[0], given) == (False, 0.0, 1.0)


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


def test_without_costs_there_is_no_cost_rule() -> None:
    assert swap_costs(DesignSettings("d"), None, 0.9) is None
    assert call_rate(5.0, {}) == 5.0


def test_cheap_inserts_are_called_sooner() -> None:
    assert call_rate(5.0, {**COSTS, "insert": 4.0, "changeover": 3.0}) == 10.0
    assert call_rate(5.0, {**COSTS, "insert": 200.0}) == 2.5
    assert call_rate(5.0, COSTS) == pytest.approx(5.0)
