"""What the ended lives of a design say of how much longer an insert will do.

A wear that is followed is told from how its sisters wore (`worn`); what breaks without a warning is a hazard beside it
that has no memory, and counts only lives that ended so. Where nothing is followed, how long sisters lived tells, which
holds both. No life counts in two of them at once.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from shotlog.life_text import LifeTold
from shotlog.wear.constants import (
    COURSE_ROUNDS,
    COURSE_WORTH,
    PLANNED_LIFE,
    SUDDEN_SHARE,
)
from shotlog.wear.life.lifetimes import EndedLife, Weibull, worth
from shotlog.wear.life.worn import LOG_PRIOR, STAYS, Worn

__all__ = ["Ends", "Rates", "ends_of"]

F = NDArray[np.float64]

Rates = tuple[F, F, F]
"""(log rate, its variance, share), (lives, powers) each: of one channel, in its unit, see `worn.Rate`."""


@dataclass(frozen=True, slots=True)
class Ends:
    """`lives`: how long sisters stayed sound, `kept`: how long they lasted; None for too few. `log_share` (courses,):
    how likely an insert wears by each. `rates`: how fast sisters wore, by channel and whether it went up. `sudden`,
    `shots`: sudden ends, and shots made, the pseudo-observation counted in. `n_here`, `n_elsewhere`: ended lives that
    all of it rests on.
    """

    lives: Weibull | None
    kept: Weibull | None
    log_share: F
    rates: Mapping[tuple[str, bool], Rates]
    sudden: float
    shots: float
    n_here: int
    n_elsewhere: int

    def unbroken(self, made: float, ahead: F) -> F:
        """Return the chance that an insert which has made `made` shots does not break in so many `ahead`.

        A constant hazard with a gamma distribution: of one failure at the planned life, the sudden share stands before
        those seen, as in `lifetimes.hazard` (own: Lomax, the mixture of exponentials).
        """
        shots = self.shots + made
        return np.asarray((shots / (shots + ahead)) ** self.sudden)


def ends_of(
    ended: Sequence[EndedLife], lives: Weibull | None, kept: Weibull | None, elsewhere: Sequence[LifeTold] = ()
) -> Ends:
    """Return what ended lives say, those on other presses for what they are worth; `lives`, `kept`: life curves."""
    prior, each = np.exp(LOG_PRIOR), worth(len(elsewhere))
    courses = [np.array(one.course) for one in elsewhere if len(one.course) == len(prior) and sum(one.course) > 0.0]
    before = COURSE_WORTH * prior + each * np.sum([one / one.sum() for one in courses], axis=0)
    worn, share = _alike([one.worn for one in ended if one.worn is not None], before)
    sudden = SUDDEN_SHARE + sum(one.sudden for one in ended) + each * sum(one.sudden for one in elsewhere)
    shots = PLANNED_LIFE + sum(max(one.made, one.n_shots) for one in ended) + each * sum(one.made for one in elsewhere)
    here = len(ended), len(elsewhere)
    return Ends(lives, kept, np.log(share), _rates(worn), sudden, float(shots), *here)


def _rates(worn: Sequence[Worn]) -> dict[tuple[str, bool], Rates]:
    """Return how fast inserts wore that did not just stay what they were, by channel and whether it went up."""
    grew = [one for one in worn if one.shares[STAYS] < 1.0]
    found = {}
    for name, up in sorted({(name, rate.up) for one in grew for name, rate in one.rates.items()}):
        rows = [(one.rates[name], one.shares) for one in grew if name in one.rates and one.rates[name].up == up]
        log, variance = np.array([rate.log for rate, _ in rows]), np.array([rate.variance for rate, _ in rows])
        found[name, up] = log, variance, np.array([shares[STAYS + 1 :] / (1.0 - shares[STAYS]) for _, shares in rows])
    return found


def _alike(worn: Sequence[Worn], before: F) -> tuple[list[Worn], F]:
    """Return how inserts wore as each looks beside its sisters, and how likely one wears by each course.

    One life hardly tells a course from the next; all of them together do, where they are of a few kinds (own:
    expectation and maximisation of the shares in turn, from a Dirichlet prior worth COURSE_WORTH lives and those on
    other presses: `before`).
    """
    prior = np.exp(LOG_PRIOR)
    alone = np.array([one.shares for one in worn]).reshape(-1, len(prior)) / prior
    each, share = alone, before / before.sum()
    for _ in range(COURSE_ROUNDS):
        each = alone * share
        each /= each.sum(axis=1, keepdims=True)
        share = before + each.sum(axis=0)
        share /= share.sum()
    return [replace(one, shares=shares) for one, shares in zip(worn, each, strict=True)], share
