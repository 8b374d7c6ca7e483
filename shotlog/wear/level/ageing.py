"""Ageing: what every insert of a design does from its first shot on, and which is no fault of any one of them.

A trend from the first shot on is fitted beside level and warm-up, and held against what looks like it: a warm-up slower
than those the filter knows, and a wear that begins later in the life. What nearly all of at least three sisters share
becomes normal: mean and spread between lives by empirical Bayes, precision-weighted, the spread shrunk to a default
worth a few lives. One worn sister makes nothing normal: without the life that says most the rest have to say it too.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.constants import (
    AGEING_ALIKE,
    AGEING_LATER,
    AGEING_LIVES,
    AGEING_NEARLY_ALL,
    AGEING_OTHER,
    AGEING_SHARE,
    AGEING_STEADIER,
    AGEING_SURE,
    AGEING_WITHIN,
    AGEING_WORTH,
    SLOWEST_WARM_TAU,
)
from shotlog.wear.level.whitening import beside

__all__ = ["NO_TREND", "Trend", "Trends", "shared", "trend_of", "trend_rivals"]

F = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Trend:
    """How far one channel of a life went a shot, in the channel's unit, and the variance of that for a spread of 1.

    `along` (N_LEVEL,): what becomes of level and warm-up for each unit of trend that is granted. `gains`: log
    likelihood that the trend, and each course that looks like it, adds.
    """

    value: float
    variance: float
    along: F
    gains: F


NO_TREND = Trend(0.0, 1e12, np.zeros(1), np.zeros(2 + len(AGEING_LATER)))
"""Of too few shots to tell."""


def trend_rivals(n: F) -> F:
    """Return the courses of a trend and of what looks like it, (n_shots, courses), the trend first; `n` as counted on
    the insert.
    """
    age = n - 1.0
    later = [
        np.maximum(n - float(np.interp(share * (len(n) - 1), np.arange(len(n)), n)), 0.0) for share in AGEING_LATER
    ]
    return np.column_stack([age, np.exp(-age / SLOWEST_WARM_TAU), *later])


def trend_of(values: F, rivals: F, columns: F, n_level: int, at: int, sigma: float) -> Trend:
    """Fit the trend of one channel to all of its shots, without missing ones; each course beside the columns alone.

    `rivals`: see `trend_rivals`. `columns`: those of the life, level and warm-up first (`n_level`). `at`, `sigma`: its
    noise, see `whitening`.
    """
    left, lost = beside(values, columns, rivals, at)
    gains = 0.5 * left[:-1, -1] ** 2 / np.diagonal(left)[:-1] / sigma**2
    value, variance = float(left[0, -1] / left[0, 0]), float(1.0 / left[0, 0])
    return Trend(value, variance, np.asarray(-lost[:n_level, 0]), np.asarray(gains))


Trends = tuple[F, F]
"""(value, variance) of one channel, by sister, in spreads."""


def shared(trends: Sequence[Trends], gains: F, least: F) -> tuple[F, F]:
    """Return mean and spread of the ageing that sisters share, a shot, by channel; zeros where they share none.

    `gains` (n_sisters, courses): see `Trend`, over all channels. `least`: smallest change of practical size. All in
    spreads. The channel that shows it most clearly decides; what the others do with it is granted as well.
    """
    found = [_alike(one, least[c]) for c, one in enumerate(trends)]
    clearest = max((one for one in found if one is not None), key=lambda one: one.sure, default=None)
    if clearest is None or _steadier(gains[clearest.telling]) < AGEING_STEADIER:
        return np.zeros(len(trends)), np.zeros(len(trends))
    pooled = np.array([_pooled(one or _beside(trends[c])) for c, one in enumerate(found)])
    return pooled[:, 0], pooled[:, 1]


def _steadier(gains: F) -> float:
    """Return by how much a trend is likelier than what looks most like it in each life, the mean over lives."""
    return float((gains[:, 0] - gains[:, 1:].max(axis=1)).mean())


@dataclass(frozen=True, slots=True)
class _Seen:
    """Trends of the sisters that agree; `apart`: how far lives differ unless they show it. `sure`: standard errors of
    what they share, without the life that says most. `telling`: the sisters that could tell.
    """

    value: F
    variance: F
    apart: float
    telling: NDArray[np.bool_]
    sure: float = 0.0


def _centre(value: F, variance: F) -> float:
    """Return the median, each value counting by what it tells."""
    order = np.argsort(value, kind="stable")
    weight = np.cumsum(1.0 / (variance[order] + AGEING_OTHER**2))
    return float(value[order[int(np.searchsorted(weight, 0.5 * weight[-1]))]])


def _alike(trends: Trends, least: float) -> _Seen | None:
    """Return what the sisters share, or None."""
    centre = _centre(*trends)
    telling = np.sqrt(trends[1]) <= abs(centre)
    value, variance = trends[0][telling], trends[1][telling]
    n = len(value)
    if n < AGEING_LIVES or abs(centre) * AGEING_WITHIN < least:
        return None
    near = np.abs(value - centre) <= np.maximum(AGEING_ALIKE * abs(centre), 2.0 * np.sqrt(variance))
    says = np.argsort(-np.sign(centre) * value / variance, kind="stable")
    rest = says[max(1, int(n * (1.0 - AGEING_NEARLY_ALL))) :]
    weight = 1.0 / variance[rest]
    sure = np.sign(centre) * float(weight @ value[rest]) / float(np.sqrt(weight.sum()))
    if near.sum() < max(AGEING_LIVES, AGEING_NEARLY_ALL * n) or sure < AGEING_SURE:
        return None
    return _Seen(value[near], variance[near], AGEING_SHARE * abs(centre), telling, sure)


def _beside(trends: Trends) -> _Seen:
    """Return what a channel does that does not age by itself: one life more, without a trend, shrinks it."""
    value, variance = trends
    near = np.abs(value - _centre(value, variance)) <= 3.0 * np.sqrt(variance + AGEING_OTHER**2)
    return _Seen(np.append(value[near], 0.0), np.append(variance[near], 0.0), AGEING_OTHER, near)


def _pooled(seen: _Seen) -> tuple[float, float]:
    """Return mean and spread for the next life: precision-weighted, the spread between lives shrunk to its default."""
    value, variance = seen.value, seen.variance
    between, mean, weight = seen.apart**2, 0.0, np.ones(1)
    for _ in range(3):
        weight = 1.0 / (variance + between)
        mean = float(weight @ value / weight.sum())
        excess = float(((value - mean) ** 2 - variance).sum())
        between = (AGEING_WORTH * seen.apart**2 + max(excess, 0.0)) / (AGEING_WORTH + max(len(value) - 1, 0))
    return mean, float(np.sqrt(between + 1.0 / weight.sum()))
