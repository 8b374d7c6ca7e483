"""Taking entries back: nothing is deleted, a row in `corrections` takes an entry out of force."""

from datetime import datetime

from sqlalchemy import ColumnElement, Connection, Table, select

from shotlog.clock import iso_utc
from shotlog.errors import UsageError
from shotlog.store.log import schema
from shotlog.store.log.transaction import Transaction

__all__ = ["correct", "is_standing", "standing"]


def standing(table: Table) -> ColumnElement[bool]:
    """Return the condition that no correction took an entry of `table` out of force."""
    taken_back = select(schema.corrections.c.entry_id).where(schema.corrections.c.entry == table.name)
    return table.c.id.not_in(taken_back)


def is_standing(connection: Connection, table: Table, entry_id: int) -> bool:
    """Whether an entry is there and in force."""
    return connection.execute(select(table.c.id).where(table.c.id == entry_id, standing(table))).first() is not None


def correct(work: Transaction, table: Table, entry_id: int, reason: str, time: datetime, initials: str = "") -> None:
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
    said = {"reason": reason.strip(), "initials": initials or None}
    work.add(made, entry=table.name, entry_id=entry_id, time=iso_utc(time), **said)
