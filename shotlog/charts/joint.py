"""How wide the limits of all charts of a life must be, so that few sound lives show any signal.

Limits that hold one later reading with a stated chance fail a life: six charts look at some seventy shots each, level
and spread come from a dozen readings, and readings of a press have heavy tails, follow one another, and still warm up
a little. What such a life reaches is no matter of tables. The inserts before tell it: the farthest that any chart of a
sound life went, in units of its spread, is one number a life, and the next one's is foretold from them as a t
prediction limit of its logarithm. For the first inserts of a design a prior stands in, which is as wide as normal and
heavy-tailed readings together.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from shotlog.charts.constants import D2_PAIR, D3_PAIR
from shotlog.charts.limits import normal_factor

__all__ = ["LIFE_SHOTS", "MOST_SISTERS", "SIGNALS_PER_100", "Joint", "Reached", "plain_per_100"]

SIGNALS_PER_100 = 10
"""Sound lives, of 100, that may show a signal on any chart; judgement: the aim that the charts were given."""

LIFE_SHOTS = 90
"""Shots of the life that the rate is stated for; longer ones show more. Judgement: what such inserts live."""

MOST_SISTERS = 24
"""Sound lives that are kept of a design: the call keeps as many sisters."""

_PEAK, _PEAK_SD = 1.32, 0.25
"""Logarithm of the peak of a life before any was seen, and its spread between lives of a press. Own, 40,000 simulated
lives of 68 judged shots on three channels: half of normal readings (1.13, spread 0.12), half of Student's t with four
degrees of freedom (1.52, 0.33).
"""

_PEAK_WORTH = 1.7
"""How many lives that level counts as. Own: presses differ by 0.19 in the same, so it is (0.25 / 0.19) squared."""

_SPREAD_WORTH = 4.0
"""Degrees of freedom that its spread counts as; judgement: the two kinds of readings differ by a factor of three."""

_N_CHARTS = 6
"""Charts of a life: two on each of three channels."""

_LEAST_UNIT = 0.2
"""No spread is taken to be smaller, as a share of the smallest change that matters; judgement: limits some five
spreads wide are then still no narrower than that change.
"""


@dataclass(frozen=True, slots=True)
class Reached:
    """What one channel of a sound life showed against its own level.

    `spread` of the `learnt` readings the level came from; of the `n` judged ones after them: sum of squared
    differences from the level `squares`, the largest of them `far`, the largest step `step`. In the channel's unit.
    """

    learnt: int
    spread: float
    n: int
    squares: float
    far: float
    step: float


class Joint:
    """What limits of an insert's charts rest on, beside its own readings.

    Parameters
    ----------
    sisters: sound lives of the same design, each by channel; more than `MOST_SISTERS` are not expected.
    least: smallest change that matters by channel, in its unit.
    judged: shots of a life of `LIFE_SHOTS` that are judged.

    Notes
    -----
    The unit of a channel is a pooled spread: that of the own readings and that of the sisters' judged shots about
    their levels, which holds what follows one another and what drifts. A sister's peak is taken in the unit as it was
    without her. A short life reaches less far: its peak is scaled by what the normal law says of the lengths.

    References
    ----------
    Hahn & Meeker 1991, Statistical Intervals (t prediction limits, from memory); Gelman et al. 2013, Bayesian Data
    Analysis 3.3 (normal-inverse-chi-squared, from memory); own otherwise.
    """

    def __init__(self, sisters: Sequence[Mapping[str, Reached]], least: Mapping[str, float], judged: int) -> None:
        self._least = least
        self._judged = max(judged, 1)
        self._pooled = {channel: _summed(one[channel] for one in sisters if channel in one) for channel in least}
        peaks = [peak for peak in (self._peak(one) for one in sisters) if peak > 0.0]
        self._foretold = _foretold([math.log(peak) for peak in peaks])

    def limits(self, channel: str, spread: float, learnt: int) -> tuple[float, float, float]:
        """Return unit, half-width about the level, and the largest step, for `learnt` own readings of a `spread`."""
        unit, known = self._unit(channel, learnt, spread, *self._pooled[channel])
        centre, variance, quantile = self._foretold
        # the unit is off by chance too: the logarithm of a spread of so many degrees of freedom
        wide = unit * math.exp(centre + quantile * math.sqrt(variance + 0.5 / known))
        least = self._least[channel]
        return unit, max(wide * math.sqrt(1.0 + 1.0 / learnt), least), max(wide * math.sqrt(2.0), 2.0 * least)

    def _peak(self, life: Mapping[str, Reached]) -> float:
        """Return the farthest that any chart of a sound life went, in units that knew nothing of it; 0 for none."""
        found, most = 0.0, max((one.n for one in life.values()), default=0)
        for channel, one in life.items():
            if channel in self._pooled and one.n:
                n, squares = self._pooled[channel]
                shared = 1.0 + 1.0 / one.learnt
                unit, _ = self._unit(channel, one.learnt, one.spread, n - one.n, squares - one.squares / shared)
                if unit > 0.0:
                    found = max(found, one.far / math.sqrt(shared) / unit, one.step / math.sqrt(2.0) / unit)
        return found * _usual(self._judged) / _usual(most) if most else 0.0

    def _unit(self, channel: str, learnt: int, spread: float, n: int, squares: float) -> tuple[float, int]:
        """Return the pooled spread and its degrees of freedom."""
        known = learnt - 1 + n
        unit = math.sqrt(((learnt - 1) * spread * spread + max(squares, 0.0)) / known)
        return max(unit, _LEAST_UNIT * self._least[channel]), known


def _summed(shown: Iterable[Reached]) -> tuple[int, float]:
    n, squares = 0, 0.0
    for one in shown:
        n += one.n
        squares += one.squares / (1.0 + 1.0 / one.learnt)
    return n, squares


def _foretold(logs: Sequence[float]) -> tuple[float, float, float]:
    """Return centre and variance of the next logarithm of a peak, and how many spreads about it few lie above."""
    from scipy.special import stdtrit

    n = len(logs)
    mean = math.fsum(logs) / n if n else _PEAK
    within = math.fsum((one - mean) ** 2 for one in logs) + n * _PEAK_WORTH / (n + _PEAK_WORTH) * (mean - _PEAK) ** 2
    variance = (_SPREAD_WORTH * _PEAK_SD**2 + within) / (n + _SPREAD_WORTH)
    centre = (_PEAK_WORTH * _PEAK + n * mean) / (n + _PEAK_WORTH)
    quantile = float(stdtrit(n + _SPREAD_WORTH, 1.0 - SIGNALS_PER_100 / 100.0))
    return centre, variance * (1.0 + 1.0 / (n + _PEAK_WORTH)), quantile


@lru_cache(maxsize=256)
def _usual(n: int) -> float:
    """Return the median of the farthest of `n` shots on every chart, normal readings."""
    return normal_factor(1.0 - 0.5 ** (1.0 / (_N_CHARTS * n)))


@lru_cache(maxsize=64)
def plain_per_100(learnt: int, judged: int) -> int:
    """Return how many of 100 sound lives show a signal by plain 3-sigma limits from `learnt` readings, about.

    Independent normal readings, `judged` shots on three channels, individuals and moving range each; 2000 simulated
    lives. Readings of a press are less kind: this is the least of it. Own.
    """
    rng = np.random.default_rng(1)
    signalled = np.zeros(2000, dtype=bool)
    for _ in range(_N_CHARTS // 2):
        x = rng.standard_normal((2000, learnt + max(judged, 1)))
        first, later = x[:, :learnt], x[:, learnt:]
        spread = np.abs(np.diff(first)).mean(axis=1) / D2_PAIR
        far = np.abs(later - first.mean(axis=1)[:, None]).max(axis=1)
        step = np.abs(np.diff(later)).max(axis=1, initial=0.0)
        signalled |= (far > 3.0 * spread) | (step > (D2_PAIR + 3.0 * D3_PAIR) * spread)
    return round(100.0 * float(signalled.mean()))
