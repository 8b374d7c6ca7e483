"""How the weighings of a period met their shots: each that is doubtful may have put a weight on the wrong shot."""

from collections.abc import Sequence
from dataclasses import dataclass

from shotlog.review.source import PressRecord
from shotlog.store.parts.inspections import WEIGHT
from shotlog.store.parts.weights import Weighed

__all__ = ["WeighedCounts", "weighed_counts"]


@dataclass(frozen=True, slots=True)
class WeighedCounts:
    """Weighings of a period: how many, of them without a shot, matched by hand, and matched where another shot fitted.

    `n_not_known`: matched by an earlier release, so that it is not known whether another shot fitted. `n_shots`: shots
    that have a weight, whoever gave it.
    """

    n: int
    n_without_shot: int
    n_by_hand: int
    n_ambiguous: int
    n_not_known: int
    n_shots: int


def weighed_counts(record: PressRecord, weighings: Sequence[Weighed], first: int) -> WeighedCounts | None:
    """Count the weighings of shots from `first` on, and those of no shot, which are all of the period."""
    mine = [w for w in weighings if w.shot is None or w.shot >= first]
    if not mine:
        return None
    return WeighedCounts(
        len(mine),
        sum(w.shot is None for w in mine),
        sum(w.by_hand for w in mine),
        sum(bool(w.others) for w in mine),
        sum(w.shot is not None and w.others is None and not w.by_hand for w in mine),
        len(record.column(WEIGHT, first, record.last_shot)[0]) if WEIGHT in record.channels else 0,
    )
