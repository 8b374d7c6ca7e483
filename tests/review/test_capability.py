"""Capability against the NIST handbook's example, and the precision claimed for the mean moving range."""

import json
from math import pi, sqrt
from pathlib import Path

import numpy as np
import pytest

from shotlog.errors import NotEnoughShots, UsageError
from shotlog.review.capability import _range_freedom, capability

EXAMPLE = json.loads((Path(__file__).parents[1] / "reference" / "example_capability_6_1_6.json").read_text("utf-8"))


def sample(n: int, mean: float, s: float) -> list[float]:
    """Return n values with exactly that mean and standard deviation."""
    x = np.random.default_rng(n).normal(size=n)
    x = (x - x.mean()) / x.std(ddof=1)
    return (mean + s * x).tolist()


@pytest.mark.parametrize("wanted", EXAMPLE["results"]["intervals_95"], ids=lambda row: f"n {row['n']}")
def test_overall_indices_are_those_of_the_nist_handbook(wanted: dict[str, float]) -> None:
    given = EXAMPLE["inputs"]
    found = capability(sample(int(wanted["n"]), given["mean"], given["s"]), given["lsl"], given["usl"])
    assert found.pp is not None
    assert found.pp.value == pytest.approx(EXAMPLE["published"]["cp"])
    assert found.ppk.value == pytest.approx(EXAMPLE["published"]["cpk"], abs=5e-5)
    assert (found.pp.low, found.pp.high) == pytest.approx((wanted["cp_lower"], wanted["cp_upper"]), abs=1e-7)
    assert (found.ppk.low, found.ppk.high) == pytest.approx((wanted["cpk_lower"], wanted["cpk_upper"]), abs=1e-7)


def test_the_mean_moving_range_is_as_precise_as_claimed() -> None:
    """Its coefficient of variation over 20,000 runs of 15 values is 1 / sqrt(2 nu), within 1.5 %."""
    x = np.random.default_rng(3).normal(size=(20_000, 15))
    estimates = np.abs(np.diff(x, axis=1)).mean(axis=1) * sqrt(pi) / 2.0
    assert estimates.mean() == pytest.approx(1.0, abs=0.01)
    assert estimates.std() / estimates.mean() == pytest.approx(1.0 / sqrt(2.0 * _range_freedom(15)), rel=0.015)


def test_drift_shows_in_pp_and_is_said() -> None:
    values = np.linspace(9.0, 11.0, 40) + np.random.default_rng(4).normal(0.0, 0.05, 40)
    found = capability(values.tolist(), 8.0, 12.0)
    assert found.cp is not None
    assert found.pp is not None
    assert found.cp.value > 3 * found.pp.value
    assert any("drifted" in caution for caution in found.cautions)


def test_a_steady_long_run_needs_no_caution() -> None:
    assert capability(np.random.default_rng(5).normal(10.0, 0.1, 60).tolist(), 9.0, 11.0).cautions == ()


def test_a_short_run_says_so() -> None:
    assert "12 parts" in capability(sample(12, 10.0, 0.1), 9.0, 11.0).cautions[0]


def test_one_limit_gives_one_sided_indices_only() -> None:
    found = capability(sample(30, 10.0, 0.5), None, 11.5)
    assert (found.cp, found.pp) == (None, None)
    assert found.ppk.value == pytest.approx(1.0)


def test_values_outside_are_counted() -> None:
    assert capability([1.0, 2.0, 3.0, 4.0, 9.0], 1.5, 5.0).outside == 2


def test_what_cannot_be_reckoned_is_refused() -> None:
    with pytest.raises(NotEnoughShots, match="given 4"):
        capability([1.0, 2.0, 3.0, 4.0], 0.0, 5.0)
    with pytest.raises(NotEnoughShots, match="spread"):
        capability([2.0] * 10, 0.0, 5.0)
    with pytest.raises(UsageError, match="given none"):
        capability([1.0] * 10, None, None)
    with pytest.raises(UsageError, match="below the upper"):
        capability([1.0] * 10, 5.0, 2.0)
