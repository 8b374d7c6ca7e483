"""Run lengths with estimated limits against outside values, each with its source."""

import math

import numpy as np
import pytest
from reference_data import rows
from scipy.integrate import quad
from scipy.special import log_ndtr
from scipy.stats import chi

from shotlog.charts import Individuals
from shotlog.charts.audit.estimated import EstimatedRunLength, estimated_run_length
from shotlog.charts.audit.runlength import run_length, simulated

ESTIMATED = rows("estimated_parameters.csv")


def of(chart: Individuals) -> EstimatedRunLength:
    found = estimated_run_length(chart)
    assert found is not None
    return found


@pytest.mark.parametrize(
    "row", ESTIMATED, ids=["-".join((r["baseline_shots"], r["limits"][:6], r["sigma_estimate"][:3])) for r in ESTIMATED]
)
def test_chances_within_so_many_shots(row: dict[str, str]) -> None:
    """The reference's 200,000 drawn baselines (its own generator), and its exact column from the t distribution."""
    wide, estimate = row["limits"] == "mean +/- 3 s", "sd" if row["sigma_estimate"] == "sample sd" else "mr"
    m = int(row["baseline_shots"])
    found = of(Individuals(baseline=m, estimate=estimate, width=3.0 if wide else None))
    if row["exact_prob_next_shot"]:
        assert found.within(1) == pytest.approx(float(row["exact_prob_next_shot"]), abs=6e-6)
    assert found.within(1) == pytest.approx(float(row["prob_false_alarm_next_shot"]), rel=0.03)
    for n in (20, 50, 100, 200):
        assert found.within(n) == pytest.approx(float(row[f"prob_false_alarm_within_{n}"]), abs=0.002)


def test_ten_readings_and_moving_ranges_signal_at_the_next_shot_in_235_of_10000() -> None:
    """Reference: 0.023448 of 200,000 baselines; known limits have 0.0027."""
    found = of(Individuals(baseline=10))
    assert found.within(1) == pytest.approx(0.023448, abs=2e-4)
    assert found.average == math.inf
    assert found.percentile(50) == pytest.approx(131, abs=1)


@pytest.mark.parametrize("m", [12, 20, 40])
def test_the_average_is_that_of_adaptive_quadrature(m: int) -> None:
    """Spread alone learnt, about a given level: one integral, by QUADPACK."""
    nu = m
    want, _ = quad(
        lambda s: chi.pdf(s * math.sqrt(nu), nu) * math.sqrt(nu) * math.exp(-math.log(2.0) - log_ndtr(-3.0 * s)),
        0.0, 12.0, limit=400, epsabs=0.0, epsrel=1e-9,
    )  # fmt: skip
    found = of(Individuals(centre=0.0, baseline=m, estimate="sd"))
    assert found.average == pytest.approx(want, rel=1e-5)


def test_the_average_with_moving_ranges_is_that_of_many_baselines() -> None:
    """400,000 baselines of 100 readings drawn here, four standard errors."""
    rng = np.random.default_rng(12)
    mean = []
    for _ in range(20):
        x = rng.standard_normal((20_000, 100))
        half, level = 3.0 * np.abs(np.diff(x)).mean(axis=1) * math.sqrt(math.pi) / 2.0, x.mean(axis=1)
        mean.append(float(np.exp(-np.logaddexp(log_ndtr(level - half), log_ndtr(-level - half))).mean()))
    error = float(np.std(mean)) / math.sqrt(len(mean))
    assert of(Individuals(baseline=100)).average == pytest.approx(float(np.mean(mean)), abs=4.0 * error + 2.0)


@pytest.mark.parametrize(
    ("m", "estimate", "endless"), [(10, "sd", True), (11, "sd", False), (28, "mr", True), (29, "mr", False)]
)
def test_from_few_readings_the_average_is_infinite(m: int, estimate: str, endless: bool) -> None:
    """By hand: nine degrees of freedom with "sd"; 3 sqrt(4 m - 6) against 1.12838 (m - 1) with moving ranges."""
    assert math.isinf(of(Individuals(baseline=m, estimate=estimate)).average) == endless


def test_a_known_spread_leaves_the_level() -> None:
    """Next shot: a normal reading beyond 3 of spread sqrt(1 + 1 / m)."""
    found = of(Individuals(sigma=1.0, baseline=8))
    assert found.within(1) == pytest.approx(math.erfc(3.0 / math.sqrt(1.0 + 1.0 / 8.0) / math.sqrt(2.0)), rel=1e-6)


def test_it_is_what_simulated_charts_do() -> None:
    chart = Individuals(baseline=15)
    drawn, found = simulated(chart, runs=1500, horizon=200, learns=15), run_length(chart)
    for n in (1, 20, 100):
        error = math.sqrt(found.within(n) * (1.0 - found.within(n)) / 1500)
        assert abs(drawn.within(n) - found.within(n)) < 4.0 * error


def test_run_rules_and_known_limits_are_left_to_others() -> None:
    assert estimated_run_length(Individuals(centre=0.0, sigma=1.0)) is None
    assert estimated_run_length(Individuals(baseline=10, rules=("beyond", "two-of-three"))) is None
    assert estimated_run_length(Individuals(baseline=10, least=0.1)) is None
