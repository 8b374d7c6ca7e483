"""Limits of the change-point chart: a table made by Monte Carlo, kept here with how it was made.

1,000,000 sequences of 200 standard normal readings (NumPy's default generator, seeds (20251125, 0) and (20251125, 1),
500,000 each, in batches of 5,000); for each n the largest two-sample t over all splits; then, from the first tested n
on, the 1 - alpha quantile among the sequences that never exceeded a limit before. At knots above 17 the mean over a
few neighbouring n, to quiet the noise. `draw_limits` is that procedure; a long test draws a smaller table with it and
compares.

Monte Carlo error: about 0.1 % at n = 10, up to 0.5 % at alpha 0.001 and n = 200. For alpha 0.05 too few sequences
survive past n = 100; the limit is held there. Between knots, linear in 1/n; beyond n = 200 the last limit holds, which
is very slightly wide. Between the alphas, a parabola in ln alpha.
"""

import math
from bisect import bisect_right
from collections.abc import Sequence

import numpy as np

from shotlog.charts.base import Floats
from shotlog.errors import UsageError

__all__ = ["FIRST_TESTED", "changepoint_limit", "draw_limits"]

FIRST_TESTED = (3, 10)
"""The first readings a table exists for. From 3 the early limits are so wide that nothing is seen before about 8."""

_KNOTS = (*range(3, 31), 35, 40, 50, 60, 80, 100, 150, 200)

# fmt: off
_TABLE: dict[int, dict[float, tuple[float, ...]]] = {
    3: {
        0.05: (
            25.23, 7.147, 4.847, 4.042, 3.614, 3.338, 3.154, 3.020, 2.924, 2.843, 2.786, 2.738, 2.694, 2.655, 2.624,
            2.599, 2.574, 2.553, 2.536, 2.523, 2.510, 2.497, 2.484, 2.472, 2.461, 2.451, 2.443, 2.435, 2.405, 2.384,
            2.354, 2.329, 2.307, 2.300, 2.296, 2.294
        ),
        0.02: (
            63.7, 11.62, 6.882, 5.391, 4.699, 4.271, 3.987, 3.788, 3.640, 3.527, 3.433, 3.362, 3.303, 3.246, 3.201,
            3.165, 3.131, 3.102, 3.076, 3.055, 3.034, 3.015, 2.998, 2.981, 2.967, 2.954, 2.941, 2.930, 2.888, 2.856,
            2.810, 2.781, 2.749, 2.731, 2.709, 2.690
        ),
        0.01: (
            128.7, 16.71, 8.932, 6.608, 5.606, 5.032, 4.656, 4.380, 4.185, 4.036, 3.918, 3.827, 3.745, 3.680, 3.621,
            3.572, 3.528, 3.493, 3.461, 3.431, 3.404, 3.379, 3.361, 3.342, 3.324, 3.307, 3.292, 3.278, 3.222, 3.183,
            3.129, 3.093, 3.052, 3.031, 2.998, 2.979
        ),
        0.005: (
            256.6, 23.94, 11.48, 8.044, 6.616, 5.831, 5.343, 4.995, 4.738, 4.558, 4.393, 4.289, 4.192, 4.108, 4.032,
            3.974, 3.920, 3.874, 3.831, 3.797, 3.767, 3.738, 3.711, 3.686, 3.663, 3.642, 3.624, 3.607, 3.540, 3.492,
            3.424, 3.381, 3.332, 3.305, 3.266, 3.248
        ),
        0.0027: (
            479.7, 33.16, 14.19, 9.581, 7.629, 6.608, 5.999, 5.563, 5.251, 5.032, 4.836, 4.689, 4.584, 4.484, 4.384,
            4.316, 4.254, 4.200, 4.152, 4.109, 4.072, 4.039, 4.010, 3.983, 3.956, 3.931, 3.908, 3.890, 3.812, 3.751,
            3.674, 3.622, 3.566, 3.532, 3.488, 3.465
        ),
        0.002: (
            639.9, 38.69, 15.76, 10.39, 8.139, 7.012, 6.333, 5.855, 5.504, 5.258, 5.053, 4.888, 4.769, 4.666, 4.564,
            4.489, 4.419, 4.361, 4.309, 4.262, 4.221, 4.183, 4.152, 4.123, 4.095, 4.069, 4.044, 4.024, 3.938, 3.874,
            3.792, 3.734, 3.676, 3.640, 3.591, 3.568
        ),
        0.001: (
            1268, 55.74, 19.94, 12.51, 9.502, 7.982, 7.160, 6.551, 6.103, 5.801, 5.569, 5.345, 5.198, 5.098, 4.991,
            4.889, 4.798, 4.719, 4.656, 4.598, 4.552, 4.511, 4.477, 4.445, 4.413, 4.382, 4.354, 4.329, 4.230, 4.151,
            4.057, 3.987, 3.917, 3.876, 3.819, 3.792
        ),
    },
    10: {
        0.05: (
            3.661, 3.242, 3.039, 2.912, 2.827, 2.759, 2.706, 2.665, 2.631, 2.601, 2.575, 2.555, 2.538, 2.522, 2.507,
            2.494, 2.481, 2.469, 2.458, 2.449, 2.440, 2.408, 2.387, 2.355, 2.333, 2.310, 2.305, 2.304, 2.301
        ),
        0.02: (
            4.373, 3.905, 3.681, 3.534, 3.428, 3.352, 3.284, 3.230, 3.188, 3.149, 3.116, 3.087, 3.063, 3.041, 3.021,
            3.004, 2.987, 2.972, 2.958, 2.945, 2.934, 2.890, 2.858, 2.811, 2.782, 2.750, 2.731, 2.709, 2.691
        ),
        0.01: (
            4.932, 4.425, 4.167, 3.997, 3.883, 3.788, 3.711, 3.643, 3.590, 3.542, 3.503, 3.468, 3.438, 3.410, 3.385,
            3.366, 3.346, 3.328, 3.311, 3.295, 3.280, 3.223, 3.184, 3.129, 3.093, 3.052, 3.031, 2.998, 2.979
        ),
        0.005: (
            5.517, 4.950, 4.666, 4.458, 4.329, 4.220, 4.131, 4.050, 3.989, 3.932, 3.882, 3.837, 3.801, 3.771, 3.742,
            3.715, 3.690, 3.666, 3.645, 3.627, 3.610, 3.542, 3.493, 3.425, 3.381, 3.332, 3.305, 3.266, 3.249
        ),
        0.0027: (
            6.081, 5.442, 5.124, 4.894, 4.722, 4.608, 4.500, 4.402, 4.328, 4.262, 4.207, 4.158, 4.113, 4.075, 4.042,
            4.013, 3.985, 3.958, 3.933, 3.910, 3.892, 3.813, 3.752, 3.674, 3.622, 3.566, 3.533, 3.488, 3.465
        ),
        0.002: (
            6.367, 5.688, 5.347, 5.099, 4.920, 4.788, 4.686, 4.582, 4.502, 4.429, 4.368, 4.315, 4.267, 4.225, 4.186,
            4.155, 4.126, 4.097, 4.071, 4.046, 4.026, 3.939, 3.874, 3.792, 3.735, 3.676, 3.640, 3.591, 3.567
        ),
        0.001: (
            7.073, 6.286, 5.887, 5.614, 5.369, 5.212, 5.113, 4.996, 4.895, 4.804, 4.725, 4.661, 4.601, 4.554, 4.512,
            4.479, 4.447, 4.415, 4.383, 4.355, 4.329, 4.230, 4.150, 4.056, 3.988, 3.917, 3.876, 3.819, 3.791
        ),
    },
}
# fmt: on


def changepoint_limit(n: int, alpha: float, first: int = 10) -> float:
    """Limit of the largest two-sample t at reading n, exceeded with probability `alpha` given none before.

    Parameters
    ----------
    n: readings so far, from `first` on.
    alpha: 0.001 to 0.05.
    first: the first tested reading, 3 or 10.

    Raises
    ------
    UsageError
        Outside the table.

    Examples
    --------
    >>> round(changepoint_limit(10, 0.005), 2)
    5.52

    References
    ----------
    Hawkins, Qiu & Kang 2003, J. Quality Technology 35(4) 355-366; own table, see the module.
    """
    if first not in _TABLE or n < first or not 0.001 <= alpha <= 0.05:
        raise UsageError(
            f"change-point limit: given reading {n}, alpha {alpha}, first {first}, "
            "allowed: alpha 0.001 to 0.05, first 3 or 10, and readings from the first on"
        )
    rows = _TABLE[first]
    if alpha in rows:
        return _at(n, rows[alpha], first)
    nearest = sorted(sorted(rows, key=lambda a: abs(math.log(a / alpha)))[:3])
    logs = [math.log(a) for a in nearest]
    heights = [_at(n, rows[a], first) for a in nearest]
    total = 0.0
    for log, term in zip(logs, heights, strict=True):
        for other in logs:
            if other != log:
                term *= (math.log(alpha) - other) / (log - other)
        total += term
    return total


def _at(n: int, row: Sequence[float], first: int) -> float:
    knots = [k for k in _KNOTS if k >= first]
    i = bisect_right(knots, n) - 1
    if i == len(knots) - 1:
        return row[-1]
    share: float = (1.0 / knots[i] - 1.0 / n) / (1.0 / knots[i] - 1.0 / knots[i + 1])
    return row[i] + share * (row[i + 1] - row[i])


def draw_limits(alpha: float, first: int, last: int, sequences: int, rng: np.random.Generator) -> Floats:
    """Limits for n = first .. last by simulation: how the table was made."""
    statistic = np.concatenate(
        [_largest_t(rng.standard_normal((last, part)))[first - 3 :] for part in _parts(sequences)], axis=1
    )
    limits = []
    for row in range(last - first + 1):
        limits.append(float(np.quantile(statistic[row], 1.0 - alpha)))
        statistic = statistic[:, statistic[row] <= limits[-1]]
    return np.array(limits)


def _parts(sequences: int) -> list[int]:
    return [5000] * (sequences // 5000) + ([sequences % 5000] if sequences % 5000 else [])


def _largest_t(x: Floats) -> Floats:
    """Largest two-sample t over all splits after readings 3 .. n, shape (n - 2, sequences), of x (n, sequences)."""
    sums, squares = np.cumsum(x, axis=0), np.cumsum(x * x, axis=0)
    out = np.empty((len(x) - 2, x.shape[1]))
    for n in range(3, len(x) + 1):
        j = np.arange(1.0, n)[:, None]
        mean = sums[n - 1] / n
        between = ((sums[: n - 1] - j * mean) ** 2 * (n / (j * (n - j)))).max(axis=0)
        out[n - 3] = np.sqrt((n - 2) * between / (squares[n - 1] - n * mean * mean - between))
    return out
