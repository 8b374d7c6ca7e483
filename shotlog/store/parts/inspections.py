"""What was found on parts, often a day after they were moulded: weights, dimensions, findings, each with its tolerance.

The tolerance is stored with the value: what the part was held against that day stays on record when a design's
tolerance is changed later.
"""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, Connection, select

from shotlog.clock import iso_utc, parse_utc
from shotlog.errors import UsageError
from shotlog.parts.inspection import Inspection
from shotlog.parts.part import Part
from shotlog.records import EVER, HALVES
from shotlog.settings import Bound
from shotlog.store.inserts.named_half import refuse_empty_half
from shotlog.store.log import schema
from shotlog.store.log.corrections import standing
from shotlog.store.log.log import Log
from shotlog.store.log.transaction import Transaction
from shotlog.store.parts.parts import check_made
from shotlog.units import converter

__all__ = ["WEIGHT", "add_inspection", "inspect", "inspected_shots", "inspection_of", "inspections", "measured"]

WEIGHT = "part_weight"
"""The quantity weighed in g; every other quantity that has a value is a length in mm."""

_LOOKED_AT = "look"


def measured(quantity: str, value: float, unit: str, tolerance: Bound) -> dict[str, Any]:
    """Return a value and its tolerance as they are stored: weights in g, lengths in mm. `tolerance` is in that unit.

    Raises
    ------
    UsageError
        The unit does not fit the quantity, or the value is not finite.
    """
    kept = "g" if quantity == WEIGHT else "mm"
    try:
        converted = converter(unit or kept, kept)(value)
    except UsageError as error:
        raise UsageError(f"{quantity}: given {value:g} {unit}, allowed: a unit that converts to {kept}") from error
    if not abs(converted) < 1e9:
        raise UsageError(f"{quantity}: given {value:g} {unit}, allowed: a finite number")
    given = f"{value:g} {unit or kept}"
    return {"value": converted, "low": tolerance.low, "high": tolerance.high, "unit": kept, "given": given}


def inspect(
    log: Log,
    part: Part,
    time: datetime,
    *,
    quantity: str = "",
    value: float | None = None,
    unit: str = "",
    tolerance: Bound | None = None,
    finding: str = "",
    half: str = "",
    instrument: str = "",
    initials: str = "",
    inspected: datetime | None = None,
) -> Inspection:
    """Enter one result: a `value` of a `quantity`, a `finding`, or neither (looked at, nothing found).

    Raises
    ------
    UsageError
        The part was never moulded, nothing was in the half at its shot, the unit does not fit, or the inspection lies
        in the future.
    """
    with log.transaction() as work:
        check_made(work.connection, [part])
        row = {"quantity": quantity or _LOOKED_AT, "value": None, "low": None, "high": None, "unit": "", "given": ""}
        if value is not None:
            if not quantity:
                raise UsageError(
                    f"value {value:g}: the quantity is missing, allowed: {WEIGHT} or the name of a dimension"
                )
            row |= measured(quantity, value, unit, tolerance or Bound())
        elif quantity:
            raise UsageError(f"{quantity}: the value is missing")
        added = {"finding": finding, "half": half, "instrument": instrument, "initials": initials}
        return add_inspection(work, part, time, inspected or time, **row, **added)


def add_inspection(work: Transaction, part: Part, time: datetime, inspected: datetime, **row: Any) -> Inspection:
    """Add a checked result within a transaction."""
    if row["half"] not in ("", *HALVES):
        raise UsageError(f"half: given {row['half']!r}, allowed: {', '.join(HALVES)}")
    refuse_empty_half(work.connection, part.press, row["half"], part.shot)
    if inspected > time:
        raise UsageError(f"inspected: given {iso_utc(inspected)}, allowed: not after now ({iso_utc(time)})")
    row |= {name: " ".join(row[name].split()) for name in ("finding", "instrument", "initials", "quantity")}
    row |= {"shot": part.shot, "cavity": part.cavity, "inspected": iso_utc(inspected), "time": iso_utc(time)}
    entry_id = work.add(schema.inspections, press_id=work.press_id(part.press, iso_utc(time)), **row)
    return inspection_of(part.press, {"id": entry_id, **row})


def inspections(log: Log, press: str, first: int = 0, last: int = EVER) -> list[Inspection]:
    """Return the results in force on parts of shots `first` to `last`, in order of shot, cavity and entry."""
    with log.reading() as connection:
        return read_inspections(connection, press, first, last)


def inspected_shots(log: Log, press: str) -> set[int]:
    """Return the shots of which a part was inspected, whatever was found."""
    table = schema.inspections
    query = select(table.c.shot).join(schema.presses).where(schema.presses.c.name == press, standing(table))
    with log.reading() as connection:
        return set(connection.execute(query).scalars())


def read_inspections(
    connection: Connection, press: str, first: int = 0, last: int = EVER, only: ColumnElement[bool] | None = None
) -> list[Inspection]:
    """Return what `inspections` returns, within a transaction; `only` such rows."""
    table = schema.inspections
    query = (
        select(table)
        .join(schema.presses)
        .where(schema.presses.c.name == press, table.c.shot >= first, table.c.shot <= last, standing(table))
        .order_by(table.c.shot, table.c.cavity, table.c.id)
    )
    query = query if only is None else query.where(only)
    return [inspection_of(press, row) for row in connection.execute(query).mappings()]


def inspection_of(press: str, row: Mapping[Any, Any]) -> Inspection:
    """Return a stored row as the result of a press that it is."""
    part = Part(press, row["shot"], row["cavity"])
    inspected, entered = parse_utc(row["inspected"]), parse_utc(row["time"])
    plain = {name: row[name] for name in _PLAIN}
    return Inspection(entry_id=row["id"], part=part, inspected=inspected, entered=entered, **plain)


_PLAIN = ("quantity", "value", "low", "high", "unit", "finding", "half", "instrument", "initials")
