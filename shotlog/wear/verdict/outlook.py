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
from shotlog.wear.compiled.passage import Before, Beside, Found, Way, passage, pooled_time, ways
from shotlog.wear.constants import (
    COURSE_APART,
    COURSE_AT,
    COURSE_OTHERWISE,
    COURSE_POWERS,
    COURSE_WIDTH,
    HORIZON,
    LEAST_ROOM,
    LEAST_WAY,
    LEFT_SHARES,
    NEAREST,
    RAMP_SIZE,
    RAMP_TIMES,
)
from shotlog.wear.level.baseline import Prior
from shotlog.wear.life.ends import Ends
from shotlog.wear.life.half import HalfState
from shotlog.wear.life.worn import COURSES, courses_since

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


def reached(life: HalfState, rooms: Mapping[str, Room], ends: Ends, n: int) -> tuple[list[float | None], float] | None:
    """Return the shots after shot `n` at which the chance to be good falls below each of LEFT_SHARES, None for beyond
    the horizon, and the chance to be bad at the next shot; None where no change is followed or no channel has room
    ahead of it.
    """
    prior, filt, call = life.stretch.prior, life.stretch.filter, life.call
    found = None if call is None else courses_since(life.stretch, call.at)
    if found is None or prior is None or filt is None or not rooms:
        return None
    onsets, spans, fit = found
    drift, (_, variance) = filt.drift()[0], filt.level(n)
    made = float(life.made + n)
    lives = (ends.kept.scale, ends.kept.shape) if ends.kept is not None else (0.0, 1.0)
    beside: Beside = (ends.shots + made, ends.sudden, made, *lives)
    out = np.full((len(rooms), len(_SHARES) + 1), -1.0)
    for i, (name, room) in enumerate(_nearest(rooms, prior.channels, fit, n, onsets)):
        c, sign = prior.channels.index(name), 1.0 if room.up else -1.0
        way, count = _way(fit, spans, c, room, n - onsets + 1, _before(name, room, ends, prior))
        given = (room.now, sign * float(drift[c]), float(variance[c])) if room.given else (room.sound, 0.0, 0.0)
        passage(*given, n - 1.0, way, count, COURSES, beside, _SHARES, HORIZON, out[i])
    first = np.where(out < 0.0, np.inf, out)[:, :-1].min(axis=0, initial=np.inf)
    return [float(k) if np.isfinite(k) else None for k in first], float(out[:, -1].max())


def _nearest(
    rooms: Mapping[str, Room], channels: tuple[str, ...], fit: Courses, n: int, onsets: NDArray[np.int64]
) -> list[tuple[str, Room]]:
    """Return the channels that may be the first at their limit: not those that have come a fraction as near to it.

    All of them where the likeliest course leads none there.
    """
    j = int(fit.evidence.argmax())
    age = n - int(onsets[j // len(COURSES)]) + 1
    # after a gap of tens of thousands of shots the change is older than any table is long
    grown = float(COURSES[j % len(COURSES), min(max(age, 1), COURSES.shape[1] - 1)])
    share = {
        name: (1.0 if room.up else -1.0) * float(fit.size[j, channels.index(name)]) * grown / max(room.sound, 1e-6)
        for name, room in rooms.items()
    }
    most = max(share.values(), default=0.0)
    return [(name, room) for name, room in rooms.items() if most <= 0.0 or share[name] >= NEAREST * most]


def _before(name: str, room: Room, ends: Ends, prior: Prior) -> Before:
    """Return what is known of a channel's way to its limit before its shots are looked at."""
    c = prior.channels.index(name)
    sound, sigma = max(room.sound, LEAST_ROOM), float(prior.sigma[c])
    times, shares = [(np.log(sound / RAMP_SIZE), RAMP_TIMES**2)], [1.0]
    rates = ends.rates.get((name, room.up))
    if rates is not None:
        times.append(pooled_time(*rates, _POWERS, float(np.log(sound * sigma)), COURSE_AT, np.array(times[0]), _APART))
        shares = [COURSE_OTHERWISE, 1.0 - COURSE_OTHERWISE]
    mean = np.array([np.log(sound) - _POWERS * (middle - np.log(COURSE_AT)) for middle, _ in times])
    return ends.log_share, np.log(shares), mean, np.array([_POWERS * wide**0.5 for _, wide in times])


def _way(fit: Courses, spans: F, c: int, room: Room, since: NDArray[np.int64], before: Before) -> tuple[Way, int]:
    """Return what may lead channel `c` to its limit, and how many of it count."""
    sign, most = 1.0 if room.up else -1.0, 2 * len(fit.evidence)
    drifted = fit.drifted[c] * float(room.given)
    pulled = fit.pulled[c] * float(room.given)
    found: Found = (since, spans, sign * fit.size[:, c], fit.variance[:, c].copy(), fit.evidence, pulled, drifted)
    way: Way = (np.empty(most, dtype=np.int64), np.empty(most, dtype=np.int64), *np.empty((5, most)))
    return way, ways(found, before, COURSE_WIDTH, LEAST_WAY, way)
