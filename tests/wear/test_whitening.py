"""The noise model is found again in noise made from it."""

import numpy as np
import pytest

from shotlog.wear.constants import READING, SLOW_PHI
from shotlog.wear.level.whitening import choose, profile, resolution, whitened

FREE = np.array([np.inf])


def made(rng: np.random.Generator, n: int, phi: float) -> np.ndarray:
    x = np.zeros(n)
    last = rng.normal()
    for i in range(n):
        last = phi * last + np.sqrt(1 - phi**2) * rng.normal()
        x[i] = last
    return x


@pytest.mark.parametrize("phi", [-0.5, 0.0, 0.45])
def test_spread_and_autocorrelation_are_found_over_eight_inserts(phi: float) -> None:
    rng = np.random.default_rng(4)
    columns = np.ones((80, 1))
    profiles = [profile((7.0 + 0.05 * made(rng, 80, phi))[:, None], columns, FREE)[0] for _ in range(8)]
    pooled = profiles[0]
    for one in profiles[1:]:
        pooled = pooled + one
    found = choose(pooled, 0.0)
    total = 1 + found.wander + READING  # the model has a slow part as well, which may explain some of the same
    assert found.sigma * np.sqrt(total) == pytest.approx(0.05, rel=0.08)
    assert (found.phi + found.wander * SLOW_PHI) / total == pytest.approx(phi, abs=0.08)
    assert pooled.dof == pytest.approx(8 * 79, abs=0.01)


def test_level_does_not_matter() -> None:
    x = made(np.random.default_rng(1), 60, 0.2)[:, None]
    low, high = profile(x, np.ones((60, 1)), FREE)[0], profile(x + 1e4, np.ones((60, 1)), FREE)[0]
    np.testing.assert_allclose(low.squares, high.squares, rtol=1e-6)


def test_constant_values_get_the_floor() -> None:
    found = choose(profile(np.full((30, 1), 0.72), np.ones((30, 1)), FREE)[0], 0.003)
    assert found.sigma == pytest.approx(0.003)


def test_residual_innovations_are_white() -> None:
    x = made(np.random.default_rng(2), 240, 0.5)
    at = choose(profile(x[:, None], np.ones((240, 1)), FREE)[0], 0.0).at
    residual, beta, _, _ = whitened(x + 3.0, np.ones((240, 1)), at)
    lag_1 = float(np.corrcoef(residual[1:], residual[:-1])[0, 1])
    assert abs(lag_1) < 0.13
    assert beta[0] == pytest.approx(3.0, abs=0.4)


@pytest.mark.parametrize(
    ("values", "step"), [([5.0, 5.1, 5.3], 0.1), ([0.72, 0.72], 0.01), ([500.0, 505.0, 515.0], 5.0), ([3.0, 3.0], 1.0)]
)
def test_resolution_is_the_smallest_step_seen(values: list[float], step: float) -> None:
    assert resolution(np.array(values)) == pytest.approx(step)


@pytest.mark.parametrize(("spread", "dof"), [(np.inf, 8.0), (1e-3, 9.0), (1.0, 8.286)])
def test_a_column_takes_as_much_freedom_as_it_is_free(spread: float, dof: float) -> None:
    """Ten shots, white noise: a level, and a column at right angles to it whose squares sum to 2.5. Known to a spread
    of 1 it takes 2.5 / (2.5 + 1) = 0.714."""
    columns = np.column_stack([np.ones(10), np.tile([0.5, -0.5], 5)])
    found = profile(np.zeros((10, 1)), columns, np.array([np.inf, spread]))[0]
    assert found.dof == pytest.approx(dof, abs=0.03)
