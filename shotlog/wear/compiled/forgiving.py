"""How far a large change may lie beside a direction of the table: the ratios there are known to within a range only.

A change of size a along d is a d + e, with e normal and independent by channel, of standard deviation a x `beside`.
Integrated over e, the log likelihood ratio of the hypothesis gains

    q' (I + T^-1)^-1 q / 2 - log det(1 + I T) / 2,   q = S - a I d,

with S and I the sums of the filter at its onset and shape, and T the variances of e (own, by completing the square).
What is small shows no more of its direction than the noise lets it; there the gain is nothing and is left out. A
free direction is e alone: it is as large as the best of the table, which is known to within much less than e.
"""

import math

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.compiled.compiler import compiled
from shotlog.wear.compiled.weighing import Rows, Screened, Sums

__all__ = ["forgive", "move_beside"]

F = NDArray[np.float64]


@compiled
def _unfold(info: F, s: int, j: int, matrix: F) -> None:
    """Fill a symmetric matrix from the sums of shape `s` in slot `j`, which hold a pair of channels once, for both of
    its places.
    """
    pair = 0
    for c in range(len(matrix)):
        for d in range(c, len(matrix)):
            value = info[pair, s, j] if c == d else 0.5 * info[pair, s, j]
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
def _beside(
    score: F, s: int, j: int, matrix: F, direction: F, row: int, size: float, beside: F, sd: F, q: F, root: F
) -> bool:
    """Fill the deviations `sd` of e, q scaled by them, and the root of 1 + (I scaled by them); False without a root.

    Of a `row` of the table whose shape is `s`, in slot `j`. Whole arrays and places in them: a view of each would take
    longer to make than what is done here.
    """
    p = len(matrix)
    for c in range(p):
        sd[c] = size * beside[row, c]
        q[c] = score[c, s, j]
        for d in range(p):
            q[c] -= size * matrix[c, d] * direction[row, d]
        q[c] *= sd[c]
        for d in range(c + 1):
            root[c, d] = sd[c] * matrix[c, d] * sd[d]
        root[c, c] += 1.0
    return _root(root)


@compiled
def _given(direction: F) -> NDArray[np.bool_]:
    """Return which rows of the table have a direction, (rows,)."""
    given = np.zeros(len(direction), np.bool_)
    for row in range(len(direction)):
        for c in range(direction.shape[1]):
            given[row] = given[row] or direction[row, c] != 0.0
    return given


@compiled
def _sizes(rows: Rows, given: NDArray[np.bool_], screened: Screened, least_gain: float, to: F) -> None:
    """Fill `to` (rows, T) with the size of each change that is large enough, 0 for others (`least_gain`).

    `given` (rows,): which have a direction. A free one has the size of the row of its shape that fits best; those stand
    first.
    """
    shape, _, _, _, _ = rows
    weight, a, b, _, _ = screened
    m = len(shape)
    for j in range(a.shape[1]):
        best, size, of = 0.0, 0.0, -1
        for row in range(m):
            if shape[row] != of:
                best, size, of = 0.0, 0.0, shape[row]
            to[row, j] = 0.0 if given[row] else size
            small = a[row, j] * a[row, j] < 2.0 * least_gain * b[row, j]
            if small or a[row, j] <= 0.0 or weight[j] <= 0.0 or not given[row]:
                continue
            to[row, j] = a[row, j] / b[row, j]
            if a[row, j] * to[row, j] > best:
                best, size = a[row, j] * to[row, j], to[row, j]


@compiled
def forgive(sums: Sums, rows: Rows, screened: Screened, beside: F, least_gain: float, to: F) -> None:
    """Fill `to` (rows, T) with what each hypothesis gains: where its change is small (`least_gain`) 0, and of a free
    direction -inf.

    `beside` (rows, p): how far a change may lie beside its direction, a standard deviation as a share of its size.
    """
    shape, _, direction, _, _ = rows
    _, _, score, info, _, _, _ = sums
    m, p = direction.shape
    matrix, root, q, sd = np.empty((p, p)), np.empty((p, p)), np.empty(p), np.empty(p)
    given = _given(direction)
    _sizes(rows, given, screened, least_gain, to)
    for j in range(to.shape[1]):
        filled = -1
        for row in range(m):
            size, to[row, j] = to[row, j], 0.0
            if size <= 0.0:
                to[row, j] = 0.0 if given[row] else -math.inf
                continue
            s = shape[row]
            if s != filled:
                _unfold(info, s, j, matrix)
                filled = s
            if not _beside(score, s, j, matrix, direction, row, size, beside, sd, q, root):
                continue
            volume = 0.0
            for c in range(p):
                volume += math.log(root[c, c])
            to[row, j] = max(0.5 * _length(root, q) - volume, 0.0)


@compiled
def move_beside(
    sums: Sums, rows: Rows, screened: Screened, share: F, slack: F, now: F, growth: F, beside: F, effect: F, slope: F
) -> None:
    """Add to `effect` and `slope` (p,) what the likeliest hypotheses lie beside their direction: e, as fitted.

    `share`, `slack` (rows, T): weight of each hypothesis, and what `forgive` gave it. `now`, `growth` (shapes, T): what
    each shape has come to at the last shot, and by how much in it. `beside`: as for `forgive`.
    """
    shape, _, direction, _, _ = rows
    _, _, score, info, _, _, _ = sums
    m, p = direction.shape
    matrix, root, q, sd = np.empty((p, p)), np.empty((p, p)), np.empty(p), np.empty(p)
    sizes = np.empty(slack.shape)
    _sizes(rows, _given(direction), screened, 0.0, sizes)
    for row in range(m):
        s = shape[row]
        for j in range(slack.shape[1]):
            if slack[row, j] <= 0.0 or share[row, j] < 0.01:
                continue
            _unfold(info, s, j, matrix)
            if not _beside(score, s, j, matrix, direction, row, sizes[row, j], beside, sd, q, root):
                continue
            _length(root, q)
            for i in range(p - 1, -1, -1):
                for k in range(i + 1, p):
                    q[i] -= root[k, i] * q[k]
                q[i] /= root[i, i]
            for c in range(p):
                effect[c] += share[row, j] * sd[c] * q[c] * now[s, j]
                slope[c] += share[row, j] * sd[c] * q[c] * growth[s, j]
