"""Thresholds: the odds at which a change is called, for a stated number of false calls per 100 healthy insert lives.

Were the model exact, the chance that the likelihood ratio of the mixture ever exceeds c in a healthy life would be
below 1/c (Ville 1939). Noise, settling and wander are estimated, so the bars below were read off simulated lives: own,
`tests/benchmark/lives`, seeds 91001 and 91002 (not those of the benchmark), 840 lives with three channels and 630 with
nine; the two lowest rates are carried on along a straight line in the logarithm of the rate. The more channels, the
more there is to estimate; three sisters and more make up for most of that. A first insert is judged with more caution
than the simulation asks for, because steady stretches of real shots do (`tests/benchmark/bench_real.py`).
"""

from functools import lru_cache

import numpy as np

from shotlog.wear.constants import BAR_3, BAR_9, BAR_9_FEW, BAR_FEW, BAR_FIRST, BAR_RATES, CLEAR_BELOW

__all__ = ["clear_log_odds", "log_odds_threshold"]

_RATES, _THREE, _NINE, _NINE_FEW = np.array(BAR_RATES), np.array(BAR_3), np.array(BAR_9), np.array(BAR_9_FEW)


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
