"""The baseline of a first insert: what counts as a change of practical size."""

import numpy as np
import pytest
from made import ALL, life

from shotlog.channels import CHANNELS
from shotlog.wear.level.baseline import Prior, first_prior


@pytest.fixture(scope="module")
def own() -> Prior:
    """Return the baseline of forty shots, of whose pressure 8 bar matter."""
    shots = life(3, "A", 40, channels=ALL)
    n = np.array([float(shot.shot) for shot in shots])
    values = np.array([[shot.values[name] for name in ALL] for shot in shots])
    return first_prior(ALL, n, values, [], [], {"peak_pressure": 8.0}, 10)


def test_the_least_change_of_an_own_baseline_is_the_one_given(own: Prior) -> None:
    assert own.named(own.least)["peak_pressure"] == pytest.approx(8.0)


@pytest.mark.parametrize("name", ["recovery_time", "melt_temperature"])
def test_upstream_of_the_mould_it_is_that_of_the_channel_table(own: Prior, name: str) -> None:
    assert own.named(own.least)[name] == pytest.approx(CHANNELS[name].least_change)


@pytest.mark.parametrize("name", ["cushion", "fill_time", "part_weight"])
def test_where_an_insert_shows_it_is_no_more_than_one_spread(own: Prior, name: str) -> None:
    """All three spread by less than what the table says matters."""
    assert own.sigma[own.channels.index(name)] < CHANNELS[name].least_change
    assert own.least[own.channels.index(name)] == 1.0
