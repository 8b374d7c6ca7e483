"""From the sums of the filter to weights: how likely is a change, of which cause, since when, how large.

The size of a fault along a direction has a normal prior cut at zero (ramps about 0.2 sigma a shot, steps about 4 sigma: judgement,
wide). Integrated, the log likelihood ratio of a hypothesis is

    E - log(1 + w^2 B)/2 + log Phi(m sqrt(P)) - log Phi(mu/w),   E = ((A + mu/w^2)^2 / P - (mu/w)^2) / 2,   P = B + 1/w^2, m = (A + mu/w^2) / P

with A = d'S, B = d'I d, prior N(mu, w^2) cut at zero (own, by completing the square). Where the spread rests on few shots, E > 0 is
replaced by (nu + 1)/2 log(1 + 2E/nu), as in a t statistic with nu degrees of freedom.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.detector import SHAPE_COUNT, Sums, shape_values
from shotlog.wear.hypotheses import Hypotheses

__all__ = ["HAZARD", "Posterior", "weigh"]

F = NDArray[np.float64]

HAZARD = 1.0 / 80.0
"""Chance per shot that something starts to go wrong: once in a life of about eighty shots."""

_MU = np.array([4.0, 4.0, 0.2, 0.2])
_WIDTH = np.array([2.5, 2.5, 0.13, 0.13])


def _log_phi(x: F) -> F:
    """Return the logarithm of the normal distribution function, to 0.02 for x > -3 (logistic form)."""
    return np.asarray(-np.logaddexp(0.0, -1.5976 * x - 0.07056 * x**3))


@dataclass(frozen=True, slots=True)
class Posterior:
    """`log_odds` of a change against none; shares (they sum to 1) by cause (n,), by onset (T,); `log_ratio` by cause, its best.

    `onsets` (T,) in shots on the insert; `effect` (p,): fitted change at the last shot, in sigma; `slope` (p,): per shot;
    `gradual`: share of shapes that go on growing; `best_onset`: by cause, the likeliest onset.
    """

    log_odds: float
    by_cause: F
    by_onset: F
    onsets: NDArray[np.int64]
    log_ratio: F
    best_onset: NDArray[np.int64]
    effect: F
    slope: F
    gradual: float
    effect_by_cause: Mapping[int, F]


def weigh(sums: Sums, hyp: Hypotheses, n: int, dof: float, first_onset: int, factors: F | None = None) -> Posterior:
    """Weigh every hypothesis after shot `n`.

    `first_onset`: earlier ones are left out. `factors`: (n_causes, T) prior factors from logged events, 1 where None.
    """
    onsets = sums.onsets
    t = len(onsets)
    p = len(sums.score)
    d = hyp.direction
    a = (d @ sums.score.reshape(p, -1)).reshape(-1, SHAPE_COUNT, t)
    outer = (d[:, :, None] * d[:, None, :]).reshape(len(d), -1)
    b = (outer @ sums.info.reshape(p * p, -1)).reshape(-1, SHAPE_COUNT, t)
    mu, width = _MU[:, None], _WIDTH[:, None]
    precision = b + width**-2
    size = (a + mu / width**2) / precision
    gain = 0.5 * (size * size * precision - (mu / width) ** 2)
    gain = np.where(gain > 0, 0.5 * (dof + 1) * np.log1p(2 * np.maximum(gain, 0) / dof), gain)
    ratio = gain - 0.5 * np.log(precision * width**2) + _log_phi(size * np.sqrt(precision)) - _log_phi(mu / width)
    span = np.diff(onsets, append=onsets[-1] + 1).clip(1, 4)
    prior = np.log(HAZARD * span)
    prior = np.where(onsets >= first_onset, prior, -np.inf)
    with np.errstate(divide="ignore"):
        log_share = np.log(hyp.share)
    joint = ratio + log_share[:, :, None] + prior
    if factors is not None:
        joint += np.log(factors)[hyp.cause][:, None, :]
    wide = _spread_terms(sums, hyp, dof, prior, factors)
    top = max(float(joint.max()), float(wide.max(initial=-np.inf)))
    if not np.isfinite(top):
        return _nothing(hyp, onsets, p)
    mass, wide_mass = np.exp(joint - top), np.exp(wide - top)
    total = mass.sum() + wide_mass.sum()
    by_row = mass.sum(axis=(1, 2))
    by_cause = np.bincount(hyp.cause, by_row, len(hyp.names))
    np.add.at(by_cause, hyp.spread_cause, wide_mass.sum(axis=(1, 2)))
    by_onset = mass.sum(axis=(0, 1)) + wide_mass.sum(axis=(0, 1))
    return _summed(hyp, n, onsets, joint, mass, size, by_cause / total, by_onset / total, float(top + np.log(total)), total)


def _spread_terms(sums: Sums, hyp: Hypotheses, dof: float, prior: F, factors: F | None) -> F:
    """Return log weights of a growing spread, shape (n spread causes, rates, T)."""
    if not len(hyp.spread_cause):
        return np.empty((0, 1, len(prior)))
    gain = sums.spread[hyp.spread_channel]
    gain = np.where(gain > 0, 0.5 * (dof + 1) * np.log1p(2 * np.maximum(gain, 0) / dof), gain)
    joint = gain + np.log(hyp.spread_prior / gain.shape[1])[:, None, None] + prior
    if factors is not None:
        joint = joint + np.log(factors)[hyp.spread_cause][:, None, :]
    return np.asarray(joint)


def _summed(
    hyp: Hypotheses, n: int, onsets: NDArray[np.int64], joint: F, mass: F, size: F, by_cause: F, by_onset: F,
    log_odds: float, total: float,
) -> Posterior:
    now = shape_values((n - onsets + 1).astype(float))
    before = shape_values(np.maximum(n - onsets, 0).astype(float)) * (n > onsets)
    amount = mass * np.maximum(size, 0.0) / total
    effect = (amount * now).sum(axis=(1, 2)) @ hyp.direction
    slope = (amount * (now - before))[:, 2:].sum(axis=(1, 2)) @ hyp.direction
    flat = joint.reshape(len(joint), -1)
    best = flat.argmax(axis=1)
    height = flat[np.arange(len(flat)), best]
    log_ratio = np.full(len(hyp.names), -np.inf)
    best_onset = np.zeros(len(hyp.names), dtype=np.int64)
    effects: dict[int, F] = {}
    for row in np.argsort(height, kind="stable"):
        c = int(hyp.cause[row])
        s, t = np.unravel_index(best[row], joint.shape[1:])
        log_ratio[c], best_onset[c] = height[row], onsets[t]
        effects[c] = hyp.direction[row] * max(float(size[row, s, t]), 0.0) * now[s, t]
    gradual = float(mass[:, 2:].sum() / max(mass.sum(), 1e-300))
    return Posterior(log_odds, by_cause, by_onset, onsets.copy(), log_ratio, best_onset, effect, slope, gradual, effects)


def _nothing(hyp: Hypotheses, onsets: NDArray[np.int64], p: int) -> Posterior:
    m = len(hyp.names)
    return Posterior(
        -np.inf, np.zeros(m), np.zeros(len(onsets)), onsets.copy(), np.full(m, -np.inf), np.zeros(m, dtype=np.int64),
        np.zeros(p), np.zeros(p), 0.0, {},
    )
