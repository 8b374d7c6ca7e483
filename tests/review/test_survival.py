"""Survival statistics against the NIST handbook, R, the survival library, and a log-rank test worked out here."""

import csv
import json
import warnings
from collections import defaultdict
from functools import partial
from math import exp, log, sqrt
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.stats import CensoredData, ecdf

from shotlog.errors import NotEnoughShots
from shotlog.review.root import root
from shotlog.review.survival import compare, kaplan_meier, weibull

REFERENCE = Path(__file__).parents[1] / "reference"

SIXMP = ([6, 6, 6, 6, 7, 9, 10, 10, 11, 13, 16, 17, 19, 20, 22, 23, 25, 32, 32, 34, 35],
         [1, 1, 1, 0, 1, 0, 1, 0, 0, 1, 1, 0, 0, 0, 1, 1, 0, 0, 0, 0, 0])  # fmt: skip
PLACEBO = [1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23]
"""Freireich et al. 1963 (in Cox & Oakes 1984): weeks in remission, both arms; from memory."""


def rows(name: str) -> list[dict[str, str]]:
    with (REFERENCE / name).open(encoding="utf-8") as file:
        file.readline()
        return list(csv.DictReader(file))


def lives() -> dict[str, tuple[list[float], list[bool]]]:
    found: dict[str, tuple[list[float], list[bool]]] = defaultdict(lambda: ([], []))
    for row in rows("life_data.csv"):
        found[row["dataset"]][0].append(float(row["time"]))
        found[row["dataset"]][1].append(row["event"] == "1")
    return found


LIVES = lives()
FITS = rows("life_weibull_fits.csv")


@pytest.mark.parametrize("dataset", sorted(LIVES))
def test_kaplan_meier_is_that_of_r(dataset: str) -> None:
    curve = kaplan_meier(*LIVES[dataset])
    at = {t: (s, lo, hi) for t, s, lo, hi in zip(curve.shots, curve.survival, curve.low, curve.high, strict=True)}
    wanted = [row for row in rows("life_kaplan_meier.csv") if row["dataset"] == dataset]
    assert wanted
    for row in wanted:
        survival, low, high = at[float(row["time"])]
        assert survival == pytest.approx(float(row["survival"]), abs=1e-9)
        if 0.0 < survival < 1.0:
            assert low == pytest.approx(float(row["loglog_lower95_r"]), abs=2e-6)
            assert high == pytest.approx(float(row["loglog_upper95_r"]), abs=2e-6)


def test_kaplan_meier_is_that_of_the_nist_handbook() -> None:
    """NIST/SEMATECH e-Handbook 8.2.1.5: each factor (n - 1) / n as printed there."""
    curve = kaplan_meier(*LIVES["nist_km_20"])
    survival = dict(zip(curve.shots, curve.survival, strict=True))
    product = 1.0
    published = json.loads(next(row for row in FITS if row["dataset"] == "nist_km_20")["published"])["km_factors"]
    for time, factor in published.items():
        up, down = map(int, factor.split("/"))
        product *= up / down
        assert survival[float(time)] == pytest.approx(product, abs=1e-12)


@pytest.mark.parametrize("row", FITS, ids=lambda row: row["dataset"])
def test_weibull_fit_and_its_intervals_are_those_of_r(row: dict[str, str]) -> None:
    fit = weibull(*LIVES[row["dataset"]])
    z = 1.959963984540054
    shape, scale = float(row["shape"]), float(row["scale"])
    assert fit.shape.value == pytest.approx(shape, rel=5e-6)
    assert fit.scale.value == pytest.approx(scale, rel=5e-6)
    assert fit.log_likelihood == pytest.approx(float(row["loglik"]), abs=1e-6)
    assert fit.b10.value == pytest.approx(float(row["b10"]), rel=1e-5)
    assert fit.b50.value == pytest.approx(float(row["b50"]), rel=1e-5)
    assert fit.scale.high == pytest.approx(scale * exp(z * float(row["se_mu"])), rel=1e-4)
    assert fit.shape.low == pytest.approx(shape * exp(-z * float(row["se_log_sigma"])), rel=1e-4)
    sigma, w = 1.0 / shape, log(-log(0.9))
    se_mu, se_log = float(row["se_mu"]), float(row["se_log_sigma"])
    variance = se_mu**2 + (w * sigma * se_log) ** 2 + 2.0 * w * sigma * float(row["cov_mu_log_sigma"])
    assert fit.b10.low == pytest.approx(float(row["b10"]) * exp(-z * sqrt(variance)), rel=1e-3)


def test_weibull_fit_is_that_of_the_nist_handbook() -> None:
    """NIST/SEMATECH e-Handbook 8.4.1.3: shape 1.7208, scale 606.5280, log-likelihood -75.135."""
    fit = weibull(*LIVES["nist_weibull_20"])
    assert fit.shape.value == pytest.approx(1.7208, abs=5e-5)
    assert fit.scale.value == pytest.approx(606.528, abs=1e-3)
    assert fit.log_likelihood == pytest.approx(-75.135, abs=5e-4)


def log_rank(times: list[float], failed: list[bool], group: list[str]) -> float:
    """Two groups: (sum of observed less expected)^2 over the hypergeometric variance."""
    first, difference, variance = group[0], 0.0, 0.0
    for time in sorted({t for t, f in zip(times, failed, strict=True) if f}):
        at_risk = [g for t, g in zip(times, group, strict=True) if t >= time]
        died = [g for t, f, g in zip(times, failed, group, strict=True) if t == time and f]
        n, n1, d, d1 = len(at_risk), at_risk.count(first), len(died), died.count(first)
        difference += d1 - d * n1 / n
        if n > 1:
            variance += d * (n1 / n) * (1 - n1 / n) * (n - d) / (n - 1)
    return difference**2 / variance


def test_comparison_is_the_log_rank_test() -> None:
    times = [float(t) for t in (*SIXMP[0], *PLACEBO)]
    failed = [bool(e) for e in SIXMP[1]] + [True] * len(PLACEBO)
    group = ["6-MP"] * len(SIXMP[0]) + ["placebo"] * len(PLACEBO)
    found = compare("arm", times, failed, group)
    assert found.statistic == pytest.approx(log_rank(times, failed, group), rel=1e-9)
    assert found.statistic == pytest.approx(16.79, abs=0.01)  # as published for these data, from memory
    assert found.p == pytest.approx(4.2e-5, rel=0.02)


def test_comparison_finds_nothing_between_halves_of_one_population() -> None:
    rng = np.random.default_rng(7)
    times = (60.0 * rng.weibull(2.0, 60)).tolist()
    assert compare("batch", times, [True] * 60, ["a", "b"] * 30).p > 0.05


def test_too_few_failures_give_no_distribution() -> None:
    with pytest.raises(NotEnoughShots, match="given 2"):
        weibull([10, 20, 30, 40], [True, True, False, False])
    with pytest.raises(NotEnoughShots, match="different length"):
        weibull([10, 10, 10, 40], [True, True, True, False])
    with pytest.raises(NotEnoughShots, match="given none"):
        kaplan_meier([], [])
    with pytest.raises(NotEnoughShots, match="1 groups"):
        compare("design", [1, 2], [True, True], ["a", "a"])


def test_a_life_of_no_sound_shot_does_not_stop_the_fit() -> None:
    fit = weibull([0, 20, 35, 50], [True, True, True, False])
    assert 0 < fit.b10.value < fit.b50.value < fit.scale.value * 2


def test_censoring_lengthens_the_estimate() -> None:
    """Code that takes an insert pulled sound for a failure would give the shorter life."""
    shots = [30.0, 42.0, 55.0, 60.0, 60.0, 60.0]
    censored = weibull(shots, [True, True, True, False, False, False])
    assert censored.b50.value > 1.1 * weibull(shots, [True] * 6).b50.value


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.filterwarnings("ignore")  # of what it calls in pandas
def test_all_three_are_those_of_the_survival_library(seed: int) -> None:
    """Lives with ties, lives of nothing, many censored or few, in two to five groups."""
    library = pytest.importorskip("lifelines")
    from lifelines.statistics import multivariate_logrank_test

    rng = np.random.default_rng(seed)
    n = int(rng.integers(6, 50))
    ends, pulled = np.round(40.0 * rng.weibull(rng.uniform(0.6, 5.0), n)), np.round(rng.uniform(0.0, 90.0, n))
    shots, failed = np.minimum(ends, pulled).tolist(), (ends <= pulled).tolist()
    groups = [f"batch {g}" for g in rng.integers(0, 2 + seed % 4, n)]

    curve, theirs = kaplan_meier(shots, failed), library.KaplanMeierFitter().fit(shots, failed)
    limits = theirs.confidence_interval_.to_numpy().T
    assert list(curve.shots) == theirs.survival_function_.index.to_list()
    assert curve.survival == pytest.approx(theirs.survival_function_.to_numpy()[:, 0], abs=1e-12)
    assert (curve.low, curve.high) == (pytest.approx(limits[0], abs=1e-12), pytest.approx(limits[1], abs=1e-12))

    fit, fitted = weibull(shots, failed), library.WeibullFitter().fit(np.maximum(shots, 0.5), failed)
    assert (fit.shape.value, fit.scale.value) == pytest.approx((fitted.rho_, fitted.lambda_), rel=2e-5)
    assert fit.log_likelihood == pytest.approx(fitted.log_likelihood_, abs=1e-8)
    spread = np.sqrt(np.diag(fitted.variance_matrix_)) / (fitted.lambda_, fitted.rho_)
    for interval, sd in zip((fit.scale, fit.shape), spread, strict=True):
        assert log(interval.high / interval.value) == pytest.approx(1.959963984540054 * sd, rel=2e-5)

    found, test = compare("batch", shots, failed, groups), multivariate_logrank_test(shots, groups, failed)
    assert (found.statistic, found.p) == pytest.approx((test.test_statistic, test.p_value), rel=1e-9)


@pytest.mark.parametrize("seed", range(3))
def test_curve_and_shape_are_those_of_scipy_to_the_last_bit(seed: int) -> None:
    random = np.random.default_rng(seed)
    for n in (1, 3, 30):
        lives = random.integers(0, 40, n).astype(float)
        for share in (0.0, 0.4, 1.0):
            failed = random.random(n) < share
            found = ecdf(CensoredData(lives[failed], right=lives[~failed])).sf
            curve = kaplan_meier(lives.tolist(), failed.tolist())
            with warnings.catch_warnings(), np.errstate(all="ignore"):
                warnings.simplefilter("ignore")
                limits = found.confidence_interval(0.95, method="log-log")
            since = len(curve.shots) - len(found.quantiles)
            assert curve.shots[since:] == tuple(found.quantiles)
            assert curve.survival[since:] == tuple(found.probabilities)
            for mine, theirs in ((curve.low, limits.low), (curve.high, limits.high)):
                ends = np.where(np.isnan(theirs.probabilities), found.probabilities, theirs.probabilities)
                assert mine[since:] == tuple(ends)
    for low, high, at in random.uniform((0.1, 2.0, 0.3), (0.2, 9.0, 1.9), (20, 3)).tolist():
        wave = partial(_wave, at)
        assert root(wave, low, high, 1e-12) == brentq(wave, low, high, xtol=1e-12, rtol=1e-12)


def _wave(at: float, x: float) -> float:
    return (x - at) ** 3 + 0.1 * log(x / at)
