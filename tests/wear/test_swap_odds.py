"""What a swap says: the likelihood ratio against densities from scipy, and never a finding by the odds before alone."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from made import knowing, life
from scipy.stats import multivariate_normal

from shotlog.facts import SwapFinding
from shotlog.wear.constants import STAYS_GROWTH, STAYS_MOST, SWAP_DECIDED, SWAP_RATIO
from shotlog.wear.life.swap_odds import Carried, stays_log_prior, stays_log_ratios


@given(st.floats(-3, 3), st.floats(-3, 3), st.floats(-0.6, 0.6), st.floats(-2.0, 4.0), st.floats(-1.0, 1.0))
def test_the_ratio_is_that_of_two_normal_densities(
    first: float, second: float, along: float, moved: float, other: float
) -> None:
    """Two channels; the change may have grown by a share since, which widens the density of a change that stayed."""
    own, own_var = np.array([first, second]), np.array([0.3, 0.2])
    prior_mean, prior_var = np.array([0.1, -0.2]), np.array([2.0, 1.5])
    level_var = 1.0 / (1.0 / prior_var + 1.0 / own_var)
    level = level_var * (prior_mean / prior_var + own / own_var)
    effect, correlation = np.array([moved, other]), np.array([[1.0, along], [along, 1.0]])
    spread = np.sqrt(prior_var + own_var)
    cov = correlation * np.outer(spread, spread)
    reset = multivariate_normal(prior_mean, cov).logpdf(own)
    stayed = multivariate_normal(prior_mean + effect, cov + STAYS_GROWTH**2 * np.outer(effect, effect)).logpdf(own)
    (ratio,) = stays_log_ratios(level, level_var, prior_mean, prior_var, [effect], correlation, [0.0])
    assert ratio == pytest.approx(np.clip(stayed - reset, -STAYS_MOST, STAYS_MOST), abs=1e-6)


def test_a_level_that_the_shots_say_nothing_of_has_a_ratio_of_one() -> None:
    one = np.ones(1)
    assert stays_log_ratios(one, one, one, one, [3.0 * one], np.eye(1), [0.0]) == [0.0]


def test_of_two_changes_the_one_that_stayed_is_told() -> None:
    """One moves the first channel, one the second; only the first is where the change had left it."""
    first, second = np.array([8.0, 0.0]), np.array([0.0, 8.0])
    level, var, mean, between = np.array([7.9, 0.1]), np.full(2, 0.05), np.zeros(2), np.full(2, 1.0)
    stayed, reset = stays_log_ratios(level, var, mean, between, [first, second], np.eye(2), [0.0, 0.0])
    assert stayed == STAYS_MOST
    assert reset == pytest.approx(-5.5, abs=0.3), "60 / 6.5 / 2 + log(6.5) / 2: the growth makes room for it"


def test_odds_before_looking() -> None:
    assert stays_log_prior(0.5) == 0.0
    assert stays_log_prior(0.9) == pytest.approx(np.log(9.0))
    assert stays_log_prior(0.0) == pytest.approx(-np.log(49.0)), "no chance is surer"


def found_with(weights: dict[str, float], kept: float, size: float = -0.6) -> SwapFinding | None:
    """Return what a swap says of a fall of the cushion of which a share was kept, within fifty shots."""
    monitor = knowing(4)
    first, *shots = life(9, "B", 50, first=241, change={"cushion": ("step", kept * size / 0.05)}, onset=1, hours=13)
    monitor.step(first)
    (half,) = monitor._mounted.lives.values()
    half.carry(Carried("A", 241, {"cushion": size}, 220, 218, 222, weights))
    for shot in shots:
        monitor.step(shot)
    return next(iter(monitor.evidence().swaps), None)


def test_a_finding_needs_both_the_shots_and_the_odds_after_looking() -> None:
    insert = {"gate erosion": 1.0}
    gone, stayed = found_with(insert, 0.0), found_with(insert, 1.0)
    assert gone is not None
    assert stayed is not None
    assert (gone.outcome, stayed.outcome) == ("confirmed", "refuted")
    assert gone.log_ratio < -SWAP_RATIO < SWAP_RATIO < stayed.log_ratio
    assert gone.log_prior == stayed.log_prior == pytest.approx(np.log(0.03 / 0.97))
    assert stayed.log_ratio + stayed.log_prior > SWAP_DECIDED


@pytest.mark.parametrize("weights", [{"gate erosion": 1.0}, {"lot change": 1.0}])
def test_a_change_no_larger_than_sisters_differ_is_left_open_however_sure_its_cause(weights: dict[str, float]) -> None:
    """The odds before looking are 32 to 1 and more; a fall of a tenth of a spread says nothing."""
    assert found_with(weights, 0.0, size=-0.005) is None
