"""How far a large change may lie beside a direction of the table: the ratios there are known to within a share only.

A change of size a along d is a d + e, with e normal and independent by channel, of standard deviation
`off` x a x max(|d|, `least`). Integrated over e, the log likelihood ratio of the hypothesis gains

    q' (I + T^-1)^-1 q / 2 - log det(1 + I T) / 2,   q = S - a I d,

with S and I the sums of the filter at its onset and shape, and T the variances of e (own, by completing the square).
What is small shows no more of its direction than the noise lets it; there the gain is nothing and is left out.
"""

import math

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.compiled.compiler import compiled
from shotlog.wear.compiled.weighing import Rows, Screened, Sums

__all__ = ["forgive", "move_beside"]

F = NDArray[np.float64]


@compiled
def _unfold(pairs: F, matrix: F) -> None:
    """Fill a symmetric matrix from the sums, which hold a pair of channels once, for both of its places."""
    pair = 0
    for c in range(len(matrix)):
        for d in range(c, len(matrix)):
            value = pairs[pair] if c == d else 0.5 * pairs[pair]
            matrix[c, d], matrix[d, c] = value, value
            pair += 1


@compiled
def _root(matrix: F) -> bool:
    """Turn a symmetric matrix into its lower Cholesky root, in place; False where it has none."""
    p = len(matrix)
    for i in range(p):
        for j in range(i + 1):
            total = matrix[i, j]
            for k in range(j):
                total -= matrix[i, k] * matrix[j, k]
            if i == j:
                if total <= 0.0:
                    return False
                matrix[i, i] = math.sqrt(total)
            else:
                matrix[i, j] = total / matrix[j, j]
    return True


@compiled
def _length(root: F, q: F) -> float:
    """Return q' M^-1 q for the lower root of M; `q` is used up."""
    total = 0.0
    for i in range(len(root)):
        for k in range(i):
            q[i] -= root[i, k] * q[k]
        q[i] /= root[i, i]
        total += q[i] * q[i]
    return total


@compiled
def _beside(score: F, matrix: F, direction: F, size: float, off: float, least: float, sd: F, q: F, root: F) -> bool:
    """Fill the deviations `sd` of e, q scaled by them, and the root of 1 + (I scaled by them); False without a root."""
    p = len(direction)
    for c in range(p):
        sd[c] = off * size * max(abs(direction[c]), least)
        q[c] = score[c]
        for d in range(p):
            q[c] -= size * matrix[c, d] * direction[d]
        q[c] *= sd[c]
        for d in range(c + 1):
            root[c, d] = sd[c] * matrix[c, d] * sd[d]
        root[c, c] += 1.0
    return _root(root)


@compiled
def forgive(sums: Sums, rows: Rows, screened: Screened, off: float, least: float, least_gain: float, to: F) -> None:
    """Fill `to` (rows, T) with what each hypothesis gains, 0 where its change is small (`least_gain`)."""
    shape, _, direction, _, _ = rows
    _, _, score, info, _, _, _ = sums
    weight, a, b, _, _ = screened
    m, p = direction.shape
    matrix, root, q, sd = np.empty((p, p)), np.empty((p, p)), np.empty(p), np.empty(p)
    for j in range(a.shape[1]):
        filled = -1
        for row in range(m):
            to[row, j] = 0.0
            if weight[j] <= 0.0 or a[row, j] <= 0.0 or a[row, j] * a[row, j] < 2.0 * least_gain * b[row, j]:
                continue
            s = shape[row]
            if s != filled:
                _unfold(info[:, s, j], matrix)
                filled = s
            size = a[row, j] / b[row, j]
            if not _beside(score[:, s, j], matrix, direction[row], size, off, least, sd, q, root):
                continue
            volume = 0.0
            for c in range(p):
                volume += math.log(root[c, c])
            to[row, j] = max(0.5 * _length(root, q) - volume, 0.0)


@compiled
def move_beside(
    sums: Sums, rows: Rows, screened: Screened, share: F, slack: F, now: F, growth: F, table: F, effect: F, slope: F
) -> None:
    """Add to `effect` and `slope` (p,) what the likeliest hypotheses lie beside their direction: e, as fitted.

    `share`, `slack` (rows, T): weight of each hypothesis, and what `forgive` gave it. `now`, `growth` (shapes, T): what
    each shape has come to at the last shot, and by how much in it. `table`: `off` and `least` of `forgive`.
    """
    shape, _, direction, _, _ = rows
    _, _, score, info, _, _, _ = sums
    _, a, b, _, _ = screened
    m, p = direction.shape
    matrix, root, q, sd = np.empty((p, p)), np.empty((p, p)), np.empty(p), np.empty(p)
    for row in range(m):
        s = shape[row]
        for j in range(a.shape[1]):
            if slack[row, j] <= 0.0 or share[row, j] < 0.01:
                continue
            _unfold(info[:, s, j], matrix)
            size = a[row, j] / b[row, j]
            if not _beside(score[:, s, j], matrix, direction[row], size, table[0], table[1], sd, q, root):
                continue
            _length(root, q)
            for i in range(p - 1, -1, -1):
                for k in range(i + 1, p):
                    q[i] -= root[k, i] * q[k]
                q[i] /= root[i, i]
            for c in range(p):
                effect[c] += share[row, j] * sd[c] * q[c] * now[s, j]
                slope[c] += share[row, j] * sd[c] * q[c] * growth[s, j]
