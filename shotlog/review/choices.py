"""Would another baseline have altered what the chart said? The same chart, learnt from other shots of the same insert.

The limits of an individuals chart rest on a dozen shots, taken as they came. Learnt a little later, or from twice as
many, they lie elsewhere; where the first signal then stays put, the choice did not make it. The call does not rest on
these limits, it has its own level from all sound shots and from sisters.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from shotlog.channels import CHANNELS
from shotlog.charts import Individuals
from shotlog.records import Baseline
from shotlog.review.source import PressRecord
from shotlog.settings import DesignSettings

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


def choices_of(record: PressRecord, first: int, known: Mapping[str, DesignSettings]) -> tuple[Choice, ...]:
    """Return the baselines frozen at shot `first` or later, each beside the others; `known`: designs by serial."""
    found = []
    for at, baseline in enumerate(record.baselines):
        if baseline.last >= first and baseline.channel in record.channels:
            later = (one.first for one in record.baselines[at + 1 :] if one.channel == baseline.channel)
            found.append(_choice(record, baseline, next(later, record.last_shot + 1) - 1, known))
    return tuple(found)


def _choice(record: PressRecord, baseline: Baseline, last: int, designs: Mapping[str, DesignSettings]) -> Choice:
    stretch = record.stretch_at(baseline.last)
    last = min(last, stretch.last) if stretch is not None else last
    shots, values = record.settled(baseline.channel, baseline.first, last)
    design = designs.get(baseline.insert, DesignSettings())
    least = design.least_change.get(baseline.channel, CHANNELS[baseline.channel].least_change)

    def first_outside(start: int, n: int) -> int | None:
        chart = Individuals(baseline=n, estimate="sd", width=None, least=least)
        for shot, value in zip(shots[start:].tolist(), values[start:].tolist(), strict=True):
            if chart.update(value).rules:
                return int(shot)
        return None

    own = first_outside(0, baseline.n_shots)

    def known(start: int, n: int) -> bool:
        """Say whether it could have seen what the own one saw: a signal among its first shots would be its level."""
        end = start + n
        return len(shots) > end and (own is None or own > int(shots[end - 1]))

    later, longer = (_LATER, baseline.n_shots), (0, 2 * baseline.n_shots)
    return Choice(baseline, own, first_outside(*later), known(*later), first_outside(*longer), known(*longer))


def _alike(one: int | None, other: int | None) -> bool:
    if one is None or other is None:
        return one is other
    return abs(one - other) <= _LATER
