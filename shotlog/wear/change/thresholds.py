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

__all__ = ["clear_log_odds", "log_odds_threshold"]

_RATES = np.array([0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 40.0])
_THREE_CHANNELS = np.array([3.2, 2.6, 2.0, 1.25, 0.55, -0.1, -0.7])
_NINE_CHANNELS = np.array([3.9, 3.2, 2.5, 1.5, 0.8, 0.0, -0.6])
_NINE_FEW_SISTERS = np.array([6.2, 5.2, 4.2, 2.6, 1.3, 0.5, -0.2])
_FEW = 3
_FIRST = 0.75
"""Added for the first insert of a design."""


@lru_cache(maxsize=64)
def log_odds_threshold(false_calls_per_100: float, n_sisters: int, n_channels: int) -> float:
    """Return the log odds of a change at which it is called.

    `false_calls_per_100`: healthy lives of about 90 shots with a false call, in 100; kept within 0.5 to 40.
    """
    nine = _NINE_FEW_SISTERS if n_sisters < _FEW else _NINE_CHANNELS
    share = min(max((n_channels - 3) / 6.0, 0.0), 1.0)
    rate = float(np.clip(false_calls_per_100, _RATES[0], _RATES[-1]))
    bar = float(np.interp(np.log(rate), np.log(_RATES), (1.0 - share) * _THREE_CHANNELS + share * nine))
    return bar if n_sisters else bar + _FIRST


def clear_log_odds(threshold: float) -> float:
    """Return the log odds below which a call is withdrawn: well under the bar, so that a verdict does not flicker."""
    return threshold - 5.0
