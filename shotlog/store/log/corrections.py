"""Taking entries back: nothing is deleted, a row in `corrections` takes an entry out of force."""

from datetime import datetime
from typing import TYPE_CHECKING

from sqlalchemy import ColumnElement, Table, and_, select

from shotlog.clock import iso_utc
from shotlog.errors import UsageError
from shotlog.store.log import schema
from shotlog.store.log.transaction import Transaction

if TYPE_CHECKING:
    from shotlog.store.log.log import Log

__all__ = ["correct", "standing", "take_back"]

_PLAIN: dict[str, Table] = {
    table.name: table
    for table in (
        schema.bath_checks,
        schema.dimensions,
        schema.dispositions,
        schema.inspections,
        schema.soak_ends,
        schema.soaks,
    )
}
"""Entries that change no verdict, so that taking one back needs no new judging."""


def standing(table: Table) -> ColumnElement[bool]:
    """Return the condition that no correction took an entry of `table` out of force."""
    taken_back = select(schema.corrections.c.entry_id).where(schema.corrections.c.entry == table.name)
    return table.c.id.not_in(taken_back)


def correct(work: Transaction, table: Table, entry_id: int, reason: str, time: datetime) -> None:
    """Take one entry out of force.

    Raises
    ------
    UsageError
        There is no such entry, it was taken back before, or no reason is given.
    """
    if not reason.strip():
        raise UsageError("reason: given nothing, allowed: a few words that say why the entry is taken back")
    if work.connection.execute(select(table.c.id).where(table.c.id == entry_id)).first() is None:
        raise UsageError(f"entry {entry_id} of {table.name}: there is none")
    made = schema.corrections
    before = select(made.c.id).where(made.c.entry == table.name, made.c.entry_id == entry_id)
    if work.connection.execute(before).first() is not None:
        raise UsageError(f"entry {entry_id} of {table.name}: was taken back before")
    work.add(made, entry=table.name, entry_id=entry_id, reason=reason.strip(), time=iso_utc(time))


def take_back(log: "Log", entry: str, entry_id: int, time: datetime, reason: str) -> None:
    """Take an entry about parts, baths or inspections out of force; it stays on record.

    Raises
    ------
    UsageError
        There is no such entry, it was taken back before, something rests on it, or no reason is given.
    """
    if entry not in _PLAIN:
        raise UsageError(f"entry: given {entry!r}, allowed: {', '.join(_PLAIN)}")
    with log.transaction() as work:
        if entry == "soaks":
            ends = schema.soak_ends
            query = select(ends.c.id).where(ends.c.soak_id == entry_id, standing(ends))
            if (end := work.connection.execute(query).scalar()) is not None:
                raise UsageError(f"entry {entry_id} of soaks: the part came out (entry {end}); take that back first")
        if entry == "soak_ends" and (again := _in_again(work, entry_id)) is not None:
            raise UsageError(
                f"entry {entry_id} of soak_ends: the part is in again (entry {again}); take that back first"
            )
        correct(work, _PLAIN[entry], entry_id, reason, time)


def _in_again(work: Transaction, end_id: int) -> int | None:
    """Return the later stay in a bath of the part that came out, or None: a part is in one bath at a time."""
    ends, later, first = schema.soak_ends, schema.soaks, schema.soaks.alias("first")
    same_part = and_(*(later.c[name] == first.c[name] for name in ("press_id", "shot", "cavity")))
    query = (
        select(later.c.id)
        .select_from(ends.join(first, first.c.id == ends.c.soak_id).join(later, same_part))
        .where(ends.c.id == end_id, later.c.id > first.c.id, standing(later))
    )
    return work.connection.execute(query).scalar()
