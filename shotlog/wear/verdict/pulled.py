"""What a followed change has done to the filter's level: the filter knows of none and takes some of it for level."""

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.change.courses import GRADUAL, SHAPE_TABLE
from shotlog.wear.change.detector import Filter
from shotlog.wear.change.hypotheses import Hypotheses
from shotlog.wear.change.posterior import Posterior
from shotlog.wear.constants import NEGLIGIBLE

__all__ = ["pulled"]

F = NDArray[np.float64]


def pulled(post: Posterior, hyp: Hypotheses, filt: Filter) -> F:
    """Return by how much the level stands off where it would be without the change, in spreads, (p,): the mean over
    all hypotheses that count.
    """
    d, answer = post.details, filt.answer()
    now = SHAPE_TABLE[:, np.clip(filt.last - d.onset + 1, 1, SHAPE_TABLE.shape[1] - 1)]
    out = np.zeros(len(answer))
    weight = _shares(d.joint) * (1.0 - post.growing_spread)
    row, slot = np.nonzero(weight > NEGLIGIBLE)
    shape = hyp.shape[row]
    size = weight[row, slot] * d.reach[row, slot] / now[shape, slot]
    out += np.einsum("i,ic,ci->c", size, hyp.direction[row], answer[:, shape, slot])
    if post.growing_spread > NEGLIGIBLE:
        share = _shares(d.spread) * post.growing_spread * d.fallen / now[GRADUAL]
        for i, c in enumerate(hyp.spread_channel):
            out[c] -= float(share[i] @ answer[c, GRADUAL])
    return out


def _shares(log_weight: F) -> F:
    most = log_weight.max(initial=-np.inf)
    if not np.isfinite(most):
        return np.zeros(log_weight.shape)
    weight = np.exp(log_weight - most)
    return np.asarray(weight / weight.sum())
