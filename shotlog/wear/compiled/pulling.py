"""What a change that is followed has done to the level which the filter, that knows of none, is left with."""

import math

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.compiled.compiler import compiled

__all__ = ["pull"]

F = NDArray[np.float64]
Index = NDArray[np.int64]


@compiled
def pull(joint: F, reach: F, shape: Index, direction: F, effect: F, now: F, answer: F, least: float, out: F) -> None:
    """Fill `out` (p,) with the mean over hypotheses that are as likely as `least` times the likeliest.

    `joint`, `reach` (rows, T): log weight and size now; `shape` (rows,), `direction` (rows, p) of each; one of no
    direction has moved the channels by `effect` (p,). `now` (shapes, T): of every shape. `answer` (p, shapes, T): what
    a change of size 1 does to the level.
    """
    m, t = joint.shape
    p, top, total = len(out), -math.inf, 0.0
    for row in range(m):
        for j in range(t):
            top = max(top, joint[row, j])
    for c in range(p):
        out[c] = 0.0
    if top == -math.inf:
        return
    far = top + math.log(least)
    for row in range(m):
        s, free = shape[row], True
        for c in range(p):
            free = free and direction[row, c] == 0.0
        for j in range(t):
            if joint[row, j] > far:
                weight = math.exp(joint[row, j] - top)
                total += weight
                for c in range(p):
                    moved = effect[c] if free else reach[row, j] * direction[row, c]
                    out[c] += weight * moved / now[s, j] * answer[c, s, j]
    for c in range(p):
        out[c] /= total
