import math

import numpy as np
import pytest
from reference_data import example

from shotlog.charts.audit import Ewma
from shotlog.charts.audit.residual import LagOne, Residual
from shotlog.errors import UsageError


def test_example_of_the_handbook() -> None:
    found = example("ewma_6_3_2_4")
    inputs, published, results = found["inputs"], found["published"], found["results"]
    known = {"lam": inputs["lam"], "width": inputs["L"], "centre": inputs["target"], "sigma": inputs["s"]}
    run = Ewma(**known, varying=False).run(inputs["x"])
    np.testing.assert_allclose(run.value, results["ewma"], atol=1e-8)
    np.testing.assert_allclose(run.value, published["ewma_from_first_reading"], atol=0.00501)
    assert run.upper[0] == pytest.approx(published["ucl"], abs=1e-4)
    assert run.lower[0] == pytest.approx(published["lcl"], abs=1e-4)
    assert run.upper[0] == pytest.approx(results["ucl_asymptotic"], abs=1e-8)
    assert run.signals == []
    widening = Ewma(**known).run(inputs["x"])
    np.testing.assert_allclose(widening.upper, results["ucl_exact_by_i"], atol=1e-8)
    np.testing.assert_allclose(widening.lower, results["lcl_exact_by_i"], atol=1e-8)


def test_autocorrelated_example() -> None:
    found = example("ewma_autocorrelated")
    x, results = np.array(found["inputs"]["x"]), found["results"]
    model = LagOne.of(x)
    assert model.level == pytest.approx(results["mean"], abs=1e-8)
    assert model.phi == pytest.approx(results["phi_least_squares_about_mean"], abs=1e-8)
    assert model.spread * math.sqrt((len(x) - 3) / (len(x) - 1)) == pytest.approx(results["residual_sd_ml"], abs=1e-8)
    residuals = Residual(level=model.level, phi=model.phi, spread=0.3).run(x).value
    np.testing.assert_allclose(residuals[1:], results["ar1_residuals_from_second_point"], atol=1e-8)
    lam, sd = found["inputs"]["lambda_chart"], results["sd"]
    chart = Ewma(lam=lam, width=3.0, centre=results["mean"], sigma=sd, varying=False, phi=model.phi)
    run = chart.run(x)
    np.testing.assert_allclose(run.value, results["ewma_series"], atol=1e-8)
    assert run.upper[0] == pytest.approx(results["ucl_3_ar1"], abs=1e-8)
    assert run.lower[0] == pytest.approx(results["lcl_3_ar1"], abs=1e-8)
    naive = Ewma(lam=lam, width=3.0, centre=results["mean"], sigma=sd, varying=False).run(x)
    assert naive.upper[0] == pytest.approx(results["ucl_3_if_independence_wrongly_assumed"], abs=1e-8)
    assert (run.upper[0] - 10.28) / (naive.upper[0] - 10.28) == pytest.approx(results["inflation_of_sd"], abs=1e-8)


def test_weight_one_is_an_individuals_chart() -> None:
    run = Ewma(lam=1.0, width=3.0, centre=0.0, sigma=1.0).run([1.0, -3.1, 3.1])
    assert run.value.tolist() == [1.0, -3.1, 3.1]
    assert run.signals == [(1, "below"), (2, "above")]


@pytest.mark.parametrize(
    ("parameters", "said"),
    [
        ({"lam": 0.0}, "given lam 0.0, allowed: above 0 and up to 1"),
        ({"lam": 1.1}, "given lam 1.1"),
        ({"lam": math.nan}, "given lam nan"),
        ({"phi": 0.5}, "given phi 0.5, allowed: between -1 and 1, and 0 with varying limits"),
        ({"phi": 1.0, "varying": False}, "given phi 1.0"),
        ({"head_start": 0.5}, "given head start 0.5"),
        ({"head_start": 1.0, "varying": False}, "given head start 1.0"),
        ({"width": 0.0}, "given width 0.0"),
    ],
)
def test_a_parameter_out_of_range_is_refused(parameters: dict[str, float], said: str) -> None:
    with pytest.raises(UsageError, match=said):
        Ewma(**parameters)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "parameters", [{"level": 1.0}, {"phi": 0.5, "spread": 1.0}, {"level": 0.0, "phi": 1.0, "spread": 1.0}]
)
def test_half_a_lag_one_model_is_refused(parameters: dict[str, float]) -> None:
    with pytest.raises(UsageError, match=r"allowed: (all three or none|between -1 and 1)"):
        Residual(**parameters)  # type: ignore[arg-type]
