"""What the filter did at each shot, noted so that it can be asked afterwards how any course of a change fits.

The detector carries a few shapes from every onset. How far a wear has come, and when it will reach a limit, hangs on
its shape more than a call does; so once something is called, finer courses are put to the same innovations.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.compiled.coursing import Sums, follow, note, solve

__all__ = ["Courses", "Past"]

F = NDArray[np.float64]
Index = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Courses:
    """How h courses fit, each with a size of its own in every channel, in spreads.

    `size`, `variance` (h, p); `evidence` (h,): log likelihood against no change. `pulled`, `drifted` (p, h): by how
    much a size of 1 has moved the filter's level, and its ageing a shot.
    """

    size: F
    variance: F
    evidence: F
    pulled: F
    drifted: F


class Past:
    """The shots of a filter since its level was last let go; states are named by their places.

    State: a row of 3 K + 2 + p numbers for every shot and channel, of the shots that a stretch keeps.
    """

    def __init__(self, p: int, k: int, level: int, drift: int) -> None:
        self._states, self._level, self._drift = (p, k), level, drift
        self._n, self._noted = np.empty(0, dtype=np.int64), np.empty((0, p, 3 * k + 2 + p))
        self._count = 0
        self._kept = np.ones((p, k))
        self._onsets, self._shapes, self._taken = np.empty(0, dtype=np.int64), np.empty((0, 0)), 0
        self._sums: Sums = (np.empty((p, k, 0)), np.empty((0, p)), np.empty((0, p, p)))

    @property
    def first(self) -> int | None:
        """The first shot noted, None where there is none."""
        return int(self._n[0]) if self._count else None

    def keep(self, first: int, last: int, share: F) -> None:
        """Note that of the states `first` to `last` - 1 only a `share` is left, (p, states)."""
        self._kept[:, first:last] *= share

    def forget(self) -> None:
        """Forget every shot so far."""
        self._count, self._shapes = 0, np.empty((0, 0))

    def take(
        self,
        n: int,
        z: F,
        seen: NDArray[np.bool_],
        inverse: F,
        fade: tuple[F, float],
        loading: F,
        gained: F,
        expected: F,
        variance: F,
    ) -> None:
        """Note shot `n`, which the filter has just taken in; for the rest see `compiled.filtering`."""
        if self._count == len(self._n):
            more = max(self._count, 64)
            self._n = np.concatenate([self._n, np.zeros(more, dtype=np.int64)])
            self._noted = np.concatenate([self._noted, np.zeros((more, *self._noted.shape[1:]))])
        self._n[self._count] = n
        to = self._noted[self._count]
        note(z, seen, inverse, *fade, self._kept, loading, gained, expected, variance, to)
        self._count += 1
        self._kept[:] = 1.0

    def courses(self, onsets: Index, shapes: F, width: float) -> Courses:
        """Return how every one of `shapes` (s, shots since the onset, from 0) fits from each of `onsets`, ascending, an
        onset after another.

        `width`: spread of the sizes before looking.
        """
        if self._shapes is not shapes or not np.array_equal(self._onsets, onsets):
            self._begin(onsets, shapes)
        rows = slice(self._taken, self._count)
        k = np.clip(self._n[rows, None] - onsets + 1, 0, shapes.shape[1] - 1)
        course = np.ascontiguousarray(shapes[:, k].transpose(1, 2, 0)).reshape(-1, len(onsets) * len(shapes))
        follow(self._noted[rows], course, self._sums)
        self._taken = self._count
        response, score, info = self._sums
        size, variance, evidence = np.empty(score.shape), np.empty(score.shape), np.empty(len(score))
        solve(score, info, width, size, variance, evidence)
        return Courses(size, variance, evidence, response[:, self._level], response[:, self._drift])

    def _begin(self, onsets: Index, shapes: F) -> None:
        """Begin to follow courses, from the shots noted since the first of their onsets."""
        h, (p, k) = len(onsets) * len(shapes), self._states
        self._onsets, self._shapes = onsets, shapes
        self._sums = (np.zeros((p, k, h)), np.zeros((h, p)), np.zeros((h, p, p)))
        self._taken = int(np.searchsorted(self._n[: self._count], onsets[0]))
