"""Would another baseline have altered the flag: the same chart learnt from other shots of the same insert."""

from dataclasses import replace

import numpy as np

from shotlog.charts.baseline import spread_of
from shotlog.records import Baseline
from shotlog.review.choices import Choice, choices_of
from tests.review.made_up_press import mounting, record


def choice(values: np.ndarray, first: int = 1, n: int = 12, width: float | None = None) -> Choice:
    """Of a baseline four of its own spreads wide, or of a `width` that rests on another spread."""
    press = record(len(values), lambda shot: 5.0, [mounting("B-1", 1)])
    table = press.values.copy()
    table[:, 0] = values
    learnt = values[first - 1 : first - 1 + n].tolist()
    level, spread = float(np.mean(learnt)), spread_of(learnt, "sd")
    half = max(4.0 * spread if width is None else width, 0.05)
    frozen = Baseline("P1", "B-1", "cushion", first, first + n - 1, n, level, spread, level - half, level + half)
    if width is not None:
        frozen = replace(frozen, spread=0.05)
    (found,) = choices_of(replace(press, values=table, baselines=(frozen,)), 0)
    return found


def noise(n: int = 80, seed: int = 3) -> np.ndarray:
    return 5.0 + np.random.default_rng(seed).normal(0.0, 0.04, n)


def test_a_change_that_is_there_is_seen_whatever_the_baseline() -> None:
    values = noise()
    values[49:] -= 0.5
    found = choice(values)
    assert (found.first_outside, found.later, found.longer) == (50, 50, 50)
    assert (found.later_known, found.longer_known, found.alters) == (True, True, False)


def test_limits_too_wide_because_it_still_settled_are_told() -> None:
    """The first shots lie high, so the limits are wide and miss a step of 0.25 mm that later shots' limits show."""
    values = noise(seed=4)
    values[:5] += 0.4
    values[49:] -= 0.25
    found = choice(values)
    assert (found.first_outside, found.later_known, found.alters) == (None, True, True)
    assert found.later is not None
    assert 50 <= found.later <= 52


def test_limits_that_rest_on_sisters_are_as_wide_about_another_level() -> None:
    """The first shots lie high and the level with them; another level sees the step, the spread stays the sisters'."""
    values = noise(seed=4)
    values[:5] += 0.4
    values[49:] -= 0.25
    found = choice(values, width=0.5)
    assert (found.first_outside, found.later, found.alters) == (None, None, False)


def test_a_signal_among_the_shots_learnt_from_cannot_be_judged_by_them() -> None:
    values = noise()
    values[19:] -= 0.5
    found = choice(values)
    assert (found.first_outside, found.longer_known) == (20, False)
    assert found.later_known


def test_too_few_shots_say_nothing() -> None:
    found = choice(noise(14))
    assert (found.later_known, found.longer_known, found.alters) == (False, False, False)


def test_a_baseline_before_the_period_is_left_out() -> None:
    press = record(40, lambda shot: 5.0, [mounting("B-1", 1)])
    frozen = Baseline("P1", "B-1", "cushion", 1, 12, 12, 5.0, 0.04, 4.8, 5.2)
    assert choices_of(replace(press, baselines=(frozen,)), 20) == ()
