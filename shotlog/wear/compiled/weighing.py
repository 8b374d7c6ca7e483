"""The weighing of every onset x hypothesis: a quick bound of their sum, and the integral over sizes."""

import math

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.compiled.compiler import compiled

__all__ = ["Found", "Rows", "Screened", "Sizes", "Sums", "Widening", "integrate", "screen", "screen_spread"]

F = NDArray[np.float64]
Index = NDArray[np.int64]


Sums = tuple[Index, F, F, F, Index, F, F]
"""(onsets, span, score, info, watched, falling, spread): what the evidence is computed from, over the slots of onsets
kept (T = 40, in no order).

`onsets` (T,): shot on the insert, -1 for an empty slot. `span` (T,): shots each stands for. `score` S: (p, 4, T).
`info` I: upper triangle over channel pairs, (p (p + 1) / 2, 4, T). `watched` (s,): the channels whose spread may grow.
`falling` (2, s, T): S and I of a ramp in that channel alone. `spread` (2, s, rates, T): log likelihood ratios of a
growing spread, and of one about a falling ramp.
"""

Rows = tuple[Index, Index, F, F, F]
"""(shape, cause, direction, pairs, share): the hypotheses of a change of level, a row each, sorted by shape.

`shape`, `cause` (m,): indices. `direction` (m, p); `pairs` (m, p (p + 1) / 2): its products over channel pairs.
`share` (m,): prior share.
"""

Widening = tuple[Index, Index, F]
"""(channel, cause, share): causes that show as a growing spread: the `channel`, the `cause` and its prior `share`, each
as long.
"""

Screened = tuple[F, F, F, F, F]
"""(weight, a, b, spread, fall): what the screening leaves: `weight` (T,), the prior of an onset there; a = d'S and b =
d'I d, both (rows, T); `spread` (causes, 2 x rates, T), log weight of a growing spread, alone and about a falling ramp,
and `fall` (causes, T), the slope of that ramp, 0 or more.
"""

Sizes = tuple[F, F, F, F, int, float]
"""(mu, width, tails, shapes, first_gradual, far): normal priors of the size, cut at zero, of log share `tails`
(priors,): `mu`, `width` (priors, shapes). A wider one counts only for sizes out of reach of the first. From the shape
`first_gradual` on they go on growing; `shapes` (shapes, longest): over the k-th affected shot. A hypothesis whose log
weight lies further than `far` below the best is left out.
"""

Found = tuple[F, F, F, F, F, F]
"""(joint, reach, by_cause, by_onset, effect, slope): what the weighing finds: log weight `joint` (-inf where not looked
at) and size now `reach`, both (rows, T); sums of weights `by_cause` and `by_onset`; weighted change now `effect`, and
per shot `slope`, (p,).
"""


@compiled
def log_phi(x: float) -> float:
    """Return the logarithm of the normal distribution function, to 0.02 for x > -3.

    References
    ----------
    Bowling, Khasawneh, Kaewkuekool & Cho 2009, A logistic approximation to the cumulative normal distribution, J. Ind.
    Eng. Manag. 2 (from memory).
    """
    y = -1.5976 * x - 0.07056 * x * x * x
    return float(-(max(y, 0.0) + math.log1p(math.exp(-abs(y)))))


@compiled
def studentised(gain: float, dof: float) -> float:
    """Return a log likelihood ratio whose spread rests on `dof` degrees of freedom, as in a t statistic."""
    return 0.5 * (dof + 1.0) * math.log1p(2.0 / dof * gain) if gain > 0.0 else gain


@compiled
def _logs(values: F, to: F) -> None:
    for j in range(len(values)):
        to[j] = math.log(values[j]) if values[j] > 0.0 else -math.inf


@compiled
def screen(
    sums: Sums, first_onset: int, hazard: float, at_first: float, rows: Rows, factors: F, dof: float, out: Screened
) -> float:
    """Fill weight, a and b of `out`; return an upper bound of the summed weight of all hypotheses.

    The prior of an onset is `hazard` for every shot it stands for, `at_first` for the first shot of an insert, none
    before `first_onset`. `factors` (causes, T):
    what logged events make of it, empty for nothing. The bound takes the likelihood ratio at the best size.
    """
    shape, cause, direction, pairs, share = rows
    onset, span, score, info, _, _, _ = sums
    weight, a, b, _, _ = out
    m, p = direction.shape
    t = 0
    for j in range(len(onset)):
        weight[j] = hazard * span[j] if onset[j] >= first_onset else 0.0
        if onset[j] == 1 and weight[j] > 0.0:
            weight[j] = at_first
        if weight[j] > 0.0:
            t = j + 1
    total = 0.0
    for row in range(m):
        s = shape[row]
        a[row] = 0.0
        b[row] = 1e-9
        pair = 0
        for c in range(p):
            if direction[row, c] != 0.0:
                for j in range(t):
                    a[row, j] += direction[row, c] * score[c, s, j]
            for _ in range(c, p):
                if pairs[row, pair] != 0.0:
                    for j in range(t):
                        b[row, j] += pairs[row, pair] * info[pair, s, j]
                pair += 1
        for j in range(t):
            mass = weight[j] * share[row]
            if len(factors):
                mass *= factors[cause[row], j]
            if a[row, j] > 0.0 and mass > 0.0:
                gain = 0.5 * a[row, j] * a[row, j] / b[row, j]
                # exp(x) < 1 + x + x^2 up to 1.79, and most gains of a healthy life are below that
                if gain < 1.79:
                    mass *= 1.0 + gain + gain * gain
                else:
                    mass *= math.exp(min(studentised(gain, dof), 600.0))
            total += mass
    return total


@compiled
def screen_spread(
    sums: Sums, widening: Widening, factors: F, dof: float, mu: float, width: float, screened: Screened
) -> float:
    """Fill spread and fall of `screened`; return the sum of weights.

    The ramp's own likelihood ratio is that of `integrate` for this channel alone; `mu`, `width`: its size prior.
    """
    channel, cause, share = widening
    _, _, _, _, watched, falling, spread = sums
    weight, _, _, out, fall = screened
    n_rates, t = spread.shape[2], spread.shape[3]
    total = 0.0
    for i in range(len(channel)):
        at = 0
        while watched[at] != channel[i]:
            at += 1
        for j in range(t):
            mass = weight[j] * share[i] / (2.0 * n_rates)
            if len(factors):
                mass *= factors[cause[i], j]
            fall[i, j] = 0.0
            if mass == 0.0:
                out[i, :, j] = -math.inf
                continue
            precision = falling[1, at, j] + 1.0 / (width * width)
            size = (mu / (width * width) - falling[0, at, j]) / precision
            fall[i, j] = max(size, 0.0)
            ramp = 0.5 * (size * size * precision - mu / width * (mu / width))
            wide = (
                log_phi(size * math.sqrt(precision)) - log_phi(mu / width) - 0.5 * math.log(precision * (width * width))
            )
            for r in range(n_rates):
                out[i, r, j] = studentised(spread[0, at, r, j], dof) + math.log(mass)
                out[i, n_rates + r, j] = studentised(spread[1, at, r, j] + ramp, dof) + wide + math.log(mass)
                total += math.exp(min(out[i, r, j], 600.0)) + math.exp(min(out[i, n_rates + r, j], 600.0))
    return total


@compiled
def integrate(
    screened: Screened,
    rows: Rows,
    widening: Widening,
    onset: Index,
    n: int,
    factors: F,
    dof: float,
    sizes: Sizes,
    slack: F,
    start: int,
    to: Found,
) -> tuple[float, float, float, float, float]:
    """Second pass, after shot `n`: integrate over sizes, for the hypotheses whose bound is not far below the best.

    `slack` (rows, T): what a hypothesis gains because its direction is not exact, -inf where there is nothing of it.
    A level that is off from the onset `start` on, and does not go on growing, is no change but where the insert
    started; 0 for none. Fill `to`. Return the largest log weight of a change, the sum of all weights, of the gradual
    ones, of a growing spread, and beside them of a start elsewhere, each times exp(-largest).
    """
    weight, a, b, spread, fall = screened
    shape, cause, direction, _, share = rows
    spread_channel, spread_cause, _ = widening
    mu, width, tails, shapes, first_gradual, far = sizes
    joint, reach, by_cause, by_onset, effect, slope = to
    m, t = a.shape
    longest = shapes.shape[1] - 1
    best, top = -math.inf, -math.inf
    log_weight, log_factor = np.empty(t), np.empty(factors.shape)
    _logs(weight, log_weight)
    for row in range(len(factors)):
        _logs(factors[row], log_factor[row])
    from_phi = np.empty(mu.shape)
    for q in range(len(tails)):
        for s in range(mu.shape[1]):
            from_phi[q, s] = tails[q] - log_phi(mu[q, s] / width[q, s]) - math.log(width[q, s])
    for row in range(m):
        log_share = math.log(share[row])
        for j in range(t):
            joint[row, j] = log_weight[j] + log_share
            if len(factors):
                joint[row, j] += log_factor[cause[row], j]
            gain = slack[row, j] + (0.5 * a[row, j] * a[row, j] / b[row, j] if a[row, j] > 0.0 else 0.0)
            reach[row, j] = studentised(gain, dof) if gain > 2.0 else gain
            if onset[j] != start or shape[row] >= first_gradual:
                top = max(top, joint[row, j] + reach[row, j])
    for row in range(m):
        s = shape[row]
        for j in range(t):
            if joint[row, j] + reach[row, j] <= top - far:
                joint[row, j], reach[row, j] = -math.inf, 0.0
                continue
            ratio = -math.inf
            for q in range(len(tails)):
                w, centre = width[q, s], mu[q, s]
                precision = b[row, j] + 1.0 / (w * w)
                size = (a[row, j] + centre / (w * w)) / precision
                if q > 0 and size < mu[0, s] + 2.0 * width[0, s]:
                    continue
                gain = studentised(0.5 * (size * size * precision - centre / w * (centre / w)) + slack[row, j], dof)
                one = gain - 0.5 * math.log(precision) + log_phi(size * math.sqrt(precision)) + from_phi[q, s]
                if one > ratio:
                    ratio, reach[row, j] = one + math.log1p(math.exp(ratio - one)), max(size, 0.0)
                else:
                    ratio += math.log1p(math.exp(one - ratio))
            joint[row, j] += ratio
            if onset[j] != start or s >= first_gradual:
                best = max(best, joint[row, j])
    for i in range(spread.shape[0]):
        for r in range(spread.shape[1]):
            for j in range(t):
                best = max(best, spread[i, r, j])
    total, gradual, wide, began = 0.0, 0.0, 0.0, 0.0
    for row in range(m):
        s = shape[row]
        for j in range(t):
            if joint[row, j] == -math.inf:
                continue
            if onset[j] == start and s < first_gradual:
                began += math.exp(min(joint[row, j] - best, 600.0))
                joint[row, j], reach[row, j] = -math.inf, 0.0
                continue
            mass, size = math.exp(joint[row, j] - best), reach[row, j]
            total += mass
            by_cause[cause[row]] += mass
            by_onset[j] += mass
            k = n - onset[j] + 1
            now = shapes[s, min(k, longest)]
            growth = 0.0
            if s >= first_gradual:
                gradual += mass
                growth = now - (shapes[s, min(k - 1, longest)] if k > 1 else 0.0)
            reach[row, j] = size * now
            for c in range(len(effect)):
                effect[c] += mass * size * now * direction[row, c]
                slope[c] += mass * size * growth * direction[row, c]
    for i in range(spread.shape[0]):
        for r in range(spread.shape[1]):
            for j in range(t):
                mass = math.exp(spread[i, r, j] - best)
                wide += mass
                by_cause[spread_cause[i]] += mass
                by_onset[j] += mass
                if 2 * r >= spread.shape[1] and mass > 0.0:
                    now = shapes[first_gradual, min(n - onset[j] + 1, longest)]
                    effect[spread_channel[i]] -= mass * fall[i, j] * now
                    slope[spread_channel[i]] -= mass * fall[i, j]
    total += wide
    for c in range(len(effect)):
        effect[c] /= total
        slope[c] /= total
    return best, total, gradual + wide, wide, began
