"""Survival statistics with right censoring: Kaplan-Meier, Weibull, log-rank.

The one place that uses the survival library. The library is heavy to load (seconds) and calls pandas in a way that
pandas warns about; both are kept inside this module: it is loaded when first asked, and only its own calls run without
warnings.
"""

import warnings
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from importlib import import_module
from math import exp, log, sqrt
from typing import Any

from shotlog.errors import NotEnoughShots

__all__ = ["Comparison", "Curve", "Interval", "WeibullLife", "compare", "kaplan_meier", "weibull"]

LEAST_FAILURES = 3
"""Fewer failures than this fix no shape (judgement; a statistician would ask for more)."""

_NO_SHOT = 0.5
"""A life of no sound shot counts as half a shot: a Weibull life is positive."""


@dataclass(frozen=True, slots=True)
class Interval:
    """An estimate and its 95 % interval."""

    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Curve:
    """Kaplan-Meier estimate: after `shots[i]`, a share `survival[i]` lives, with a 95 % interval (log-log)."""

    shots: tuple[float, ...]
    survival: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]
    n: int
    n_failed: int


@dataclass(frozen=True, slots=True)
class WeibullLife:
    """Fitted life distribution, in shots; `b10` and `b50` are the lives that 10 % and 50 % do not reach."""

    shape: Interval
    scale: Interval
    b10: Interval
    b50: Interval
    log_likelihood: float


@dataclass(frozen=True, slots=True)
class Comparison:
    """Log-rank test of one factor: `p` is the chance of so large a difference if the groups lived alike."""

    factor: str
    groups: tuple[str, ...]
    statistic: float
    p: float


@contextmanager
def _library() -> Iterator[Any]:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        library = import_module("lifelines")
        import_module("lifelines.statistics")
        yield library


def kaplan_meier(lives: Sequence[float], failed: Sequence[bool]) -> Curve:
    """Return the Kaplan-Meier curve of lives in shots, those not failed being censored.

    Raises
    ------
    NotEnoughShots
        There is no life.

    References
    ----------
    Kaplan & Meier 1958; interval on the log(-log) scale, Kalbfleisch & Prentice 1980. NIST/SEMATECH e-Handbook 8.2.1.5.
    """
    if not lives:
        raise NotEnoughShots("a survival curve needs at least one life: given none")
    with _library() as library:
        fitted = library.KaplanMeierFitter().fit(list(lives), list(failed))
        table, limits = fitted.survival_function_, fitted.confidence_interval_
    return Curve(
        tuple(float(at) for at in table.index),
        tuple(float(v) for v in table.iloc[:, 0]),
        tuple(float(v) for v in limits.iloc[:, 0]),
        tuple(float(v) for v in limits.iloc[:, 1]),
        len(lives),
        sum(map(bool, failed)),
    )


def weibull(lives: Sequence[float], failed: Sequence[bool]) -> WeibullLife:
    """Fit a Weibull life distribution by maximum likelihood, censored lives included.

    Raises
    ------
    NotEnoughShots
        Fewer than three lives ended by failure, or all at the same shot.

    References
    ----------
    Meeker & Escobar 1998, Statistical Methods for Reliability Data, chapter 8: normal-theory intervals for ln scale,
    ln shape and ln of a quantile (delta method). NIST/SEMATECH e-Handbook 8.4.1.3.
    """
    ended = sum(map(bool, failed))
    if ended < LEAST_FAILURES:
        raise NotEnoughShots(f"a life distribution needs {LEAST_FAILURES} inserts that have gone off: given {ended}")
    if len({life for life, over in zip(lives, failed, strict=True) if over}) == 1:
        raise NotEnoughShots("a life distribution needs lives of different length: all failures came at the same shot")
    with _library() as library:
        try:
            fitted = library.WeibullFitter().fit([max(life, _NO_SHOT) for life in lives], list(failed))
        except library.exceptions.ConvergenceError as error:
            raise NotEnoughShots(f"no life distribution fits these {len(lives)} lives") from error
        scale, shape = float(fitted.lambda_), float(fitted.rho_)
        covariance = fitted.variance_matrix_.to_numpy()
        likelihood = float(fitted.log_likelihood_)
    var_log_scale = float(covariance[0, 0]) / scale**2
    var_log_shape = float(covariance[1, 1]) / shape**2
    cov_logs = float(covariance[0, 1]) / (scale * shape)

    def quantile(share: float) -> Interval:
        w = log(-log(1.0 - share)) / shape
        variance = var_log_scale + w**2 * var_log_shape - 2.0 * w * cov_logs
        return _around(scale * exp(w), variance)

    return WeibullLife(
        _around(shape, var_log_shape), _around(scale, var_log_scale), quantile(0.1), quantile(0.5), likelihood
    )


def _around(value: float, variance_of_log: float) -> Interval:
    reach = exp(1.959963984540054 * sqrt(max(variance_of_log, 0.0)))
    return Interval(value, value / reach, value * reach)


def compare(factor: str, lives: Sequence[float], failed: Sequence[bool], groups: Sequence[str]) -> Comparison:
    """Test whether the groups of a factor live alike (log-rank, any number of groups).

    Raises
    ------
    NotEnoughShots
        There are not two groups, or nothing has failed.

    References
    ----------
    Mantel 1966; Peto & Peto 1972 (from memory); as `survdiff` of the R package survival.
    """
    names = tuple(dict.fromkeys(groups))
    if len(names) < 2 or not any(failed):
        raise NotEnoughShots(f"a comparison by {factor} needs two groups and a failure: given {len(names)} groups")
    with _library() as library:
        found = library.statistics.multivariate_logrank_test(list(lives), list(groups), list(failed))
        return Comparison(factor, names, float(found.test_statistic), float(found.p_value))
