"""Pauses are seen in the rhythm, at any speed; a warm-up has a curve that its columns can follow."""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from shotlog.wear.level.settling import CadenceWatch, warm_columns

START = datetime(2026, 3, 2, 6, 0, tzinfo=UTC)


def pauses(minutes: dict[int, float], speed: float, missing: set[int]) -> list[int]:
    watch, time, found = CadenceWatch(), START, []
    for shot in range(1, 41):
        time += timedelta(seconds=75.0 / speed) + timedelta(minutes=minutes.get(shot, 0.0) / speed)
        if shot not in missing and watch.waited(shot, time) is not None:
            found.append(shot)
    return found


@pytest.mark.parametrize("speed", [1.0, 60.0, 5000.0])
def test_a_long_wait_is_a_pause_at_any_speed_of_replay(speed: float) -> None:
    assert pauses({20: 20.0}, speed, set()) == [20]


def test_missed_shots_are_no_pause() -> None:
    assert pauses({}, 1.0, set(range(15, 24))) == []


def test_state_is_taken_up_again() -> None:
    one, two = CadenceWatch(), CadenceWatch()
    for shot in range(1, 8):
        one.waited(shot, START + timedelta(seconds=75 * shot))
    two.restore(one.save())
    later = START + timedelta(seconds=75 * 7 + 1800)
    assert one.waited(8, later) == pytest.approx(28.75)
    assert two.waited(8, later) == pytest.approx(28.75)


def test_the_wait_of_a_replay_at_speed_is_that_of_a_press_at_its_usual_rhythm() -> None:
    watch = CadenceWatch()
    for shot in range(1, 8):
        watch.waited(shot, START + timedelta(seconds=0.6 * shot))
    assert watch.waited(8, START + timedelta(seconds=0.6 * 7 + 12.6)) == pytest.approx(20.0)


def test_a_mixture_of_columns_follows_any_time_constant() -> None:
    n = np.arange(1.0, 41.0)
    for tau in (1.5, 2.5, 6.0, 9.0):
        curve = 8.0 * np.exp(-(n - 1) / tau)
        columns = np.column_stack([np.ones(40), warm_columns(n)])
        fitted = columns @ np.linalg.lstsq(columns, curve, rcond=None)[0]
        assert np.abs(fitted - curve).max() < 0.25
