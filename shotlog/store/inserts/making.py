"""How an insert was made: design, batch, place on the plate, post-cure, storage, measured dimensions, cost.

Said bit by bit, by whoever knows. A later statement supersedes an earlier one, field by field; both stay on record.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, select

from shotlog.clock import iso_utc, parse_utc
from shotlog.errors import UsageError
from shotlog.records import Insert
from shotlog.store.log import schema
from shotlog.store.log.corrections import standing
from shotlog.store.log.entered import read_timeline
from shotlog.store.log.judgements import judge_again
from shotlog.store.log.log import Log
from shotlog.store.log.transaction import Transaction
from shotlog.units import converter

__all__ = ["AMOUNTS", "TEXTS", "Making", "describe", "describe_within", "makings"]

TEXTS = (
    "design", "print_batch", "resin", "plate", "plate_position", "orientation", "wash",
    "post_cure", "storage", "remark",
)  # fmt: skip
"""What is said in words."""

AMOUNTS = {"layer_um": "um", "mass_g": "g", "cost": ""}
"""What is said in numbers, with the unit it is kept in; cost is free of currency."""


@dataclass(frozen=True, slots=True)
class Making:
    """What is known of how one insert was made; empty or None where nobody said. `dimensions` are in mm, by name."""

    serial: str
    design: str = ""
    print_batch: str = ""
    resin: str = ""
    plate: str = ""
    plate_position: str = ""
    orientation: str = ""
    wash: str = ""
    post_cure: str = ""
    storage: str = ""
    remark: str = ""
    layer_um: float | None = None
    mass_g: float | None = None
    cost: float | None = None
    cured: datetime | None = None
    dimensions: Mapping[str, float] = field(default_factory=dict)

    def age_days(self, at: datetime) -> float | None:
        """Return how long before `at` the insert was cured, in days, or None where nobody said when."""
        return None if self.cured is None else (at - self.cured).total_seconds() / 86400.0


def describe(
    log: Log,
    serials: Iterable[str],
    time: datetime,
    *,
    said: Mapping[str, str | float],
    cured: datetime | None = None,
    dimensions: Mapping[str, tuple[float, str]] | None = None,
    instrument: str = "",
    initials: str = "",
) -> list[int]:
    """Enter what is known of inserts, adding those the log has not met; returns their numbers in the log.

    Parameters
    ----------
    said
        Values by name, out of `TEXTS` and `AMOUNTS`.
    cured
        When the post-cure ended.
    dimensions
        Measured value and unit, by name of the dimension.

    Raises
    ------
    UsageError
        A value is of the wrong kind or unit, or the cure lies in the future.
    """
    sizes = {name: converter(unit or "mm", "mm")(value) for name, (value, unit) in (dimensions or {}).items()}
    found = []
    with log.transaction() as work:
        for serial in serials:
            found.append(describe_within(work, serial, time, said=said, cured=cured, initials=initials))
            for name, value_mm in sizes.items():
                _measure(work, found[-1], name, value_mm, time, instrument, initials)
    return found


def describe_within(
    work: Transaction,
    serial: str,
    time: datetime,
    *,
    said: Mapping[str, str | float],
    cured: datetime | None = None,
    initials: str = "",
) -> int:
    """Enter what is known of one insert within a transaction; returns the number of the insert."""
    if cured is not None and cured > time:
        raise UsageError(f"cured: given {iso_utc(cured)}, allowed: not after now ({iso_utc(time)})")
    row: dict[str, Any] = {name: _checked(name, value) for name, value in said.items()}
    if cured is not None:
        row["cured"] = iso_utc(cured)
    insert = Insert(serial, str(row.get("design", "")), str(row.get("print_batch", "")))
    met = work.connection.execute(select(schema.inserts.c.id).where(schema.inserts.c.serial == serial)).scalar()
    insert_id = work.insert_id(serial, insert.design, insert.print_batch, iso_utc(time))
    if row:
        work.add(schema.makings, insert_id=insert_id, initials=initials, time=iso_utc(time), **row)
    if met is not None and {"design", "print_batch"} & set(row):
        _judge_again(work, serial, time)
    return insert_id


def makings(log: Log) -> dict[str, Making]:
    """Return what is known of every insert on record, by serial, in the order the log met them."""
    with log.reading() as connection:
        return read_makings(connection)


def read_makings(connection: Connection) -> dict[str, Making]:
    """Return what `makings` returns, within a transaction."""
    inserts, designs = schema.inserts, schema.designs
    query = (
        select(inserts.c.id, inserts.c.serial, inserts.c.print_batch, designs.c.name)
        .select_from(inserts.outerjoin(designs))
        .order_by(inserts.c.id)
    )
    known = {row.id: Making(row.serial, row.name or "", row.print_batch) for row in connection.execute(query)}
    told = schema.makings
    for row in connection.execute(select(told).where(standing(told)).order_by(told.c.id)).mappings():
        said = {name: row[name] for name in (*TEXTS, *AMOUNTS, "cured") if row[name] is not None}
        if "cured" in said:
            said["cured"] = parse_utc(said["cured"])
        known[row["insert_id"]] = replace(known[row["insert_id"]], **said)
    sizes = schema.dimensions
    for size in connection.execute(select(sizes).where(standing(sizes)).order_by(sizes.c.id)):
        making = known[size.insert_id]
        known[size.insert_id] = replace(making, dimensions={**making.dimensions, size.name: size.value_mm})
    return {making.serial: making for making in known.values()}


def _checked(name: str, value: str | float) -> str | float:
    if name in TEXTS:
        text = " ".join(str(value).split())
        if name in ("design", "print_batch") and any(mark in text for mark in ";:"):
            raise UsageError(f"{name}: given {text!r}, allowed: text without ; and :")
        return text
    if name not in AMOUNTS:
        raise UsageError(f"making: given {name!r}, allowed: {', '.join((*TEXTS, *AMOUNTS))}")
    if not isinstance(value, int | float) or not 0 <= value < 1e9:
        raise UsageError(f"{name}: given {value!r}, allowed: a number from 0")
    return float(value)


def _measure(
    work: Transaction, insert_id: int, name: str, value_mm: float, time: datetime, instrument: str, initials: str
) -> None:
    if not name or not 0 <= value_mm < 1e6:
        raise UsageError(f"dimension {name!r}: given {value_mm:g} mm, allowed: a name and a length from 0")
    common = {"instrument": instrument, "initials": initials, "time": iso_utc(time)}
    work.add(schema.dimensions, insert_id=insert_id, name=name, value_mm=value_mm, **common)


def _judge_again(work: Transaction, serial: str, time: datetime) -> None:
    """Open a new judging from the first shot an insert made: another design or batch is another comparison."""
    for press in work.connection.execute(select(schema.presses.c.name)).scalars().all():
        stays = read_timeline(work.connection, press).stays
        firsts = [stay.first for stay in stays if stay.mounting.insert.serial == serial]
        if firsts:
            judge_again(work, press, min(firsts), f"making of {serial} said otherwise", time)
