"""Courses: how a change goes on over the shots that it affects, as tables."""

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.change.signatures import SIGNATURES
from shotlog.wear.constants import ACCELERATING_SHOTS, LONGEST, SMEAR_SHOTS, SPREAD_RATES

__all__ = ["GRADUAL", "SHAPE_COUNT", "SHAPE_TABLE", "SPREAD_CHANNELS", "SPREAD_TABLE"]

F = NDArray[np.float64]

SHAPE_COUNT = 4
GRADUAL = 2
"""From this shape on they go on growing; this one is the ramp."""

SPREAD_CHANNELS = frozenset(one.spread for one in SIGNATURES.values() if one.spread)


def _shape_table(longest: int) -> F:
    k, grow = np.arange(longest + 1.0), ACCELERATING_SHOTS
    accelerating = grow * np.expm1(np.minimum(k, 90.0) / grow)
    return np.array([np.ones_like(k), 1.0 - np.exp(-k / SMEAR_SHOTS), k, accelerating])


def _spread_table(longest: int) -> F:
    return np.asarray(1.0 + (np.array(SPREAD_RATES)[:, None] * np.arange(longest + 1.0)) ** 2)


SHAPE_TABLE = _shape_table(LONGEST)
"""Every shape (step, smear, ramp, accelerating) over the k-th affected shot, shape (4, shots).

A step or smear reaches 1; a ramp or an accelerating course starts with a slope of 1 per shot.
"""

SPREAD_TABLE = _spread_table(LONGEST)
"""Variance over the k-th affected shot of a spread that grows, at each of the rates tried, shape (rates, shots)."""
