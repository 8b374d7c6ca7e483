"""Onset: since which shot, with a 90 % set.

The weights over onsets are posterior probabilities (flat prior over shots, integrated over cause, shape and size), so
the set is read off them: the shortest range of shots that holds 90 % and the estimate. A plain likelihood drop of 1.92
covers only 64 to 91 % (recomputed in the reference values for onset estimates); a range of posterior weight does not
have that fault. What must be free of the change, the shots that join a baseline, ends earlier than the set begins.
"""

from bisect import bisect_left
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.constants import ONSET_SHARE, SURELY_HEALTHY

__all__ = ["Onset", "onset_of"]


@dataclass(frozen=True, slots=True)
class Onset:
    """The first affected shot, counted on the insert: estimate and 90 % set, both ends included.

    `clean`: the shots before this one are taken as healthy; never after `low`.
    """

    shot: int
    low: int
    high: int
    clean: int


def onset_of(onsets: NDArray[np.int64], weights: NDArray[np.float64], last: int, share: float = ONSET_SHARE) -> Onset:
    """Return the onset: the median of the weights, and the shortest range about it that holds `share` of them.

    `onsets` ascending, `weights` beside them; where onsets are thinned out each stands for the shots up to the next.
    """
    cumulated = (np.cumsum(weights) / max(float(weights.sum()), 1e-300)).tolist()
    shots: list[int] = onsets.tolist()
    before, ends = [0.0, *cumulated[:-1]], [*(shot - 1 for shot in shots[1:]), last]
    middle = min(bisect_left(cumulated, 0.5), len(shots) - 1)
    clean = min(bisect_left(cumulated, SURELY_HEALTHY), middle)
    highs = [max(bisect_left(cumulated, one + share - 1e-9), middle) for one in before[: middle + 1]]
    fits = [high for high in highs if high < len(shots)]  # they rise with the lower end: those that fit come first
    low = min(range(len(fits)), key=lambda at: ends[fits[at]] - shots[at], default=0)
    high = fits[low] if fits else len(shots) - 1
    return Onset(
        shots[middle],
        shots[low],
        max(shots[high], min(ends[high], last)),
        min(shots[clean], shots[low]),
    )
