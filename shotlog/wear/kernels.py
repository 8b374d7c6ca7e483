"""The inner loops of the call, compiled: a shot through the filter, and the weighing of every onset x hypothesis.

They are plain loops over small arrays, thousands of numbers a shot; written with NumPy the calls themselves would cost
more than the arithmetic. Compiled code is kept beside this file (or in the user's cache folder), so only the first use
on a machine waits for the compiler. Strict arithmetic (no reordering of sums): the same shots give the same numbers.
"""

from collections.abc import Callable
from typing import Any, TypeVar, cast

import numba
import numpy as np
from numpy.typing import NDArray

__all__ = ["integrate", "open_onset", "predict", "screen", "screen_spread", "take_in"]

FAR = 11.0
"""A hypothesis whose log weight lies further than this below the best is left out."""

F = NDArray[np.float64]
Index = NDArray[np.int64]

Kernel = TypeVar("Kernel", bound=Callable[..., Any])


def _compiled(kernel: Kernel) -> Kernel:
    return cast(Kernel, numba.njit(cache=True)(kernel))


@_compiled
def predict(
    h: F, ar: F, slow: float, wander: F, mean: F, cov: F, ahead: F, ph: F, expected: F, variance: F, reading: float
) -> None:
    """Fill `ahead` (p, K, K), `ph` (p, K), `expected` and `variance` (p,) with what the next shot is expected to be.

    `h` (p, K): loading; the last two states are the short-term noise, which fades by `ar` (p,), and the wander, by
    `slow`. `mean` (p, K) and `cov` (p, K, K) are left as they are.
    """
    p, k = mean.shape
    for c in range(p):
        a, s = ar[c], slow
        for i in range(k):
            for j in range(k):
                value = cov[c, i, j]
                if i == k - 2:
                    value *= a
                elif i == k - 1:
                    value *= s
                if j == k - 2:
                    value *= a
                elif j == k - 1:
                    value *= s
                ahead[c, i, j] = value
        ahead[c, k - 2, k - 2] += 1.0 - a * a
        ahead[c, k - 1, k - 1] += wander[c] * (1.0 - s * s)
        total, at = 0.0, 0.0
        for i in range(k):
            product = 0.0
            for j in range(k):
                product += ahead[c, i, j] * h[c, j]
            ph[c, i] = product
            total += product * h[c, i]
            faded = mean[c, i]
            if i == k - 2:
                faded *= a
            elif i == k - 1:
                faded *= s
            at += faded * h[c, i]
        expected[c], variance[c] = at, total + reading


@_compiled
def take_in(
    n: int,
    z: F,
    seen: NDArray[np.bool_],
    h: F,
    ar: F,
    slow: float,
    mean: F,
    cov: F,
    ahead: F,
    ph: F,
    expected: F,
    variance: F,
    inverse: F,
    onset: Index,
    shapes: F,
    grown: F,
    clip: float,
    response: F,
    score: F,
    info: F,
    spread: F,
) -> float:
    """Take shot `n` into mean and covariance and into the sums of every onset; return its log likelihood.

    `response` (p, K, shapes, T), `score` (p, shapes, T), `info` (p (p + 1) / 2, shapes, T), `spread` (3, p, rates, T)
    are updated in place. `shapes` (shapes, longest), `grown` (2, rates, longest): tables over the k-th affected shot.
    """
    p, k = mean.shape
    n_shapes, t = score.shape[1], score.shape[2]
    longest = shapes.shape[1] - 1
    u, root, usual = np.empty(p), np.empty(p), np.empty(p)
    nu = np.empty((p, n_shapes, t))
    affected = np.empty(t, np.int64)
    for j in range(t):
        affected[j] = min(n - onset[j] + 1, longest)
    for c in range(p):
        root[c] = np.sqrt(variance[c])
        innovation = z[c] - expected[c] if seen[c] else 0.0
        u[c] = innovation / root[c]
        gain = np.zeros(k)
        for i in range(k):
            if seen[c]:
                gain[i] = ph[c, i] / variance[c]
            faded = mean[c, i]
            if i == k - 2:
                faded *= ar[c]
            elif i == k - 1:
                faded *= slow
            mean[c, i] = faded + gain[i] * innovation
            for j in range(k):
                cov[c, i, j] = ahead[c, i, j] - gain[i] * ph[c, j]
        for s in range(n_shapes):
            for j in range(t):
                response[c, k - 2, s, j] *= ar[c]
                response[c, k - 1, s, j] *= slow
                nu[c, s, j] = shapes[s, affected[j]]
            for i in range(k):
                if h[c, i] != 0.0:
                    for j in range(t):
                        nu[c, s, j] -= h[c, i] * response[c, i, s, j]
            if seen[c]:
                for i in range(k):
                    for j in range(t):
                        response[c, i, s, j] += gain[i] * nu[c, s, j]
                for j in range(t):
                    nu[c, s, j] /= root[c]
            else:
                for j in range(t):
                    nu[c, s, j] = 0.0
    fit = 0.0
    for c in range(p):
        usual[c] = 0.0
        for d in range(p):
            usual[c] += inverse[c, d] * u[d]
        fit += u[c] * usual[c]
    pair = 0
    for c in range(p):
        for s in range(n_shapes):
            for j in range(t):
                score[c, s, j] += nu[c, s, j] * usual[c]
        for d in range(c, p):
            factor = inverse[c, d] * (1.0 if c == d else 2.0)
            if factor != 0.0:
                for s in range(n_shapes):
                    for j in range(t):
                        info[pair, s, j] += nu[c, s, j] * nu[d, s, j] * factor
            pair += 1
    logs = 0.0
    for c in range(p):
        if not seen[c]:
            continue
        logs += np.log(root[c])
        clipped = min(max(u[c], -clip), clip)
        for r in range(grown.shape[1]):
            for j in range(t):
                share = grown[1, r, affected[j]]
                kept = 1.0 - 2.0 * share
                ramp = nu[c, 2, j]
                spread[0, c, r, j] += clipped * clipped * share - grown[0, r, affected[j]]
                spread[1, c, r, j] += clipped * ramp * kept
                spread[2, c, r, j] += ramp * ramp * kept
    return -0.5 * fit - logs


@_compiled
def open_onset(
    n: int,
    onset: Index,
    span: F,
    recent: int,
    middle: int,
    old: int,
    middle_step: int,
    old_step: int,
    response: F,
    score: F,
    info: F,
    spread: F,
) -> None:
    """Start the hypothesis of an onset at shot `n` in a slot of its own, thinning out old ones."""
    slot = -1
    for j in range(len(onset)):
        age = n - onset[j]
        if (
            onset[j] < 0
            or age >= old
            or (age >= recent and onset[j] % middle_step != 0)
            or (age >= middle and onset[j] % old_step != 0)
        ):
            onset[j] = -1
            slot = j if slot < 0 else slot
        span[j] = old_step if age >= middle else middle_step if age >= recent else 1.0
    onset[slot], span[slot] = n, 1.0
    response[..., slot] = 0.0
    score[..., slot] = 0.0
    info[..., slot] = 0.0
    spread[..., slot] = 0.0


@_compiled
def log_phi(x: float) -> float:
    """Return the logarithm of the normal distribution function, to 0.02 for x > -3 (logistic form)."""
    y = -1.5976 * x - 0.07056 * x * x * x
    return float(-(max(y, 0.0) + np.log1p(np.exp(-abs(y)))))


@_compiled
def studentised(gain: float, dof: float) -> float:
    """Return a log likelihood ratio whose spread rests on `dof` degrees of freedom, as in a t statistic."""
    return 0.5 * (dof + 1.0) * np.log1p(2.0 / dof * gain) if gain > 0.0 else gain


@_compiled
def screen(
    score: F,
    info: F,
    weight: F,
    direction: F,
    pairs: F,
    shape: Index,
    cause: Index,
    share: F,
    factors: F,
    dof: float,
    a: F,
    b: F,
) -> float:
    """Fill a = d'S and b = d'I d, both (rows, T); return an upper bound of the summed weight of all hypotheses.

    `weight` (T,): prior of an onset there. `share` (rows,): prior share of a row. `factors` (causes, T): what logged
    events make of it, empty for nothing. The bound takes the likelihood ratio at the best size.
    """
    m, p = direction.shape
    t = len(weight)
    total = 0.0
    for row in range(m):
        s = shape[row]
        for j in range(t):
            a[row, j] = 0.0
            b[row, j] = 1e-9
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
                    mass *= np.exp(min(studentised(gain, dof), 600.0))
            total += mass
    return total


@_compiled
def screen_spread(
    spread: F,
    weight: F,
    channel: Index,
    cause: Index,
    share: F,
    factors: F,
    dof: float,
    mu: float,
    width: float,
    out: F,
) -> float:
    """Fill `out` (causes, 2 x rates, T) with the log weight of a growing spread, alone and with a falling ramp.

    With spread g and ramp a: -sum log g / 2 + sum u^2 (1 - 1/g) / 2 + a A - a^2 B / 2. Return the sum of weights.
    """
    n_rates, t = spread.shape[2], spread.shape[3]
    total = 0.0
    for i in range(len(channel)):
        c = channel[i]
        for j in range(t):
            mass = weight[j] * share[i] / (2.0 * n_rates)
            if len(factors):
                mass *= factors[cause[i], j]
            for r in range(n_rates):
                if mass == 0.0:
                    out[i, r, j], out[i, n_rates + r, j] = -np.inf, -np.inf
                    continue
                alone = spread[0, c, r, j]
                precision = spread[2, c, r, j] + width**-2
                size = (mu / width**2 - spread[1, c, r, j]) / precision
                both = alone + 0.5 * (size * size * precision - (mu / width) ** 2)
                both += log_phi(size * np.sqrt(precision)) - 0.5 * np.log(precision * width**2)
                out[i, r, j] = studentised(alone, dof) + np.log(mass)
                out[i, n_rates + r, j] = studentised(both, dof) + np.log(mass)
                total += np.exp(min(out[i, r, j], 600.0)) + np.exp(min(out[i, n_rates + r, j], 600.0))
    return total


@_compiled
def integrate(
    a: F,
    b: F,
    weight: F,
    share: F,
    factors: F,
    spread: F,
    n: int,
    onset: Index,
    shape: Index,
    cause: Index,
    direction: F,
    spread_cause: Index,
    shapes: F,
    first_gradual: int,
    dof: float,
    mu: F,
    width: F,
    tails: F,
    joint: F,
    reach: F,
    by_cause: F,
    by_onset: F,
    effect: F,
    slope: F,
) -> tuple[float, float, float, float]:
    """Second pass: integrate over sizes, for the hypotheses whose bound is not far below the best.

    Fill `joint` (log weight, -inf where not looked at) and `reach` (size now), both (rows, T), and the sums of weights
    by cause and onset. `mu`, `width` (priors, shapes): normal priors of the size, cut at zero, of log share `tails`
    (priors,); a wider one counts only for sizes out of reach of the first. `effect`, `slope` (p,): weighted change now,
    and per shot. Return the largest log weight, the sum of all weights, of the gradual ones, and of a growing spread,
    each times exp(-largest).
    """
    m, t = a.shape
    longest = shapes.shape[1] - 1
    best, top = -np.inf, -np.inf
    log_weight = np.log(weight)
    log_factor = np.log(factors)
    from_phi = np.empty(mu.shape)
    for q in range(len(tails)):
        for s in range(mu.shape[1]):
            from_phi[q, s] = tails[q] - log_phi(mu[q, s] / width[q, s]) - np.log(width[q, s])
    for row in range(m):
        log_share = np.log(share[row])
        for j in range(t):
            joint[row, j] = log_weight[j] + log_share
            if len(factors):
                joint[row, j] += log_factor[cause[row], j]
            gain = 0.5 * a[row, j] * a[row, j] / b[row, j] if a[row, j] > 0.0 else 0.0
            reach[row, j] = studentised(gain, dof) if gain > 2.0 else gain
            top = max(top, joint[row, j] + reach[row, j])
    for row in range(m):
        s = shape[row]
        for j in range(t):
            if joint[row, j] + reach[row, j] <= top - FAR:
                joint[row, j], reach[row, j] = -np.inf, 0.0
                continue
            ratio = -np.inf
            for q in range(len(tails)):
                w, centre = width[q, s], mu[q, s]
                precision = b[row, j] + w**-2
                size = (a[row, j] + centre / w**2) / precision
                if q > 0 and size < mu[0, s] + 2.0 * width[0, s]:
                    continue
                gain = studentised(0.5 * (size * size * precision - (centre / w) ** 2), dof)
                one = gain - 0.5 * np.log(precision) + log_phi(size * np.sqrt(precision)) + from_phi[q, s]
                if one > ratio:
                    ratio, reach[row, j] = one + np.log1p(np.exp(ratio - one)), max(size, 0.0)
                else:
                    ratio += np.log1p(np.exp(one - ratio))
            joint[row, j] += ratio
            best = max(best, joint[row, j])
    for i in range(spread.shape[0]):
        best = max(best, spread[i].max())
    total, gradual, wide = 0.0, 0.0, 0.0
    for row in range(m):
        s = shape[row]
        for j in range(t):
            if joint[row, j] == -np.inf:
                continue
            mass, size = np.exp(joint[row, j] - best), reach[row, j]
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
                mass = np.exp(spread[i, r, j] - best)
                wide += mass
                by_cause[spread_cause[i]] += mass
                by_onset[j] += mass
    total += wide
    for c in range(len(effect)):
        effect[c] /= total
        slope[c] /= total
    return best, total, gradual + wide, wide
