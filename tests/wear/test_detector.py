"""The filter's sums give the likelihood ratio that a dense computation gives."""

from dataclasses import replace

import numpy as np
import pytest

from shotlog.wear.change.courses import SHAPE_TABLE
from shotlog.wear.change.detector import Filter
from shotlog.wear.constants import READING, SLOW_PHI
from shotlog.wear.level.baseline import Prior
from shotlog.wear.level.pauses import Pause, cooled_share, melt_share
from shotlog.wear.level.settling import N_PAUSE, pause_columns, warm_columns
from shotlog.wear.level.sister import N_LEVEL

WAIT = 12.0
DRIFTS_FROM = 16
DRIFT = (0.1, 0.05)
LET_GO = (-0.2, 0.1)
PACE = (-1.5, 4.0)
SLOWER_FROM = 18

PRIOR = Prior(
    ("cushion",),
    np.array([1.0]),
    np.array([0.3]),
    np.array([0.15]),
    np.eye(1),
    np.zeros(1),
    np.array([[0.5, 4.0, 1.0, 0.5]]),
    np.array([np.diag([2.0, 1.0, 0.5, 0.3])]),
    np.full((1, N_PAUSE), -0.7),
    np.array([[2.0, 3.0]]),
    np.array([1.0]),
    100.0,
    3,
    2,
)


AGEING = replace(
    PRIOR,
    drift_mean=np.array([DRIFT[0]]),
    drift_sd=np.array([DRIFT[1]]),
    pace_mean=np.array([PACE[0]]),
    pace_sd=np.array([PACE[1]]),
)


def pace_of(shots: np.ndarray) -> np.ndarray:
    """Return a rhythm that gets slower by a half."""
    return np.where(shots >= SLOWER_FROM, np.log(1.5), 0.0)


def ageing(shots: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Return what ageing, a drift let go later, and the rhythm add to mean and covariance."""
    columns = np.column_stack([shots - 1.0, np.maximum(shots - DRIFTS_FROM + 1.0, 0.0), pace_of(shots)])
    mean, sd = zip(DRIFT, LET_GO, PACE, strict=True)
    return columns @ mean, columns @ np.diag(np.square(sd)) @ columns.T


def dense(shots: np.ndarray, paused: int) -> tuple[np.ndarray, np.ndarray]:
    """Return mean and covariance of the readings under no change."""
    columns = np.hstack([np.ones((len(shots), 1)), warm_columns(shots)])
    cooled, off = cooled_share(PRIOR.cooling, WAIT)
    share = melt_share(WAIT)
    since = np.maximum(shots - paused, 0.0)
    after = np.column_stack([pause_columns(since)[:, 0], warm_columns(since + 1.0) @ PRIOR.mean[0, 1:]])
    after[shots < paused] = 0.0
    spread = np.diag([PRIOR.pause_sd[0, 0] * share, off])
    lag = np.abs(np.subtract.outer(shots, shots))
    cov = columns @ PRIOR.cov[0] @ columns.T + after @ spread**2 @ after.T
    cov += 0.3**lag + 0.15 * SLOW_PHI**lag + READING * np.eye(len(shots))
    return columns @ PRIOR.mean[0] + after @ [PRIOR.pause_mean[0, 0] * share, cooled], cov


@pytest.mark.parametrize("shape", [0, 1, 2, 3])
def test_likelihood_ratio_of_a_fault_equals_the_dense_one(shape: int) -> None:
    rng = np.random.default_rng(9)
    shots = np.array([k for k in range(1, 41) if k not in (14, 15, 33)], dtype=float)
    z = rng.normal(0, 1.5, len(shots))
    bank = Filter(PRIOR)
    for n, value in zip(shots.astype(int), z, strict=True):
        if n == 20:
            bank.pause(Pause(20, WAIT))
        bank.step(int(n), np.array([value]))
    onsets, _, score, info, *_ = bank.sums()
    mean, cov = dense(shots, 20)
    inverse = np.linalg.inv(cov)
    for onset in (10, 24, 30, 36):
        slot = int(np.flatnonzero(onsets == onset)[0]) if onset in onsets else None
        if slot is None:
            continue
        fault = np.where(shots >= onset, SHAPE_TABLE[shape, np.maximum(shots - onset + 1, 0).astype(int)], 0.0)
        assert score[0, shape, slot] == pytest.approx(fault @ inverse @ (z - mean), rel=1e-6)
        assert info[0, shape, slot] == pytest.approx(fault @ inverse @ fault, rel=1e-6)


@pytest.mark.parametrize("shape", [0, 2])
def test_a_fault_beside_ageing_and_a_slower_rhythm_has_the_dense_likelihood_ratio(shape: int) -> None:
    shots = np.array([k for k in range(1, 41) if k not in (14, 15, 33)], dtype=float)
    z = np.random.default_rng(9).normal(0, 1.5, len(shots))
    bank = Filter(AGEING)
    for n, value, pace in zip(shots.astype(int), z, pace_of(shots), strict=True):
        if n == DRIFTS_FROM:
            bank.let_drift(n, np.array([LET_GO[0]]), np.array([LET_GO[1]]))
        bank.step(int(n), np.array([value]), float(pace))
    onsets, _, score, info, *_ = bank.sums()
    (mean, cov), (more, wider) = dense(shots, 10_000), ageing(shots)
    inverse, off = np.linalg.inv(cov + wider), z - mean - more
    expected = -0.5 * off @ inverse @ off + 0.5 * np.linalg.slogdet(inverse)[1]
    assert bank.log_likelihood == pytest.approx(expected, rel=1e-8)
    for onset in (10, 24, 30, 36):
        slot = int(np.flatnonzero(onsets == onset)[0])
        fault = np.where(shots >= onset, SHAPE_TABLE[shape, np.maximum(shots - onset + 1, 0).astype(int)], 0.0)
        assert score[0, shape, slot] == pytest.approx(fault @ inverse @ off, rel=1e-6)
        assert info[0, shape, slot] == pytest.approx(fault @ inverse @ fault, rel=1e-6)


def test_a_drift_let_go_leaves_the_shots_before_as_certain_as_they_were() -> None:
    bank = Filter(AGEING)
    for n in range(1, DRIFTS_FROM):
        bank.step(n, np.zeros(1))
    mean, variance = (one.copy() for one in bank.level(DRIFTS_FROM - 1))
    bank.let_drift(DRIFTS_FROM, np.array([LET_GO[0]]), np.array([LET_GO[1]]))
    np.testing.assert_allclose(bank.level(DRIFTS_FROM - 1), [mean, variance], rtol=1e-9)
    np.testing.assert_allclose(bank.level(DRIFTS_FROM + 4)[0] - mean, 5 * bank.drift()[0], rtol=1e-9)


def test_log_likelihood_equals_the_dense_one() -> None:
    shots = np.arange(1.0, 21.0)
    z = np.random.default_rng(2).normal(0, 1, 20)
    bank = Filter(PRIOR)
    for n, value in zip(shots.astype(int), z, strict=True):
        bank.step(int(n), np.array([value]))
    mean, cov = dense(shots, 10_000)
    expected = -0.5 * (z - mean) @ np.linalg.solve(cov, z - mean) - 0.5 * np.linalg.slogdet(cov)[1]
    assert bank.log_likelihood == pytest.approx(expected, rel=1e-8)


def test_a_missing_value_changes_nothing_but_time() -> None:
    with_hole, without = Filter(PRIOR), Filter(PRIOR)
    for n in range(1, 21):
        if n == 7:
            with_hole.step(n, np.array([np.nan]))
            continue
        with_hole.step(n, np.array([0.1 * n]))
        without.step(n, np.array([0.1 * n]))
    np.testing.assert_allclose(with_hole.level()[0], without.level()[0])


def test_the_level_prior_counts() -> None:
    wide = replace(PRIOR, cov=PRIOR.cov + np.diag([100.0, 0.0, 0.0, 0.0]))
    near, far = Filter(PRIOR), Filter(wide)
    for n in range(1, 5):
        near.step(n, np.array([6.0]))
        far.step(n, np.array([6.0]))
    assert near.level()[0][0] < far.level()[0][0]
    assert len(PRIOR.mean[0]) == N_LEVEL


def with_swap_beside(values: np.ndarray) -> Filter:
    filt = Filter(PRIOR)
    for n, value in enumerate(values, 1):
        if n == 20:
            filt.pause(Pause(20, WAIT), np.array([[1.0, 0.5, 0.2]]))
            filt.swap_beside(np.array([0.8]))
        filt.step(n, np.array([value]))
    return filt


def test_a_swap_of_another_half_lets_the_level_move_and_a_change_go_on_through_it() -> None:
    """The sums must say of a step through the swap what the likelihoods with and without it say."""
    values = np.random.default_rng(5).normal(0.0, 1.0, 34)
    step = 3.0 * (np.arange(1, 35) >= 14)
    filt, taken_off = with_swap_beside(values), with_swap_beside(values - step)
    onset, _, score, info, *_ = filt.sums()
    at = int(np.flatnonzero(onset == 14)[0])
    ratio = 3.0 * score[0, 0, at] - 4.5 * info[0, 0, at]
    assert ratio == pytest.approx(taken_off.log_likelihood - filt.log_likelihood, abs=1e-9)


def test_after_a_swap_of_another_half_the_level_keeps_what_its_own_half_owes_it() -> None:
    filt = Filter(replace(PRIOR, mean=np.array([[0.0, 0.0, 0.0, 0.0]])))
    for n in range(1, 40):
        filt.step(n, np.array([2.0]))
    before, variance = filt.level()
    filt.swap_beside(np.array([0.5]))
    after, wider = filt.level()
    own = 1.0 - 0.25 / 2.0
    np.testing.assert_allclose([after[0], wider[0]], [own * before[0], own**2 * variance[0] + 0.25 * (1.0 + own)])
    filt.free_level(50.0)
    freed, _ = filt.level()
    filt.swap_beside(np.array([0.5]))
    assert filt.level()[0] == freed
