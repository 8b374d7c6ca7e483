"""Made-up shops that plan a trial from few lives and then run it: how often was the stock enough?"""

from math import gamma, log, sqrt

import numpy as np
from numpy.typing import NDArray

from shotlog.review.plan_lives import Assumed, learnt_lives
from shotlog.review.plan_run import PlannedHalf, Share, TrialPlan, need, play

__all__ = ["KINDS", "share_enough"]

F = NDArray[np.float64]

MEAN, SETTLING, LATE, SCRAP, LOOKED_AT = 60.0, 5, 10, 0.06, 40
KINDS = ("weibull 1.5", "weibull 2.5", "weibull 4", "lognormal 0.4", "lognormal 0.7", "uniform", "early")
"""Lives of 60 shots in the mean: Weibull of a shape; lognormal of a coefficient of variation; even from 10 to 110; and
nine of shape 4 with one in ten that fails within ten shots.
"""


def lives(kind: str, n: int, random: np.random.Generator) -> F:
    """Return whole sound shots of `n` inserts."""
    name, _, size = kind.partition(" ")
    if name == "weibull":
        drawn = MEAN / gamma(1.0 + 1.0 / float(size)) * random.weibull(float(size), n)
    elif name == "lognormal":
        spread = sqrt(log(1.0 + float(size) ** 2))
        drawn = random.lognormal(log(MEAN) - spread**2 / 2.0, spread, n)
    elif name == "uniform":
        drawn = random.uniform(10.0, 110.0, n)
    else:
        drawn = np.where(random.random(n) < 0.1, random.uniform(0.0, 10.0, n), 66.0 * random.weibull(4.0, n))
    return np.asarray(np.floor(drawn))


def share_enough(kind: str, k: int, n_shops: int, *, parts: int = 400, taken_out: bool = False, seed: int = 5) -> float:
    """Return the share of shops whose stock for `parts` accepted parts was enough, planned at 90 % from `k` lives.

    `taken_out`: some of the lives were ended sound, by a plan that has nothing to do with them.
    """
    random = np.random.default_rng(seed)
    enough = 0
    for _ in range(n_shops):
        lived = lives(kind, k, random)
        off = np.ones(k, dtype=bool)
        if taken_out:
            until = np.floor(random.uniform(20.0, 150.0, k))
            off, lived = lived < until, np.minimum(lived, until)
        bad = int(random.binomial(LOOKED_AT, SCRAP))
        share = Share(bad / LOOKED_AT, bad + 0.5, LOOKED_AT + 1.0)
        half = PlannedHalf(learnt_lives(lived.tolist(), off.tolist(), Assumed(40.0, 0.75)), LATE, SETTLING)
        (stock,) = need(play(TrialPlan(parts, 1, share, (half,), SETTLING), 1024).inserts, 0.9)
        if stock == float("inf"):
            enough += 1
            continue
        shots = int(np.maximum(lives(kind, int(stock), random) - SETTLING, 0.0).sum())
        enough += int(random.binomial(shots, 1.0 - SCRAP)) >= parts
    return enough / n_shops
