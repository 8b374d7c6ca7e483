"""When a wear that is followed reaches a limit: every course it may take, as its own shots and its sisters have it.

For each onset and course the shots say how fast each channel goes (`change.past`); how fast, and by which course,
sisters wore is known beforehand (`life.ends`), and where none has, wide. The nearest limit of any channel ends the
insert: the courses of its channels are one and the same, so the worst counts.

References
----------
A path with a random rate, learnt from units before it and updated by the unit's own: Lu & Meeker 1993, Technometrics
35, 161; with a Wiener process about it Si, Wang, Hu & Zhou 2013, Mech. Syst. Signal Process. 35, 219; with a gamma
process van Noortwijk 2009, Reliab. Eng. Syst. Saf. 94, 2 (all from memory).
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.change.past import Courses
from shotlog.wear.compiled.passage import Beside, Way, passage, pooled_time, settle
from shotlog.wear.constants import (
    COURSE_APART,
    COURSE_AT,
    COURSE_OTHERWISE,
    COURSE_POWERS,
    COURSE_WIDTH,
    HORIZON,
    LEFT_SHARES,
    NEAREST,
    RAMP_SIZE,
    RAMP_TIMES,
)
from shotlog.wear.life.ends import Ends
from shotlog.wear.life.half import HalfState
from shotlog.wear.life.worn import COURSES, STAYS, courses_since

__all__ = ["Room", "reached"]

F = NDArray[np.float64]

_POWERS, _SHARES = np.array(COURSE_POWERS), np.array(LEFT_SHARES)
_APART = np.array(COURSE_APART)


@dataclass(frozen=True, slots=True)
class Room:
    """How far a channel may go one way, in spreads: `sound` from where it was before the change, `now` from what the
    filter takes for its level. `given`: the limit was, so the level's own ageing and error count; a derived one goes
    with the level.
    """

    up: bool
    sound: float
    now: float
    given: bool


def reached(life: HalfState, rooms: Mapping[str, Room], ends: Ends, n: int) -> list[float | None] | None:
    """Return the shots after shot `n` at which the chance to be good falls below each of LEFT_SHARES; None in the list
    for beyond the horizon, None at all where no change is followed or no channel has room ahead of it.
    """
    prior, filt, call = life.stretch.prior, life.stretch.filter, life.call
    found = None if call is None else courses_since(life.stretch, call.at)
    if found is None or prior is None or filt is None:
        return None
    onsets, spans, fit = found
    drift, (_, variance) = filt.drift()[0], filt.level(n)
    made = float(life.made + n)
    lives = (ends.kept.scale, ends.kept.shape) if ends.kept is not None else (0.0, 1.0)
    beside: Beside = (ends.shots + made, ends.sudden, made, *lives)
    out = np.full((len(rooms), len(_SHARES)), -1.0)
    for i, (name, room) in enumerate(_nearest(rooms, prior.channels, fit, n, onsets)):
        c, sign = prior.channels.index(name), 1.0 if room.up else -1.0
        way = _way(fit, spans, c, room, ends, onsets, n, name, float(prior.sigma[c]))
        given = (room.now, sign * float(drift[c]), float(variance[c])) if room.given else (room.sound, 0.0, 0.0)
        passage(*given, n - 1.0, way, COURSES, beside, _SHARES, HORIZON, out[i])
    first = np.where(out < 0.0, np.inf, out).min(axis=0, initial=np.inf)
    return [float(k) if np.isfinite(k) else None for k in first] if len(rooms) else None


def _nearest(
    rooms: Mapping[str, Room], channels: tuple[str, ...], fit: Courses, n: int, onsets: NDArray[np.int64]
) -> list[tuple[str, Room]]:
    """Return the channels that may be the first at their limit: not those that have come a fraction as near to it."""
    j = int(fit.evidence.argmax())
    age = n - int(onsets[j // len(COURSES)]) + 1
    grown = float(COURSES[j % len(COURSES), max(age, 1)])
    share = {
        name: (1.0 if room.up else -1.0) * float(fit.size[j, channels.index(name)]) * grown / max(room.sound, 1e-6)
        for name, room in rooms.items()
    }
    most = max(share.values(), default=0.0)
    return [(name, room) for name, room in rooms.items() if share[name] >= NEAREST * most]


def _way(
    fit: Courses, spans: F, c: int, room: Room, ends: Ends, onsets: NDArray[np.int64], n: int, name: str, sigma: float
) -> Way:
    """Return what may lead channel `c` to its limit, likelier courses only."""
    kinds, sign = len(COURSES), 1.0 if room.up else -1.0
    sound = max(room.sound, 1e-3)
    base = fit.evidence.reshape(-1, kinds) + spans[:, None] + ends.log_share
    grows = (slice(None), slice(STAYS + 1, None))
    size = np.ascontiguousarray((sign * fit.size[:, c]).reshape(-1, kinds)[grows]).ravel()
    variance = np.ascontiguousarray(fit.variance[:, c].reshape(-1, kinds)[grows]).ravel()
    open_ = np.array([np.log(sound / RAMP_SIZE), RAMP_TIMES**2])
    rates = ends.rates(name, room.up)
    both = [(open_, np.log(COURSE_OTHERWISE))] if len(rates[0]) else [(open_, 0.0)]
    if len(rates[0]):
        pooled = pooled_time(*rates, _POWERS, float(np.log(sound * sigma)), COURSE_AT, open_, _APART)
        both.append((np.array(pooled), np.log(1.0 - COURSE_OTHERWISE)))
    log_weight, log_rate, spread = [base[:, STAYS]], [np.zeros(len(base))], [np.ones(len(base))]
    for (mean, wide), log_share in both:
        before = np.tile(np.log(sound) - _POWERS * (mean - np.log(COURSE_AT)), len(base))
        gain, rate, sd = np.empty((3, len(before)))
        settle(size, variance, COURSE_WIDTH, before, np.tile(_POWERS * wide**0.5, len(base)), gain, rate, sd)
        log_weight.append(base[grows].ravel() + gain + log_share)
        log_rate.append(rate)
        spread.append(sd)
    weights = np.concatenate(log_weight)
    weights = np.exp(weights - weights.max())
    at = np.flatnonzero(weights > 1e-3)
    place = np.concatenate([np.arange(len(base)) * kinds, *[_growing(len(base), kinds)] * len(both)])[at]
    pulled, drifted = (fit.pulled[c][place], fit.drifted[c][place]) if room.given else np.zeros((2, len(at)))
    since = n - onsets[place // kinds] + 1
    weight = weights[at] / weights[at].sum()
    return place % kinds, since, weight, np.concatenate(log_rate)[at], np.concatenate(spread)[at], pulled, drifted


def _growing(onsets: int, kinds: int) -> NDArray[np.int64]:
    return np.arange(onsets * kinds).reshape(onsets, kinds)[:, STAYS + 1 :].ravel()
