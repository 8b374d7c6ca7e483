"""Taking back what was entered about parts, baths and inspections."""

from datetime import datetime

from sqlalchemy import Table, and_, select

from shotlog.errors import UsageError
from shotlog.store.log import schema
from shotlog.store.log.corrections import correct, standing
from shotlog.store.log.log import Log
from shotlog.store.log.transaction import Transaction

__all__ = ["take_back"]

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


def take_back(log: Log, entry: str, entry_id: int, time: datetime, reason: str) -> None:
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
