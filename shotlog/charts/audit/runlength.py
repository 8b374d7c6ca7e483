"""How long a chart runs before it signals: without a change (the longer the better), and after one (the shorter).

`run_length` asks the chart for its first-passage probabilities where a Markov chain or integral equation exists, takes
the mean over what limits may come out as for an individuals chart that learns them (`estimated`), and simulates it,
seeded, where neither does. Lengths are in judged shots and count the one that signals; shots a chart learns
from first are in control and not counted. `limits_for` is the inverse.
"""

import copy
import math
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TypeVar

import numpy as np

from shotlog.charts.audit.estimated import EstimatedRunLength, estimated_run_length
from shotlog.charts.base import Chart, Floats, VectorChart
from shotlog.charts.change import NO_CHANGE, Change
from shotlog.charts.individuals import Individuals
from shotlog.charts.passage import Survival
from shotlog.errors import UsageError

__all__ = ["NO_CHANGE", "Change", "RunLength", "limits_for", "run_length", "simulated"]

C = TypeVar("C", Chart, VectorChart)

_LONGEST = 400_000
_SETTLED = 1e-11
_ROUNDING = 4e-15


@dataclass(frozen=True, slots=True)
class RunLength:
    """A run-length distribution.

    `survival[n - 1]` is the chance of no signal up to judged shot n; beyond the array it falls by `tail` a shot.
    `method` says how it was had; `error` is the standard error of the average, 0 where computed; `unfinished` the
    share of simulated runs that had not signalled at the horizon: with any, the average is a lower bound.
    """

    method: str
    survival: Floats = field(repr=False)
    tail: float
    error: float = 0.0
    unfinished: float = 0.0

    @property
    def average(self) -> float:
        """Average run length, in judged shots."""
        beyond = float(self.survival[-1]) * self.tail / (1.0 - self.tail) if self.tail < 1.0 else 0.0
        return 1.0 + math.fsum(self.survival) + beyond

    def within(self, n: int) -> float:
        """Chance of a signal within n judged shots."""
        if n < 1:
            return 0.0
        last = len(self.survival)
        left = self.survival[n - 1] if n <= last else self.survival[-1] * self.tail ** (n - last)
        return 1.0 - float(left)

    def percentile(self, percent: float) -> float:
        """The smallest number of judged shots within which `percent` of runs have signalled; infinite if never."""
        if not 0.0 < percent < 100.0:
            raise UsageError(f"run length: given percentile {percent}, allowed: between 0 and 100")
        wanted = 1.0 - percent / 100.0
        if self.survival[-1] <= wanted:
            return float(np.argmax(self.survival <= wanted)) + 1.0
        if not 0.0 < self.tail < 1.0:
            return math.inf
        return len(self.survival) + math.ceil(math.log(wanted / float(self.survival[-1])) / math.log(self.tail) - 1e-12)


def run_length(
    chart: Chart | VectorChart,
    change: Change = NO_CHANGE,
    *,
    runs: int = 2000,
    seed: int = 1,
    horizon: int = 20_000,
    learns: int = 0,
) -> RunLength | EstimatedRunLength:
    """Run length of a chart, in judged shots.

    Parameters
    ----------
    chart: as built, before any reading.
    change: none, a step or a drift, in the chart's sigma; for several channels in Mahalanobis length.
    runs, seed, horizon: of the simulation where no equation exists; a run without signal at the horizon counts as that.
    learns: how many readings the chart is known to learn from first, which saves time; 0 where it is not.

    Raises
    ------
    UsageError
        runs or horizon below 1.

    Notes
    -----
    The forward recursion stops when its fall a shot has settled to 1e-11 of itself; from there it is geometric.

    Examples
    --------
    >>> from shotlog.charts.individuals import Individuals
    >>> found = run_length(Individuals(centre=0.0, sigma=1.0))
    >>> round(found.average, 2), found.percentile(50), found.method
    (370.4, 257, 'computed')

    References
    ----------
    Champ & Woodall 1987; Crowder 1987; Lucas & Saccucci 1990; Lucas & Crosier 1982; Rigdon 1995.
    """
    survival = chart.survival(change)
    if survival is not None:
        return _collected(survival, steady=change.steady)
    if isinstance(chart, Individuals) and change == NO_CHANGE:
        estimated = estimated_run_length(chart)
        if estimated is not None:
            return estimated
    return simulated(chart, change, runs=runs, seed=seed, horizon=horizon, learns=learns)


def _collected(survival: Survival, steady: bool) -> RunLength:
    left: list[float] = []
    ratio, calm = 0.0, 0
    for alive in survival:
        before = left[-1] if left else 1.0
        left.append(max(alive, 0.0))
        if left[-1] <= 1e-14:
            return RunLength("computed", np.array(left), 0.0)
        new = left[-1] / before
        calm = calm + 1 if abs(new - ratio) <= _SETTLED * (1.0 - new) + _ROUNDING else 0
        ratio = new
        if (steady and calm >= 20 and len(left) > 30) or len(left) >= _LONGEST:
            break
    return RunLength("computed", np.array(left), ratio)


def simulated(
    chart: Chart | VectorChart,
    change: Change = NO_CHANGE,
    *,
    runs: int = 2000,
    seed: int = 1,
    horizon: int = 20_000,
    learns: int = 0,
) -> RunLength:
    """The same by simulation, whatever equations exist."""
    if runs < 1 or horizon < 1:
        raise UsageError(f"run length: given {runs} runs of at most {horizon} shots, allowed: 1 or more of each")
    rng = np.random.default_rng(seed)
    lengths = np.array([_one_run(chart, change, rng, horizon, learns) for _ in range(runs)])
    done = lengths <= horizon
    lengths = np.minimum(lengths, horizon)
    counts = np.bincount(lengths[done], minlength=int(lengths.max()) + 1)[1:]
    survival = 1.0 - np.cumsum(counts) / runs
    unfinished = 1.0 - float(done.mean())
    error = float(lengths.std(ddof=1)) / math.sqrt(runs) if runs > 1 else math.nan
    return RunLength("simulated", survival, 1.0 if unfinished > 0.0 else 0.0, error, unfinished)


def _one_run(chart: Chart | VectorChart, change: Change, rng: np.random.Generator, horizon: int, learns: int) -> int:
    """Judged shots up to the first signal; horizon + 1 if none came."""
    chart = copy.deepcopy(chart)
    size = () if isinstance(chart, Chart) else (chart.n_channels,)
    if learns > 1:
        chart.run(chart.readings(rng.standard_normal((learns - 1, *size))))
    for _ in range(10_000):
        if chart.ready:
            break
        chart.run(chart.readings(rng.standard_normal((1, *size))))
    n, part = 0, 64
    while n < horizon:
        noise = rng.standard_normal((part, *size))
        shift = np.array([change.mean(n + i) for i in range(1, part + 1)])
        if size:
            noise[:, 0] += shift
        else:
            noise += shift
        run = chart.run(chart.readings(noise))
        fired = np.logical_or.reduce(list(run.fired.values()))
        if fired.any():
            return min(n + int(np.argmax(fired)) + 1, horizon + 1)
        n += part
        part = min(2 * part, 4096)
    return horizon + 1


def limits_for(make: Callable[[float], C], arl0: float, low: float, high: float) -> C:
    """The chart with limits for one false alarm in `arl0` judged shots on average.

    Parameters
    ----------
    make: builds the chart from its limit, e.g. ``lambda h: Cusum(k=0.5, h=h, centre=0.0, sigma=1.0)``; a larger limit
        must give longer runs. For charts whose parameter is alpha no search is needed: alpha is 1/arl0.
    arl0: judged shots to one false alarm, above 1.
    low, high: limits between which it is searched.

    Raises
    ------
    UsageError
        No equation exists for the chart, or the run length is not met between `low` and `high`.

    Examples
    --------
    >>> from shotlog.charts.audit.cusum import Cusum
    >>> chart = limits_for(lambda h: Cusum(k=0.5, h=h, centre=0.0, sigma=1.0), 370.4, 1.0, 10.0)
    >>> round(chart.h, 4)
    4.7749
    """

    def average(limit: float) -> float:
        survival = make(limit).survival(NO_CHANGE)
        if survival is None:
            raise UsageError("limits: no equation exists for this chart, allowed: charts with known level and spread")
        return _collected(survival, steady=True).average

    if not average(low) <= arl0 <= average(high):
        raise UsageError(f"limits: a run length of {arl0} is not met between {low} and {high}")
    for _ in range(50):
        middle = (low + high) / 2.0
        low, high = (middle, high) if average(middle) < arl0 else (low, middle)
        if high - low <= 1e-9 * high:
            break
    return make(high)
