"""Survival statistics with right censoring: Kaplan-Meier, Weibull, log-rank.

Some sums and a root: SciPy has the first, in a library that takes longer to load than a review of a day takes to read
(with this, the same to the last bit); it fits a Weibull life only roughly, without saying how well it is known, and
compares two groups only. The tests hold all three against R, the NIST handbook, SciPy and the survival library that was
used before, which would bring a quarter of all that has to be installed.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, isnan, log, sqrt

import numpy as np
from numpy.typing import NDArray

from shotlog.errors import NotEnoughShots
from shotlog.review.root import root

__all__ = ["Comparison", "Curve", "Interval", "WeibullLife", "compare", "kaplan_meier", "weibull"]

LEAST_FAILURES = 3
"""Fewer failures than this fix no shape (judgement; a statistician would ask for more)."""

Floats = NDArray[np.float64]

_NORMAL = 1.959963984540054
"""The share of a normal distribution below it is 0.975: 95 % lie as near."""

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
    times, each = np.unique(np.asarray(lives, dtype=float), return_inverse=True)
    over = np.asarray(failed, dtype=bool)
    at_risk = len(lives) - np.searchsorted(np.sort(np.asarray(lives, dtype=float)), times)
    died = np.bincount(each[over], minlength=len(times))
    alive = 1 - np.cumsum(died) / len(lives) if over.all() else np.cumprod((at_risk - died) / at_risk)
    with np.errstate(divide="ignore", invalid="ignore"):  # where there is no interval
        spread = _NORMAL * np.sqrt(1 / np.log(alive) ** 2 * np.cumsum(died / (at_risk * (at_risk - died))))
        middle = np.log(-np.log(alive))
        ends = np.exp(-np.exp(middle + spread)), np.exp(-np.exp(middle - spread))
    shots, curves = times.tolist(), [one.tolist() for one in (alive, *ends)]
    if shots[0] > 0.0:
        shots, curves = [0.0, *shots], [[1.0, *curve] for curve in curves]
    survival, low, high = curves
    # while all live, and when none does
    low, high = ([s if isnan(v) else v for v, s in zip(end, survival, strict=True)] for end in (low, high))
    return Curve(tuple(shots), tuple(survival), tuple(low), tuple(high), len(lives), int(over.sum()))


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
    logs: Floats = np.log(np.maximum(np.asarray(lives, dtype=float), _NO_SHOT))
    over = np.asarray(failed, dtype=bool)
    shape = _shape(logs, float(logs[over].mean()))
    top = float(logs.max())
    log_scale = top + log(float(np.exp(shape * (logs - top)).sum()) / ended) / shape
    # u = ln of the cumulated hazard at the end of each life; these sums are the second derivatives of the likelihood
    u = shape * (logs - log_scale)
    hazard = np.exp(u)
    likelihood = ended * log(shape) + float((u - logs)[over].sum()) - ended
    about_scale, about_shape = ended * shape**2, ended + float((u * u * hazard).sum())
    about_both = -shape * float((u * hazard).sum())
    worth = about_scale * about_shape - about_both**2
    var_log_scale, var_log_shape, cov_logs = about_shape / worth, about_scale / worth, -about_both / worth
    scale = exp(log_scale)

    def quantile(share: float) -> Interval:
        w = log(-log(1.0 - share)) / shape
        variance = var_log_scale + w**2 * var_log_shape - 2.0 * w * cov_logs
        return _around(scale * exp(w), variance)

    return WeibullLife(
        _around(shape, var_log_shape), _around(scale, var_log_scale), quantile(0.1), quantile(0.5), likelihood
    )


def _shape(logs: Floats, mean_failed: float) -> float:
    """Return the likeliest shape: where the mean of ln lives, weighed by life to the shape, is that of the failed ones
    and 1 / shape more. It rises with the shape, from below to above, so there is one.
    """
    below_top = logs - logs.max()

    def excess(shape: float) -> float:
        weights = np.exp(shape * below_top)
        return float(np.average(logs, weights=weights)) - 1.0 / shape - mean_failed

    low, high = 1.0, 1.0
    while excess(low) > 0.0:
        low /= 2.0
    while excess(high) < 0.0:
        high *= 2.0
    return root(excess, low, high, 1e-12) if low < high else low


def _around(value: float, variance_of_log: float) -> Interval:
    reach = exp(_NORMAL * sqrt(max(variance_of_log, 0.0)))
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
    from scipy.special import chdtrc

    times, over, n = np.asarray(lives, dtype=float), np.asarray(failed, dtype=bool), len(names)
    number = {name: at for at, name in enumerate(names)}
    of = np.array([number[name] for name in groups], dtype=np.int64)
    excess, spread = np.zeros(n), np.zeros((n, n))
    for time in np.unique(times[over]):
        at_risk, ended = (np.bincount(of[some], minlength=n) for some in (times >= time, (times == time) & over))
        alive, died, share = at_risk.sum(), ended.sum(), at_risk / at_risk.sum()
        excess += ended - died * share
        if alive > 1:
            spread += died * (alive - died) / (alive - 1) * (np.diag(share) - np.outer(share, share))
    # the excesses come to nothing together: one of them says no more
    statistic = float(excess[:-1] @ np.linalg.pinv(spread[:-1, :-1]) @ excess[:-1])
    return Comparison(factor, names, statistic, float(chdtrc(n - 1, statistic)))
