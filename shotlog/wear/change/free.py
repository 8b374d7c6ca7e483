"""A step as the shots show it, whatever the table of signatures has."""

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.change.courses import GRADUAL
from shotlog.wear.compiled.weighing import Sums
from shotlog.wear.constants import LEAST_INFO, LONGEST

__all__ = ["free_step"]

F = NDArray[np.float64]


def free_step(sums: Sums, onset: int) -> F:
    """Return the step from the kept onset nearest to `onset` on, at once or smeared, in sigma, shape (p,).

    Fitted freely in every channel: generalised least squares on the innovations.
    """
    onsets, _, score, info, *_ = sums
    slot = int(np.argmin(np.where(onsets >= 0, np.abs(onsets - onset), LONGEST)))
    p = len(score)
    upper, best = np.triu_indices(p), -np.inf
    step: F = np.zeros(p)
    for shape in range(GRADUAL):
        pull, matrix = score[:, shape, slot], LEAST_INFO * np.eye(p)
        matrix[upper] += info[:, shape, slot]
        matrix = 0.5 * (matrix + matrix.T)  # the sums hold a pair of channels once, for both of its places
        size = np.linalg.solve(matrix, pull)
        if float(size @ pull) > best:
            best, step = float(size @ pull), np.asarray(size, dtype=np.float64)
    return step
