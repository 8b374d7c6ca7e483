import numpy as np
import pytest
from reference_data import example

from shotlog.charts.audit import HotellingT2, Mewma
from shotlog.charts.audit.hotelling import phase_one, t2_limit
from shotlog.charts.audit.mewma_passage import mewma_limit
from shotlog.charts.audit.multivariate import Spread, covariance_of
from shotlog.errors import NotEnoughShots, UsageError

TWO = {"mean": (0.0, 0.0), "covariance": ((1.0, 0.9), (0.9, 1.0))}


def test_mean_and_covariance_example_of_the_handbook() -> None:
    found = example("mean_vector_covariance_6_5_4_1")
    x = np.array(found["inputs"]["x"])
    np.testing.assert_allclose(covariance_of(x, "sample"), found["published"]["covariance"], atol=1e-9)
    chart = HotellingT2(n_channels=3, mean=x.mean(axis=0), covariance=covariance_of(x, "sample"))
    run = chart.run(x)
    np.testing.assert_allclose(run.value, found["results"]["t2_of_each_row"], atol=1e-8)
    assert run.value.sum() == pytest.approx(found["results"]["sum_t2"], abs=1e-8)


def test_t2_example_phase_one_and_two_with_decomposition() -> None:
    found = example("hotelling_two_methods_15")
    x, results = np.array(found["inputs"]["x"]), found["results"]
    covariance = covariance_of(x, "sample")
    np.testing.assert_allclose(covariance, results["covariance"], atol=1e-9)
    for alpha in ("0.05", "0.01", "0.0027"):
        first = phase_one(x, alpha=float(alpha))
        np.testing.assert_allclose(first.value, results["t2"], atol=1e-8)
        assert first.upper[0] == pytest.approx(results["phase1_beta_limit"][alpha], abs=1e-8)
        assert t2_limit(2, 15, float(alpha), "sample") == pytest.approx(results["phase2_F_limit"][alpha], abs=1e-8)
        assert t2_limit(2, 0, float(alpha)) == pytest.approx(results["known_parameter_chi2_limit"][alpha], abs=1e-8)
    chart = HotellingT2(mean=x.mean(axis=0), covariance=covariance)
    for row, expected in zip(found["inputs"]["new_rows"], results["new_rows_decomposition"], strict=True):
        point = chart.update(row)
        assert point.value == pytest.approx(expected["T2"], abs=1e-8)
        names = ("T2_1", "T2_2", "T2_1|2", "T2_2|1")
        assert point.detail == pytest.approx([expected[name] for name in names], abs=1e-8)
        assert point.detail[0] + point.detail[3] == pytest.approx(point.value)


def test_t2_matches_plain_linear_algebra() -> None:
    rng = np.random.default_rng(8)
    x = rng.normal(size=(60, 4)) @ rng.normal(size=(4, 4))
    chart = HotellingT2(n_channels=4, mean=np.zeros(4), covariance=covariance_of(x, "sample"))
    inverse = np.linalg.inv(covariance_of(x, "sample"))
    run = chart.run(x)
    np.testing.assert_allclose(run.value, np.einsum("ni,ij,nj->n", x, inverse, x), rtol=1e-9)
    for j in range(4):
        others = [i for i in range(4) if i != j]
        without = np.einsum(
            "ni,ij,nj->n", x[:, others], np.linalg.inv(np.linalg.inv(inverse)[np.ix_(others, others)]), x[:, others]
        )
        np.testing.assert_allclose(run.detail[:, 4 + j], run.value - without, rtol=1e-6, atol=1e-8)


def test_differences_do_not_swell_with_a_step_in_the_baseline() -> None:
    rng = np.random.default_rng(9)
    x = rng.normal(size=(200, 2))
    x[100:] += 5.0
    assert covariance_of(x, "differences")[0, 0] == pytest.approx(1.0, abs=0.35)
    assert covariance_of(x, "sample")[0, 0] > 6.0


def test_the_driving_channel_is_named() -> None:
    chart = HotellingT2(**TWO)
    assert chart.drivers(chart.update((4.0, 3.6))) == [0, 1]
    apart = chart.update((1.5, -1.5))
    assert apart.rules == ("above",)
    assert set(chart.drivers(apart)) == {0, 1}
    three = HotellingT2(n_channels=3, mean=(0, 0, 0), covariance=np.eye(3))
    assert three.drivers(three.update((0.1, -5.0, 0.3))) == [1]
    assert three.drivers(three.update((0.1, 0.2, 0.3))) == []
    mewma = Mewma(n_channels=3, mean=(0, 0, 0), covariance=np.eye(3), h=10.0)
    for _ in range(20):
        point = mewma.update((0.0, 0.0, 1.5))
    assert point.rules == ("above",)
    assert mewma.drivers(point) == [2]


def test_mewma_is_the_t2_of_the_ewma() -> None:
    x = np.random.default_rng(10).normal(size=(30, 2))
    z = np.zeros(2)
    inverse = np.linalg.inv(np.array(TWO["covariance"]))
    for varying in (False, True):
        run = Mewma(**TWO, lam=0.3, h=10.0, varying=varying).run(x)
        z = np.zeros(2)
        for i, row in enumerate(x):
            z = 0.7 * z + 0.3 * row
            share = 0.3 / 1.7 * (1.0 - 0.7 ** (2 * (i + 1)) if varying else 1.0)
            assert run.value[i] == pytest.approx(z @ inverse @ z / share, rel=1e-9)


@pytest.mark.parametrize(("p", "m"), [(1, 10), (2, 8), (2, 25), (3, 10), (5, 15)])
def test_t2_from_differences_keeps_its_rate_after_a_short_baseline(p: int, m: int) -> None:
    """40,000 simulated baselines, one new shot each, alpha 0.02: 4 binomial standard errors (0.0028)."""
    rng = np.random.default_rng((12, p, m))
    x = rng.standard_normal((40_000, m, p))
    steps = np.diff(x, axis=1)
    covariance = np.swapaxes(steps, 1, 2) @ steps / (2.0 * (m - 1))
    new = rng.standard_normal((40_000, p)) - x.mean(axis=1)
    t2 = np.einsum("ni,ni->n", new, np.linalg.solve(covariance, new[:, :, None])[:, :, 0])
    assert abs(float((t2 > t2_limit(p, m, 0.02)).mean()) - 0.02) < 0.0028


def test_mewma_limit_is_met_by_its_own_run_length() -> None:
    from shotlog.charts.audit.runlength import run_length

    for p, lam in ((2, 0.1), (3, 0.2), (5, 0.4)):
        chart = Mewma(n_channels=p, lam=lam, arl0=200.0, mean=np.zeros(p), covariance=np.eye(p))
        assert chart.h == mewma_limit(p, lam, 200.0)
        assert run_length(chart).average == pytest.approx(200.0, rel=1e-6)


@pytest.mark.parametrize(
    ("covariance", "said"),
    [
        (((1.0, 1.0), (1.0, 1.0)), "channel 2 has no spread of its own"),
        (((0.0, 0.0), (0.0, 1.0)), "channel 1 has no spread of its own"),
        (((1.0, 2.0), (2.0, 1.0)), "channel 2"),
        (((1.0, 0.5), (0.4, 1.0)), "allowed: a square symmetric matrix"),
        ((1.0, 2.0), "allowed: a square symmetric matrix"),
        (((np.nan, 0.0), (0.0, 1.0)), "allowed: a square symmetric matrix"),
    ],
)
def test_a_covariance_that_is_none_is_refused(covariance: object, said: str) -> None:
    with pytest.raises(UsageError, match=said):
        Spread.of(covariance)  # type: ignore[arg-type]
    with pytest.raises(UsageError, match=said):
        HotellingT2(mean=(0.0, 0.0), covariance=covariance)  # type: ignore[arg-type]


def test_a_singular_baseline_goes_on_being_collected() -> None:
    rng = np.random.default_rng(11)
    chart = HotellingT2(baseline=8)
    twin = np.repeat(rng.normal(size=(20, 1)), 2, axis=1)
    assert chart.run(twin).signals == []
    assert not chart.ready
    chart.run(rng.normal(size=(8, 2)))
    assert chart.ready


def test_phase_one_says_what_it_lacks() -> None:
    x = np.random.default_rng(1).normal(size=(30, 3))
    with pytest.raises(NotEnoughShots, match="5 shots for 3 channels, 6 are needed"):
        phase_one(x[:5])
    x[3, 1] = np.nan
    with pytest.raises(UsageError, match="missing or infinite"):
        phase_one(x)
    with pytest.raises(UsageError, match="given estimate 'mcd', allowed: differences, sample"):
        phase_one(x[4:], estimate="mcd")
    with pytest.raises(UsageError, match="channel 1 has no spread"):
        phase_one(np.ones((20, 2)))


@pytest.mark.parametrize(
    ("parameters", "said"),
    [
        ({"n_channels": 1}, "given 1 channels, allowed: 2 or more"),
        ({"mean": (0.0, 0.0)}, "given one of mean and covariance, allowed: both or neither"),
        ({"mean": (0.0, 0.0, 0.0), "covariance": np.eye(3)}, "given a mean of 3 channels, allowed: 2"),
        ({"baseline": 4}, "given a baseline of 4 shots, allowed: 5 or more"),
        ({"estimate": "robust"}, "given estimate 'robust'"),
    ],
)
@pytest.mark.parametrize("make", [HotellingT2, Mewma])
def test_a_parameter_out_of_range_is_refused(make: type, parameters: dict[str, object], said: str) -> None:
    with pytest.raises(UsageError, match=said):
        make(**parameters)


def test_a_shot_with_the_wrong_number_of_readings_is_refused() -> None:
    with pytest.raises(UsageError, match="given 3 readings, allowed: 2"):
        HotellingT2(**TWO).update((1.0, 2.0, 3.0))
    with pytest.raises(UsageError, match=r"given lam 0\.0"):
        Mewma(lam=0.0)
    with pytest.raises(UsageError, match=r"given an average run length of 1\.0"):
        Mewma(arl0=1.0)
