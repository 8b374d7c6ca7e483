"""In-control rates of the short-run charts at shots 6, 10, 25 and 100 of an insert, by seeded simulation.

4000 inserts of 100 shots each, alpha 0.04: at each shot the number of false alarms lies within 4 binomial standard
errors of its expectation (160 +- 50). `tests/long` repeats this with 40,000 inserts at alpha 0.0027.
"""

import math
from collections.abc import Callable

import numpy as np
import pytest

from shotlog.charts import Chart, Individuals, MovingRange
from shotlog.charts.audit import (
    DeviationFromStart,
    Prediction,
    QChart,
    Residual,
    SelfStartingCusum,
    SelfStartingEwma,
    Trend,
)
from shotlog.charts.audit.runlength import run_length

SHOTS = (6, 10, 25, 100)
ALPHA = 0.04
LIVES = 4000

PER_SHOT: dict[str, Callable[[float], Chart]] = {
    "q": lambda a: QChart(alpha=a),
    "q, level known": lambda a: QChart(alpha=a, centre=10.0),
    "q, spread known": lambda a: QChart(alpha=a, sigma=2.0),
    "prediction": lambda a: Prediction(baseline=5, alpha=a),
    "individuals, moving range": lambda a: Individuals(baseline=5, width=None, alpha=a),
    "individuals, level known": lambda a: Individuals(baseline=5, width=None, alpha=a, centre=10.0),
    "individuals, level known, sd": lambda a: Individuals(baseline=5, width=None, alpha=a, centre=10.0, estimate="sd"),
    "individuals, spread known": lambda a: Individuals(baseline=5, width=None, alpha=a, sigma=2.0),
    "mr": lambda a: MovingRange(baseline=4, width=None, alpha=a),
    "deviation, no sister": lambda a: DeviationFromStart(start=5, alpha=a),
    "trend": lambda a: Trend(baseline=5, alpha=a),
    "residual, model given": lambda a: Residual(level=10.0, phi=0.0, spread=2.0, alpha=a),
}


def alarms(make: Callable[[float], Chart], alpha: float, lives: int, seed: int) -> np.ndarray:
    """Of each life and shot, whether the chart alarmed; shape (lives, 100)."""
    rng = np.random.default_rng(seed)
    out = np.empty((lives, 100), dtype=bool)
    empty = make(alpha).save()
    chart = make(alpha)
    for life in range(lives):
        chart.restore(empty)
        run = chart.run(10.0 + 2.0 * rng.standard_normal(100))
        out[life] = run.fired["above"] | run.fired["below"] if "below" in run.fired else run.fired["above"]
    return out


def within_tolerance(count: int, chance: float, lives: int) -> bool:
    return abs(count - lives * chance) < 4.0 * math.sqrt(lives * chance * (1.0 - chance))


@pytest.mark.parametrize("name", PER_SHOT)
def test_rate_of_each_shot_is_alpha(name: str) -> None:
    found = alarms(PER_SHOT[name], ALPHA, LIVES, seed=21)
    for shot in SHOTS:
        count = int(found[:, shot - 1].sum())
        assert within_tolerance(count, ALPHA, LIVES), (shot, count)


@pytest.mark.parametrize(
    "make",
    [
        lambda a: SelfStartingCusum(k=0.5, h=3.0),
        lambda a: SelfStartingCusum(k=0.5, h=3.0, head_start=1.5),
        lambda a: SelfStartingEwma(lam=0.2, width=2.3),
    ],
    ids=["cusum", "cusum with head start", "ewma"],
)
def test_chance_of_an_alarm_up_to_each_shot_is_as_stated(make: Callable[[float], Chart]) -> None:
    """A self-starting chart sums, so its promise is the chance of any alarm by a shot.

    The first two shots only start it.
    """
    found = alarms(make, ALPHA, LIVES, seed=22)
    stated = run_length(make(ALPHA))
    for shot in SHOTS:
        chance = stated.within(shot - 2)
        assert within_tolerance(int(found[:, :shot].any(axis=1).sum()), chance, LIVES), shot


def test_deviation_keeps_its_rate_on_average_over_pools() -> None:
    """The pooled spread is drawn anew for each life: 6 degrees of freedom, then 5 more from the start."""
    rng = np.random.default_rng(23)
    counts = np.zeros(100)
    for join in (True, False):
        counts[:] = 0.0
        for _ in range(LIVES):
            sigma = 2.0 * math.sqrt(rng.chisquare(6) / 6.0)
            chart = DeviationFromStart(sigma=sigma, freedom=6, start=5, join=join, alpha=ALPHA)
            run = chart.run(2.0 * rng.normal(size=100))
            counts += run.fired["above"] | run.fired["below"]
        for shot in SHOTS:
            assert within_tolerance(int(counts[shot - 1]), ALPHA, LIVES), (join, shot)


def test_a_textbook_chart_does_not_keep_its_rate() -> None:
    """The reason for all of the above; and the test would see a chart that alarms as often as this one."""
    found = alarms(lambda a: Individuals(baseline=5, estimate="sd"), ALPHA, 2000, seed=24)
    assert not within_tolerance(int(found[:, 5].sum()), 0.0027, 2000)
