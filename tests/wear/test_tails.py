"""Tails of the noise: told from innovations, and what a far value then counts for."""

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy import stats

from shotlog.wear.change.detector import Filter
from shotlog.wear.compiled.filtering import student_weight
from shotlog.wear.constants import TAIL_GRID
from shotlog.wear.level.sister import sister_of
from shotlog.wear.level.sisters import pooled_prior
from shotlog.wear.level.tails import heaviness, tail_profile
from shotlog.wear.life.marks import StretchShot
from shotlog.wear.life.stretch import Stretch
from tests.wear.test_detector import PRIOR

N = 400


def student(dof: float, seed: int) -> NDArray[np.float64]:
    return np.random.default_rng(seed).standard_t(dof, N) / np.sqrt(dof / (dof - 2.0))


def test_the_likelihood_is_that_of_students_t_of_spread_one() -> None:
    u = student(5.0, 1)[:40]
    found = tail_profile(u, np.ones(40))
    for heavy, value in zip(TAIL_GRID[1:], found[1:], strict=True):
        dof = 1.0 / heavy
        scale = np.sqrt((dof - 2.0) / dof)
        assert value == pytest.approx(stats.t.logpdf(u, dof, scale=scale).sum(), rel=1e-9)
    assert found[0] == pytest.approx(stats.norm.logpdf(u).sum(), rel=1e-9)


def test_no_shot_says_little_and_many_say_what_they_are() -> None:
    none = heaviness(tail_profile(np.empty(0), np.empty(0)))
    normal = [heaviness(tail_profile(np.random.default_rng(seed).normal(size=N), np.ones(N))) for seed in range(20)]
    heavy = [heaviness(tail_profile(student(4.0, seed), np.ones(N))) for seed in range(20)]
    assert 0.0 < none < 0.1
    assert np.mean(normal) < 0.03
    assert 0.19 < np.mean(heavy) < 0.31
    assert min(heavy) > max(normal)


def test_sisters_tell_together_how_heavy_the_tails_of_each_channel_are() -> None:
    shots = np.arange(1.0, 91.0)
    rng = np.random.default_rng(5)
    sisters = []
    for k in range(4):
        far = 4.0 + 0.05 * rng.standard_t(4, 90) / np.sqrt(2.0)
        near = 500.0 + 4.0 * rng.normal(size=90)
        sisters.append(sister_of(f"S-{k}", ("cushion", "peak_pressure"), shots, np.column_stack([far, near]), []))
    prior = pooled_prior(sisters, ("cushion", "peak_pressure"), {})
    assert prior is not None
    assert prior.tails[0] > 0.12
    assert prior.tails[1] < 0.05


def test_under_normal_noise_every_value_counts_in_full() -> None:
    assert student_weight(0.0, 0.0) == student_weight(400.0, 0.0) == 1.0
    assert student_weight(0.0, 0.25) == 1.0


@pytest.mark.parametrize("dof", [3.03, 4.0, 8.0, 20.0])
def test_a_far_value_counts_for_what_it_does_in_students_t_and_never_for_less_than_a_nearer_one(dof: float) -> None:
    sizes = np.linspace(0.1, 40.0, 400)
    told = np.array([0.5 * u * u * student_weight(u * u, 1.0 / dof) for u in sizes])
    assert (np.diff(told) > 0.0).all()
    scale = np.sqrt((dof - 2.0) / dof)
    exact = stats.t.logpdf(0.0, dof, scale=scale) - stats.t.logpdf(sizes, dof, scale=scale)
    np.testing.assert_allclose(told, np.minimum(exact, 0.5 * sizes**2), rtol=1e-9)


SETTLED = replace(
    PRIOR,
    channels=("switchover_pressure", "peak_pressure"),
    sigma=np.ones(2),
    phi=np.array([0.5, 0.5]),
    wander=np.zeros(2),
    correlation=np.array([[1.0, 0.9], [0.9, 1.0]]),
    reference=np.zeros(2),
    mean=np.zeros((2, 4)),
    cov=np.tile(np.diag([0.01, 1e-6, 1e-6, 1e-6]), (2, 1, 1)),
    pause_mean=np.zeros((2, 2)),
    pause_sd=np.ones((2, 2)),
    least=np.ones(2),
    tails=np.array([0.25, 0.25]),
)
"""Two channels that go together, at rest about 0, with heavy tails that last by half from shot to shot."""


def test_a_step_that_lasts_is_seen_in_its_full_size_under_heavy_tails() -> None:
    filt = Filter(replace(SETTLED, phi=np.zeros(2), correlation=np.eye(2)))
    for n in range(1, 11):
        filt.step(n, np.zeros(2))
    for n in range(11, 14):
        filt.step(n, np.array([8.0, 0.0]))
    onset, _, score, info, *_ = filt.sums()
    at = int(np.flatnonzero(onset == 11)[0])
    assert score[0, 0, at] / info[0, 0, at] == pytest.approx(8.0, rel=0.05)
    normal = Filter(replace(SETTLED, phi=np.zeros(2), correlation=np.eye(2), tails=np.zeros(2)))
    for n in range(1, 14):
        normal.step(n, np.array([8.0 if n > 10 else 0.0, 0.0]))
    told = score[0, 0, at] ** 2 / info[0, 0, at]
    assert 0.1 * 3 * 64.0 < told < 0.5 * normal.sums()[2][0, 0, at] ** 2 / normal.sums()[3][0, 0, at]


def after(*values: tuple[float, float], prior: object = SETTLED) -> list[int]:
    """Return which shots after ten quiet ones are taken for odd."""
    stretch = Stretch(prior=prior)  # type: ignore[arg-type]
    stretch.run_again()
    for n, (one, other) in enumerate([*[(0.0, 0.0)] * 10, *values], 1):
        stretch.take(StretchShot(n, {"switchover_pressure": one, "peak_pressure": other}))
    return stretch.odd


def test_what_a_far_value_leaves_in_the_next_shot_does_not_confirm_it() -> None:
    alone = [(9.0, 9.0), (4.3, 4.3), (0.0, 0.0)]
    lasting = [(9.0, 9.0), (9.0, 9.0), (9.0, 9.0)]
    assert after(*alone) == [11]
    assert after(*lasting) == []
    assert after(*alone, prior=replace(SETTLED, tails=np.zeros(2))) == []  # normal noise throws no such value


def test_a_far_shot_is_not_confirmed_by_a_much_smaller_one() -> None:
    assert after((20.0, 20.0), (6.0, 6.0), (0.0, 0.0), prior=replace(SETTLED, phi=np.zeros(2)))[:1] == [11]
    assert after((20.0, 20.0), (10.0, 10.0), (10.0, 10.0), prior=replace(SETTLED, phi=np.zeros(2))) == []


def test_a_channel_that_leaves_its_companion_for_one_shot_counts_for_less() -> None:
    def gain(other: float, tails: float) -> float:
        """Return the best log likelihood ratio of a step in one channel at the last shot."""
        filt = Filter(replace(SETTLED, phi=np.zeros(2), tails=np.full(2, tails)))
        for n in range(1, 11):
            filt.step(n, np.zeros(2))
        filt.step(11, np.array([3.0, other]))
        onset, _, score, info, *_ = filt.sums()
        at = int(np.flatnonzero(onset == 11)[0])
        return float(0.5 * score[0, 0, at] ** 2 / info[0, 0, at])

    assert gain(0.0, 0.25) < 0.6 * gain(0.0, 0.0)
    assert gain(2.7, 0.25) > 0.75 * gain(2.7, 0.0)
