import math

import numpy as np
import pytest
from reference_data import decimals, rows
from scipy.special import stdtr

from shotlog.charts.constants import D2_PAIR
from shotlog.charts.individuals import Individuals
from shotlog.charts.limits import prediction_factor, range_factor
from shotlog.charts.moving_range import MovingRange
from shotlog.errors import UsageError

FACTORS = rows("prediction_factors.csv")


@pytest.mark.parametrize("row", FACTORS, ids=[f"{row['m']}-{row['alpha']}" for row in FACTORS])
def test_prediction_factors_agree_with_the_table(row: dict[str, str]) -> None:
    assert prediction_factor(int(row["m"]), float(row["alpha"])) == pytest.approx(
        float(row["factor"]), abs=decimals(row["factor"]), rel=1e-9
    )


def test_median_and_probability_limits_of_a_range() -> None:
    extra = {row["name"]: float(row["value"]) for row in rows("chart_constants_extra.csv")}
    chart = MovingRange(sigma=1.0, width=None, alpha=0.00135)
    assert chart.limits is not None
    assert chart.limits[2] / D2_PAIR == pytest.approx(extra["MR_upper_limit_probability_0.99865_over_MRbar"], rel=1e-12)
    textbook = MovingRange(sigma=1.0)
    assert textbook.limits is not None
    alarm = math.erfc(textbook.limits[2] / 2.0)
    assert alarm == pytest.approx(extra["false_alarm_per_point_MR_D4"], rel=1e-12)


@pytest.mark.parametrize("m", [3, 4, 5, 6, 8, 9, 12, 20, 31, 50])
@pytest.mark.parametrize("alpha", [0.05, 0.0027])
def test_moving_range_factor_keeps_its_rate(m: int, alpha: float) -> None:
    """Against the exact rate given a direction, over 100,000 simulated ones: within 4 standard errors + 0.5 %."""
    x = np.random.default_rng((7, m)).standard_normal((100_000, m))
    share = np.abs(np.diff(x, axis=1)).mean(axis=1) / np.sqrt(x.var(axis=1) * m) * math.sqrt(m - 1) / D2_PAIR
    for factor, spread in (
        (prediction_factor(m, alpha, "mr"), math.sqrt(1.0 + 1.0 / m)),
        (prediction_factor(m, alpha, "mr", known_level=True), 1.0),
        (range_factor(m, alpha) * D2_PAIR, math.sqrt(2.0)),
    ):
        rate = 2.0 * stdtr(m - 1, -factor * share / spread)
        error = 4.0 * float(rate.std()) / math.sqrt(len(rate))
        assert abs(float(rate.mean()) - alpha) < error + 0.005 * alpha


ESTIMATED = rows("estimated_parameters.csv")


@pytest.mark.parametrize(
    "row", ESTIMATED, ids=["-".join((r["baseline_shots"], r["limits"][:6], r["sigma_estimate"][:3])) for r in ESTIMATED]
)
def test_false_alarm_of_the_next_shot_after_a_short_baseline(row: dict[str, str]) -> None:
    """The reference's 200,000 baselines against 40,000 charts built here: 4 binomial standard errors of both."""
    m, wide = int(row["baseline_shots"]), row["limits"] == "mean +/- 3 s"
    estimate = "sd" if row["sigma_estimate"] == "sample sd" else "mr"
    chart = Individuals(baseline=m, estimate=estimate, width=3.0 if wide else None)
    x = np.random.default_rng((11, m)).standard_normal((40_000, m))
    sigma = x.std(axis=1, ddof=1) if estimate == "sd" else np.abs(np.diff(x, axis=1)).mean(axis=1) / D2_PAIR
    chart.run(x[0])
    assert chart.limits is not None
    centre, _, upper, spread, n = chart.limits
    assert (centre, spread, n) == (pytest.approx(x[0].mean()), pytest.approx(sigma[0]), m)
    half = (upper - centre) / spread * sigma
    if not wide:
        assert (upper - centre) / spread == pytest.approx(float(row["factor"]), abs=1e-6)
    rate = 0.5 * (1.0 + np.vectorize(math.erf)((x.mean(axis=1) - half) / math.sqrt(2.0)))
    rate += 0.5 * (1.0 - np.vectorize(math.erf)((x.mean(axis=1) + half) / math.sqrt(2.0)))
    expected = float(row["exact_prob_next_shot"] or row["prob_false_alarm_next_shot"])
    tolerance = 4.0 * (float(rate.std()) / 200.0 + math.sqrt(expected / 200_000))
    assert abs(float(rate.mean()) - expected) < tolerance


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: prediction_factor(1, 0.01), "given 1 baseline readings"),
        (lambda: prediction_factor(2, 0.01, "mr"), "allowed: 3 or more"),
        (lambda: prediction_factor(5, 0.0), "given alpha 0.0, allowed: between 0 and 1"),
        (lambda: prediction_factor(5, 1.0), "given alpha 1.0"),
        (lambda: prediction_factor(5, 0.01, "iqr"), "given estimate 'iqr', allowed: sd, mr"),
        (lambda: prediction_factor(5, 0.01, future=0), "for 0"),
        (lambda: range_factor(2, 0.01), "given 2 baseline readings"),
    ],
)
def test_impossible_limits_are_refused(call: object, said: str) -> None:
    with pytest.raises(UsageError, match=said):
        call()  # type: ignore[operator]
