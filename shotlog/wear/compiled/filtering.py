"""A shot through the filter of every channel, and through the responses of every hypothesis to it."""

import math

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.compiled.compiler import compiled

__all__ = [
    "Ages",
    "Ahead",
    "Bank",
    "Curves",
    "Fade",
    "Known",
    "Looks",
    "load",
    "open_onset",
    "predict",
    "student_weight",
    "take_in",
    "unknown",
]

F = NDArray[np.float64]
Index = NDArray[np.int64]


Curves = tuple[F, F, F, F, bool, bool, float, float]
"""(warm, paused, rewarming, now, pooled, waited, age, pace): what the loading of a shot is made from.

`warm` (N_WARM,), `paused` (N_PAUSE,): columns of the shot. `rewarming` (p, N_WARM): warm-up along which an insert
reheats, `now` (N_WARM,): its columns since the pause; used where `pooled`, else two plain exponentials. `waited`:
there was a pause. `age`: shots since the first. `pace`: how far the rhythm is from the usual one, as a log ratio.
"""

Fade = tuple[F, float]
"""(ar, slow): what is left of the short-term noise, by channel (p,), and of the wander, from the last shot to this one.
"""

Known = tuple[F, F, F, F]
"""(mean, cov, wander, tails): what is known of every channel apart from faults: `mean` (p, K) and `cov` (p, K, K) of
its states, the last four being ageing per shot, what the rhythm does, the short-term noise, and the wander, which has
the variance `wander` (p,); `tails` (p,): inverse degrees of freedom of its noise.
"""

Ahead = tuple[F, F, F, F, F]
"""(loading, cov, gained, expected, variance): what the next shot is expected to be: `loading` (p, K) of the states,
their `cov` (p, K, K), `gained` (p, K) = cov x loading, `expected` value and `variance` (p,).
"""

Looks = tuple[F, F, float, float, float]
"""(shapes, grown, mu, width, clip): what a fault looks like over the k-th affected shot: `shapes` (shapes, longest),
`grown` spread (rates, longest).

`mu`, `width`: size prior of a ramp. `clip`: innovations beyond it count as that in a growing spread.
"""

Bank = tuple[Index, F, F, F, F, Index, F, F]
"""(onset, span, response, score, info, watched, falling, spread): the onsets kept and their sums, in T slots.

`onset` (T,): -1 for an empty slot. `span` (T,): shots each stands for. `response` (p, K, shapes, T), `score` (p,
shapes, T), `info` (p (p + 1) / 2, shapes, T). Of the `watched` channels (s,) `falling` (2, s, T), score and
information of a ramp in that channel alone, and `spread` (2, s, rates, T), log likelihood ratios of a spread that
grows, without and with a falling ramp.
"""

Ages = tuple[int, int, int, int, int]
"""(recent, middle, old, middle_step, old_step): which onsets are kept: every one younger than `recent`, every
`middle_step`-th younger than `middle`, every `old_step`-th younger than `old`; in shots.
"""


@compiled
def load(curves: Curves, h: F) -> None:
    """Fill the loading `h` (p, K) of a shot: level 1, warm-up, after-pause curves, age, pace, noise and wander 1."""
    warm, paused, rewarming, now, pooled, waited, age, pace = curves
    p, k = h.shape
    w = len(warm)
    for c in range(p):
        h[c, 0] = 1.0
        for i in range(w):
            h[c, 1 + i] = warm[i]
        for i in range(len(paused)):
            h[c, 1 + w + i] = paused[i] if waited else 0.0
        if waited and pooled:
            total = 0.0
            for i in range(w):
                total += rewarming[c, i] * now[i]
            h[c, 2 + w] = total
        h[c, k - 4], h[c, k - 3] = age, pace
        h[c, k - 2], h[c, k - 1] = 1.0, 1.0


@compiled
def predict(curves: Curves, fade: Fade, known: Known, to: Ahead, reading: float) -> None:
    """Fill `to` with what the next shot is expected to be; `known` is left as it is. `reading`: reading noise."""
    ar, slow = fade
    mean, cov, wander, _ = known
    h, ahead, ph, expected, variance = to
    load(curves, h)
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


@compiled
def student_weight(square: float, tails: float) -> float:
    """Return what a squared innovation counts for where noise has 1 / `tails` degrees of freedom: 1 or less.

    It then adds to the evidence of a lasting change of its own size what it does in Student's t of spread 1, which is
    (nu + 1) log(1 + u^2 / (nu - 2)) / 2 in place of u^2 / 2, and its variance in the filter is wider by 1 / weight. A
    far value counts for less, and never for less than a nearer one, so a change that lasts is not lost (Agamennoni,
    Nieto & Nebot 2012, from memory, weigh by what is left of a fit).
    """
    if tails <= 0.0 or square < 1.0:
        return 1.0
    return float(min((1.0 / tails + 1.0) * math.log1p(square / (1.0 / tails - 2.0)) / square, 1.0))


@compiled
def _weigh_innovations(
    z: F, seen: NDArray[np.bool_], inverse: F, expected: F, variance: F, tails: F, u: F, usual: F
) -> float:
    """Widen the `variance` of what lies far off, by itself or from what the other channels make of it; return the sum
    of the log standard deviations before that. `u` and `usual` (p,) are overwritten.
    """
    logs = 0.0
    for c in range(len(z)):
        u[c] = (z[c] - expected[c]) / math.sqrt(variance[c]) if seen[c] else 0.0
    for c in range(len(z)):
        if seen[c]:
            logs += 0.5 * math.log(variance[c])
            apart = 0.0
            for d in range(len(z)):
                apart += inverse[c, d] * u[d]
            usual[c] = max(u[c] * u[c], apart * apart / inverse[c, c])
    for c in range(len(z)):
        if seen[c]:
            variance[c] /= student_weight(usual[c], tails[c])
    return logs


@compiled
def _take_in_spread(u: float, ramp: F, affected: Index, looks: Looks, falling: F, spread: F) -> None:
    """Take one innovation into the sums of a growing spread, see `take_in`. One odd shot must not pass for a spread."""
    _, grown, mu, width, clip = looks
    clipped = min(max(u, -clip), clip)
    for j in range(len(ramp)):
        precision = falling[1, j] + 1.0 / (width * width)
        size = (falling[0, j] - mu / (width * width)) / precision
        own = 1.0 + ramp[j] * ramp[j] / precision
        left = min(max((u - size * ramp[j]) / math.sqrt(own), -clip), clip)
        for r in range(len(grown)):
            more = grown[r, affected[j]] - 1.0
            spread[0, r, j] += 0.5 * (clipped * clipped * more / (1.0 + more) - math.log(1.0 + more))
            more /= own
            spread[1, r, j] += 0.5 * (left * left * more / (1.0 + more) - math.log(1.0 + more))
        falling[0, j] += u * ramp[j]
        falling[1, j] += ramp[j] * ramp[j]


@compiled
def take_in(
    n: int, z: F, seen: NDArray[np.bool_], inverse: F, fade: Fade, known: Known, ahead: Ahead, looks: Looks, bank: Bank
) -> float:
    """Take shot `n` into mean and covariance and into the sums of every onset; return its log likelihood.

    `z` (p,): values, of the channels `seen` (p,). `inverse` (p, p): inverse correlation of those. `known` and `bank`
    are updated in place. A spread that grows is looked for in the innovations, and in what the ramp fitted before this
    shot leaves of them.
    """
    ar, slow = fade
    mean, cov, _, tails = known
    h, next_cov, ph, expected, variance = ahead
    onset, _, response, score, info, watched, falling, spread = bank
    shapes, _, _, _, _ = looks
    p, k = mean.shape
    n_shapes, t = score.shape[1], score.shape[2]
    longest = shapes.shape[1] - 1
    u, root, usual = np.empty(p), np.empty(p), np.empty(p)
    nu = np.empty((p, n_shapes, t))
    affected = np.empty(t, np.int64)
    for j in range(t):
        affected[j] = min(n - onset[j] + 1, longest)
    logs = _weigh_innovations(z, seen, inverse, expected, variance, tails, u, usual)
    for c in range(p):
        innovation = z[c] - expected[c] if seen[c] else 0.0
        root[c] = math.sqrt(variance[c])
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
                cov[c, i, j] = next_cov[c, i, j] - gain[i] * ph[c, j]
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
                    if gain[i] != 0.0:
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
    for i in range(len(watched)):
        c = watched[i]
        if seen[c]:
            _take_in_spread(u[c], nu[c, 2], affected, looks, falling[:, i], spread[:, i])
    return -0.5 * fit - logs


@compiled
def open_onset(n: int, bank: Bank, ages: Ages) -> None:
    """Start the hypothesis of an onset at shot `n` in a slot of its own, thinning out old ones."""
    onset, span, response, score, info, _, falling, spread = bank
    recent, middle, old, middle_step, old_step = ages
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
    falling[..., slot] = 0.0
    spread[..., slot] = 0.0


@compiled
def unknown(h: F, cov: F, first: int, last: int, most: float) -> bool:
    """Return whether what the states `first` to `last` - 1 add to a shot has a variance above `most` somewhere."""
    for c in range(len(h)):
        variance = 0.0
        for i in range(first, last):
            for j in range(first, last):
                variance += h[c, i] * cov[c, i, j] * h[c, j]
        if variance > most:
            return True
    return False
