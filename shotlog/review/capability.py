"""Capability of a quantity measured on parts: Cp and Cpk from the spread between neighbours.

Pp and Ppk from the overall spread. Printed-insert runs are short. With twenty parts the 95 % interval of a Cp of 1.33
reaches from about 0.9 to 1.8: the interval is the message. The indices also suppose one steady, normal process; an
insert that wears is none. `cautions` says what of this applies.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi, sqrt

import numpy as np

from shotlog.errors import NotEnoughShots, UsageError
from shotlog.review.quantiles import chi_square

__all__ = ["Capability", "Index", "capability", "index_interval"]

FEWEST = 5
_SHORT = 30
_D2 = 2.0 / sqrt(pi)
_Z = 1.959963984540054


@dataclass(frozen=True, slots=True)
class Index:
    """An index with its 95 % interval."""

    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Capability:
    """Indices of one quantity; those that need two limits are None where only one is given.

    `within` is the spread from the mean moving range of neighbours, `overall` the standard deviation, in the
    quantity's unit.
    """

    n: int
    mean: float
    within: float
    overall: float
    lower: float | None
    upper: float | None
    outside: int
    cp: Index | None
    cpk: Index
    pp: Index | None
    ppk: Index
    cautions: tuple[str, ...]


def capability(values: Sequence[float], lower: float | None, upper: float | None) -> Capability:
    """Return the indices of values in the order they were made, against tolerance limits in the same unit.

    Raises
    ------
    UsageError
        No limit, or the lower one is not below the upper.
    NotEnoughShots
        Fewer than five values, or no spread in them.

    References
    ----------
    ISO 22514-2:2017 (general; from memory). NIST/SEMATECH e-Handbook 6.1.6. Effective degrees of freedom of the mean
    moving range: see `_range_freedom`.
    """
    if lower is None and upper is None:
        raise UsageError("tolerance: given none, allowed: a lower limit, an upper limit or both")
    if lower is not None and upper is not None and lower >= upper:
        raise UsageError(f"tolerance: given {lower:g} to {upper:g}, allowed: the lower limit below the upper")
    x = np.asarray(values, dtype=np.float64)
    if len(x) < FEWEST:
        raise NotEnoughShots(f"capability needs {FEWEST} measured parts: given {len(x)}")
    overall, within = float(x.std(ddof=1)), float(np.abs(np.diff(x)).mean()) / _D2
    if overall == 0.0 or within == 0.0:
        raise NotEnoughShots(f"capability needs a spread: all neighbours of {len(x)} parts measured the same")
    mean, freedom = float(x.mean()), _range_freedom(len(x))
    outside = int(((x < lower) if lower is not None else np.zeros(len(x), bool)).sum())
    outside += int(((x > upper) if upper is not None else np.zeros(len(x), bool)).sum())
    two = None if lower is None or upper is None else upper - lower
    nearest = min(gap for gap in (_gap(mean, lower), _gap(upper, mean)) if gap is not None)
    return Capability(
        len(x),
        mean,
        within,
        overall,
        lower,
        upper,
        outside,
        None if two is None else _two_sided(two / (6.0 * within), freedom),
        index_interval(nearest / (3.0 * within), len(x), freedom),
        None if two is None else _two_sided(two / (6.0 * overall), len(x) - 1.0),
        index_interval(nearest / (3.0 * overall), len(x), len(x) - 1.0),
        _cautions(x, within, overall),
    )


def _gap(high: float | None, low: float | None) -> float | None:
    return None if high is None or low is None else high - low


def _two_sided(value: float, freedom: float) -> Index:
    """Return Cp or Pp with its interval from chi-square with `freedom` degrees of freedom (exact for Pp.

    Normal values).
    """
    low, high = (value * sqrt(chi_square(p, freedom) / freedom) for p in (0.025, 0.975))
    return Index(value, low, high)


def index_interval(value: float, n: int, freedom: float) -> Index:
    """Return Cpk or Ppk with its interval: value -+ z sqrt(1 / (9 n) + value^2 / (2 freedom)).

    References
    ----------
    Bissell 1990, Applied Statistics 39, 331 (from memory): the usual normal approximation.
    """
    reach = _Z * sqrt(1.0 / (9.0 * n) + value**2 / (2.0 * freedom))
    return Index(value, value - reach, value + reach)


def _range_freedom(n: int) -> float:
    """Return the degrees of freedom a standard deviation of equal precision would have.

    For the mean of n - 1 moving ranges.

    References
    ----------
    Own: nu = 1 / (2 cv^2), cv that of the mean moving range. With d = |difference| of neighbours of unit normals, var
    d = 2 - 4/pi and cov of adjacent d = (4/pi) (sqrt(3)/2 + pi/12 - 1), the correlation of adjacent differences being
    -1/2; E d = 2/sqrt(pi).
    """
    own = 2.0 - 4.0 / pi
    adjacent = 4.0 / pi * (sqrt(3.0) / 2.0 + pi / 12.0 - 1.0)
    m = n - 1
    variance = (m * own + 2.0 * (m - 1) * adjacent) / m**2
    return _D2**2 / (2.0 * variance)


def _cautions(x: np.ndarray[tuple[int], np.dtype[np.float64]], within: float, overall: float) -> tuple[str, ...]:
    found = []
    if len(x) < _SHORT:
        found.append(f"short run: {len(x)} parts; read the interval, not the index")
    centred = x - x.mean()
    r = float(centred[1:] @ centred[:-1]) / float(centred @ centred)
    if r > _Z / sqrt(len(x)):
        found.append(
            f"neighbouring parts resemble each other (lag-1 correlation {r:.2f}): the intervals are too narrow"
        )
    if overall > 1.5 * within:
        found.append("the parts drifted or jumped: Cp and Cpk describe a steadiness that was not there; use Pp and Ppk")
    return tuple(found)
