"""The shot at which the chance that an insert is still good falls below a share.

A course moves a channel by rate x shape, the rate known as a log-normal mixture over onsets and shapes. Shot noise does
not pass a limit, the level does: the limit is not reached within k shots if the rate is too low for it.
"""

import math

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.compiled.compiler import compiled

__all__ = ["Before", "Beside", "Found", "Way", "passage", "pooled_time", "settle", "ways"]

F = NDArray[np.float64]
Index = NDArray[np.int64]

Way = tuple[Index, Index, F, F, F, F, F]
"""(course, since, weight, log_rate, spread, pulled, drifted): what may lead one channel to its limit, (m,) each.

`course`: row of the table of courses, `since`: shots that it has gone on. `weight`, sum 1. `log_rate` of the course,
normal with `spread`. `pulled`, `drifted`: see `change.past`.
"""

Found = tuple[Index, F, F, F, F, F, F]
"""(since, span, size, variance, evidence, pulled, drifted): what the shots say of one channel. `since` (onsets,): shots
since each, `span` the log of those it stands for; the others (onsets x courses,), see `change.past`, sizes in the
direction of the limit.
"""

Before = tuple[F, F, F, F]
"""(log_share, log_prior, mean, spread): what is known before: `log_share` (courses,) of each; of several priors of the
rate `log_prior` (priors,), and `mean`, `spread` (priors, growing courses) of its log.
"""

Beside = tuple[float, float, float, float, float]
"""(shots, sudden, made, scale, shape): what ends an insert beside its wear: `sudden` breaks in so many `shots`, see
`life.ends`; the Weibull of lives where no course grows, given `made` shots, scale 0 for none.
"""


@compiled
def _phi(x: float) -> float:
    """Return the normal distribution function, to 2e-4, see `weighing.log_phi`."""
    y = min(max(1.5976 * x + 0.07056 * x * x * x, -700.0), 700.0)
    return float(1.0 / (1.0 + math.exp(-y)))


@compiled
def pooled_time(
    log_rate: F, variance: F, share: F, powers: F, log_room: float, at: float, open_: F, apart: F
) -> tuple[float, float]:
    """Return mean and variance of the log of the shots that an insert wears before it has moved by a room.

    `log_rate`, `variance`, `share` (lives, powers): of sisters, see `life.worn`; `at`: the shots at which a course is
    1. `open_`: mean and variance where no sister has shown it. `apart`: how far inserts differ, and what that counts
    for in lives. Normal between lives, mean and spread in turn (empirical Bayes).
    """
    lives, n = share.shape
    times, unsure = np.zeros(lives), np.zeros(lives)
    for j in range(lives):
        for i in range(n):
            times[j] += share[j, i] * (math.log(at) + (log_room - log_rate[j, i]) / powers[i])
        for i in range(n):
            off = math.log(at) + (log_room - log_rate[j, i]) / powers[i] - times[j]
            unsure[j] += share[j, i] * (variance[j, i] / (powers[i] * powers[i]) + off * off)
    if lives == 0:
        return open_[0], open_[1]
    wide, mean, weight = apart[0] * apart[0], open_[0], 0.0
    for _ in range(6):
        weight, total = 1.0 / open_[1], open_[0] / open_[1]
        for j in range(lives):
            one = 1.0 / (wide + unsure[j])
            weight += one
            total += one * times[j]
        mean = total / weight
        left = apart[1] * apart[0] * apart[0]
        for j in range(lives):
            left += max((times[j] - mean) * (times[j] - mean) - unsure[j], 0.0)
        wide = left / (apart[1] + lives - 1.0) if apart[1] + lives > 1.0 else apart[0] * apart[0]
    return mean, wide + 1.0 / weight


@compiled
def settle(size: float, variance: float, width: float, mean: float, spread: float) -> tuple[float, float, float]:
    """Return how much likelier a log-normal prior of the rate makes a course, and the log rate then with its spread.

    `size`, `variance`: normal, found with a normal prior about 0 of `width`, which is taken back. `mean`, `spread`: of
    the log rate before looking. Laplace's approximation about the likeliest rate.
    """
    precision, back = max(1.0 / variance - 1.0 / (width * width), 1e-9), 1.0 / (spread * spread)
    likely = size / variance / precision
    weight = precision * likely * likely if likely > 0.0 else 0.0
    x = ((math.log(likely) if likely > 0.0 else mean) * weight + mean * back) / (weight + back)
    for _ in range(12):
        rate = math.exp(x)
        slope = precision * (rate - likely) * rate + (x - mean) * back
        step = slope / (precision * rate * max(rate, 2.0 * rate - likely) + back)
        x -= min(max(step, -1.0), 1.0)
        if abs(step) < 1e-6:
            break
    rate = math.exp(x)
    curved = max(precision * rate * (2.0 * rate - likely) + back, back)
    fit = 0.5 * precision * (likely * likely - (rate - likely) * (rate - likely))
    taken = 0.5 * size * size / variance + 0.5 * math.log(variance) - math.log(width)
    gain = fit - 0.5 * (x - mean) * (x - mean) * back - 0.5 * math.log(curved) - math.log(spread) - taken
    return gain, x, 1.0 / math.sqrt(curved)


@compiled
def ways(found: Found, before: Before, width: float, least: float, to: Way) -> int:
    """Fill `to` with what may lead a channel to its limit, and return how many: those as likely as `least` times the
    likeliest, weights summing to 1.
    """
    since, span, size, variance, evidence, pulled, drifted = found
    log_share, log_prior, mean, spread = before
    course, ages, weight, log_rate, spreads, pulls, drifts = to
    kinds, m, top, far = len(log_share), 0, -math.inf, math.log(least)
    for at in range(len(evidence)):
        onset, kind = at // kinds, at % kinds
        for q in range(len(log_prior) if kind > 0 else 1):
            gain, rate, sd = 0.0, 0.0, 1.0
            base = evidence[at] + span[onset] + log_share[kind]
            if kind > 0:
                gain, rate, sd = settle(size[at], variance[at], width, mean[q, kind - 1], spread[q, kind - 1])
                gain += log_prior[q]
            if base + gain < top + far:
                continue
            course[m], ages[m], weight[m] = kind, since[onset], base + gain
            log_rate[m], spreads[m], pulls[m], drifts[m] = rate, sd, pulled[at], drifted[at]
            top, m = max(top, base + gain), m + 1
    kept, total = 0, 0.0
    for i in range(m):
        share = math.exp(weight[i] - top)
        if share >= least:
            course[kept], ages[kept], weight[kept] = course[i], ages[i], share
            log_rate[kept], spreads[kept], pulls[kept], drifts[kept] = log_rate[i], spreads[i], pulls[i], drifts[i]
            total, kept = total + share, kept + 1
    for i in range(kept):
        weight[i] /= total
    return kept


@compiled
def _good(
    k: int, room: float, drift: float, wide: float, age: float, way: Way, count: int, courses: F, beside: Beside
) -> float:
    """Return the chance that the insert is good after `k` more shots, by one channel."""
    course, since, weight, log_rate, spread, pulled, drifted = way
    shots, sudden, made, scale, shape = beside
    stays, worn, left, longest = 0.0, 0.0, room - k * drift, courses.shape[1] - 1
    for i in range(count):
        if course[i] == 0:
            stays += weight[i]
            continue
        if left <= 0.0:
            continue
        grown = courses[course[i], min(since[i] + k, longest)] - pulled[i] - (age + k) * drifted[i]
        if grown <= 0.0:
            worn += weight[i]
        else:
            sd = math.sqrt(spread[i] * spread[i] + wide / (left * left))
            worn += weight[i] * _phi((math.log(left / grown) - log_rate[i]) / sd)
    if scale > 0.0:
        stays *= math.exp(math.pow(made / scale, shape) - math.pow((made + k) / scale, shape))
    elif left <= 0.0:
        stays = 0.0
    return float(worn * math.pow(shots / (shots + k), sudden) + stays)


@compiled
def passage(
    room: float,
    drift: float,
    wide: float,
    age: float,
    way: Way,
    count: int,
    courses: F,
    beside: Beside,
    shares: F,
    horizon: int,
    out: F,
) -> None:
    """Fill `out` with the first k at which the chance to be good is at most each of `shares`, -1 for none, and last
    the chance to be bad at the next shot.

    `room`: from the filter's level to the limit, in the direction of the change, > 0; `drift`: what the ageing takes of
    it a shot; `wide`: variance of the level. `age`: of the insert in shots, from 0. `courses`: the table, course 0
    does not grow.
    """
    for s in range(len(shares)):
        # above its share at low, not at high; shares fall
        low, high = (-1 if s == 0 else (horizon if out[s - 1] < 0.0 else int(out[s - 1]) - 1)), horizon + 1
        while high - low > 1:
            k = (low + high) // 2
            if _good(k, room, drift, wide, age, way, count, courses, beside) <= shares[s]:
                high = k
            else:
                low = k
        out[s] = -1.0 if high > horizon else float(high)
    out[len(shares)] = max(1.0 - _good(1, room, drift, wide, age, way, count, courses, beside), 0.0)
