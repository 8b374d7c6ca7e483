"""Courses of a change over the shots since its onset: how large each would have to be, and how well it then fits."""

import math

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.compiled.compiler import compiled

__all__ = ["Sums", "follow", "note", "solve"]

F = NDArray[np.float64]

Sums = tuple[F, F, F]
"""(response, score, info) of h courses: what a course of size 1 has done to the states, (p, K, h), and its sums, (h, p)
and (h, p, p), of which the upper half is used.
"""


@compiled
def note(
    z: F, seen: NDArray[np.bool_], inverse: F, ar: F, slow: float, kept: F, h: F, ph: F, expected: F, variance: F, to: F
) -> None:
    """Note in `to` (p, 3 K + 2 + p) what the filter did at a shot, enough to ask it of any course.

    A row is a channel: what the way to this shot left of each state's response (`kept` (p, K) by events before it),
    loading, gain, the innovation and 1 / its spread (0 where not seen), and its row of the inverse correlation.
    """
    p, k = h.shape
    for c in range(p):
        root = 1.0 / math.sqrt(variance[c]) if seen[c] else 0.0
        for i in range(k):
            to[c, i] = kept[c, i]
            to[c, k + i] = h[c, i]
            to[c, 2 * k + i] = ph[c, i] * root * root
        to[c, k - 2] *= ar[c]
        to[c, k - 1] *= slow
        to[c, 3 * k] = (z[c] - expected[c]) * root if seen[c] else 0.0
        to[c, 3 * k + 1] = root
        for d in range(p):
            to[c, 3 * k + 2 + d] = inverse[c, d]


@compiled
def follow(noted: F, course: F, sums: Sums) -> None:
    """Take shots noted (m, p, ...) into the sums of h courses; `course` (m, h): what each adds to a channel by then.

    As `filtering.take_in` does, for courses that are thought of afterwards.
    """
    response, score, info = sums
    p, k, h = response.shape
    nu = np.empty((p, h))
    for at in range(len(noted)):
        for c in range(p):
            row = noted[at, c]
            for j in range(h):
                nu[c, j] = course[at, j]
            for i in range(k):
                if row[i] != 1.0:
                    for j in range(h):
                        response[c, i, j] *= row[i]
                if row[k + i] != 0.0:
                    for j in range(h):
                        nu[c, j] -= row[k + i] * response[c, i, j]
            for i in range(k):
                if row[2 * k + i] != 0.0:
                    for j in range(h):
                        response[c, i, j] += row[2 * k + i] * nu[c, j]
            for j in range(h):
                nu[c, j] *= row[3 * k + 1]
        for c in range(p):
            usual = 0.0
            for d in range(p):
                usual += noted[at, c, 3 * k + 2 + d] * noted[at, d, 3 * k]
            for j in range(h):
                score[j, c] += nu[c, j] * usual
            for d in range(c, p):
                between = noted[at, c, 3 * k + 2 + d]
                if between != 0.0:
                    for j in range(h):
                        info[j, c, d] += nu[c, j] * nu[d, j] * between


@compiled
def solve(score: F, info: F, width: float, size: F, variance: F, evidence: F) -> None:
    """Fill `size`, `variance` (h, p) and `evidence` (h,): sizes normal about 0 with `width` before looking.

    `evidence`: log likelihood of the course against none, all its sizes integrated over.
    """
    h, p = score.shape
    root, unit = np.zeros((p, p)), np.zeros(p)
    for j in range(h):
        log_det, fit = 0.0, 0.0
        for c in range(p):
            for d in range(c + 1):
                total = info[j, d, c] + (1.0 / (width * width) if c == d else 0.0)
                for i in range(d):
                    total -= root[c, i] * root[d, i]
                if c == d:
                    root[c, c] = math.sqrt(max(total, 1e-12))
                    log_det += 2.0 * math.log(root[c, c])
                else:
                    root[c, d] = total / root[d, d]
            total = score[j, c]
            for i in range(c):
                total -= root[c, i] * unit[i]
            unit[c] = total / root[c, c]
            fit += unit[c] * unit[c]
        for c in range(p - 1, -1, -1):
            total = unit[c]
            for i in range(c + 1, p):
                total -= root[i, c] * size[j, i]
            size[j, c] = total / root[c, c]
        for e in range(p):  # the inverse of the root, column by column; its squares make the variances
            variance[j, e] = 0.0
            for c in range(e, p):
                total = 1.0 if c == e else 0.0
                for i in range(e, c):
                    total -= root[c, i] * unit[i]
                unit[c] = total / root[c, c]
                variance[j, e] += unit[c] * unit[c]
        evidence[j] = 0.5 * (fit - log_det) - p * math.log(width)
