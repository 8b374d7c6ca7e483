"""The onset estimate and its set."""

import numpy as np
import pytest

from shotlog.wear.change.onset import onset_of


def test_set_is_the_shortest_range_that_holds_so_much() -> None:
    onsets = np.arange(1, 11)
    weights = np.array([0.02, 0.02, 0.0, 0.1, 0.3, 0.3, 0.2, 0.02, 0.02, 0.02])
    found = onset_of(onsets, weights, 12)
    assert (found.shot, found.low, found.high) == (6, 4, 7)


def test_shots_taken_as_healthy_end_where_little_weight_lies_before() -> None:
    weights = np.array([0.03, 0.03, 0.0, 0.0, 0.02, 0.9, 0.02])
    found = onset_of(np.arange(1, 8), weights, 7)
    assert (found.clean, found.low, found.high) == (2, 6, 6)


def test_thinned_onsets_stand_for_the_shots_up_to_the_next() -> None:
    found = onset_of(np.array([6, 12, 18]), np.array([0.0, 1.0, 0.0]), 30)
    assert (found.shot, found.low, found.high) == (12, 12, 17)


@pytest.mark.parametrize("size", [1.0, 2.0])
def test_set_covers_as_often_as_it_says(size: float) -> None:
    """Known mean and spread, a step at shot 31 of 45: the posterior of a flat prior, 400 runs (seed 3)."""
    rng = np.random.default_rng(3)
    inside = 0
    for _ in range(400):
        z = rng.normal(0, 1, 45)
        onset = int(rng.integers(20, 40))
        z[onset - 1 :] += size
        gain = np.array([np.sum(size * z[t - 1 :] - size**2 / 2) for t in range(1, 46)])
        found = onset_of(np.arange(1, 46), np.exp(gain - gain.max()), 45)
        inside += found.low <= onset <= found.high
    assert 0.86 <= inside / 400 <= 0.97
