import math

import numpy as np
import pytest
from reference_data import example

from shotlog.charts import Individuals, MovingRange
from shotlog.charts.audit import Prediction
from shotlog.errors import UsageError


def test_flow_rate_example_of_the_handbook() -> None:
    found = example("individuals_flowrate_6_3_2_2")
    x, results, published = found["inputs"]["x"], found["results"], found["published"]
    chart = Individuals(baseline=10)
    chart.run(x)
    assert chart.limits is not None
    centre, lower, upper, sigma, n = chart.limits
    assert centre == pytest.approx(published["center"], abs=5e-5)
    assert upper == pytest.approx(results["ucl_exact_d2"], abs=1e-8)
    assert lower == pytest.approx(results["lcl_exact_d2"], abs=1e-8)
    assert sigma == pytest.approx(results["sigma_hat_exact"], abs=1e-8)
    assert n == 10
    # the handbook divides by d2 = 1.128
    assert centre + 3.0 * sigma * math.sqrt(4.0 / math.pi) / 2.0 * 2.0 / 1.128 == pytest.approx(
        published["ucl"], abs=5e-5
    )
    judged = Individuals(centre=centre, sigma=sigma).run(x)
    assert judged.signals == []
    ranges = MovingRange(sigma=sigma).run(x)
    np.testing.assert_allclose(ranges.value[1:], results["moving_ranges"], atol=1e-12)
    assert ranges.upper[0] == pytest.approx(results["mr_ucl_exact"], abs=1e-8)
    assert ranges.centre[0] == pytest.approx(published["mean_moving_range"], abs=5e-5)


def test_prediction_limits_example() -> None:
    found = example("prediction_limits")
    inputs, results = found["inputs"], found["results"]
    chart = Prediction(baseline=12, alpha=inputs["alpha_single"])
    run = chart.run(inputs["baseline"] + inputs["future"])
    assert run.lower[-1] == pytest.approx(results["lower"], abs=1e-8)
    assert run.upper[-1] == pytest.approx(results["upper"], abs=1e-8)
    assert (run.fired["above"] | run.fired["below"])[12:].tolist() == results["outside_single"]
    joint = Prediction(baseline=12, alpha=inputs["alpha_joint"], future=5).run(inputs["baseline"] + inputs["future"])
    assert joint.lower[-1] == pytest.approx(results["bonferroni_lower"], abs=1e-8)
    assert (joint.fired["above"] | joint.fired["below"])[12:].tolist() == results["outside_bonferroni"]


def test_nothing_is_judged_during_the_baseline() -> None:
    run = Individuals(baseline=12).run([10.0, 11.0, 99.0, *[10.0] * 9, 10.0])
    assert run.signals == []
    assert np.isnan(run.upper[:12]).all()
    assert not np.isnan(run.upper[12])


def test_limits_stay_as_they_were_learnt() -> None:
    chart = Individuals(baseline=5)
    chart.run([1.0, 2.0, 1.0, 2.0, 1.0])
    before = chart.limits
    chart.run([50.0, 60.0, math.nan])
    assert chart.limits == before


def test_least_keeps_a_rounded_constant_channel_from_limits_of_no_width() -> None:
    chart = Individuals(baseline=5, least=0.02)
    run = chart.run([3.1] * 6 + [3.11, 3.13])
    assert chart.limits is not None
    assert chart.limits[1:3] == (pytest.approx(3.08), pytest.approx(3.12))
    assert run.signals == [(7, "above")]
    ranges = MovingRange(baseline=5, least=0.02).run([3.1] * 6 + [3.11, 3.125, 3.10])
    assert ranges.signals == [(8, "above")]


def test_a_baseline_without_spread_goes_on_being_collected() -> None:
    chart = Individuals(baseline=5)
    run = chart.run([3.1] * 9 + [3.2])
    assert run.signals == []
    assert chart.limits is not None
    assert chart.limits[0] == pytest.approx((4 * 3.1 + 3.2) / 5)


def test_given_level_or_spread_alone_is_honoured() -> None:
    x = [9.0, 11.0, 10.5, 9.5, 10.4]
    level = Individuals(baseline=5, sigma=2.0)
    level.run(x)
    assert level.limits is not None
    assert level.limits[0] == pytest.approx(np.mean(x))
    assert level.limits[2] - level.limits[0] == pytest.approx(6.0)
    spread = Individuals(baseline=5, centre=10.0, estimate="sd")
    spread.run(x)
    assert spread.limits is not None
    assert spread.limits[0] == 10.0
    assert spread.limits[3] == pytest.approx(math.sqrt(np.mean((np.array(x) - 10.0) ** 2)))


def test_a_moving_range_across_the_end_of_the_baseline() -> None:
    """Judged by the textbook chart; not where the limit promises its rate, since a reading is shared."""
    x = [1.0, 2.0, 1.0, 2.0, 1.0, 90.0]
    assert MovingRange(baseline=5).run(x).signals == [(5, "above")]
    assert MovingRange(baseline=5, width=None).run(x).signals == []
    assert MovingRange(baseline=5, width=None).run([*x, 1.0]).signals == [(6, "above")]


@pytest.mark.parametrize(
    ("parameters", "said"),
    [
        ({"baseline": 2}, "given a baseline of 2 shots, allowed: 3 or more"),
        ({"sigma": 0.0}, "given sigma 0.0, allowed: finite and above 0"),
        ({"sigma": -1.0}, "given sigma -1.0"),
        ({"centre": math.inf}, "given centre inf, allowed: a finite number"),
        ({"width": math.nan}, "given width nan"),
        ({"alpha": 2.0}, "given alpha 2.0"),
        ({"least": -0.1}, "given least -0.1, allowed: finite and not below 0"),
        ({"estimate": "range"}, "given estimate 'range', allowed: mr, sd"),
        ({"rules": ("sometimes",)}, "given sometimes, allowed: beyond, "),
        ({"rules": ()}, "given none, allowed: "),
    ],
)
def test_a_parameter_out_of_range_is_refused(parameters: dict[str, object], said: str) -> None:
    with pytest.raises(UsageError, match=said):
        Individuals(**parameters)  # type: ignore[arg-type]
