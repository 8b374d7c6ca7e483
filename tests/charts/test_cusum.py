import math

import numpy as np
import pytest
from reference_data import example

from shotlog.charts.audit import Cusum, SelfStartingCusum
from shotlog.errors import UsageError


def test_example_of_the_handbook() -> None:
    found = example("cusum_6_3_2_3")
    inputs, published, results = found["inputs"], found["published"], found["results"]
    sigma = inputs["sigma_of_mean"]
    chart = Cusum(k=inputs["k"] / sigma, h=inputs["h"] / sigma, centre=inputs["target"], sigma=sigma)
    run = chart.run(inputs["x"])
    np.testing.assert_allclose(run.detail[:, 0], results["s_high"], atol=1e-8)
    np.testing.assert_allclose(run.detail[:, 1], results["s_low"], atol=1e-8)
    np.testing.assert_allclose(run.detail[:, 0], published["s_high"], atol=0.0051)
    np.testing.assert_allclose(run.detail[:, 1], published["s_low"], atol=0.0051)
    assert [i + 1 for i, _ in run.signals] == published["signals_1based"]


def test_montgomery_example_with_its_onset() -> None:
    found = example("cusum_montgomery_table_9_1")
    inputs, published, results = found["inputs"], found["published"], found["results"]
    chart = Cusum(k=inputs["k"], h=inputs["h"], centre=inputs["mu0"], sigma=inputs["sigma"])
    for shot, x in enumerate(inputs["x"], start=1):
        point = chart.update(x)
        assert point.detail[0] == pytest.approx(results["c_plus"][shot - 1], abs=1e-8)
        assert point.detail[1] == pytest.approx(results["c_minus"][shot - 1], abs=1e-8)
        assert chart.since == (results["n_plus"][shot - 1], results["n_minus"][shot - 1])
        if shot < 30:
            assert round(point.detail[0], 2) == pytest.approx(published["c_plus_first_29_2dp"][shot - 1], abs=0.0051)
        if point.rules:
            break
    assert (shot, point.rules) == (published["first_signal"], ("above",))
    assert shot - chart.since[0] == published["last_in_control_period"]
    assert chart.shifted_to[0] == pytest.approx(results["estimated_new_mean"], abs=1e-8)
    assert math.isnan(chart.shifted_to[1])


@pytest.mark.parametrize("head_start", [0.0, 2.5])
def test_head_start_example(head_start: float) -> None:
    found = example("cusum_headstart")
    expected = found["results"][f"headstart_{head_start}"]
    run = Cusum(k=0.5, h=5.0, centre=0.0, sigma=1.0, head_start=head_start).run(found["inputs"]["z"])
    np.testing.assert_allclose(run.detail[:, 0], expected["high"], atol=1e-8)
    np.testing.assert_allclose(run.detail[:, 1], expected["low"], atol=1e-8)
    assert run.signals[0][0] + 1 == expected["first_signal_high_1based"]


@pytest.mark.parametrize("head_start", [0.0, 2.0])
def test_self_starting_example(head_start: float) -> None:
    found = example("self_starting_cusum")
    results = found["results"]
    chart = SelfStartingCusum(k=0.5, h=4.0, head_start=head_start)
    run = chart.run(found["inputs"]["x"])
    name = "_headstart_h_over_2" if head_start else ""
    for side, column in (("high", 0), ("low", 1)):
        expected = np.array(results[f"cusum_{side}{name}"], dtype=float)
        np.testing.assert_allclose(run.detail[:, column], expected, atol=1e-8)
    np.testing.assert_allclose(run.detail[:, 2], np.array(results["u"], dtype=float), atol=1e-8)
    first = results["first_signal_high_headstart_1based" if head_start else "first_signal_high_1based"]
    assert run.signals[0] == (first - 1, "above")
    if not head_start:
        again = SelfStartingCusum(k=0.5, h=4.0)
        again.run(found["inputs"]["x"][:first])
        assert first - again.since[0] == results["last_zero_index_before_signal_1based"]


def test_array_form_is_exact_where_the_grid_gives_out() -> None:
    """Sums beyond 2^18 sigma leave the grid: the array form falls back to the loop, mid-array too."""
    rng = np.random.default_rng(3)
    parts = rng.normal(size=20_000), [1e140], rng.normal(size=50), np.full(40, 9e4), rng.normal(size=17_000)
    x = np.concatenate(parts)
    loop, whole = (Cusum(k=0.5, h=5.0, centre=0.0, sigma=1.0) for _ in range(2))
    points = [loop.update(v) for v in x.tolist()]
    run = whole.run(x)
    np.testing.assert_array_equal(run.detail, [p.detail for p in points])
    assert loop.save() == whole.save()
    assert run.detail[:, 0].max() > 2.0**18


def test_sums_lie_on_the_grid_and_near_the_plain_recursion() -> None:
    x = np.random.default_rng(4).normal(size=5000)
    run = Cusum(k=0.5, h=5.0, centre=0.0, sigma=1.0).run(x)
    scaled = run.detail[:, 0] * 2.0**34
    assert (scaled == np.rint(scaled)).all()
    plain = 0.0
    for value, found in zip(x.tolist(), run.detail[:, 0].tolist(), strict=True):
        plain = max(0.0, plain + value - 0.5)
        assert found == pytest.approx(plain, abs=1e-7)


@pytest.mark.parametrize(
    ("parameters", "said"),
    [
        ({"k": -0.1}, "given k -0.1, allowed: finite and not below 0"),
        ({"h": 0.0}, "given h 0.0, allowed: finite and above 0"),
        ({"head_start": 6.0}, "given head start 6.0, allowed: 0 to h, 5.0"),
        ({"head_start": math.nan}, "given head start nan"),
    ],
)
@pytest.mark.parametrize("make", [Cusum, SelfStartingCusum])
def test_a_parameter_out_of_range_is_refused(make: type[Cusum], parameters: dict[str, float], said: str) -> None:
    with pytest.raises(UsageError, match=said):
        make(**parameters)  # type: ignore[arg-type]
