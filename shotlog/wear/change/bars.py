"""Bars: the odds at which a change is called, for a stated number of false calls per 100 sound insert lives.

Were the model exact, the chance that the likelihood ratio of the mixture ever exceeds c in a sound life would be below
1/c (Ville 1939). Noise, settling and wander are estimated, so the bars are read off simulated lives
(`tests/benchmark/set_bars.py`, seeds 5 to 7), of presses whose noise is none that the filter knows: 600 lives with
three channels, 400 with nine, which tell a bar to within 0.3. Lives far above any bar are left out: there the model is
wrong. The more channels, the more there is to estimate; three sisters and more make up for most of that. These bars
start every press alike.

What a press shows for itself are the calls that people there cleared: each raises its bar (`raised`). A bootstrap of
the sisters' innovations (Gandy & Kvaloy 2013, Scand. J. Statist. 40, from memory) was tried instead, in blocks of 6 to
30 shots or as the tail of each sister's highest odds, shrunk to the table or not: eight lives do not tell what happens
in one of twenty, and a sister's sound stretch is what the bar let pass, so that it never asks for a higher one. What
innovations do tell, how far they scatter, last and throw, is in the filter.
"""

from dataclasses import dataclass, replace
from functools import lru_cache
from math import log

import numpy as np

from shotlog.wear.constants import (
    BAR_3,
    BAR_3_FEW,
    BAR_3_FIRST,
    BAR_9,
    BAR_9_FEW,
    BAR_9_FIRST,
    BAR_FEW,
    BAR_RATES,
    BEYOND_BAR,
    CLEAR_BELOW,
    MOST_OVER,
)

__all__ = ["Tried", "clear_log_odds", "log_odds_threshold", "raised"]

_LOG_RATES = np.log(BAR_RATES)
_THREE = np.array([BAR_3_FIRST, BAR_3_FEW, BAR_3])
_NINE = np.array([BAR_9_FIRST, BAR_9_FEW, BAR_9])
"""For a first insert, one with few sisters, and others."""


@dataclass(frozen=True, slots=True)
class Tried:
    """How the bars of a press have proved: `lives` that have ended, and `cleared`, calls against an insert that a
    person then found sound; `over`: sum of how far those came above the bar, in log odds.

    Under a raised bar fewer lives are called, so that one more life counts for less than one at the table's bar.
    """

    lives: float = 0.0
    cleared: int = 0
    over: float = 0.0

    def with_ended(self, stated: float) -> "Tried":
        """Return it with one more life that has ended, where `stated` false calls in 100 are put up with."""
        return replace(self, lives=self.lives + min(stated / self.shown(stated), 1.0))

    def with_cleared(self, over: float) -> "Tried":
        """Return it with one more call that was none; one that came far over tells no more of how far they go."""
        return replace(self, cleared=self.cleared + 1, over=self.over + min(max(over, 0.0), MOST_OVER))

    def shown(self, stated: float) -> float:
        """Return the lives in 100 that pass the bar of the table, where it was made for `stated` of them."""
        return 100.0 * (1.0 + self.cleared) / (100.0 / stated + self.lives)


def raised(stated: float, tried: Tried) -> float:
    """Return the log odds by which the bar stands higher on this press, so that false calls come to the number stated.

    Peaks over a threshold: so many of its lives pass the bar, and those go so far beyond it. Of both, simulation counts
    for the lives in which it expects one false call (means of the gamma posteriors). The bar is never lower than that
    of the table: that nobody has cleared a call does not prove that none was false.
    """
    beyond = (BEYOND_BAR + tried.over) / (1.0 + tried.cleared)
    return beyond * max(log(tried.shown(stated) / stated), 0.0)


@lru_cache(maxsize=64)
def log_odds_threshold(false_calls_per_100: float, n_sisters: int, n_channels: int) -> float:
    """Return the log odds of a change at which it is called.

    `false_calls_per_100`: healthy lives of about 90 shots with a false call, in 100; kept within 0.5 to 40.
    """
    row = 0 if n_sisters == 0 else 1 if n_sisters < BAR_FEW else 2
    share = min(max((n_channels - 3) / 6.0, 0.0), 1.0)
    return float(np.interp(np.log(false_calls_per_100), _LOG_RATES, (1.0 - share) * _THREE[row] + share * _NINE[row]))


def clear_log_odds(threshold: float) -> float:
    """Return the log odds below which a call is withdrawn: well under the bar, so that a verdict does not flicker."""
    return threshold - CLEAR_BELOW
