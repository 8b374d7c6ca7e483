"""What the shots say about a change, and what follows: a call, its end, or a change taken as the new level."""

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.change.causes import CAUSES, EVENT_FACTORS, NEXT_BATCH, UNKNOWN, moves
from shotlog.wear.change.detector import Filter
from shotlog.wear.change.onset import onset_of
from shotlog.wear.change.posterior import Posterior, weigh
from shotlog.wear.change.thresholds import clear_log_odds
from shotlog.wear.constants import (
    ACCEPT_FROM,
    ACCEPT_GRADUAL,
    ACCEPT_MARGIN,
    ANY_AFTER,
    EVENT_NEAR,
    FIRST_ONSET,
    GROWN,
    LOT_NEAR,
    LOW_FOR,
    MATERIAL_AFTER,
    MATERIAL_WEIGHT,
    MATERIAL_WEIGHT_LOGGED,
    MENDED_ALONG,
    MENDED_FROM,
    MENDED_GROWN,
    MENDED_SIZE,
    SEEN_EARLIER,
    SHADOW_AFTER,
    SHADOW_BAR,
    SHADOW_FROM,
    STEADY_AFTER,
)
from shotlog.wear.level.baseline import Prior
from shotlog.wear.life.half import Accepted, HalfState
from shotlog.wear.life.stretch import Stretch

__all__ = ["accept", "by_channel", "call_or_clear", "look_for_forgotten_swap", "weighed"]

F = NDArray[np.float64]


def weighed(life: HalfState, n: int, at_least: float = -np.inf) -> Posterior | float | None:
    """Return the posterior, or an upper bound of its log odds where they cannot reach `at_least`.

    None before a baseline, or before an onset is looked for.
    """
    prior, filt = life.stretch.prior, life.stretch.filter
    if prior is None or filt is None or life.hypotheses is None or filt.last < FIRST_ONSET:
        return None
    sums = filt.sums()
    return weigh(sums, life.hypotheses, n, prior.dof, FIRST_ONSET, _factors(life, sums[0]), at_least)


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
    prior, call = life.stretch.prior, life.call
    if prior is None:
        return
    sized = bool((np.abs(post.effect) >= prior.least).any()) or post.growing_spread > GROWN
    if call is None:
        if post.log_odds >= bar and sized and not settling and _seen_twice(life, post, n):
            life.begin_call(n, onset_of(post.onsets, post.by_onset, n))
        return
    if call.carried:
        _mended(life, post, n, bar, sized)
        return
    low_for = call.low_for
    if life.stretch.filter is not None and life.stretch.filter.last == n:
        low_for = low_for + 1 if post.log_odds < clear_log_odds(bar) else 0
    if low_for >= LOW_FOR:
        life.withdraw()
    else:
        life.follow(onset_of(post.onsets, post.by_onset, n), low_for)


def _seen_twice(life: HalfState, post: Posterior, n: int) -> bool:
    """Whether more than the last shot speaks for the change, or something was logged just now."""
    last = life.stretch.filter.last if life.stretch.filter is not None else n
    earlier = float(post.by_onset[post.onsets < last].sum())
    return earlier >= SEEN_EARLIER or any(at >= n - 1 and moves(kind) for at, kind in life.events)


def _mended(life: HalfState, post: Posterior, n: int, bar: float, sized: bool) -> None:
    """End a press fault that outlived a swap when the level comes back."""
    prior, carried = life.stretch.prior, life.carried
    if prior is None or carried is None or post.log_odds < bar or not sized or n < MENDED_FROM:
        return
    if carried.weights.get("check-ring leak", 0.0) > 0.5:
        return
    before = by_channel(prior, carried.effect) / prior.sigma
    along = float(post.effect @ before) / (np.linalg.norm(post.effect) * np.linalg.norm(before) + 1e-12)
    size = np.linalg.norm(post.effect) / max(float(np.linalg.norm(before)), 1e-9)
    if along < -MENDED_ALONG and MENDED_SIZE[0] < size < MENDED_SIZE[1] and post.growing_spread < MENDED_GROWN:
        onset = onset_of(post.onsets, post.by_onset, n)
        life.settle_swap("mended")
        life.accept(Accepted(onset.clean, "press"), n)


def accept(life: HalfState, post: Posterior, n: int) -> None:
    """Take a change as the new level once that is what it is."""
    call = life.call
    if call is None or call.carried:
        return
    since = n - call.onset.shot + 1
    logged = any(moves(kind) == "material" and abs(at - call.onset.shot) <= LOT_NEAR for at, kind in life.events)
    material = (
        call.group == "material"
        and call.weight >= (MATERIAL_WEIGHT_LOGGED if logged else MATERIAL_WEIGHT)
        and since > MATERIAL_AFTER
    )
    elsewhere = (call.group != "insert" or call.cause == UNKNOWN) and since > STEADY_AFTER
    if n - call.at < ACCEPT_FROM or not (
        ((material or elsewhere) and post.gradual < ACCEPT_GRADUAL) or n - call.at > ANY_AFTER
    ):
        return
    high = max(min(call.onset.high + ACCEPT_MARGIN, n - ACCEPT_MARGIN), call.onset.clean)
    life.accept(Accepted(call.onset.clean, call.group), high)


def look_for_forgotten_swap(life: HalfState) -> None:
    """After a pause, ask whether a fresh insert explains the shots since better than the old one after a wait."""
    at, prior = life.pause, life.stretch.prior
    if at is None or prior is None or not prior.n_sisters or at < SHADOW_FROM:
        return
    if sum(row.n >= at and bool(row.values) for row in life.stretch.rows) <= SHADOW_AFTER:
        return
    # a change that began well after the wait is no swap in it
    later = life.call is not None and life.call.onset.low > at + 1
    fresh = not later and _fresh_from(life.stretch, prior, at) > SHADOW_BAR
    life.end_pause(life.first - 1 + at if fresh else None)


def _fresh_from(stretch: Stretch, prior: Prior, at: int) -> float:
    """Return the log likelihood ratio of a fresh insert from shot `at` on against the old one after a wait."""
    earlier = Stretch([row for row in stretch.rows if row.n < at], stretch.skipped, stretch.freed, prior=prior)
    earlier.run_again()
    before = earlier.filter.log_likelihood if earlier.filter is not None else 0.0
    after = stretch.filter.log_likelihood if stretch.filter is not None else 0.0
    fresh, aside = Filter(prior), stretch.aside()
    for row in stretch.rows:
        if row.n >= at and row.values and row.n not in aside:
            fresh.step(row.n - at + 1, stretch.scaled(row))
    return fresh.log_likelihood - (after - before)


def by_channel(prior: Prior, values: Mapping[str, float]) -> F:
    """Return values by channel as an array in the order of a prior's channels, 0 for those it lacks."""
    return np.array([values.get(name, 0.0) for name in prior.channels])
