"""The bar of a call: what it is set for, and what a press's own calls make of it."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from wear.made import life, sisters

from shotlog.records import LoggedShot
from shotlog.settings import DesignSettings
from shotlog.wear.change.bars import Tried, log_odds_threshold, raised
from shotlog.wear.constants import BEYOND_BAR, MOST_OVER
from shotlog.wear.monitor import Monitor

COSTS = {"part": 4.0, "insert": 4.0, "changeover": 3.0, "late_find": 9.0}


def test_fewer_false_calls_want_a_higher_bar() -> None:
    for n_sisters in (0, 1, 5):
        for n_channels in (1, 3, 7, 12):
            bars = [log_odds_threshold(rate, n_sisters, n_channels) for rate in (0.1, 0.5, 2.0, 5.0, 20.0, 40.0)]
            assert bars[0] == bars[1]
            assert all(low > high for low, high in pairwise(bars[1:]))


def test_less_is_known_beside_fewer_sisters() -> None:
    for rate in (1.0, 5.0):
        bars = [log_odds_threshold(rate, n, 9) for n in (0, 1, 3)]
        assert bars == sorted(bars, reverse=True)
        assert bars[0] > bars[2]


def test_a_press_that_has_shown_nothing_is_judged_by_the_table_however_long() -> None:
    assert raised(5.0, Tried()) == 0.0
    assert raised(5.0, Tried(lives=500)) == 0.0
    assert raised(5.0, Tried(lives=500, cleared=20)) == 0.0, "20 of 500 is less than stated"


def test_calls_that_people_answer_with_sound_raise_the_bar_by_how_many_and_how_far() -> None:
    once = Tried(lives=4).with_cleared(BEYOND_BAR)
    assert raised(5.0, once) == pytest.approx(BEYOND_BAR * 0.5108, abs=1e-3), "2 in 24 against 1 in 20: log(5 / 3)"
    assert raised(5.0, once.with_cleared(BEYOND_BAR)) > raised(5.0, once)
    assert raised(5.0, Tried(lives=4).with_cleared(3.0)) > raised(5.0, once)
    assert raised(5.0, replace(once, lives=60)) < raised(5.0, once)


@pytest.mark.parametrize(("passing", "stated"), [(0.2, 5.0), (0.4, 5.0)])
def test_a_press_called_too_often_comes_to_what_is_stated(passing: float, stated: float) -> None:
    """40 presses of 600 lives: `passing` of them pass the table's bar, by exponential amounts; the last 300 are read.

    Lives judged by a raised bar pass it less often and must not count as if they had been judged by the table's.
    """
    called = []
    for press in range(40):
        rng, tried = np.random.default_rng([11, press]), Tried()
        for nth in range(600):
            bar = raised(stated, tried)
            over = rng.exponential(BEYOND_BAR) - bar if rng.random() < passing else -1.0
            tried = tried.with_ended(stated)
            tried = tried.with_cleared(over) if over > 0.0 else tried
            if nth >= 300:
                called.append(over > 0.0)
    assert 100.0 * np.mean(called) == pytest.approx(stated, rel=0.2), "12,000 lives: 4 % to 7 % of it by chance"


def test_one_call_tells_only_so_much_of_how_far_they_go() -> None:
    assert Tried().with_cleared(400.0).over == MOST_OVER
    assert Tried().with_cleared(-2.0).over == 0.0


def _monitor(false_calls: float | None, cost: dict[str, float]) -> Monitor:
    monitor = Monitor("p", {"d": DesignSettings("d", cost=cost)}, false_calls)
    for shot in sisters(4):
        monitor.step(shot)
    return monitor


def test_a_stated_number_is_not_moved_by_costs() -> None:
    for cost in ({}, COSTS):
        found = _monitor(2.0, cost).evidence()
        assert (found.false_calls, found.threshold) == (2.0, log_odds_threshold(2.0, found.n_sisters, 3))
    assert _monitor(None, {}).evidence().false_calls == 5.0
    assert _monitor(None, COSTS).evidence().false_calls == 10.0


def _called_and_cleared(first: int) -> list[LoggedShot]:
    """A life that goes off at its 30th shot, which a person answers with sound at its 50th."""
    shots = life(
        7,
        "T-1",
        60,
        first=first,
        hours=400.0,
        change={"peak_pressure": ("ramp", -0.5), "fill_time": ("ramp", -0.3)},
        onset=30,
    )
    looked = replace(shots[49], events=(("sound", "N. N., insert in the hand"),))
    return [*shots[:49], looked, *shots[50:]]


def test_a_cleared_call_raises_the_bar_of_this_press_and_a_restart_keeps_it() -> None:
    monitor = _monitor(None, {})
    before = monitor.evidence()
    shots = _called_and_cleared(10_001)
    for shot in shots[:50]:
        monitor.step(shot)
    after = monitor.evidence()
    assert (before.cleared, after.cleared) == (0, 1)
    assert after.threshold > before.threshold
    again = Monitor("p", {"d": DesignSettings("d")})
    again.restore(monitor.save())
    assert [again.step(shot) for shot in shots[50:]] == [monitor.step(shot) for shot in shots[50:]]
    assert again.evidence() == monitor.evidence()
