"""Taking back what was entered, whatever it is about: it stays on record, out of force."""

from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, Table, and_, select

from shotlog.clock import parse_utc
from shotlog.errors import UsageError
from shotlog.records import Event, Insert, Mounting, Removal
from shotlog.store.log import schema
from shotlog.store.log.corrections import correct, standing
from shotlog.store.log.entered import event_of
from shotlog.store.log.judgements import judge_again
from shotlog.store.log.log import Log
from shotlog.store.log.transaction import Transaction

__all__ = ["take_back"]

_JUDGED: dict[str, Table] = {table.name: table for table in (schema.mountings, schema.removals, schema.events)}
"""Entries about a press: the shots from theirs on are judged again without them."""

_PLAIN: dict[str, Table] = {
    table.name: table
    for table in (
        schema.bath_checks,
        schema.dimensions,
        schema.dispositions,
        schema.inspections,
        schema.pictures,
        schema.places,
        schema.soak_ends,
        schema.soaks,
    )
}
"""Entries that change no verdict, so that taking one back needs no new judging."""


def take_back(
    log: Log, entry: str, entry_id: int, time: datetime, reason: str, initials: str = ""
) -> Event | Mounting | Removal | None:
    """Take an entry out of force; it stays on record. `entry` is the table it stands in.

    Returns
    -------
    Event | Mounting | Removal | None
        What was taken back, where it is an entry about a press.

    Raises
    ------
    UsageError
        There is no such entry, it was taken back before, something rests on it, or no reason is given.
    """
    tables = _JUDGED | _PLAIN
    if entry not in tables:
        raise UsageError(f"entry: given {entry!r}, allowed: {', '.join(tables)}")
    with log.transaction() as work:
        _refuse_rested_on(work, entry, entry_id)
        correct(work, tables[entry], entry_id, reason, time, initials)
        if entry in _PLAIN:
            return None
        record = _about_a_press(work, tables[entry], entry_id)
        judge_again(work, record.press, record.at_shot, f"entry taken back: {reason}", time)
    return record


def _about_a_press(work: Transaction, table: Table, entry_id: int) -> Event | Mounting | Removal:
    presses, inserts, designs = schema.presses, schema.inserts, schema.designs
    joined = table.join(presses)
    columns: list[ColumnElement[Any]] = [*table.c, presses.c.name.label("press")]
    if table is not schema.events:
        joined = joined.join(inserts).outerjoin(designs)
        columns += [inserts.c.serial, inserts.c.print_batch, designs.c.name.label("design")]
    query = select(*columns).select_from(joined).where(table.c.id == entry_id)
    row = work.connection.execute(query).mappings().one()
    press, at_shot, time = row["press"], row["at_shot"], parse_utc(row["time"])
    if table is schema.events:
        return event_of(press, row)
    if table is schema.removals:
        return Removal(press, row["serial"], at_shot, time, row["reason"], row["initials"] or "")
    insert = Insert(row["serial"], row["design"] or "", row["print_batch"])
    return Mounting(press, row["half"], insert, at_shot, time, row["single_use"], row["initials"] or "")


def _refuse_rested_on(work: Transaction, entry: str, entry_id: int) -> None:
    """Refuse to take back a stay in a bath, or its end, that a later entry goes on from."""
    if entry == "soaks":
        ends = schema.soak_ends
        query = select(ends.c.id).where(ends.c.soak_id == entry_id, standing(ends))
        if (end := work.connection.execute(query).scalar()) is not None:
            raise UsageError(f"entry {entry_id} of soaks: the part came out (entry {end}); take that back first")
    if entry == "soak_ends" and (again := _in_again(work, entry_id)) is not None:
        raise UsageError(f"entry {entry_id} of soak_ends: the part is in again (entry {again}); take that back first")


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
