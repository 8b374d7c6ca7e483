"""How likely the next part is a bad one because of the insert: over all that an open change may be, and how large.

A change that is followed has its posterior: the chance that it is there at all, and for every cause, onset and course
its weight and size. Each says how far every channel will have moved at the next shot, and `parts.bad` what that means
for a part; a break spoils it whatever its size. The chances add up by weight, as far as a change is one of them at all
(`change.tempering`). Of a change that is followed no longer
the causes keep the weights they had, its size is the one it left, and it goes on as the level drifts.
"""

from collections.abc import Mapping
from functools import lru_cache
from math import log

import numpy as np
from numpy.typing import NDArray

from shotlog.parts.bad import share_bad
from shotlog.wear.change.causes import BATCH, BREAK, CAUSES
from shotlog.wear.change.courses import SHAPE_TABLE
from shotlog.wear.change.hypotheses import Hypotheses
from shotlog.wear.change.posterior import Posterior
from shotlog.wear.constants import NEGLIGIBLE, SOMETHING_ELSE
from shotlog.wear.level.baseline import Prior

__all__ = ["Rooms", "chance_bad", "chance_bad_of_standing"]

F = NDArray[np.float64]

_LEAST_LOG = log(NEGLIGIBLE) - 1.0
"""What is asked for its weight at all: a little more than counts."""

Rooms = tuple[F, F]
"""(down, up): from the level without the change to the limits, in spreads, shape (p,); infinite where there is none."""


def chance_bad(post: Posterior, hyp: Hypotheses, prior: Prior, rooms: Rooms, n: int) -> float:
    """Return the chance that shot `n` + 1 of the insert gives a bad part, by what the shots up to `n` say.

    What has a free direction has moved the channels as the change as a whole has.
    """
    d, own = post.details, _owned(hyp.names)
    row, slot = np.nonzero(d.joint > post.log_odds + _LEAST_LOG)
    weight = np.exp(d.joint[row, slot] - post.log_odds)
    told = own[hyp.cause[row]] & (weight > NEGLIGIBLE)
    row, slot, weight = row[told], slot[told], weight[told]
    if not len(row):
        return 0.0
    shot = np.minimum(np.maximum(n - d.onset[slot] + 1, 1), SHAPE_TABLE.shape[1] - 2)
    grown = SHAPE_TABLE[hyp.shape[row], shot + 1] / SHAPE_TABLE[hyp.shape[row], shot]
    moved = (d.reach[row, slot] * grown)[:, None] * hyp.direction[row]
    free = ~hyp.direction[row].any(axis=1)
    moved[free] = grown[free, None] * post.effect
    share = np.where(hyp.cause[row] == hyp.names.index(BREAK), 1.0, _worst(moved, prior, rooms))
    real = (1.0 - SOMETHING_ELSE) / (1.0 + np.exp(-post.log_odds))
    return float(min(real * (weight * share).sum(), 1.0))


def chance_bad_of_standing(weights: Mapping[str, float], moved: F, prior: Prior, rooms: Rooms) -> float:
    """Return the same of a change that has `moved` the channels, in spreads (p,), and is followed no longer."""
    own = sum(weight for name, weight in weights.items() if _own(name))
    broken = weights.get(BREAK, 0.0)
    return float(min(broken + (own - broken) * _worst(moved[None, :], prior, rooms)[0], 1.0))


@lru_cache(maxsize=8)
def _owned(causes: tuple[str, ...]) -> NDArray[np.bool_]:
    return np.array([_own(name) for name in causes])


def _own(cause: str) -> bool:
    return CAUSES[cause].group == "insert" and cause != BATCH


def _worst(moved: F, prior: Prior, rooms: Rooms) -> F:
    """Return the chance of the channel that is nearest to its limit; `moved` (k, p), result (k,)."""
    room = np.where(moved > 0.0, rooms[1], rooms[0])
    least = np.broadcast_to(prior.least, moved.shape)
    return np.asarray(share_bad(np.abs(moved), least, np.maximum(room, 0.0)).max(axis=1))
