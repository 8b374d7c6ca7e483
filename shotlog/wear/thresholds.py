"""Thresholds: the odds at which a change is called, for a stated number of false calls per 100 healthy insert lives.

Were the model exact, the chance that the likelihood ratio of the mixture ever exceeds c in a healthy life would be
below 1/c (Ville 1939). Noise, settling and wander are estimated, so the bars below were read off simulated lives
instead (own; `tests/benchmark/bench_call.py`, whose table says how well they hold: with three channels they do, with
nine there are still about twice as many false calls as stated).
"""

from functools import lru_cache

import numpy as np

__all__ = ["clear_log_odds", "log_odds_threshold"]

_RATES = np.array([0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 40.0])
_POOLED = np.array([5.2, 4.4, 3.6, 2.4, 1.7, 1.0, 0.3])
_OWN = np.array([5.7, 4.9, 4.1, 2.9, 2.2, 1.5, 0.8])


@lru_cache(maxsize=64)
def log_odds_threshold(false_calls_per_100: float, n_sisters: int) -> float:
    """Return the log odds of a change at which it is called.

    `false_calls_per_100`: healthy lives of about 90 shots with a false call, in 100; kept within 0.5 to 40.
    """
    table = _POOLED if n_sisters else _OWN
    rate = float(np.clip(false_calls_per_100, _RATES[0], _RATES[-1]))
    return float(np.interp(np.log(rate), np.log(_RATES), table))


def clear_log_odds(threshold: float) -> float:
    """Return the log odds below which a call is withdrawn: well under the bar, so that a verdict does not flicker."""
    return threshold - 5.0
