"""From the sums of the filter to weights: how likely is a change, of which cause, since when, how large.

The size of a fault along a direction has a normal prior cut at zero (ramps about 0.2 sigma a shot, steps about 4 sigma:
judgement, wide). Integrated, the log likelihood ratio of a hypothesis is

    E - log(1 + w^2 B)/2 + log Phi(m sqrt(P)) - log Phi(mu/w),   E = ((A + mu/w^2)^2 / P - (mu/w)^2) / 2,   P = B +
    1/w^2, m = (A + mu/w^2) / P

with A = d'S, B = d'I d, prior N(mu, w^2) cut at zero (own, by completing the square). Where the spread rests on few
shots, E > 0 is replaced by (nu + 1)/2 log(1 + 2E/nu), as in a t statistic with nu degrees of freedom.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.detector import Sums, shape_values
from shotlog.wear.hypotheses import Hypotheses

__all__ = ["DOF_SHARE", "HAZARD", "Details", "Posterior", "weigh"]

F = NDArray[np.float64]

HAZARD = 1.0 / 80.0
"""Chance per shot that something starts to go wrong: once in a life of about eighty shots."""

_NEGLIGIBLE = -14.0
"""Log weight of a hypothesis below which it is not looked at more closely."""

DOF_SHARE = 0.5
"""What each further channel adds to the degrees of freedom: its spread was estimated too, but a change rarely shows in
all.
"""

_MU = np.array([4.0, 4.0, 0.2, 0.2])
_WIDTH = np.array([2.5, 2.5, 0.13, 0.13])


def _log_phi(x: F) -> F:
    """Return the logarithm of the normal distribution function, to 0.02 for x > -3 (logistic form)."""
    return np.asarray(-np.logaddexp(0.0, -1.5976 * x - 0.07056 * x**3))


@dataclass(frozen=True, slots=True)
class Posterior:
    """What the shots say about a change; shares sum to 1.

    `log_odds` of a change against none. `by_cause` (n_causes,). `onsets`, `by_onset`: ascending shots on the insert and
    their shares. `effect`, `slope` (p,): mean fitted change at the last shot, and per shot, in sigma. `gradual`: share
    of shapes that go on growing; `growing_spread`: share of those that show as a growing spread.
    """

    log_odds: float
    by_cause: F
    onsets: NDArray[np.int64]
    by_onset: F
    effect: F
    slope: F
    gradual: float
    growing_spread: float
    details: "Details"


@dataclass(frozen=True, slots=True)
class Details:
    """The hypotheses that count, one entry each: `row` of the table, `onset`, log weight `joint`, fitted `size`,
    `reach` = size x shape now.
    """

    row: NDArray[np.int64]
    onset: NDArray[np.int64]
    joint: F
    reach: F


@dataclass(frozen=True, slots=True)
class _Screen:
    """First pass: S'd and d'I d of every row and onset (m, T), an upper bound of the log weight (m, T), the log weight
    of a growing spread, the largest of them, the logarithm of their sum."""

    a: F
    b: F
    limit: F
    bound: F
    spread: F
    top: float
    total: float


def _studentised(gain: F, dof: float) -> F:
    return np.asarray(0.5 * (dof + 1) * np.log1p((2.0 / dof) * gain))


def _screen(sums: Sums, hyp: Hypotheses, dof: float, prior: F, factors: F | None) -> _Screen:
    m, t = len(hyp.cause), len(prior)
    a, b = np.empty((m, t)), np.empty((m, t))
    for shape, rows in enumerate(hyp.block):
        np.matmul(hyp.direction[rows], sums.score[:, shape], out=a[rows])
        np.matmul(hyp.pairs[rows], sums.info[:, shape], out=b[rows])
    limit = np.maximum(a, 0.0)
    limit *= limit
    limit /= b + b + 1e-9
    limit *= (dof + 1) / dof
    bound = limit + hyp.log_share
    bound += prior
    spread = _spread_terms(sums, hyp, dof) + prior
    if factors is not None:
        logs = np.log(factors)
        bound += logs[hyp.cause]
        spread += logs[hyp.spread_cause][:, None, :]
    near = bound > _NEGLIGIBLE
    if dof < 60:
        exact = _studentised(limit[near] * (dof / (dof + 1)), dof)
        bound[near] += exact - limit[near]
        limit[near] = exact
    top = max(float(bound.max()), float(spread.max(initial=-np.inf)))
    rest = near.size * np.exp(_NEGLIGIBLE)
    total = float(np.exp(bound[near]).sum()) + float(np.exp(spread).sum()) + rest if top < 500 else np.inf
    return _Screen(a, b, limit, bound, spread, top, float(np.log(total)))


def _spread_terms(sums: Sums, hyp: Hypotheses, dof: float) -> F:
    """Return the log weight of a growing spread, alone and with a falling ramp, before the prior over onsets.

    Shape (n spread causes, 2 x rates, T). With spread g and ramp a: -sum log g / 2 + sum u^2 (1 - 1/g) / 2 + a A - a^2
    B / 2.
    """
    alone = sums.spread[hyp.spread_channel]
    mu, width = _MU[2], _WIDTH[2]
    precision = sums.spread_info[hyp.spread_channel] + width**-2
    size = (-sums.spread_score[hyp.spread_channel] + mu / width**2) / precision
    falling = alone + 0.5 * (size * size * precision - (mu / width) ** 2) - 0.5 * np.log(precision * width**2)
    falling += _log_phi(size * np.sqrt(precision))
    both = np.concatenate([alone, falling], axis=1)
    both = np.where(both > 0, _studentised(np.maximum(both, 0.0), dof), both)
    return np.asarray(both + hyp.spread_log_share[:, None, None] - np.log(both.shape[1]))


def weigh(
    sums: Sums, hyp: Hypotheses, n: int, dof: float, first_onset: int, factors: F | None, at_least: float
) -> Posterior | float:
    """Weigh every hypothesis after shot `n`; where the log odds cannot reach `at_least`, return an upper bound of them
    instead.

    `first_onset`: earlier ones are left out. `factors`: (n_causes, T) prior factors from logged events, None for 1. The
    bound puts the best size in place of the integral over sizes; it saves the second pass on nearly every shot of a
    healthy life.
    """
    prior = np.where(sums.onsets >= first_onset, np.log(HAZARD * sums.span), -1e3)
    dof = dof * (1.0 + DOF_SHARE * (len(sums.score) - 1))
    screen = _screen(sums, hyp, dof, prior, factors)
    if screen.total < at_least:
        return screen.total
    return _integrate(sums, hyp, n, dof, screen)


def _integrate(sums: Sums, hyp: Hypotheses, n: int, dof: float, screen: _Screen) -> Posterior:
    """Second pass: the integral over sizes, for the hypotheses whose bound is within e^-15 of the best."""
    row, slot = np.nonzero(screen.bound > screen.top - 15.0)
    shape = hyp.shape[row]
    mu, width = _MU[shape], _WIDTH[shape]
    a, b = screen.a[row, slot], screen.b[row, slot]
    precision = b + width**-2
    size = (a + mu / width**2) / precision
    gain = 0.5 * (size * size * precision - (mu / width) ** 2)
    gain = np.where(gain > 0, _studentised(np.maximum(gain, 0.0), dof), gain)
    ratio = gain - 0.5 * np.log(precision * width**2) + _log_phi(size * np.sqrt(precision)) - _log_phi(mu / width)
    joint = screen.bound[row, slot] - screen.limit[row, slot] + ratio
    mass = np.exp(joint - screen.top)
    by_cause = np.bincount(hyp.cause[row], mass, len(hyp.names)).astype(np.float64)
    by_onset = np.bincount(slot, mass, len(sums.onsets)).astype(np.float64)
    wide = np.exp(screen.spread - screen.top)
    np.add.at(by_cause, hyp.spread_cause, wide.sum(axis=(1, 2)))
    by_onset += wide.sum(axis=(0, 1))
    total = max(float(by_cause.sum()), 1e-300)
    k = n - sums.onsets[slot] + 1
    now, before = shape_values(k)[shape, np.arange(len(k))], shape_values(k - 1)[shape, np.arange(len(k))] * (k > 1)
    amount = mass * np.maximum(size, 0.0) / total
    gradual = shape >= 2
    order = np.argsort(sums.onsets, kind="stable")
    order = order[sums.onsets[order] > 0]
    return Posterior(
        screen.top + float(np.log(total)),
        by_cause / total,
        sums.onsets[order],
        by_onset[order] / total,
        (amount * now) @ hyp.direction[row],
        (amount * (now - before) * gradual) @ hyp.direction[row],
        float((mass * gradual).sum() + wide.sum()) / total,
        float(wide.sum()) / total,
        Details(row, sums.onsets[slot], joint, np.maximum(size, 0.0) * now),
    )
