"""How heavy the tails of a channel's noise are, told from its sisters' innovations.

Noise that throws a far value now and then is taken for Student's t, scaled to a spread of 1. Its inverse degrees of
freedom are an average over a grid, weighted by likelihood: 0 is normal noise. The log likelihoods at each point of the
grid add up over sister inserts, so pooling is an addition.
"""

from math import lgamma

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.constants import TAIL_GRID, TAIL_LEFT, TAIL_PRIOR

__all__ = ["heaviness", "tail_profile"]

F = NDArray[np.float64]

_HEAVY = np.array(TAIL_GRID)
_LOG_PRIOR = np.log(TAIL_PRIOR)


def tail_profile(residual: F, left: F) -> F:
    """Return the log likelihood of innovations of spread 1, of one channel, at each point of TAIL_GRID.

    `left`: what share of the variance of each the fit has left it. Where that is little the innovation is the fit's,
    and small ones among others would pass for heavy tails.
    """
    told = left > TAIL_LEFT
    squares = residual[told] ** 2 / left[told]
    normal = -0.5 * float(squares.sum()) - 0.5 * len(squares) * np.log(2.0 * np.pi)
    return np.array([normal, *(_student(squares, 1.0 / heavy) for heavy in TAIL_GRID[1:])])


def _student(squares: F, dof: float) -> float:
    scaled = lgamma((dof + 1.0) / 2.0) - lgamma(dof / 2.0) - 0.5 * np.log(np.pi * (dof - 2.0))
    return float(len(squares) * scaled - 0.5 * (dof + 1.0) * np.log1p(squares / (dof - 2.0)).sum())


def heaviness(pooled: F) -> float:
    """Return the mean inverse degrees of freedom of what innovations together say, each point weighted by likelihood.

    An average because some hundred shots cannot tell neighbouring points apart.
    """
    score = pooled + _LOG_PRIOR
    weight = np.exp(score - score.max())
    return float(weight @ _HEAVY / weight.sum())
