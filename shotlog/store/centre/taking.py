"""What was entered at a centre goes into the edge's own log, each entry once, by the rule of `shotlog.parts.let_go`.

An entry is one transaction of the edge's log, whose origin names it: one that is in the log already is not entered
again, wherever this was broken off before.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from sqlalchemy import Connection, select
from sqlalchemy.exc import IntegrityError

from shotlog.errors import UsageError
from shotlog.parts.let_go import Newer, newest_about
from shotlog.settings import DesignSettings
from shotlog.store.centre.centre import Centre
from shotlog.store.centre.content import (
    UNREADABLE,
    VIA,
    as_listed,
    enter_said,
    let_go_said,
    refuse_absent,
    refuse_elsewhere,
)
from shotlog.store.centre.entered import WaitingEntry, begin_taking, settle, unsettled
from shotlog.store.centre.tables import about
from shotlog.store.log import schema
from shotlog.store.log.engine import is_number_taken
from shotlog.store.log.log import Log
from shotlog.store.log.transaction import Transaction
from shotlog.store.parts.newer import newer_about
from shotlog.store.undo import UNDO

__all__ = ["Taken", "take", "take_entered"]


@dataclass(frozen=True, slots=True)
class Taken:
    """What became of an entry: its numbers in the edge's log (``dispositions:12``), or why it was refused."""

    entries: tuple[str, ...] = ()
    refused: str = ""


Say = Callable[[Newer | None, str], str]
"""Says why parts are not let go: for what is newer, by how that is listed; for None, because the log goes on otherwise
than was known."""


def take_entered(
    centre: Centre, edge: int, log: Log, designs: Mapping[str, DesignSettings], say: Say
) -> list[WaitingEntry]:
    """Enter in an edge's log all that waits for it at a centre, in order; return each with what became of it.

    Raises
    ------
    StoreError
        The log, or the centre, is out of reach: what was not settled is taken up again with the next call.
    """
    with centre.transaction() as connection:
        of = connection.execute(select(about.c.uid)).scalar_one()
        entries = unsettled(connection, edge)
    settled = []
    for entry in entries:
        with centre.transaction() as connection:
            if not begin_taking(connection, entry.number):
                continue
        taken = take(log, of, entry, designs, say)
        with centre.transaction() as connection:
            settled.append(settle(connection, entry, taken.entries, taken.refused))
    return settled


def take(log: Log, centre: str, entry: WaitingEntry, designs: Mapping[str, DesignSettings], say: Say) -> Taken:
    """Enter in an edge's log what was entered at a centre; say what became of it. Once, however often it is asked.

    `centre`: which one it is.

    Raises
    ------
    StoreError
        The log cannot be written, or read: nothing is known of what will become of it.
    """
    log.signature, origin = replace(entry.signature, via=VIA), f"{_of(centre)}{entry.uid}"
    try:
        with log.transaction(origin) as work:
            there = _entered_from(work.connection, origin)
            if not there:
                _enter(log, work, centre, entry, designs, say)
        with log.reading() as connection:
            return Taken(there or _entered_from(connection, origin))
    except UsageError as error:
        return Taken(refused=str(error))
    except UNREADABLE as error:  # else nothing behind it would ever be taken
        return Taken(refused=f"it cannot be read by this release ({type(error).__name__}: {error})")
    finally:
        log.signature = None


def _enter(
    log: Log, work: Transaction, centre: str, entry: WaitingEntry, designs: Mapping[str, DesignSettings], say: Say
) -> None:
    """Enter it within a transaction; refused as a UsageError, which says why."""
    if entry.unread:
        raise UsageError(f"it cannot be read by this release ({entry.unread})")
    for said in entry.content:
        refuse_elsewhere(said)
        refuse_absent(work.connection, said)
    if refused := _refused(log, work.connection, centre, entry, designs, say):
        raise UsageError(refused)
    try:
        for said in entry.content:
            enter_said(work, said)
    except IntegrityError as error:
        if is_number_taken(error):  # which the log gives itself
            raise
        raise UsageError(f"the log there does not hold such a thing ({error.orig})") from error


def _refused(
    log: Log, connection: Connection, centre: str, entry: WaitingEntry, designs: Mapping[str, DesignSettings], say: Say
) -> str:
    """Return why an entry does not go in, by the rule of conflict; empty where it does."""
    let_go = [span for said in entry.content for span in let_go_said(log, said)]
    if not let_go:
        return ""
    ledger, basis = schema.ledger, entry.basis
    if connection.execute(select(ledger.c.digest).where(ledger.c.id == basis.number)).scalar() != basis.digest:
        return say(None, "")
    newer = newer_about(log, let_go, basis.number, designs, _known(connection, centre, entry))
    against = newest_about(let_go, newer)
    return "" if against is None else say(against, as_listed(against.entry))


def _known(connection: Connection, centre: str, entry: WaitingEntry) -> set[str]:
    """Return what came in since of what waited at the same centre, for everybody to see, when this was made."""
    ledger = schema.ledger
    origins = [f"{_of(centre)}{uid}" for uid in entry.waited]
    query = select(ledger.c.rows).where(ledger.c.id > entry.basis.number, ledger.c.origin.in_(origins))
    return {name for rows in connection.execute(query).scalars() for name in _entries(rows)}


def _of(centre: str) -> str:
    return f"centre {centre} "


def _entered_from(connection: Connection, origin: str) -> tuple[str, ...]:
    """Return the entries of the transaction of an origin, as ``table:number``; none where there is none."""
    rows = connection.execute(select(schema.ledger.c.rows).where(schema.ledger.c.origin == origin)).scalar()
    return tuple(_entries(rows or ""))


_NAMES = {*(table.name for table in UNDO.values()), schema.corrections.name}


def _entries(rows: str) -> list[str]:
    return [name for name in rows.split() if name.partition(":")[0] in _NAMES]
