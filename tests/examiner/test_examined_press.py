"""The press model gives what it says: spread, course in time, links between channels, steps of rounding."""

import numpy as np
import pytest

from tests.benchmark.examiner.noise import HEATER_SHOTS, Source, covariance_of, series
from tests.benchmark.examiner.press import SEVEN, THREE, draw_press
from tests.benchmark.examiner.warmup import KINDS, draw_warm_up

_ONE = np.ones(1)


@pytest.mark.parametrize("tails", ["gauss", "t4", "skewed"])
@pytest.mark.parametrize("phi", [-0.4, 0.0, 0.5])
def test_a_short_source_has_spread_one_and_its_autocorrelation(tails: str, phi: float) -> None:
    course = series(Source(_ONE, "short", phi, tails), 60_000, np.random.default_rng(3))
    assert np.std(course) == pytest.approx(1.0, abs=0.04)
    assert np.corrcoef(course[:-1], course[1:])[0, 1] == pytest.approx(phi, abs=0.02)


def test_student_tails_are_heavier_than_normal_ones() -> None:
    rng = np.random.default_rng(4)
    far = [np.mean(np.abs(series(Source(_ONE, tails=t), 60_000, rng)) > 4.0) for t in ("gauss", "t4")]
    assert far[0] < 0.0003 < 0.002 < far[1]


@pytest.mark.parametrize("course", ["short", "walk", "heater"])
def test_the_known_covariance_is_that_of_the_drawn_courses(course: str) -> None:
    source, rng = Source(_ONE, course, 0.6), np.random.default_rng(5)
    drawn = np.array([series(source, 50, rng) for _ in range(4000)])
    known = covariance_of(source, 50)
    assert np.max(np.abs(drawn.T @ drawn / 4000 - known)) < 0.1 * known.max()


def test_a_heater_cycle_comes_back_after_its_period() -> None:
    course = series(Source(_ONE, "heater"), 3 * HEATER_SHOTS, np.random.default_rng(6))
    assert course[HEATER_SHOTS:] == pytest.approx(course[:-HEATER_SHOTS])


def test_lives_of_a_press_have_the_covariance_that_the_best_detector_knows() -> None:
    rng = np.random.default_rng(7)
    press = draw_press(rng, 7, tails="gauss")
    off = np.array([(press.rounded(press.life(12, rng)) - press.mean_life(12)).ravel() for _ in range(4000)])
    known = press.covariance(12)
    scale = np.sqrt(np.diag(known))
    assert np.max(np.abs((off.T @ off / 4000 - known) / np.outer(scale, scale))) < 0.12


@pytest.mark.parametrize("seed", range(6))
def test_settled_shots_have_about_the_stated_spread(seed: int) -> None:
    rng = np.random.default_rng(seed)
    press = draw_press(rng, 7, tails="gauss")
    wander = np.sqrt(sum(s.load**2 for s in press.sources if s.course == "short"))
    assert np.all(wander > 0.6 * press.spread)
    assert np.all(wander < 1.4 * press.spread)


def test_presses_have_the_channels_asked_for_and_round_to_their_steps() -> None:
    rng = np.random.default_rng(8)
    assert draw_press(rng, 3).channels == THREE
    for _ in range(20):
        press = draw_press(rng, 7, must=("part_weight",))
        assert len(press.channels) == 7
        assert set(SEVEN) | {"part_weight"} <= set(press.channels)
        steps = press.rounded(press.life(5, rng)) / press.resolution
        assert steps == pytest.approx(np.round(steps))


def test_pressures_share_their_transducer_and_positions_their_sensor() -> None:
    rng = np.random.default_rng(9)
    press = draw_press(rng, 7)
    noise = sum(np.outer(s.load, s.load) for s in press.sources if s.course == "short")
    alike = noise / np.sqrt(np.outer(np.diag(noise), np.diag(noise)))
    at = press.channels.index
    assert alike[at("peak_pressure"), at("switchover_pressure")] > 0.7
    assert 0.1 < alike[at("cushion"), at("switchover_position")] < 0.8


@pytest.mark.parametrize("kind", KINDS)
def test_warm_ups_start_at_one_and_end_at_rest(kind: str) -> None:
    curve = draw_warm_up(np.random.default_rng(10), kind).curve(250)
    assert curve[0] == pytest.approx(1.0)
    assert abs(curve[-1]) < 0.001
    assert (curve.min() < -0.005) == (kind == "overshooting")
