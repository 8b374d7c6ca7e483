"""What was measured on parts: capability of each quantity, and how it goes with the values of its shot."""

from collections.abc import Sequence
from dataclasses import dataclass

from shotlog.channels import CHANNELS
from shotlog.errors import NotEnoughShots
from shotlog.parts.inspection import Inspection
from shotlog.review.capability import Capability, capability
from shotlog.review.relation import Relation, relations
from shotlog.review.source import PressRecord
from shotlog.store.parts.inspections import WEIGHT

__all__ = ["Measured", "measured_of"]


@dataclass(frozen=True, slots=True)
class Measured:
    """One quantity measured on parts: how many values, how many outside their tolerance, and the capability.

    Or why there is none.
    """

    quantity: str
    unit: str
    n: int
    n_outside: int
    capability: Capability | None
    why_not: str


def measured_of(
    record: PressRecord, first: int, results: Sequence[Inspection]
) -> tuple[tuple[Measured, ...], tuple[Relation, ...]]:
    """Return what was measured on the parts of shots from `first` on, and its relation to the shots' values.

    The weight the balance gave with the shot counts as measured where no inspection weighed.
    """
    mine = [one for one in results if one.value is not None and one.part.shot >= first]
    quantities = list(dict.fromkeys(one.quantity for one in mine))
    found = [_measured(name, [one for one in mine if one.quantity == name]) for name in quantities]
    related: list[Relation] = []
    for name in quantities:
        pairs = [(one.part.shot, one.value) for one in mine if one.quantity == name and one.value is not None]
        related += _related(record, name, pairs)
    if WEIGHT in record.channels and WEIGHT not in quantities:
        shots, values = record.column(WEIGHT, first, record.last_shot)
        related += _related(record, WEIGHT, list(zip(shots.tolist(), values.tolist(), strict=True)))
    return tuple(found), tuple(related)


def _measured(quantity: str, results: Sequence[Inspection]) -> Measured:
    unit, outside = results[-1].unit, sum(one.out_of_tolerance for one in results)
    values = [one.value for one in results if one.value is not None]
    low, high = results[-1].low, results[-1].high
    if low is None and high is None:
        return Measured(quantity, unit, len(values), outside, None, "no tolerance given")
    try:
        return Measured(quantity, unit, len(values), outside, capability(values, low, high), "")
    except NotEnoughShots as error:
        return Measured(quantity, unit, len(values), outside, None, str(error))


def _related(record: PressRecord, quantity: str, pairs: Sequence[tuple[int, float]]) -> list[Relation]:
    """Relate values to their shots' channels; a run is a stretch, settling shots are left out."""
    row_of = {shot: row for row, shot in enumerate(record.shots.tolist())}
    kept = [(shot, value) for shot, value in pairs if shot in row_of and shot not in record.settling]
    if not kept:
        return []
    runs = [
        next((n for n, one in enumerate(record.stretches) if one.first <= shot <= one.last), -1) for shot, _ in kept
    ]
    rows = [row_of[shot] for shot, _ in kept]
    channels = {
        name: record.values[rows, at].tolist()
        for at, name in enumerate(record.channels)
        if name not in (quantity, "cycle_time") and name in CHANNELS
    }
    return relations(quantity, [value for _, value in kept], runs, channels)
