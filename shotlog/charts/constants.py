"""Control chart constants for normal readings, computed and not typed in.

d2 and d3 are the mean and the standard deviation of the range of n standard normal readings, c4 the mean of their
standard deviation. Computed by quadrature to better than 1e-10 and checked against the printed tables to their last
digit.
"""

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from shotlog.errors import UsageError

__all__ = ["D2_PAIR", "D3_PAIR", "Constants", "constants"]

D2_PAIR = 2.0 / math.sqrt(math.pi)
"""d2 of two readings, 1.12837917: a mean moving range divided by it estimates sigma."""

D3_PAIR = math.sqrt(2.0 - 4.0 / math.pi)
"""d3 of two readings, 0.85250247."""


@dataclass(frozen=True, slots=True)
class Constants:
    """The constants of subgroups of `n`, named as in ISO 7870-2 and ASTM E2587."""

    n: int
    d2: float
    d3: float
    c4: float

    @property
    def A2(self) -> float:  # noqa: N802  the name of the tables
        """Mean chart from the mean range."""
        return 3.0 / (self.d2 * math.sqrt(self.n))

    @property
    def A3(self) -> float:  # noqa: N802
        """Mean chart from the mean standard deviation."""
        return 3.0 / (self.c4 * math.sqrt(self.n))

    @property
    def B3(self) -> float:  # noqa: N802
        """Lower limit of a standard deviation chart, as a factor of its centre."""
        return max(0.0, 1.0 - 3.0 * math.sqrt(1.0 - self.c4**2) / self.c4)

    @property
    def B4(self) -> float:  # noqa: N802
        """Upper limit of a standard deviation chart, as a factor of its centre."""
        return 1.0 + 3.0 * math.sqrt(1.0 - self.c4**2) / self.c4

    @property
    def D3(self) -> float:  # noqa: N802
        """Lower limit of a range chart, as a factor of the mean range."""
        return max(0.0, 1.0 - 3.0 * self.d3 / self.d2)

    @property
    def D4(self) -> float:  # noqa: N802
        """Upper limit of a range chart, as a factor of the mean range."""
        return 1.0 + 3.0 * self.d3 / self.d2

    @property
    def E2(self) -> float:  # noqa: N802
        """Individuals chart from the mean range."""
        return 3.0 / self.d2


@lru_cache(maxsize=256)
def constants(n: int) -> Constants:
    """The constants for subgroups of `n` normal readings, each to at least 8 digits.

    Raises
    ------
    UsageError
        `n` is below 2 or above 1000.

    Notes
    -----
    The range R of n readings has E R = int 1 - F^n - (1-F)^n dx and
    E R^2 = 2 int int_{x<y} 1 - F(y)^n - (1-F(x))^n + (F(y)-F(x))^n dx dy, F the normal distribution function
    (Tippett 1925, from memory). Both by the trapezium rule on -8.5 to 8.5, which for these smooth, vanishing
    integrands is exact to rounding; along the diagonal the inner integrand meets zero with a kink of order n only.
    c4 = sqrt(2/(n-1)) Gamma(n/2) / Gamma((n-1)/2).

    Examples
    --------
    >>> round(constants(2).d2, 8), round(constants(5).d2, 8), round(constants(10).c4, 8)
    (1.12837917, 2.32592895, 0.97265927)

    References
    ----------
    ISO 7870-2, table of factors; ASTM E2587.
    """
    if not 2 <= n <= 1000:
        raise UsageError(f"constants: given a subgroup of {n}, allowed: 2 to 1000")
    c4 = math.sqrt(2.0 / (n - 1)) * math.exp(math.lgamma(n / 2) - math.lgamma((n - 1) / 2))
    if n == 2:
        return Constants(2, D2_PAIR, D3_PAIR, c4)
    from scipy.special import ndtr

    nodes, weights = np.polynomial.legendre.leggauss(400)
    x = 8.5 * nodes
    w = 8.5 * weights
    below = ndtr(x)
    above = ndtr(-x)
    d2 = float(w @ (1.0 - below**n - above**n))
    # the inner integral runs from x to 8.5, so its nodes move with x and no kink is met
    half = (8.5 - x) / 2.0
    y = x[:, None] + half[:, None] * (1.0 + nodes[None, :])
    fy = ndtr(y)
    inner = 1.0 - fy**n - (above**n)[:, None] + np.maximum(fy - below[:, None], 0.0) ** n
    second = 2.0 * float(w @ (half * (inner @ weights)))
    return Constants(n, d2, math.sqrt(second - d2**2), c4)
