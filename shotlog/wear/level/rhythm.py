"""Rhythm: the time from shot to shot, and what a slower or quicker one does to an insert.

Between shots an insulating insert gives off the heat that a shot brought, so it settles colder where the press works
more slowly, and follows a new rhythm within some shots. The pace of a shot is the log ratio of the time from shot to
shot to the usual one, as such an insert would follow it. What a channel does with it is a coefficient like any other:
learnt from sisters whose rhythm varied, and wide before; a jitter of the operator's averages out.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import expm1, log
from statistics import median

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.constants import (
    PACE_APART,
    PACE_CUSHION,
    PACE_ELSEWHERE,
    PACE_MOST,
    PACE_PRESSURE,
    PACE_SHOTS,
    PACE_TEMPERATURE,
    PACE_VARIED,
    PACE_WEIGHT,
)
from shotlog.wear.level.whitening import beside

__all__ = ["STEADY", "Paced", "Response", "follow", "pace_spread", "pooled_response", "response_of", "usual_of"]

F = NDArray[np.float64]

_SHARE = -expm1(-1.0 / PACE_SHOTS)
_PRESSURES = ("peak_pressure", "switchover_pressure", "back_pressure")


@dataclass(frozen=True, slots=True)
class Paced:
    """The pace of each shot of a stretch, (n_shots,), against a usual time from shot to shot in seconds or 0."""

    usual_s: float = 0.0
    pace: F = field(default_factory=lambda: np.zeros(0))

    @property
    def varied(self) -> bool:
        """Whether the rhythm varied enough to show in the channels."""
        return bool(self.pace.size and self.pace.std() > PACE_VARIED)


STEADY = Paced()
"""Of shots whose rhythm is not known."""


@dataclass(frozen=True, slots=True)
class Response:
    """What a rhythm slower by a log ratio of 1 does to a channel, in its unit, and the variance of that for a spread
    of 1; `along` (N_LEVEL,): what becomes of level and warm-up for each unit of it.
    """

    value: float
    variance: float
    along: F


def usual_of(took_s: Sequence[float | None]) -> float:
    """Return the usual time from shot to shot, in seconds, 0 where it is not known."""
    known = [one for one in took_s if one]
    return median(known) if known else 0.0


def follow(pace: float, took_s: float | None, usual_s: float) -> float:
    """Return the pace after a shot that came `took_s` after the one before; None where that is not known, or a wait.

    A shot that came very late or early is one that was late, not another rhythm.
    """
    if not took_s or not usual_s:
        return pace
    off = log(took_s / usual_s)
    return pace + _SHARE * (min(max(off, -PACE_MOST), PACE_MOST) - pace)


def pace_spread(name: str, level: float, sigma: float) -> float:
    """Return how much a rhythm slower by a log ratio of 1 may do to a channel, either way, in spreads.

    `level` and `sigma` in the channel's unit.
    """
    if name in _PRESSURES:
        return PACE_PRESSURE * abs(level) / sigma
    if name == "part_weight":
        return PACE_WEIGHT * abs(level) / sigma
    if name == "cushion":
        return PACE_CUSHION / sigma
    return PACE_TEMPERATURE / sigma if name == "insert_temperature" else PACE_ELSEWHERE


def response_of(values: F, pace: F, columns: F, n_level: int, at: int) -> Response:
    """Fit what the rhythm did to one channel over all of its shots, without missing ones; see `ageing.trend_of`."""
    left, lost = beside(values, columns, pace[:, None], at)
    return Response(float(left[0, 1] / left[0, 0]), float(1.0 / left[0, 0]), np.asarray(-lost[:n_level, 0]))


def pooled_response(responses: Sequence[Response], sigma: float, default: float) -> tuple[float, float]:
    """Return mean and variance of what the rhythm does to the next insert, in spreads; `default`: `pace_spread`."""
    apart = (PACE_APART * default) ** 2
    weights = np.array([1.0 / (one.variance + apart) for one in responses])
    precision = 1.0 / default**2 + float(weights.sum())
    mean = float(weights @ [one.value / sigma for one in responses]) / precision if responses else 0.0
    return mean, 1.0 / precision + apart
