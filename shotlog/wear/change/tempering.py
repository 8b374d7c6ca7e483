"""No cause is surer than the table: weights as they may be said.

The weights of the hypotheses are right where one of them is. A change may be none of them, or be one and move the
channels as no row has it, and then the nearest row takes it all, at 1.00. So a share of every change is kept for
something else, of which nothing is known: even over the groups, and within one by the table's shares. It is measured,
as stated weights are held against the share that was right (reliability, Guo et al. 2017, from memory). A temperature
beside it, as they have it, was tried from 0.6 to 3: within 0.8 and 1.25 it made no difference, beyond it was worse.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.change.causes import CAUSES, GROUPS
from shotlog.wear.constants import SOMETHING_ELSE

__all__ = ["tempered"]

_WHOLE = {group: sum(one.prior for one in CAUSES.values() if one.group == group) for group in GROUPS}
_ELSE = {name: one.prior / _WHOLE[one.group] / len(GROUPS) for name, one in CAUSES.items()}


def tempered(names: Sequence[str], by_cause: NDArray[np.float64]) -> dict[str, float]:
    """Return the weights of causes as they may be said, by name; `by_cause`: those of the hypotheses, sum 1."""
    known = 1.0 - SOMETHING_ELSE
    return {
        name: known * weight + SOMETHING_ELSE * _ELSE[name]
        for name, weight in zip(names, by_cause.tolist(), strict=True)
    }
