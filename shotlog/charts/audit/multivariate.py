"""Covariance of several channels, and Hotelling's T2 with what each channel has to do with it.

All of it goes channel by channel in a fixed order, so that one shot and a million give the same bits; a matrix product
by a library would not.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from shotlog.charts.base import Floats
from shotlog.errors import UsageError

__all__ = ["Spread", "covariance_of", "freedom_of"]

_PIVOT = 1e-9
"""A channel whose variance given the others is a smaller share of its own than this adds nothing: singular."""


def covariance_of(xs: ArrayLike, estimate: str) -> Floats:
    """Covariance of readings, shape (n_shots, n_channels).

    "differences": half the mean product of successive differences, which a drift or step inflates little (Holmes &
    Mergen 1993, from memory). "sample": about the mean, divisor n - 1.
    """
    rows = np.asarray(xs, dtype=float)
    steps = np.diff(rows, axis=0) if estimate == "differences" else rows - rows.mean(axis=0)
    return np.asarray(steps.T @ steps / ((2.0 if estimate == "differences" else 1.0) * (len(rows) - 1)))


def freedom_of(m: int, estimate: str) -> float:
    """Degrees of freedom of that estimate: m - 1, or 2(m-1)^2/(3m-4) for differences (Sullivan & Woodall 1996)."""
    return float(m - 1) if estimate == "sample" else 2.0 * (m - 1) ** 2 / (3.0 * m - 4.0)


@dataclass(frozen=True, slots=True)
class Spread:
    """A covariance matrix made ready: its Cholesky factor by rows, its diagonal and that of its inverse."""

    factor: tuple[tuple[float, ...], ...]
    variance: tuple[float, ...]
    inverse_diagonal: tuple[float, ...]

    @classmethod
    def of(cls, covariance: ArrayLike) -> "Spread":
        """Factor a covariance matrix, shape (n_channels, n_channels).

        Raises
        ------
        UsageError
            Not square and symmetric, or singular: a channel without spread, or one that follows from the others.
        """
        matrix = np.asarray(covariance, dtype=float)
        if matrix.ndim != 2 or matrix.shape[0] != matrix.shape[1] or not np.allclose(matrix, matrix.T, rtol=1e-9):
            raise UsageError(f"covariance: given shape {matrix.shape}, allowed: a square symmetric matrix")
        rows: list[list[float]] = []
        for i, row in enumerate(matrix.tolist()):
            line: list[float] = []
            for j in range(i):
                line.append((row[j] - sum(line[k] * rows[j][k] for k in range(j))) / rows[j][j])
            left = row[i] - sum(v * v for v in line)
            if not left > _PIVOT * row[i]:
                raise UsageError(
                    f"covariance: channel {i + 1} has no spread of its own, allowed: channels that vary independently"
                )
            rows.append([*line, math.sqrt(left)])
        inverse = np.linalg.inv(matrix)
        return cls(tuple(map(tuple, rows)), tuple(np.diag(matrix).tolist()), tuple(np.diag(inverse).tolist()))

    def judge(self, d: Sequence[Floats] | Sequence[float]) -> tuple[Floats | float, list[Floats] | list[float]]:
        """T2 of deviations from the mean, one entry a channel, and its terms: each alone, then each given the others.

        The first is d_j^2 / S_jj; the second, what T2 would lose without the channel, is (S^-1 d)_j^2 / (S^-1)_jj.
        Mason, Tracy & Young 1995, J. Quality Technology 27 99-108 (first and last terms of their decompositions).
        """
        p = len(self.variance)
        forward: list[Floats | float] = []
        total: Floats | float = 0.0
        for i in range(p):
            left: Floats | float = d[i]
            for j in range(i):
                left = left - self.factor[i][j] * forward[j]
            forward.append(left / self.factor[i][i])
            total = total + forward[i] * forward[i]
        back: list[Floats | float] = [0.0] * p
        for i in reversed(range(p)):
            left = forward[i]
            for j in range(i + 1, p):
                left = left - self.factor[j][i] * back[j]
            back[i] = left / self.factor[i][i]
        alone = [d[i] * d[i] / self.variance[i] for i in range(p)]
        given = [back[i] * back[i] / self.inverse_diagonal[i] for i in range(p)]
        return total, [*alone, *given]  # type: ignore[return-value]
