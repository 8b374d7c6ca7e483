"""Run lengths of an individuals chart whose limits were estimated, over all that the estimates may have come out as.

Given the limits, shots signal on their own, each with the same chance p; but p is that of the limits that were drawn.
Lucky ones hardly ever signal, unlucky ones at every few shots, and no chart tells which it has. So the run length is a
mixture: its next shot signals with the mean of p, which is far above that of known limits, while its average is that
of 1 / p, which lucky limits dominate; from few readings it is infinite. The median is what to go by.

Level and spread of normal readings are independent, and so are the two factors of a mean moving range: the root of
the sum of squares, and what depends on the direction of the readings only (`limits`). So the mean over both is one of
quadratures: Gauss-Hermite for the level, the trapezoidal rule on the logarithm of the spread.
"""

import math
from dataclasses import dataclass, field

import numpy as np

from shotlog.charts.base import Floats
from shotlog.charts.constants import D2_PAIR
from shotlog.charts.individuals import Individuals
from shotlog.charts.limits import direction_rule
from shotlog.errors import UsageError

__all__ = ["EstimatedRunLength", "estimated_run_length"]

_SPREADS, _LEVELS = 401, 24


@dataclass(frozen=True, slots=True)
class EstimatedRunLength:
    """A run-length distribution over the limits that may be drawn.

    `log_chance`: logarithm of the chance that a shot signals, for each of many limits; `weight`: of each, sum 1.
    `endless`: the average is infinite.
    """

    log_chance: Floats = field(repr=False)
    weight: Floats = field(repr=False)
    endless: bool
    method: str = "computed"
    error: float = 0.0
    unfinished: float = 0.0

    @property
    def average(self) -> float:
        """Average run length, in judged shots."""
        if self.endless:
            return math.inf
        some = self.weight > 0.0
        return float(np.exp(np.log(self.weight[some]) - self.log_chance[some]).sum())

    def within(self, n: int) -> float:
        """Chance of a signal within n judged shots."""
        if n < 1:
            return 0.0
        stays = np.log1p(-np.minimum(np.exp(self.log_chance), 1.0 - 1e-16))
        return float(self.weight @ -np.expm1(n * stays))

    def percentile(self, percent: float) -> float:
        """The smallest number of judged shots within which `percent` of runs have signalled; infinite if never."""
        if not 0.0 < percent < 100.0:
            raise UsageError(f"run length: given percentile {percent}, allowed: between 0 and 100")
        low, high = 0, 1
        while self.within(high) < percent / 100.0:
            low, high = high, 2 * high
            if high > 10**15:
                return math.inf
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (middle, high) if self.within(middle) < percent / 100.0 else (low, middle)
        return float(high)


def estimated_run_length(chart: Individuals) -> EstimatedRunLength | None:
    """Run length in control of a chart that learns level, spread or both from its first readings.

    None where nothing is learnt, or where something else than the limits may signal or move them (run rules, a least
    width).

    Notes
    -----
    With "sd" exact, but for the quadrature (1e-6). With "mr" as good as the moments of `limits` let it: chances within
    n shots to 1 %; the average, which hangs on the luckiest limits, to some %. The average is infinite where the
    spread's own tail is no thinner than the chance of a signal is small: estimates with "sd" of nu degrees of freedom
    and a half-width of f have it for f^2 >= nu, those with "mr" of m readings for f sqrt(4 m - 6) >= (m - 1) d2 (own:
    the largest mean moving range that readings of a given sum of squares can have).

    Examples
    --------
    >>> found = estimated_run_length(Individuals(baseline=10))
    >>> round(found.within(1), 3), found.average
    (0.023, inf)

    References
    ----------
    Quesenberry 1993, J. Quality Technology 25, and Chen 1997, Statistica Sinica 7, treat the same question by
    simulation and for means (from memory); the quadrature is own.
    """
    base = chart.base
    if base.known or not chart.only_limits:
        return None
    m, factor = base.n_wanted, chart.factor(base.n_wanted)
    level, level_weight = np.zeros(1), np.ones(1)
    if base.given_centre is None:
        level, level_weight = np.polynomial.hermite_e.hermegauss(_LEVELS)
        level, level_weight = level / math.sqrt(m), level_weight / level_weight.sum()
    ratio, ratio_weight, reach = np.ones(1), np.ones(1), 0.0
    if base.given_sigma is None:
        nu = m if base.estimate == "sd" and base.given_centre is not None else m - 1
        share, share_weight, most = _shares(base.estimate, m, nu)
        reach = (factor * most) ** 2
        chi, chi_weight = _chi(nu, reach)
        ratio = (share[:, None] * chi).ravel()
        ratio_weight = (share_weight[:, None] * chi_weight).ravel()
    from scipy.special import log_ndtr

    half = factor * ratio[:, None]
    log_chance = np.logaddexp(log_ndtr(level - half), log_ndtr(-level - half))
    weight = ratio_weight[:, None] * level_weight
    return EstimatedRunLength(log_chance.ravel(), weight.ravel(), reach >= 1.0)


def _shares(estimate: str, m: int, nu: int) -> tuple[Floats, Floats, float]:
    """Return what the spread estimate is as a share of the root of the sum of squares: nodes, weights, the largest."""
    if estimate == "sd":
        one = 1.0 / math.sqrt(nu)
        return np.array([one]), np.ones(1), one
    nodes, weights = direction_rule(m)
    step = max(1, len(nodes) // 64)  # three readings: a circle, of which a few points do
    nodes, weights = nodes[::step], weights[::step]
    return nodes / D2_PAIR, weights / weights.sum(), math.sqrt(4.0 * m - 6.0) / (m - 1) / D2_PAIR


def _chi(nu: int, reach: float) -> tuple[Floats, Floats]:
    """Return nodes and weights of a chi variable, far enough out for a mean that grows as exp(reach chi^2 / 2)."""
    thin = 1.0 - reach if reach < 0.99 else 1.0
    top = math.sqrt(nu + 12.0 * math.sqrt(2.0 * nu) + 80.0) / math.sqrt(thin)
    x = np.linspace(0.5 * math.log(nu) - 42.0 / nu - 2.0, math.log(top), _SPREADS)
    log_density = nu * x - 0.5 * np.exp(2.0 * x)
    weight = np.exp(log_density - log_density.max())
    return np.exp(x), weight / weight.sum()
