"""The weight of a shot, as the matches in force give it, beside the values the press reported.

The mass balance is what the screw pushed forward less what was weighed: ``r = g_per_mm * (dose - cushion) - weight``.
It moves when melt goes where no part is (back past the check ring, out of the nozzle) or a sensor lies, and stays when
the cavity takes more. Densities need not be true, only constant: it is judged against its own level.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from sqlalchemy import Connection, exists, select

from shotlog.store.log import schema

__all__ = ["Weight", "read_weights", "with_weight"]


@dataclass(frozen=True, slots=True)
class Weight:
    """The weight of one shot in g, and what turns its cushion into a mass (see `records.Weighing`)."""

    grams: float
    g_per_mm: float | None
    dose_mm: float | None


def read_weights(connection: Connection, press: str, after: int = -1, upto: int | None = None) -> dict[int, Weight]:
    """Return the weights matched to shots after shot `after`, up to `upto` if given, by shot."""
    table, weighings = schema.matches, schema.weighings
    later = table.alias("later")
    superseded = exists().where(later.c.weighing_id == table.c.weighing_id, later.c.id > table.c.id)
    query = (
        select(table.c.shot, weighings.c.grams, weighings.c.g_per_mm, weighings.c.dose_mm)
        .select_from(table.join(weighings).join(schema.presses))
        .where(schema.presses.c.name == press, table.c.shot > after, ~superseded)
        .order_by(table.c.id)
    )
    if upto is not None:
        query = query.where(table.c.shot <= upto)
    return {row.shot: Weight(row.grams, row.g_per_mm, row.dose_mm) for row in connection.execute(query)}


def with_weight(values: Mapping[str, float], weight: Weight | None) -> dict[str, float]:
    """Return the values of a shot with its weight and mass balance, in g; a weight the press gave itself is kept.

    References
    ----------
    Own; the mass balance of a shot over the screw's travel, with one density for melt before and after.
    """
    found = dict(values)
    if weight is None:
        return found
    grams = found.setdefault("part_weight", weight.grams)
    if weight.g_per_mm is not None and "cushion" in found:
        pushed = weight.g_per_mm * ((weight.dose_mm or 0.0) - found["cushion"])
        found.setdefault("mass_balance", round(pushed - grams, 6))
    return found
