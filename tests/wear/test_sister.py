"""What a life leaves behind for its sisters."""

import numpy as np
import pytest

from shotlog.wear.level.pauses import Pause
from shotlog.wear.level.sister import Sister, correlation, heard_through, sister_of
from shotlog.wear.level.sisters import pooled_prior


def test_sisters_learn_from_the_last_pauses_of_a_life() -> None:
    """A life with many pauses left none of them to its sisters, and no test counted."""
    rng = np.random.default_rng(3)
    n = np.arange(1.0, 121.0)
    values = np.column_stack([5.0 + rng.normal(0.0, 0.03, 120), 540.0 + rng.normal(0.0, 3.0, 120)])
    pauses = [Pause(shot, wait) for shot, wait in ((20, 30.0), (40, None), (60, 12.0), (80, 45.0), (100, 8.0))]
    for made, left in ((pauses, (12.0, 45.0, 8.0)), (pauses[:2], (30.0, -1.0)), ([], ())):
        sister = sister_of("B-1", ("cushion", "peak_pressure"), n, values, made)
        assert sister.waits == left
        assert [len(one.pauses) for one in sister.channels.values()] == [len(left)] * 2


def test_a_swap_of_the_other_half_is_no_noise_and_its_wait_teaches_nothing() -> None:
    rng = np.random.default_rng(4)
    n = np.arange(1.0, 81.0)
    after = (n >= 41)[:, None]
    quiet = np.column_stack([5.0 + rng.normal(0.0, 0.03, 80), 540.0 + rng.normal(0.0, 3.0, 80)])
    swapped = quiet + after * np.array([0.12, 9.0]) * (1.0 + np.exp(-np.maximum(n - 41, 0) / 5.0))[:, None]
    names, pauses = ("cushion", "peak_pressure"), [Pause(20, 12.0)]
    alone = sister_of("B-1", names, n, quiet, pauses)
    beside = sister_of("B-1", names, n, swapped, [*pauses, Pause(41, 14.0, swap=True)])
    unsaid = sister_of("B-1", names, n, swapped, pauses)
    assert beside.waits == (12.0,)
    for name, moved in (("cushion", 0.12), ("peak_pressure", 9.0)):
        still, mine, other = (one.channels[name] for one in (alone, beside, unsaid))
        assert mine.noise.squares.min() < 1.3 * still.noise.squares.min()
        assert other.noise.squares.min() > 2.0 * still.noise.squares.min()
        # the level is that over both halves it was mounted with
        assert abs(mine.beta[0] - still.beta[0] - moved / 2.0) < moved / 4.0
        assert mine.shift == 0.0


def cycling(serial: str, phase: float, shots: int = 90) -> tuple[Sister, Sister]:
    """Return a sister of a cycle of 40 shots, cut where it was called, and the same heard through to its end."""
    rng = np.random.default_rng(int(10 * phase))
    n = np.arange(1.0, shots + 1.0)
    values = (540.0 + 3.0 * (rng.normal(size=shots) + np.sin(2.0 * np.pi * n / 40.0 + phase)))[:, None]
    cut = sister_of(serial, ("peak_pressure",), n[:24], values[:24], [])
    return cut, heard_through(cut, ("peak_pressure",), n, values, [], [25])


def test_a_cycle_is_told_from_the_whole_life_whether_or_not_a_change_was_called() -> None:
    """Cut before each call, four lives show a fraction of the wander that is there."""
    lives = [cycling(f"S-{k}", 1.5 * k) for k in range(4)]
    cut = pooled_prior([one for one, _ in lives], ("peak_pressure",), {})
    whole = pooled_prior([one for _, one in lives], ("peak_pressure",), {})
    assert cut is not None
    assert whole is not None
    assert whole.wander[0] > 3.0 * cut.wander[0]
    assert whole.dof > 3.0 * cut.dof
    np.testing.assert_array_equal(
        lives[0][1].channels["peak_pressure"].beta, lives[0][0].channels["peak_pressure"].beta
    )


def test_a_change_that_was_there_is_no_noise() -> None:
    """A step, a ramp or a wear that feeds itself, of six spreads in 30 shots, leaves the noise within a tenth."""
    rng = np.random.default_rng(8)
    n = np.arange(1.0, 61.0)
    quiet = rng.normal(0.0, 3.0, 60)
    since = np.maximum(n - 30.0, 0.0) / 30.0
    healthy = sister_of("S", ("peak_pressure",), n, 540.0 + quiet[:, None], [])
    told = pooled_prior([healthy], ("peak_pressure",), {})
    assert told is not None
    for course in ((n > 30).astype(float), since, np.expm1(2.0 * since) / np.expm1(2.0)):
        values = (540.0 + quiet + 18.0 * course)[:, None]
        cut = sister_of("S", ("peak_pressure",), n[:30], values[:30], [])
        found = pooled_prior([heard_through(cut, ("peak_pressure",), n, values, [], [31])], ("peak_pressure",), {})
        assert found is not None
        assert found.sigma[0] == pytest.approx(told.sigma[0], rel=0.1)
        assert found.wander[0] < 1.5 * told.wander[0]


def test_channels_that_go_together_leave_a_matrix_that_can_be_turned() -> None:
    together = np.array([[90.0, 90.0, -90.0], [90.0, 90.0, -90.0], [-90.0, -90.0, 90.0]])
    found = correlation(together, np.full((3, 3), 90.0), 8.0)
    np.testing.assert_allclose(np.diagonal(found), 1.0)
    assert np.linalg.eigvalsh(found).min() > 0.04
    np.testing.assert_allclose(correlation(90.0 * np.eye(3), np.full((3, 3), 90.0), 8.0), np.eye(3))
