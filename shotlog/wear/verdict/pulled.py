"""What a followed change has done to the filter's level: the filter knows of none and takes some of it for level."""

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.change.courses import GRADUAL, SHAPE_TABLE
from shotlog.wear.change.detector import Filter
from shotlog.wear.change.hypotheses import Hypotheses
from shotlog.wear.change.posterior import Posterior
from shotlog.wear.compiled.pulling import pull
from shotlog.wear.constants import LEAST_WAY, NEGLIGIBLE

__all__ = ["pulled"]

F = NDArray[np.float64]


def pulled(post: Posterior, hyp: Hypotheses, filt: Filter) -> F:
    """Return by how much the level stands off where it would be without the change, in spreads, (p,): the mean over
    all hypotheses that count. What has a free direction has moved the channels as the change as a whole has.
    """
    d, answer = post.details, filt.answer()
    now = SHAPE_TABLE[:, np.minimum(np.maximum(filt.last - d.onset + 1, 1), SHAPE_TABLE.shape[1] - 1)]
    out = np.empty(len(answer))
    pull(d.joint, d.reach, hyp.shape, hyp.direction, post.effect, now, answer, LEAST_WAY, out)
    out *= 1.0 - post.growing_spread
    if post.growing_spread > NEGLIGIBLE:
        share = np.exp(d.spread - d.spread.max())
        share *= post.growing_spread / share.sum() * d.fallen / now[GRADUAL]
        for i, c in enumerate(hyp.spread_channel):
            out[c] -= float(share[i] @ answer[c, GRADUAL])
    return out
