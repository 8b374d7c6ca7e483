"""Would another baseline have altered what the chart said? The same chart, learnt from other shots of the same insert.

The limits of an individuals chart rest on a dozen shots, taken as they came. Learnt a little later, or from twice as
many, they lie elsewhere; where the first signal then stays put, the choice did not make it. Limits whose spread is the
insert's own are as much wider or narrower as the spread of the other shots is; limits that rest on sisters, or on the
smallest change that matters, are as wide about another level. The call does not rest on these limits, it has its own
level from all sound shots and from sisters.
"""

import math
from dataclasses import dataclass

import numpy as np

from shotlog.charts.baseline import spread_of
from shotlog.records import Baseline
from shotlog.review.source import PressRecord

__all__ = ["Choice", "choices_of"]

_LATER = 5


@dataclass(frozen=True, slots=True)
class Choice:
    """A baseline and what others would have said, as first shot outside the limits: None where no shot was.

    `later`: learnt from as many shots beginning five later; `longer`: from twice as many. `later_known` and
    `longer_known` are false where there were too few shots, or where the own first signal is one of those learnt from.
    """

    baseline: Baseline
    first_outside: int | None
    later: int | None
    later_known: bool
    longer: int | None
    longer_known: bool

    @property
    def alters(self) -> bool:
        """Whether another choice would have moved the first signal by more than it moved its own beginning."""
        others = [(self.later, self.later_known), (self.longer, self.longer_known)]
        return any(known and not _alike(self.first_outside, one) for one, known in others)


def choices_of(record: PressRecord, first: int) -> tuple[Choice, ...]:
    """Return the baselines frozen at shot `first` or later, each beside the others."""
    found = []
    for at, baseline in enumerate(record.baselines):
        if baseline.last >= first and baseline.channel in record.channels:
            later = (one.first for one in record.baselines[at + 1 :] if one.channel == baseline.channel)
            found.append(_choice(record, baseline, next(later, record.last_shot + 1) - 1))
    return tuple(found)


def _choice(record: PressRecord, baseline: Baseline, last: int) -> Choice:
    stretch = record.stretch_at(baseline.last)
    last = min(last, stretch.last) if stretch is not None else last
    shots, values = record.settled(baseline.channel, baseline.first, last)
    n_own, half = baseline.n_shots, (baseline.upper - baseline.lower) / 2.0
    own_spread = _rests_on(values[:n_own].tolist(), baseline.spread)

    def first_outside(start: int, n: int) -> int | None:
        learnt = values[start : start + n].tolist()
        level = math.fsum(learnt) / len(learnt) if learnt else 0.0
        wide = half * spread_of(learnt, own_spread) / baseline.spread if own_spread and len(learnt) == n else half
        outside = np.flatnonzero(np.abs(values[start + n :] - level) > wide)
        return int(shots[start + n + outside[0]]) if len(outside) else None

    own = first_outside(0, n_own)

    def known(start: int, n: int) -> bool:
        """Say whether it could have seen what the own one saw: a signal among its first shots would be its level."""
        end = start + n
        return len(shots) > end and (own is None or own > int(shots[end - 1]))

    later, longer = (_LATER, n_own), (0, 2 * n_own)
    return Choice(baseline, own, first_outside(*later), known(*later), first_outside(*longer), known(*longer))


def _rests_on(learnt: list[float], spread: float) -> str:
    """Return which estimate from the shots a level was learnt from its spread is; empty for none of them."""
    if len(learnt) < 2 or spread <= 0.0:
        return ""
    return next((name for name in ("sd", "mr") if math.isclose(spread_of(learnt, name), spread, rel_tol=1e-9)), "")


def _alike(one: int | None, other: int | None) -> bool:
    if one is None or other is None:
        return one is other
    return abs(one - other) <= _LATER
