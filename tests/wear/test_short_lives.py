"""Short lives teach their sisters, each for what it is worth: level, warm-up, noise, and how inserts differ."""

import numpy as np
import pytest
from numpy.typing import NDArray

from shotlog.wear.compiled.between import between
from shotlog.wear.constants import BETWEEN_ROUNDS
from shotlog.wear.level.baseline import Prior
from shotlog.wear.level.settling import warm_columns
from shotlog.wear.level.sister import Sister, sister_of
from shotlog.wear.level.sisters import pooled_prior
from shotlog.wear.life.pool import Pool

pytestmark = pytest.mark.long

F = NDArray[np.float64]
CHANNELS = ("peak_pressure",)
LEVEL, SPREAD = 540.0, 4.0


def a_life(rng: np.random.Generator, n_shots: int, differ: float = 1.0, warm: float = 8.0, tau: float = 5.0) -> Sister:
    """Return a sister of `n_shots` whose level lies `differ` spreads about the others', its warm-up 8 spreads high."""
    n = np.arange(1.0, n_shots + 1.0)
    own = (
        differ * rng.normal() + warm * (1.0 + 0.1 * rng.normal()) * np.exp(-(n - 1.0) / tau) + rng.normal(size=n_shots)
    )
    return sister_of("B", CHANNELS, n, np.round(LEVEL + SPREAD * own[:, None], 1), [])


def prior_of(lives: list[Sister]) -> Prior:
    prior = pooled_prior(lives, CHANNELS, {})
    assert prior is not None
    return prior


def at(prior: Prior, n: int) -> tuple[float, float]:
    """Return what shot `n` of the next insert is expected to be, and the spread of that between inserts, in bar."""
    columns = np.array([1.0, *warm_columns(np.array([float(n)]))[0]])
    sigma = float(prior.sigma[0])
    return float(prior.reference[0] + sigma * columns @ prior.mean[0]), sigma * float(
        np.sqrt(columns @ prior.cov[0] @ columns)
    )


def test_a_sister_weighs_in_proportion_to_its_information() -> None:
    """Levels known to 1/6 and 1/60 of a spread squared, inserts that do not differ: weights 6 and 60 of 66. Where they
    differ by a spread squared of 1, the weights are 1 / (1 + 1/6) and 1 / (1 + 1/60): 0.8571 and 0.9836."""
    betas, free = np.array([[1.0, 0.0], [0.0, 0.0]]), 1e-6
    covs = np.array([np.diag([1.0 / 6.0, 1.0]), np.diag([1.0 / 60.0, 1.0])])
    mean, _ = between(betas, covs, 1e-6, free, free, 1e9, BETWEEN_ROUNDS)
    assert mean[0] == pytest.approx(6.0 / 66.0, rel=1e-6)
    mean, cov = between(betas, covs, 1.0, free, free, 1e9, BETWEEN_ROUNDS)
    assert mean[0] == pytest.approx(0.857143 / (0.857143 + 0.983607), rel=1e-5)
    assert cov[0, 0] == pytest.approx(1.0 + 1.0 / (0.857143 + 0.983607), rel=1e-5)


def test_what_inserts_differ_by_is_learnt_from_those_that_tell() -> None:
    """Four levels 3, -3, 3, -3 spreads, known for sure: the variance is (3 x 1.5^2 + 36) / (3 + 4 - 1) = 7.125. Six
    more whose level is not known at all leave it as it is."""
    sure = np.array([np.diag([1e-9, 1e-9])] * 4)
    betas = np.array([[3.0, 0.0], [-3.0, 0.0], [3.0, 0.0], [-3.0, 0.0]])
    mean, cov = between(betas, sure, 1.5, 1e-6, 1e-6, 3.0, 200)
    assert mean[0] == pytest.approx(0.0, abs=1e-6)
    assert cov[0, 0] == pytest.approx(7.125 * 1.25, rel=1e-4)
    blind = np.concatenate([np.zeros((6, 2)), betas]), np.concatenate([np.array([np.diag([1e9, 1e9])] * 6), sure])
    _, same = between(*blind, 1.5, 1e-6, 1e-6, 3.0, 200)
    assert same[0, 0] == pytest.approx(cov[0, 0], rel=1e-3)


def test_the_warm_up_differs_by_the_share_that_sisters_show() -> None:
    """Curves of 10, 8, 12 and 10 spreads, known for sure, about 10: shares 0, -0.2, 0.2, 0; variance (3 x 0.15^2 +
    0.08) / (3 + 4 - 1) = 0.0246 of 10^2. A curve of nothing says nothing of its share: it stays 0.15."""
    sure = np.array([np.diag([1e-9, 1e-9])] * 4)
    curves = np.array([[0.0, 10.0], [0.0, 8.0], [0.0, 12.0], [0.0, 10.0]])
    mean, cov = between(curves, sure, 1e-6, 1e-4, 0.15, 3.0, 200)
    assert mean[1] == pytest.approx(10.0, rel=1e-6)
    assert cov[1, 1] == pytest.approx(0.024583 * 100.0 * 1.25, rel=1e-3)
    flat = between(np.zeros((4, 2)), np.array([np.eye(2)] * 4), 1.0, 0.3, 0.15, 3.0, 6)[1]
    assert flat[1, 1] == pytest.approx(0.3**2 + (1.0 + 0.3**2) / 4.0, rel=1e-6)


def test_a_life_of_four_shots_is_a_sister_that_tells_little_of_the_noise() -> None:
    """Beside a level and three curves that are alike on four shots 1.8 degrees of freedom are left, not none; beside
    those of sixty, 56.3. Three shots are fewer than there are columns."""
    rng = np.random.default_rng(1)
    short, long = a_life(rng, 4), a_life(rng, 60)
    assert (short.n_shots, short.freedom) == (4, 0.0)
    assert short.channels["peak_pressure"].noise.dof == pytest.approx(1.8, abs=0.1)
    assert long.channels["peak_pressure"].noise.dof == pytest.approx(56.3, abs=0.1)
    assert not sister_of("B", CHANNELS, np.arange(1.0, 4.0), np.full((3, 1), LEVEL), []).channels


def test_a_few_short_lives_tell_a_spread_only_together() -> None:
    rng = np.random.default_rng(2)
    lives = [a_life(rng, 4) for _ in range(4)]
    assert pooled_prior(lives[:3], CHANNELS, {}) is None
    assert prior_of(lives).dof == pytest.approx(7.3, abs=0.1)


@pytest.mark.parametrize(("shortest", "longest", "most"), [(4, 5, 1.4), (4, 8, 1.4), (10, 16, 1.1), (50, 60, 1.02)])
def test_the_spread_of_short_lives_is_not_said_too_small(shortest: int, longest: int, most: float) -> None:
    """200 pools of six lives: root mean square of the pooled spread over that of the press."""
    rng = np.random.default_rng(3)
    found = [
        float(prior_of([a_life(rng, int(rng.integers(shortest, longest + 1))) for _ in range(6)]).sigma[0])
        for _ in range(200)
    ]
    assert 0.97 < np.sqrt(np.mean(np.square(found))) / SPREAD < most


@pytest.mark.parametrize(("shortest", "longest"), [(4, 8), (10, 16), (50, 60)])
def test_what_the_next_insert_will_read_lies_where_its_sisters_say(shortest: int, longest: int) -> None:
    """300 pools of six lives: what the next insert shows without noise, at shots 1, 4 and 8, off what was expected over
    the spread stated for it. Standard normal, were all known; stated too wide is allowed by a half (six lives
    do not tell that inserts differ by less than supposed), too small by 10 %.
    """
    rng = np.random.default_rng(4)
    off = []
    for _ in range(300):
        prior = prior_of([a_life(rng, int(rng.integers(shortest, longest + 1))) for _ in range(6)])
        own, warm = rng.normal(), 8.0 * (1.0 + 0.1 * rng.normal())
        for n in (1, 4, 8):
            mean, spread = at(prior, n)
            true = LEVEL + SPREAD * (own + warm * np.exp(-(n - 1.0) / 5.0))
            off.append((true - mean) / spread)
    assert 0.55 < np.sqrt(np.mean(np.square(off))) < 1.1


def test_a_moved_level_counts_for_less_and_only_the_level() -> None:
    """An accepted shift of 10 bar is known to 3 bar: 9 bar squared more, whatever the spread is found to be later."""
    pool = Pool()
    pool.join("d|0", a_life(np.random.default_rng(5), 20))
    before = pool.sisters["d|0"][0].channels["peak_pressure"]
    pool.move("d|0", {"peak_pressure": 10.0})
    after = pool.sisters["d|0"][0].channels["peak_pressure"]
    assert after.beta[0] - before.beta[0] == pytest.approx(10.0)
    more = after.known(SPREAD) - before.known(SPREAD)
    assert more[0, 0] == pytest.approx(9.0)
    assert np.count_nonzero(more) == 1


def test_more_sisters_are_kept_where_their_lives_are_short_and_never_without_bound() -> None:
    rng = np.random.default_rng(6)
    for n_shots, kept in ((60, 8), (20, 16), (12, 24), (4, 24)):
        pool = Pool()
        for _ in range(30):
            pool.join("d|0", a_life(rng, n_shots))
        assert len(pool.sisters["d|0"]) == kept
