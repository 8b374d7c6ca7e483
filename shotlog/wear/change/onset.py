"""Onset: since which shot, with a 90 % set.

The weights over onsets are posterior probabilities (flat prior over shots, integrated over cause, shape and size), so
the set is read off them: the shortest range of shots that holds 90 % and the estimate. A plain likelihood drop of 1.92
covers only 64 to 91 % (recomputed in the reference values for onset estimates); a range of posterior weight does not
have that fault. What must be free of the change, the shots that join a baseline, ends earlier than the set begins.
"""

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
    cumulated = np.cumsum(weights) / max(float(weights.sum()), 1e-300)
    before = np.concatenate([[0.0], cumulated[:-1]])
    ends = np.append(onsets[1:] - 1, last)
    middle = min(int(np.searchsorted(cumulated, 0.5)), len(onsets) - 1)
    clean = min(int(np.searchsorted(cumulated, SURELY_HEALTHY)), middle)
    highs = np.maximum(np.searchsorted(cumulated, before[: middle + 1] + share - 1e-9), middle)
    fits = highs[highs < len(onsets)]  # they rise with the lower end, so those that fit come first
    low = int(np.argmin(ends[fits] - onsets[: len(fits)])) if len(fits) else 0
    high = int(fits[low]) if len(fits) else len(onsets) - 1
    return Onset(
        int(onsets[middle]),
        int(onsets[low]),
        max(int(onsets[high]), min(int(ends[high]), last)),
        min(int(onsets[clean]), int(onsets[low])),
    )
