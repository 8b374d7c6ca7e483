"""The shot at which the chance that an insert is still good falls below a share.

A course moves a channel by rate x shape, the rate known as a log-normal mixture over onsets and shapes. Shot noise does
not pass a limit, the level does: the limit is not reached within k shots if the rate is too low for it.
"""

import math

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.compiled.compiler import compiled

__all__ = ["Beside", "Way", "passage", "pooled_time", "settle"]

F = NDArray[np.float64]
Index = NDArray[np.int64]

Way = tuple[Index, Index, F, F, F, F, F]
"""(course, since, weight, log_rate, spread, pulled, drifted): what may lead one channel to its limit, (m,) each.

`course`: row of the table of courses, `since`: shots that it has gone on. `weight`, sum 1. `log_rate` of the course,
normal with `spread`. `pulled`, `drifted`: see `change.past`.
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
def settle(size: F, variance: F, width: float, mean: F, spread: F, gain: F, log_rate: F, sd: F) -> None:
    """Fill, for h courses, how much likelier a log-normal prior of the rate makes each (`gain`) and its rate then.

    `size`, `variance` (h,): normal, found with a normal prior about 0 of `width`, which is taken back. `mean`,
    `spread` (h,): of the log rate before looking. Laplace's approximation about the likeliest rate.
    """
    for j in range(len(size)):
        precision, back = 1.0 / variance[j] - 1.0 / (width * width), 1.0 / (spread[j] * spread[j])
        precision = max(precision, 1e-9)
        likely = size[j] / variance[j] / precision
        x = mean[j] if likely <= 0.0 else math.log(likely)
        weight = precision * likely * likely if likely > 0.0 else 0.0
        x = (x * weight + mean[j] * back) / (weight + back)
        for _ in range(12):
            rate = math.exp(x)
            slope = precision * (rate - likely) * rate + (x - mean[j]) * back
            step = slope / (precision * rate * max(rate, 2.0 * rate - likely) + back)
            x -= min(max(step, -1.0), 1.0)
        rate = math.exp(x)
        curved = max(precision * rate * (2.0 * rate - likely) + back, back)
        fit = -0.5 * precision * (rate - likely) * (rate - likely) + 0.5 * precision * likely * likely
        taken = 0.5 * size[j] * size[j] / variance[j] + 0.5 * math.log(variance[j]) - math.log(width)
        gain[j] = (
            fit - 0.5 * (x - mean[j]) * (x - mean[j]) * back - 0.5 * math.log(curved) - math.log(spread[j]) - taken
        )
        log_rate[j], sd[j] = x, 1.0 / math.sqrt(curved)


@compiled
def _good(k: int, room: float, drift: float, wide: float, age: float, way: Way, courses: F, beside: Beside) -> float:
    """Return the chance that the insert is good after `k` more shots, by one channel."""
    course, since, weight, log_rate, spread, pulled, drifted = way
    shots, sudden, made, scale, shape = beside
    stays, worn, left, longest = 0.0, 0.0, room - k * drift, courses.shape[1] - 1
    for i in range(len(course)):
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
    courses: F,
    beside: Beside,
    shares: F,
    horizon: int,
    out: F,
) -> None:
    """Fill `out` (as long as `shares`) with the first k at which the chance to be good is at most a share, -1 for none.

    `room`: from the filter's level to the limit, in the direction of the change, > 0; `drift`: what the ageing takes of
    it a shot; `wide`: variance of the level. `age`: of the insert in shots, from 0. `courses`: the table, course 0
    does not grow.
    """
    for s in range(len(shares)):
        low, high = -1, horizon + 1  # above its share at low, not at high
        while high - low > 1:
            k = (low + high) // 2
            if _good(k, room, drift, wide, age, way, courses, beside) <= shares[s]:
                high = k
            else:
                low = k
        out[s] = -1.0 if high > horizon else float(high)
