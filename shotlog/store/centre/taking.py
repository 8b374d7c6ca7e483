"""What was entered at a centre goes into the edge's own log, each entry once, by the rule of `shotlog.parts.let_go`.

An entry is one transaction of the edge's log, whose origin names it: one that is in the log already is not entered
again, wherever this was broken off before.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from sqlalchemy import Connection, select

from shotlog.errors import UsageError
from shotlog.parts.let_go import newest_about
from shotlog.records import Signature
from shotlog.settings import DesignSettings
from shotlog.store.centre.content import VIA, Said, enter_said, let_go_said
from shotlog.store.log import schema
from shotlog.store.log.identity import Head
from shotlog.store.log.log import Log
from shotlog.store.parts.newer import newer_about
from shotlog.store.undo import UNDO
from shotlog.wording.waiting import another_log, newer_said

__all__ = ["AtCentre", "Taken", "take"]


@dataclass(frozen=True, slots=True)
class AtCentre:
    """An entry that was made at a centre.

    `centre`: which one; `uid`: what names the entry whatever else is lost. `basis`: the newest link of the edge's chain
    that the centre had when it was made.
    """

    centre: str
    uid: str
    content: Sequence[Said]
    signature: Signature
    basis: Head

    @property
    def origin(self) -> str:
        """What its transaction in the edge's log bears."""
        return f"{_of(self.centre)}{self.uid}"


@dataclass(frozen=True, slots=True)
class Taken:
    """What became of an entry: its numbers in the edge's log (``dispositions:12``), or why it was refused."""

    entries: tuple[str, ...] = ()
    refused: str = ""


def take(log: Log, entry: AtCentre, designs: Mapping[str, DesignSettings]) -> Taken:
    """Enter in an edge's log what was entered at a centre; say what became of it. Once, however often it is asked.

    Raises
    ------
    StoreError
        The log cannot be written, or read: nothing is known of what will become of it.
    """
    log.signature = replace(entry.signature, via=VIA)
    try:
        with log.transaction(entry.origin) as work:
            there = _entered_from(work.connection, entry.origin)
            if not there:
                if refused := _refused(log, work.connection, entry, designs):
                    raise UsageError(refused)
                for said in entry.content:
                    enter_said(work, said)
        with log.reading() as connection:
            return Taken(there or _entered_from(connection, entry.origin))
    except UsageError as error:
        return Taken(refused=str(error))
    finally:
        log.signature = None


def _refused(log: Log, connection: Connection, entry: AtCentre, designs: Mapping[str, DesignSettings]) -> str:
    """Return why an entry does not go in, by the rule of conflict; empty where it does."""
    let_go = [span for said in entry.content for span in let_go_said(log, said)]
    if not let_go:
        return ""
    ledger, basis = schema.ledger, entry.basis
    if connection.execute(select(ledger.c.digest).where(ledger.c.id == basis.number)).scalar() != basis.digest:
        return another_log()
    newer = newer_about(log, let_go, basis.number, designs, _known(connection, entry))
    against = newest_about(let_go, newer)
    return "" if against is None else newer_said(against)


def _known(connection: Connection, entry: AtCentre) -> set[str]:
    """Return what came in since from the same centre: it waited there, for everybody to see, when this was made."""
    ledger = schema.ledger
    from_there = ledger.c.origin.startswith(_of(entry.centre), autoescape=True)
    query = select(ledger.c.rows).where(ledger.c.id > entry.basis.number, from_there)
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
