"""Courses that are thought of once something is called fit as they would have done from the start."""

from dataclasses import replace

import numpy as np
import pytest
from test_detector import AGEING, DRIFTS_FROM, LET_GO, PRIOR, WAIT, ageing, dense, pace_of

from shotlog.wear.change.detector import Filter
from shotlog.wear.change.past import Courses
from shotlog.wear.constants import COURSE_WIDTH
from shotlog.wear.level.pauses import Pause
from shotlog.wear.life.worn import COURSES

SHOTS = np.array([k for k in range(1, 41) if k not in (14, 15, 33)])
ONSETS = np.array([10, 24, 30])


def filtered(kind: str, until: int = 40) -> tuple[Filter, np.ndarray]:
    """Return a filter after the shots, and their values: with a pause, or with ageing that changes its pace."""
    z = np.random.default_rng(9).normal(0, 1.5, len(SHOTS))
    filt = Filter(PRIOR if kind == "pause" else AGEING)
    pace = pace_of(SHOTS) if kind == "ageing" else np.zeros(len(SHOTS))
    for n, value, slower in zip(SHOTS.tolist(), z, pace, strict=True):
        if kind == "pause" and n == 20:
            filt.pause(Pause(20, WAIT))
        if kind == "ageing" and n == DRIFTS_FROM:
            filt.let_drift(n, np.array([LET_GO[0]]), np.array([LET_GO[1]]))
        if n <= until:
            filt.step(n, np.array([value]), float(slower))
    return filt, z


def asked(filt: Filter) -> Courses:
    return filt.past.courses(ONSETS, COURSES, COURSE_WIDTH)


@pytest.mark.parametrize("kind", ["pause", "ageing"])
def test_a_course_fits_as_in_a_dense_computation(kind: str) -> None:
    """Generalised least squares on all shots at once, the size normal about 0 before."""
    filt, z = filtered(kind)
    mean, cov = dense(SHOTS.astype(float), 20 if kind == "pause" else 10_000)
    if kind == "ageing":
        more, wider = ageing(SHOTS.astype(float))
        mean, cov = mean + more, cov + wider
    inverse, fit = np.linalg.inv(cov), asked(filt)
    for i, onset in enumerate(ONSETS):
        for j, shape in enumerate(COURSES):
            course = shape[np.clip(SHOTS - onset + 1, 0, None)]
            score, info = course @ inverse @ (z - mean), course @ inverse @ course + COURSE_WIDTH**-2
            at = i * len(COURSES) + j
            assert fit.size[at, 0] == pytest.approx(score / info, rel=1e-6)
            assert fit.variance[at, 0] == pytest.approx(1.0 / info, rel=1e-6)
            expected = 0.5 * score**2 / info - 0.5 * np.log(info * COURSE_WIDTH**2)
            assert fit.evidence[at] == pytest.approx(expected, rel=1e-6)


def test_what_a_course_does_to_the_level_is_what_the_filter_makes_of_it() -> None:
    """The level of the same shots with the course added, less the level without: it is linear."""
    plain, z = filtered("pause")
    fit, (onset, shape) = asked(plain), (1, 3)
    moved = Filter(PRIOR)
    for n, value in zip(SHOTS.tolist(), z + COURSES[shape][np.clip(SHOTS - ONSETS[onset] + 1, 0, None)], strict=True):
        if n == 20:
            moved.pause(Pause(20, WAIT))
        moved.step(n, np.array([value]))
    pulled = moved.level()[0][0] - plain.level()[0][0]
    assert fit.pulled[0, onset * len(COURSES) + shape] == pytest.approx(pulled, rel=1e-9)
    assert abs(pulled) > 0.1


def test_courses_asked_for_at_every_shot_and_only_at_the_end_are_the_same_to_the_last_bit() -> None:
    once = asked(filtered("pause")[0])
    filt, z = filtered("pause", until=30)
    for n, value in zip(SHOTS.tolist(), z, strict=True):
        if n > 30:
            asked(filt)
            filt.step(n, np.array([value]))
    often = asked(filt)
    for name in ("size", "variance", "evidence", "pulled", "drifted"):
        assert getattr(often, name).tolist() == getattr(once, name).tolist()
    assert filt.past.first == 1


def test_channels_tell_of_each_other_and_one_that_is_missing_of_nothing() -> None:
    """Two channels whose noise goes together, one of them not reported for some shots: against least squares."""
    rng = np.random.default_rng(4)
    prior = replace(
        PRIOR,
        channels=("cushion", "peak_pressure"),
        sigma=np.ones(2),
        phi=np.zeros(2),
        wander=np.zeros(2),
        correlation=np.array([[1.0, 0.6], [0.6, 1.0]]),
        reference=np.zeros(2),
        mean=np.zeros((2, 4)),
        cov=np.tile(np.diag([1e-8] * 4), (2, 1, 1)),
        pause_mean=np.zeros((2, 2)),
        pause_sd=np.zeros((2, 2)),
        least=np.ones(2),
    )
    filt, z = Filter(prior), rng.multivariate_normal([0, 0], prior.correlation, 20)
    z[5:9, 1] = np.nan
    for n in range(1, 21):
        filt.step(n, z[n - 1])
    fit = filt.past.courses(np.array([4]), COURSES, COURSE_WIDTH)
    wide = 1.0 + 0.02 + 1e-3  # short-term noise, reading noise, the least wander
    score, info = np.zeros(2), COURSE_WIDTH**-2 * np.eye(2)
    for n in range(4, 21):
        seen = np.isfinite(z[n - 1])
        inverse = np.zeros((2, 2))
        inverse[np.ix_(seen, seen)] = np.linalg.inv(prior.correlation[np.ix_(seen, seen)]) / wide
        f = COURSES[3, n - 3]
        score += f * inverse @ np.nan_to_num(z[n - 1])
        info += f * f * inverse
    assert fit.size[3] == pytest.approx(np.linalg.solve(info, score), rel=2e-2)
    assert fit.variance[3] == pytest.approx(np.diagonal(np.linalg.inv(info)), rel=2e-2)
