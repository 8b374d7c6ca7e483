"""From the sums of the filter to weights: how likely is a change, of which cause, since when, how large.

The size of a fault along a direction has a normal prior cut at zero (ramps about 0.2 sigma a shot, steps about 4 sigma:
judgement, wide). Integrated, the log likelihood ratio of a hypothesis is

    E - log(1 + w^2 B)/2 + log Phi(m sqrt(P)) - log Phi(mu/w),   E = ((A + mu/w^2)^2 / P - (mu/w)^2) / 2,   P = B +
    1/w^2, m = (A + mu/w^2) / P

with A = d'S, B = d'I d, prior N(mu, w^2) cut at zero (own, by completing the square). Where the spread rests on few
shots, E > 0 is replaced by (nu + 1)/2 log(1 + 2E/nu), as in a t statistic with nu degrees of freedom.
"""

from dataclasses import dataclass
from math import exp, inf, log, log1p

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.change.courses import GRADUAL, SHAPE_TABLE
from shotlog.wear.change.hypotheses import Hypotheses
from shotlog.wear.compiled.forgiving import forgive, move_beside
from shotlog.wear.compiled.weighing import (
    Found,
    Rows,
    Screened,
    Sizes,
    Sums,
    Widening,
    integrate,
    screen,
    screen_spread,
)
from shotlog.wear.constants import (
    DOF_SHARE,
    FAR,
    HAZARD,
    HUGE_FACTOR,
    HUGE_SHARE,
    RAMP_SIZE,
    RAMP_WIDTH,
    STARTS_ELSEWHERE,
    STEP_SIZE,
    STEP_WIDTH,
    TABLE_OFF_FROM,
    WORN_AT_FIRST,
)

__all__ = ["Details", "Posterior", "weigh"]

F = NDArray[np.float64]

_MU = np.tile([STEP_SIZE, STEP_SIZE, RAMP_SIZE, RAMP_SIZE], (2, 1))
_WIDTH = np.outer([1.0, HUGE_FACTOR], [STEP_WIDTH, STEP_WIDTH, RAMP_WIDTH, RAMP_WIDTH])
_TAILS = np.log([1.0 - HUGE_SHARE, HUGE_SHARE])
"""Most changes are of the usual size; one in ten may be ten times that, so that a huge one is called as what it is."""

_SIZES: Sizes = (_MU, _WIDTH, _TAILS, SHAPE_TABLE, GRADUAL, FAR)
_NO_FACTORS = np.empty((0, 0))


@dataclass(frozen=True, slots=True)
class Details:
    """Every hypothesis that counts: log weight `joint` (-inf for none), `reach` = size x shape now; by row of the table
    and slot of `onset`. `spread`: log weight of a growing spread, `fallen`: the fall about which it grows; by cause
    that shows so, and slot.
    """

    onset: NDArray[np.int64]
    joint: F
    reach: F
    spread: F
    fallen: F


@dataclass(frozen=True, slots=True)
class Posterior:
    """What the shots say about a change; shares sum to 1.

    `log_odds` of a change against none, a start elsewhere among what is none; `elsewhere`: log odds of such a start
    against one where the sisters start, -inf where it is not asked. `by_cause` (n_causes,). `onsets`, `by_onset`:
    ascending shots on the insert and their shares. `effect`, `slope` (p,): mean fitted change at the last shot, and per
    shot, in sigma. `gradual`: share of shapes that go on growing; `growing_spread`: share of those that show as a
    growing spread.
    """

    log_odds: float
    by_cause: F
    onsets: NDArray[np.int64]
    by_onset: F
    effect: F
    slope: F
    gradual: float
    growing_spread: float
    details: Details
    elsewhere: float = -inf


def weigh(
    sums: Sums, hyp: Hypotheses, n: int, dof: float, first_onset: int, factors: F | None, at_least: float
) -> Posterior | float | None:
    """Weigh every hypothesis after shot `n`; where the log odds cannot reach `at_least`, return an upper bound of them
    instead, and None where no onset is kept.

    `first_onset`: earlier ones are left out. Where it is 1, a level that is off from the first shot on is no change but
    a start elsewhere, which may explain as well what looks like one. `factors`: (n_causes, T) prior factors from logged
    events, None for 1. The bound puts the best size in place of the integral over sizes; it saves the second pass on
    nearly every shot of a healthy life.
    """
    onsets, _, score, _, _, _, growth = sums
    p, t = len(score), len(onsets)
    dof = dof * (1.0 + DOF_SHARE * (p - 1))
    known = _NO_FACTORS if factors is None else factors
    rows: Rows = (hyp.shape, hyp.cause, hyp.direction, hyp.pairs, hyp.share)
    widening: Widening = (hyp.spread_channel, hyp.spread_cause, hyp.spread_share)
    shape, n_spread = (len(hyp.cause), t), len(hyp.spread_cause)
    spread, fall = np.empty((n_spread, 2 * growth.shape[2], t)), np.empty((n_spread, t))
    screened: Screened = (np.empty(t), np.empty(shape), np.empty(shape), spread, fall)
    total = screen(sums, first_onset, HAZARD, WORN_AT_FIRST, rows, known, dof, screened)
    total += screen_spread(sums, widening, known, dof, RAMP_SIZE, RAMP_WIDTH, screened)
    if total == 0.0:
        return None
    at_most = log(total)
    if at_most < at_least:
        return at_most
    joint, reach = np.empty(shape), np.empty(shape)
    by_cause, by_onset, effect, slope = np.zeros(len(hyp.names)), np.zeros(t), np.zeros(p), np.zeros(p)
    found: Found = (joint, reach, by_cause, by_onset, effect, slope)
    start, slack = 1 if first_onset == 1 else 0, np.empty(shape)
    forgive(sums, rows, screened, hyp.beside, TABLE_OFF_FROM, slack)
    best, total, gradual, wide, began = integrate(
        screened, rows, widening, onsets, n, known, dof, _SIZES, slack, start, found
    )
    if (slack > 0.0).any():
        age = np.minimum(np.maximum(n - onsets + 1, 1), SHAPE_TABLE.shape[1] - 1)
        now = SHAPE_TABLE[:, age]
        growth = np.where(np.arange(len(now))[:, None] >= GRADUAL, now - SHAPE_TABLE[:, age - 1] * (age > 1), 0.0)
        weights = np.exp(joint - best) / total
        move_beside(sums, rows, screened, weights, slack, now, growth, hyp.beside, effect, slope)
    elsewhere = best + log(began * STARTS_ELSEWHERE / WORN_AT_FIRST) if began > 0.0 else -inf
    order = np.argsort(onsets, kind="stable")
    order = order[onsets[order] > 0]
    return Posterior(
        best + log(total) - (elsewhere if elsewhere > 50.0 else log1p(exp(elsewhere))),
        by_cause / total,
        onsets[order],
        by_onset[order] / total,
        effect,
        slope,
        gradual / total,
        wide / total,
        Details(onsets.copy(), joint, reach, spread.max(axis=1), _fallen(fall, spread, onsets, n)),
        elsewhere,
    )


def _fallen(fall: F, spread: F, onsets: NDArray[np.int64], n: int) -> F:
    """Return how far a channel has fallen by shot `n` about whose fall a spread grows; 0 where it grows without one."""
    about = spread.argmax(axis=1) >= spread.shape[1] // 2
    return np.asarray(
        fall * SHAPE_TABLE[GRADUAL, np.minimum(np.maximum(n - onsets + 1, 0), SHAPE_TABLE.shape[1] - 1)] * about
    )
