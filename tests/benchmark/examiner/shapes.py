"""How a change goes on after its onset: 1 is its full size, or one unit of a rate.

Trade notes: erosion is a "ramp, slowly flattening"; flash feeds itself ("accelerating"); creep saturates with the
warm-up and goes on slowly; a break is a step; a lot comes as a "step smeared over 3-10 shots".
"""

import numpy as np
from numpy.typing import NDArray

__all__ = ["GROWING", "shape_of"]

GROWING = ("ramp", "root", "quadratic", "accelerating", "saturating")


def shape_of(kind: str, n_shots: int, onset: int, over: float) -> NDArray[np.float64]:
    """Return the course of a change, shape (n_shots,), 0 before shot `onset` (the first is 0), 1 after `over` shots.

    ``step`` is there at once; ``smeared`` approaches in `over` shots and stays; ``saturating`` is at 0.95 there; the
    others pass 1 and go on.
    """
    age = np.maximum(np.arange(n_shots) - onset + 1.0, 0.0)
    part = age / over
    if kind == "step":
        return np.asarray((age > 0).astype(float))
    if kind == "smeared":
        return np.asarray(1.0 - np.exp(-3.0 * part))
    if kind == "ramp":
        return np.asarray(part)
    if kind == "root":
        return np.asarray(np.sqrt(part))
    if kind == "quadratic":
        return np.asarray(part**2)
    if kind == "accelerating":
        return np.asarray(np.expm1(2.0 * part) / np.expm1(2.0))
    if kind == "saturating":
        return np.asarray(1.0 - np.exp(-3.0 * part) + 0.15 * part)
    raise ValueError(kind)
