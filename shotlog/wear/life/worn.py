"""How an insert wore, kept for its sisters: by which course, and how fast, in every channel that it moved.

A wear that began `a` shots ago has moved a channel by rate x a^power. Inserts of a design wear by powers of their own
few kinds (a gate that opens slows down, a flash feeds itself) and at rates that differ, so both are learnt from all
lives that wore, whatever they ended at and whether or not they got there. A change that stays what it is (a break, a
lodged piece) is a course of its own, without a rate.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.change.past import Courses
from shotlog.wear.constants import (
    COURSE_AT,
    COURSE_CLEAR,
    COURSE_ONSETS,
    COURSE_POWERS,
    COURSE_STAYS,
    COURSE_WIDTH,
    LONGEST,
)
from shotlog.wear.life.stretch import Stretch

__all__ = ["COURSES", "LOG_PRIOR", "STAYS", "Rate", "Worn", "courses_since", "worn_of"]

F = NDArray[np.float64]
Index = NDArray[np.int64]

STAYS = 0
"""Place of the course that does not grow; the powers follow it."""

_SINCE = np.arange(LONGEST + 1.0)
COURSES = np.array([_SINCE > 0.0, *((_SINCE / COURSE_AT) ** power for power in COURSE_POWERS)])
"""Every course over the k-th affected shot, 0 before it; what grows is 1 at COURSE_AT shots. Shape (courses, shots)."""

LOG_PRIOR = np.log([COURSE_STAYS, *[(1.0 - COURSE_STAYS) / len(COURSE_POWERS)] * len(COURSE_POWERS)])
"""How likely each course is where no sister has shown one."""


@dataclass(frozen=True, slots=True)
class Rate:
    """How fast one channel went, by power: `log` of what it had moved by after COURSE_AT shots, in the channel's unit,
    with its `variance`; `up`: which way.
    """

    up: bool
    log: F
    variance: F


@dataclass(frozen=True, slots=True)
class Worn:
    """How one insert wore: the share of each course, and the rates of the channels that clearly moved."""

    shares: F
    rates: Mapping[str, Rate]


def courses_since(stretch: Stretch, at: int) -> tuple[Index, F, Courses] | None:
    """Return onsets that a change called at shot `at` may have, the log of the shots that each stands for, and how
    every course fits from each of them (an onset after another); None before a baseline.
    """
    filt = stretch.filter
    if filt is None or filt.past.first is None:
        return None
    onsets, spans = _onsets(at, filt.past.first)
    return onsets, spans, filt.past.courses(onsets, COURSES, COURSE_WIDTH)


@lru_cache(maxsize=64)
def _onsets(at: int, first: int) -> tuple[Index, F]:
    """Return the onsets looked at before a call at shot `at`, and the log of the shots that each stands for."""
    onsets = np.array(sorted(at - back for back in COURSE_ONSETS if at - back >= first) or [first], dtype=np.int64)
    before = max(2 * int(onsets[0]) - int(onsets[1]), first - 1) if len(onsets) > 1 else first - 1
    return onsets, np.log(np.diff(onsets, prepend=min(before, int(onsets[0]) - 1)))


def worn_of(stretch: Stretch, at: int) -> Worn | None:
    """Return how an insert wore whose change, called at shot `at`, is followed when it comes out; None before a
    baseline.
    """
    found, prior = courses_since(stretch, at), stretch.prior
    if found is None or prior is None:
        return None
    onsets, spans, fit = found
    log_weight = fit.evidence.reshape(len(onsets), -1) + spans[:, None] + LOG_PRIOR
    weight = np.exp(log_weight - log_weight.max())
    shares = weight.sum(axis=0) / weight.sum()
    grows = np.exp(log_weight - log_weight.max(axis=0))[:, STAYS + 1 :]
    grows /= grows.sum(axis=0)
    size = fit.size.reshape(len(onsets), len(COURSES), -1)[:, 1:]
    variance = fit.variance.reshape(size.shape[0], len(COURSES), -1)[:, 1:]
    likeliest = int(shares[1:].argmax())
    rates = {}
    for c, name in enumerate(prior.channels):
        mean = float(grows[:, likeliest] @ size[:, likeliest, c])
        sd = float(np.sqrt(grows[:, likeliest] @ variance[:, likeliest, c]))
        if abs(mean) < COURSE_CLEAR * sd:
            continue
        moved = np.maximum(np.sign(mean) * size[:, :, c], sd / COURSE_CLEAR)
        each = np.log(moved * prior.sigma[c])
        log = (grows * each).sum(axis=0)
        wide = (grows * (variance[:, :, c] / moved**2 + (each - log) ** 2)).sum(axis=0)
        rates[name] = Rate(mean > 0.0, log, wide)
    return Worn(shares, rates)
