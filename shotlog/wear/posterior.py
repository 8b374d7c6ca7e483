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
    """What the shots say about a change; shares sum to 1.

    `log_odds` of a change against none. `by_cause` (n_causes,). `onsets`, `by_onset`: ascending shots on the insert and their shares.
    `log_ratio`, `best_onset`, `effects`: by cause, the best row's log likelihood ratio with its prior share, its onset, its change
    at the last shot in sigma (p,). `effect`, `slope` (p,): mean fitted change at the last shot, and per shot, in sigma. `gradual`:
    share of shapes that go on growing.
    """

    log_odds: float
    by_cause: F
    onsets: NDArray[np.int64]
    by_onset: F
    log_ratio: F
    best_onset: NDArray[np.int64]
    effects: Mapping[int, F]
    effect: F
    slope: F
    gradual: float


@dataclass(frozen=True, slots=True)
class _Screen:
    """First pass: per shape, S'd (m, T), d'I d (m, T) and an upper bound of the joint log weight (m, T)."""

    products: list[tuple[F, F, F]]
    spread: F
    bound: float
    top: float


def _studentised(gain: F, dof: float) -> F:
    return np.asarray(0.5 * (dof + 1) * np.log1p((2.0 / dof) * gain))


def _screen(sums: Sums, hyp: Hypotheses, dof: float, prior: F, factors: F | None) -> _Screen:
    products, top, total = [], -np.inf, 0.0
    logs = None if factors is None else np.log(factors)
    for rows in hyp.rows:
        a = rows.direction @ sums.score[:, rows.shape]
        b = rows.pairs @ sums.info[:, rows.shape]
        positive = np.maximum(a, 0.0)
        bound = _studentised(0.5 * positive * positive / np.maximum(b, 1e-9), dof)
        bound += rows.log_share + prior
        if logs is not None:
            bound += logs[rows.cause]
        products.append((a, b, bound))
        top = max(top, float(bound.max()))
    spread = sums.spread[hyp.spread_channel]
    spread = np.where(spread > 0, _studentised(np.maximum(spread, 0.0), dof), spread)
    spread = spread + hyp.spread_log_share[:, None, None] - np.log(spread.shape[1]) + prior
    if logs is not None:
        spread += logs[hyp.spread_cause][:, None, :]
    top = max(top, float(spread.max(initial=-np.inf)))
    if np.isfinite(top):
        total = sum(float(np.exp(bound - top).sum()) for _, _, bound in products) + float(np.exp(spread - top).sum())
    return _Screen(products, spread, top + float(np.log(total)) if total > 0 else -np.inf, top)


def weigh(
    sums: Sums, hyp: Hypotheses, n: int, dof: float, first_onset: int, factors: F | None, at_least: float
) -> Posterior | float:
    """Weigh every hypothesis after shot `n`; where the log odds cannot reach `at_least`, return an upper bound of them instead.

    `first_onset`: earlier ones are left out. `factors`: (n_causes, T) prior factors from logged events, None for 1. The bound
    puts the best size in place of the integral over sizes; it saves the second pass on nearly every shot of a healthy life.
    """
    with np.errstate(divide="ignore"):
        prior = np.where(sums.onsets >= first_onset, np.log(HAZARD * sums.span), -np.inf)
    screen = _screen(sums, hyp, dof, prior, factors)
    if screen.bound < at_least:
        return screen.bound
    return _integrate(sums, hyp, n, dof, screen)


def _integrate(sums: Sums, hyp: Hypotheses, n: int, dof: float, screen: _Screen) -> Posterior:
    """Second pass: the integral over sizes, for the hypotheses whose bound is within e^-15 of the best."""
    p, t = len(sums.score), len(sums.onsets)
    by_cause, by_onset, effect, slope, steady = np.zeros(len(hyp.names)), np.zeros(t), np.zeros(p), np.zeros(p), 0.0
    log_ratio, best_onset = np.full(len(hyp.names), -np.inf), np.zeros(len(hyp.names), dtype=np.int64)
    effects: dict[int, F] = {}
    now, before = shape_values(n - sums.onsets + 1), shape_values(n - sums.onsets) * (n > sums.onsets)
    for rows, (a, b, bound) in zip(hyp.rows, screen.products, strict=True):
        row, slot = np.nonzero(bound > screen.top - 15.0)
        if not len(row):
            continue
        mu, width = _MU[rows.shape], _WIDTH[rows.shape]
        precision = b[row, slot] + width**-2
        size = (a[row, slot] + mu / width**2) / precision
        gain = 0.5 * (size * size * precision - (mu / width) ** 2)
        gain = np.where(gain > 0, _studentised(np.maximum(gain, 0.0), dof), gain)
        ratio = gain - 0.5 * np.log(precision * width**2) + _log_phi(size * np.sqrt(precision)) - _log_phi(np.array(mu / width))
        positive = np.maximum(a[row, slot], 0.0)
        best_size = _studentised(0.5 * positive * positive / np.maximum(b[row, slot], 1e-9), dof)
        joint = bound[row, slot] - best_size + ratio
        mass = np.exp(joint - screen.top)
        np.add.at(by_cause, rows.cause[row], mass)
        np.add.at(by_onset, slot, mass)
        amount = mass * np.maximum(size, 0.0)
        effect += (amount * now[rows.shape, slot]) @ rows.direction[row]
        if rows.shape >= 2:
            slope += (amount * (now - before)[rows.shape, slot]) @ rows.direction[row]
        else:
            steady += float(mass.sum())
        for cause in np.unique(rows.cause[row]).tolist():
            members = np.flatnonzero(rows.cause[row] == cause)
            i = members[int(np.argmax(joint[members]))]
            if joint[i] > log_ratio[cause]:
                log_ratio[cause], best_onset[cause] = joint[i], sums.onsets[slot[i]]
                effects[cause] = rows.direction[row[i]] * max(float(size[i]), 0.0) * now[rows.shape, slot[i]]
    _add_spread(sums, hyp, screen, by_cause, by_onset, log_ratio, best_onset)
    total = max(float(by_cause.sum()), 1e-300)
    order = np.argsort(sums.onsets, kind="stable")
    order = order[sums.onsets[order] > 0]
    return Posterior(
        screen.top + float(np.log(total)),
        by_cause / total,
        sums.onsets[order],
        by_onset[order] / total,
        log_ratio,
        best_onset,
        effects,
        effect / total,
        slope / total,
        1.0 - steady / total,
    )


def _add_spread(
    sums: Sums, hyp: Hypotheses, screen: _Screen, by_cause: F, by_onset: F, log_ratio: F, best_onset: NDArray[np.int64]
) -> None:
    for at, cause in enumerate(hyp.spread_cause.tolist()):
        mass = np.exp(screen.spread[at] - screen.top)
        by_cause[cause] += mass.sum()
        by_onset += mass.sum(axis=0)
        highest = float(screen.spread[at].max())
        if highest > log_ratio[cause]:
            log_ratio[cause] = highest
            best_onset[cause] = sums.onsets[int(screen.spread[at].max(axis=0).argmax())]
