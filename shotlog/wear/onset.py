"""Onset: since which shot, with a 90 % set.

The weights over onsets are posterior probabilities (flat prior over shots, integrated over cause, shape and size), so
the set is read off them: the smallest range of shots that leaves at most 5 % on either side. A plain likelihood drop of
1.92 covers only 64 to 91 % (recomputed in the reference values for onset estimates); a range of posterior weight does
not have that fault.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["Onset", "onset_of"]


@dataclass(frozen=True, slots=True)
class Onset:
    """The first affected shot, counted on the insert: estimate and 90 % set, both ends included."""

    shot: int
    low: int
    high: int


def onset_of(onsets: NDArray[np.int64], weights: NDArray[np.float64], last: int, share: float = 0.9) -> Onset:
    """Return the onset: the median of the weights, and the range without its tails.

    `onsets` ascending, `weights` beside them; where onsets are thinned out each stands for the shots up to the next.
    """
    cumulated = np.cumsum(weights) / max(float(weights.sum()), 1e-300)
    tail = (1.0 - share) / 2
    low = int(np.searchsorted(cumulated, tail))
    high = int(np.searchsorted(cumulated, 1.0 - tail))
    middle = int(np.searchsorted(cumulated, 0.5))
    low, middle, high = (min(i, len(onsets) - 1) for i in (low, middle, high))
    end = int(onsets[high + 1]) - 1 if high + 1 < len(onsets) else last
    return Onset(int(onsets[middle]), int(onsets[low]), max(int(onsets[high]), min(end, last)))
