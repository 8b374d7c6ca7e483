"""Bars: the odds at which a change is called, for a stated number of false calls per 100 sound insert lives.

Were the model exact, the chance that the likelihood ratio of the mixture ever exceeds c in a healthy life would be
below 1/c (Ville 1939). Noise, settling and wander are estimated, so the bars below were read off simulated lives: own,
`tests/benchmark/lives`, seeds 91001 and 91002 (not those of the benchmark), 840 lives with three channels and 630 with
nine; the two lowest rates are carried on along a straight line in the logarithm of the rate. The more channels, the
more there is to estimate; three sisters and more make up for most of that. A first insert is judged with more caution
than the simulation asks for, because steady stretches of real shots do (`tests/benchmark/bench_real.py`).
"""

from dataclasses import dataclass, replace
from functools import lru_cache
from math import log

import numpy as np

from shotlog.wear.constants import (
    BAR_3,
    BAR_9,
    BAR_9_FEW,
    BAR_FEW,
    BAR_FIRST,
    BAR_RATES,
    BEYOND_BAR,
    CLEAR_BELOW,
    MOST_OVER,
)

__all__ = ["Tried", "clear_log_odds", "log_odds_threshold", "raised"]

_RATES, _THREE, _NINE, _NINE_FEW = np.array(BAR_RATES), np.array(BAR_3), np.array(BAR_9), np.array(BAR_9_FEW)


@dataclass(frozen=True, slots=True)
class Tried:
    """How the bars of a press have proved: `lives` that have ended, and `cleared`, calls against an insert that a
    person then found sound; `over`: sum of how far those came above the bar, in log odds.
    """

    lives: int = 0
    cleared: int = 0
    over: float = 0.0

    def with_cleared(self, over: float) -> "Tried":
        """Return it with one more call that was none; one that came far over tells no more of how far they go."""
        return replace(self, cleared=self.cleared + 1, over=self.over + min(max(over, 0.0), MOST_OVER))


def raised(stated: float, tried: Tried) -> float:
    """Return the log odds by which the bar stands higher on this press, so that false calls come to the number stated.

    Peaks over a threshold: so many of its lives pass the bar, and those go so far beyond it. Of both, simulation counts
    for the lives in which it expects one false call (means of the gamma posteriors). The bar is never lower than that
    of the table: that nobody has cleared a call does not prove that none was false.
    """
    shown = 100.0 * (1.0 + tried.cleared) / (100.0 / stated + tried.lives)
    beyond = (BEYOND_BAR + tried.over) / (1.0 + tried.cleared)
    return beyond * max(log(shown / stated), 0.0)


@lru_cache(maxsize=64)
def log_odds_threshold(false_calls_per_100: float, n_sisters: int, n_channels: int) -> float:
    """Return the log odds of a change at which it is called.

    `false_calls_per_100`: healthy lives of about 90 shots with a false call, in 100; kept within 0.5 to 40.
    """
    nine = _NINE_FEW if n_sisters < BAR_FEW else _NINE
    share = min(max((n_channels - 3) / 6.0, 0.0), 1.0)
    rate = float(np.clip(false_calls_per_100, _RATES[0], _RATES[-1]))
    bar = float(np.interp(np.log(rate), np.log(_RATES), (1.0 - share) * _THREE + share * nine))
    return bar if n_sisters else bar + BAR_FIRST


def clear_log_odds(threshold: float) -> float:
    """Return the log odds below which a call is withdrawn: well under the bar, so that a verdict does not flicker."""
    return threshold - CLEAR_BELOW
