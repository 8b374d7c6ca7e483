"""A wait in which somebody may have changed the insert without an entry."""

from dataclasses import replace

from shotlog.wear.change.causes import moves
from shotlog.wear.change.detector import Filter
from shotlog.wear.constants import SHADOW_AFTER, SHADOW_BAR, SHADOW_FROM
from shotlog.wear.level.baseline import Prior
from shotlog.wear.life.half import HalfState
from shotlog.wear.life.stretch import Stretch

__all__ = ["look_for_forgotten_swap"]


def look_for_forgotten_swap(life: HalfState) -> None:
    """After a pause, ask whether a fresh insert explains the shots since better than the old one after a wait."""
    at, prior = life.pause, life.stretch.prior
    if at is None or prior is None or not prior.n_sisters or at < SHADOW_FROM:
        return
    if sum(row.n >= at and bool(row.values) for row in life.stretch.rows) <= SHADOW_AFTER:
        return
    # a change that began well after the wait is no swap in it
    later = life.call is not None and life.call.onset.low > at + 1
    # what was noted since the wait explains another level, and nobody is asked about it
    explained = any(n >= at - 1 and moves(kind) for n, kind in life.events)
    fresh = not later and not explained and _fresh_from(life.stretch, prior, at) > SHADOW_BAR
    life.end_pause(life.first - 1 + at if fresh else None)


def _fresh_from(stretch: Stretch, prior: Prior, at: int) -> float:
    """Return the log likelihood ratio of a fresh insert from shot `at` on against the old one after a wait."""
    earlier = replace(stretch, rows=[row for row in stretch.rows if row.n < at])
    earlier.run_again()
    before = earlier.filter.log_likelihood if earlier.filter is not None else 0.0
    after = stretch.filter.log_likelihood if stretch.filter is not None else 0.0
    fresh, aside = Filter(prior), stretch.aside()
    for row in stretch.rows:
        if row.n >= at and row.values and row.n not in aside:
            fresh.step(row.n - at + 1, stretch.scaled(row), stretch.pace[row.n])
    return fresh.log_likelihood - (after - before)
