"""Relations that are there, that are not, and how often the interval holds what it promises."""

import numpy as np
import pytest

from shotlog.review.relation import relations


def ar(rng: np.random.Generator, n: int, phi: float) -> np.ndarray:
    x = rng.normal(size=n)
    for k in range(1, n):
        x[k] = phi * x[k - 1] + np.sqrt(1 - phi**2) * x[k]
    return x


def test_runs_that_differ_together_show_between_and_seldom_within() -> None:
    """Code that forgot to take each run about its own mean would claim a relation every time."""
    rng = np.random.default_rng(1)
    runs, shift = np.repeat(np.arange(6), 25), np.repeat(np.arange(6.0), 25)
    found = [
        relations(
            "width", (shift + rng.normal(size=150)).tolist(), runs.tolist(), {"cushion": shift + rng.normal(size=150)}
        )[0]
        for _ in range(200)
    ]
    assert 0.01 <= sum(one.told for one in found) / 200 <= 0.09
    assert min(one.between or 0.0 for one in found) > 0.95


def test_a_relation_within_runs_is_told_with_its_slope() -> None:
    rng = np.random.default_rng(2)
    x = rng.normal(0.0, 0.05, 80)
    y = 10.0 - 0.46 * x + rng.normal(0.0, 0.01, 80)
    one = relations("part_weight", y.tolist(), [0] * 40 + [1] * 40, {"cushion": x.tolist()})[0]
    assert one.told
    assert one.slope == pytest.approx(-0.46, abs=0.06)
    assert one.low < one.within < one.high < 0


@pytest.mark.parametrize("phi", [0.0, 0.6])
def test_unrelated_series_are_told_apart_from_nil_one_time_in_twenty(phi: float) -> None:
    """Code that counted every autocorrelated shot whole would claim a relation about one time in five at phi 0.6."""
    rng = np.random.default_rng(3)
    claimed = sum(
        relations("width", ar(rng, 80, phi).tolist(), [0] * 80, {"cushion": ar(rng, 80, phi).tolist()})[0].told
        for _ in range(400)
    )
    assert 0.02 <= claimed / 400 <= 0.09


def test_missing_values_and_short_runs_are_left_out() -> None:
    rng = np.random.default_rng(4)
    x, y = rng.normal(size=30), rng.normal(size=30)
    x[3], y[7] = np.nan, np.nan
    one = relations("width", y.tolist(), [0] * 29 + [1], {"cushion": x.tolist()})[0]
    assert (one.n, one.n_runs) == (27, 1)
    assert relations("width", y[:9].tolist(), [0] * 9, {"cushion": x[:9].tolist()}) == []
    assert relations("width", y.tolist(), [0] * 30, {"cushion": [1.0] * 30}) == []
