"""The weight of a shot, as the matches in force give it, beside the values the press reported.

The mass balance is what the screw pushed forward less what was weighed: ``r = g_per_mm * (dose - cushion) - weight``.
It moves when melt goes where no part is (back past the check ring, out of the nozzle) or a sensor lies, and stays when
the cavity takes more. Densities need not be true, only constant: it is judged against its own level.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from sqlalchemy import Connection, bindparam, exists, select

from shotlog.records import EVER
from shotlog.store.log import schema
from shotlog.store.log.prepared import Asked, Prepared, Row

__all__ = ["Weight", "read_weights", "weights_in", "weights_of", "with_weight"]


@dataclass(frozen=True, slots=True)
class Weight:
    """The weight of one shot in g, and what turns its cushion into a mass (see `records.Weighing`)."""

    grams: float
    g_per_mm: float | None
    dose_mm: float | None


_MATCHES, _WEIGHINGS, _LATER = schema.matches, schema.weighings, schema.matches.alias("later")
_WEIGHTS = Prepared(
    select(_MATCHES.c.shot, _WEIGHINGS.c.grams, _WEIGHINGS.c.g_per_mm, _WEIGHINGS.c.dose_mm)
    .select_from(_MATCHES.join(_WEIGHINGS).join(schema.presses))
    .where(
        schema.presses.c.name == bindparam("press"),
        _MATCHES.c.shot > bindparam("after"),
        _MATCHES.c.shot <= bindparam("upto"),
        ~exists().where(_LATER.c.weighing_id == _MATCHES.c.weighing_id, _LATER.c.id > _MATCHES.c.id),
    )
    .order_by(_MATCHES.c.id)
)


def read_weights(connection: Connection, press: str, after: int = -1, upto: int | None = None) -> dict[int, Weight]:
    """Return the weights matched to shots after shot `after`, up to `upto` if given, by shot."""
    statement, given = weights_of(press, after, upto)
    return weights_in(statement.run(connection, given))


def weights_of(press: str, after: int = -1, upto: int | None = None) -> Asked:
    """Return the question that `read_weights` asks; `weights_in` reads the answer."""
    return _WEIGHTS, {"press": press, "after": after, "upto": EVER if upto is None else upto}


def weights_in(rows: list[Row]) -> dict[int, Weight]:
    """Return the weights that the answer holds, by shot."""
    return {shot: Weight(grams, g_per_mm, dose_mm) for shot, grams, g_per_mm, dose_mm in rows}


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
