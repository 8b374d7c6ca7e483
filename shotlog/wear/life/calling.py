"""What the shots say about a change, and what follows: a call, or its end where the evidence has gone."""

import numpy as np
from numpy.typing import NDArray

from shotlog.errors import NotEnoughShots
from shotlog.wear.change.bars import clear_log_odds
from shotlog.wear.change.causes import CAUSES, EVENT_FACTORS, NEXT_BATCH, moves
from shotlog.wear.change.onset import Onset, onset_of
from shotlog.wear.change.posterior import Posterior, weigh
from shotlog.wear.constants import (
    ACCEPT_MARGIN,
    EVENT_NEAR,
    FIRST_ONSET,
    GOING_ON_FREE,
    GOING_ON_SHARE,
    GROWN,
    LOW_FOR,
    RETURN_SEEN,
    SEEN_EARLIER,
)
from shotlog.wear.life.changes import Accepted, OpenChange
from shotlog.wear.life.closing import undone_by
from shotlog.wear.life.half import HalfState
from shotlog.wear.life.marks import Beyond
from shotlog.wear.life.stretch import Stretch

__all__ = ["begin", "beyond", "call_or_clear", "weighed", "worth_a_call"]

F = NDArray[np.float64]


def weighed(life: HalfState, n: int, at_least: float = -np.inf, on: Stretch | None = None) -> Posterior | float | None:
    """Return the posterior, or an upper bound of its log odds where they cannot reach `at_least`.

    `on`: the stretch that is looked at, by default the one that is followed. None before a baseline, or before an onset
    is looked for.
    """
    stretch = life.stretch if on is None else on
    prior, filt = stretch.prior, stretch.filter
    if prior is None or filt is None or life.hypotheses is None:
        return None
    # what a swap leaves is asked of the first shots, and is no change on the new insert
    asked = life.carried is not None and not life.carried.outcome
    first = FIRST_ONSET[1 if prior.n_sisters and not asked else 0]
    if filt.last < first:
        return None
    sums = filt.sums()
    return weigh(sums, life.hypotheses, n, prior.dof, first, _factors(life, sums[0]), at_least)


def _factors(life: HalfState, onsets: NDArray[np.int64]) -> F | None:
    """Return how much likelier the log makes each cause at each onset; None where it says nothing."""
    if not life.events:
        return None
    factors = np.ones((len(CAUSES), len(onsets)))
    for at, kind in life.events:
        if kind in EVENT_FACTORS:
            near = (onsets >= at - 1) & (onsets <= at + (1 if kind == NEXT_BATCH else EVENT_NEAR))
            factors[:, near] *= EVENT_FACTORS[kind][:, None]
    return factors


def call_or_clear(life: HalfState, post: Posterior, n: int, bar: float, settling: bool) -> None:
    """Call a change at the bar, follow the one called, or withdraw it once three shots speak against it."""
    call = life.call
    if call is None:
        if post.log_odds >= bar and not settling and worth_a_call(life, life.stretch, post, n):
            begin(life, post, n, bar)
        return
    low_for = call.low_for
    if life.stretch.filter is not None and life.stretch.filter.last == n:
        low_for = low_for + 1 if post.log_odds < clear_log_odds(bar) else 0
    if low_for >= LOW_FOR:
        life.withdraw()
    else:
        onset = onset_of(post.onsets, post.by_onset, n)
        life.follow(onset, low_for, post.log_odds - bar)
        if n - call.at <= RETURN_SEEN:
            _close_undone(life, post, onset)


def begin(life: HalfState, post: Posterior, n: int, bar: float) -> None:
    """Begin a call; where the change undoes an open one, the level is back and both are closed."""
    onset = onset_of(post.onsets, post.by_onset, n)
    life.begin_call(
        OpenChange(n, onset, over=post.log_odds - bar), beyond(life, post, onset.clean, onset.high + ACCEPT_MARGIN)
    )
    _close_undone(life, post, onset)


def _close_undone(life: HalfState, post: Posterior, onset: Onset) -> None:
    undone = undone_by(life, onset.shot, post)
    if undone is not None:
        closed = Accepted(undone.onset.clean, undone.group, onset.shot)
        life.accept(closed)
        life.accept(closed, undone)
        if undone.carried:
            life.settle_swap("mended")


def beyond(life: HalfState, post: Posterior, low: int, high: int) -> Beyond:
    """Return where to go on after a change that came in the shots `low` to `high`: what grows goes on growing.

    Raises
    ------
    NotEnoughShots
        There is no baseline yet.
    """
    prior = life.stretch.prior
    if prior is None:
        raise NotEnoughShots("no baseline yet")
    sd = np.hypot(GOING_ON_SHARE * np.abs(post.slope), GOING_ON_FREE * post.gradual)
    return Beyond(low, high, prior.named(post.slope), prior.named(sd))


def worth_a_call(life: HalfState, on: Stretch, post: Posterior, n: int) -> bool:
    """Whether a change is of practical size, and more than the last shot speaks for it or something was logged now."""
    prior, last = on.prior, on.filter.last if on.filter is not None else n
    if prior is None:
        return False
    sized = bool((np.abs(post.effect) >= prior.least).any()) or post.growing_spread > GROWN
    earlier = float(post.by_onset[post.onsets < last].sum())
    return sized and (earlier >= SEEN_EARLIER or any(at >= n - 1 and moves(kind) for at, kind in life.events))
