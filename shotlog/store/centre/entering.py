"""Entering at a centre: what is entered in the copy of an edge's log is looked at as there, and waits for the edge.

The functions that enter something do so in a transaction of the log; this one's adds nothing. So all that they refuse
is refused at once, as far as the copy tells, and what they would have added is what waits.
"""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any

from sqlalchemy import Connection, Table
from sqlalchemy.engine import make_url

from shotlog.errors import UsageError
from shotlog.records import Signature
from shotlog.store.centre.centre import open_centre
from shotlog.store.centre.content import ELSEWHERE, row_said
from shotlog.store.centre.entered import WaitingEntry, add_entered, withdraw
from shotlog.store.centre.said import Said
from shotlog.store.log import schema
from shotlog.store.log.edge_at_centre import edge_of
from shotlog.store.log.identity import read_head
from shotlog.store.log.log import Log, open_log, opened_as
from shotlog.store.log.prepared import Asked
from shotlog.store.log.transaction import Transaction

__all__ = ["ELSEWHERE", "CopyOfEdge", "open_for_entries", "withdraw_entry"]


class _Tried(Transaction):
    """A transaction that is looked at and not made; `said` is what it would have added."""

    def __init__(self, *given: Any, **named: Any) -> None:
        super().__init__(*given, **named)
        self.said: list[Said] = []

    def bring_back(self, table: Table, row: Mapping[str, Any]) -> int:
        """Keep the row for the edge."""
        if table is schema.presses:
            raise UsageError(f"press {row['name']}: nothing of it has come to the centre yet")
        said = row_said(self.connection, table, row, self.signature)
        if said is not None:
            self.said.append(said)
        return 0


class CopyOfEdge(Log):
    """The log of an edge at a centre, for entries: they wait there, and have the number 0 until then."""

    @contextmanager
    def transaction(self, origin: str | None = None, asked: Sequence[Asked] = ()) -> Iterator[Transaction]:
        """Open a transaction whose rows wait at the centre once the block ends well.

        Raises
        ------
        UsageError
            Something is added that is not entered at a centre, or nobody signs.
        """
        with self.reading() as connection:
            basis = read_head(connection)  # before all else: what comes in meanwhile counts as not known
            answers = [statement.run(connection, given) for statement, given in asked]
            work = _Tried(connection, basis, None, self.signature, self.presses_open, answers=answers)
            yield work
        if self.signature is None:
            raise UsageError("signature: given none, allowed: that of who enters something at a centre")
        if work.said:
            with _of_edge(self) as (centre, edge):
                self.waiting.append(add_entered(centre, edge, work.said, self.signature, basis))


@contextmanager
def _of_edge(log: Log) -> Iterator[tuple[Connection, int]]:
    """Open a transaction at the centre of an edge's log, and give the edge's number there."""
    with open_centre(log.centre_address) as centre:
        number = centre.edge(log.edge).number
        with centre.transaction() as connection:
            yield connection, number


def open_for_entries(url: str) -> Log:
    """Open a log to enter something: as it is, or, of an edge at a centre, so that it waits there; see `open_log`."""
    return open_log(url, read_only=False) if edge_of(make_url(url)) is None else opened_as(CopyOfEdge, url, True)


def withdraw_entry(log: Log, number: int, signature: Signature, reason: str) -> WaitingEntry:
    """Take back what waits at a centre for the edge whose log is open; raises as `withdraw`."""
    with _of_edge(log) as (connection, edge):
        return withdraw(connection, edge, number, signature, reason)
