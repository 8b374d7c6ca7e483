"""The log of one edge on its way to a centre: agreed on under a name, then brought there link by link.

The centre says how far it is; the edge keeps nothing that is needed. What the centre holds last has to stand in the
edge's chain. Where it does not, the edge's log was put back from a backup, or is another one, and what the centre holds
may be the only copy of what came after: nothing there is written over or taken away. With `anew` it is set aside there
under a name of its own, and this log goes whole under the name of the edge.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime

from sqlalchemy import Connection, func, select, update
from sqlalchemy.dialects.postgresql import insert

from shotlog.errors import StoreDamaged, UsageError
from shotlog.store.centre.batch import BEGINNING, batches, head_at, links_between, newest_number
from shotlog.store.centre.centre import Centre
from shotlog.store.centre.delivery import Present, deliver, say_present
from shotlog.store.centre.edges import Edge, find_edge, list_edges
from shotlog.store.centre.making import lock_centre
from shotlog.store.centre.months import Months
from shotlog.store.centre.tables import AT_CENTRE, edges, entered
from shotlog.store.keeping.head import uid_of
from shotlog.store.log import schema
from shotlog.store.log.identity import Head
from shotlog.store.log.log import Log

__all__ = ["AtCentre", "Shipping"]


@dataclass(frozen=True, slots=True)
class AtCentre:
    """How far an edge is at the centre: the head it has there, how many links are still to go, and how many just went.

    Numbers of links have gaps on a server, where a transaction was undone: links are counted.
    """

    head: Head
    to_go: int
    went: int = 0


class Shipping:
    """Ships one log to one centre under one name. Agree first; after any error, agree again.

    Parameters
    ----------
    host, release
        The computer that ships, and with which release: shown at the centre.
    """

    def __init__(self, log: Log, centre: Centre, name: str, host: str, release: str) -> None:
        self.log, self.centre, self.name = log, centre, name
        self._host, self._release = host, release
        self._months, self._present, self._head = Months(), dict[str, dict[str, object]](), BEGINNING
        self._edge: Edge | None = None
        self._uid = ""
        self._counted = self._left = 0

    @property
    def edge(self) -> Edge:
        """The edge as it was when it was last agreed on."""
        if self._edge is None:
            raise ValueError("agree first")
        return self._edge

    @property
    def head(self) -> Head:
        """How far the centre is."""
        return self._head

    def agree(self, anew: bool = False) -> AtCentre:
        """Find the edge of the name at the centre, or add it, and see that what is there is of this log.

        `anew`: where it is not, set what is there aside, and begin this log anew under the name.

        Raises
        ------
        UsageError
            The name belongs to another log, or this log went on otherwise than what is there; or it is there under
            another name. Says what may be done.
        StoreUnreachable
            The log is out of reach; as CentreAway: the centre is.
        """
        self._present, self._months, self._uid = {}, Months(), uid_of(self.log) or ""
        with self.centre.transaction() as connection:
            found = find_edge(connection, self.name)
            if found is None or not found.link:
                self._refuse_twice(list_edges(connection))
            if found is None:
                found = self._add(connection)
            elif not self._holds(found):
                if not anew:
                    raise self._other(connection, found)
                found = self._beside(connection, found)
            said = {"host": self._host, "release": self._release}
            connection.execute(update(edges).where(edges.c.number == found.number).values(**said))
        self._edge, self._head = found, Head(found.link, found.digest) if found.link else BEGINNING
        self._counted, self._left = self._head.number, 0
        return AtCentre(self._head, self._to_go())

    def ship(self) -> Iterator[AtCentre]:
        """Bring all that the log has and the centre has not; yield after each batch how far it is.

        Raises
        ------
        CentreAway
            The centre is out of reach; as Moved: another program ships the same log.
        UsageError
            It went there under another name meanwhile.
        StoreUnreachable
            The log is.
        StoreDamaged
            The log does not verify: what was changed, and what comes after it, does not go.
        """
        number = self.edge.number
        for batch in batches(self.log, self._head):
            to_go = self._to_go() - len(batch.links)
            try:
                with self.centre.transaction() as connection:
                    if batch.after == BEGINNING:  # of two that agreed on two names for one log, the second is refused
                        lock_centre(connection)
                        self._refuse_twice(list_edges(connection))
                    deliver(connection, number, batch, self._uid, to_go, self._months)
            except BaseException:
                self._months.forget()
                raise
            self._head, self._left = batch.head, to_go
            yield AtCentre(batch.head, to_go, len(batch.links))

    def say_present(self) -> None:
        """Say at the centre that the edge is heard, and who is at work there."""
        table = schema.presence
        with self.log.reading() as connection:
            rows = connection.execute(select(table)).mappings().all()
        now: Present = {row["role"]: dict(row) for row in rows}
        with self.centre.transaction() as connection:
            say_present(connection, self.edge.number, self._to_go(), self._present, now)
        self._present = {role: dict(row) for role, row in now.items()}

    def _to_go(self) -> int:
        """Return how many links the log has that the centre has not; those that came since are counted, once."""
        with self.log.reading() as connection:
            newest = newest_number(connection)
            self._left += links_between(connection, self._counted, newest)
        self._counted = newest
        return self._left

    def _holds(self, edge: Edge) -> bool:
        """Say whether this log holds all that the centre has of an edge."""
        with self.log.reading() as connection:
            return not edge.link or head_at(connection, edge.link) == Head(edge.link, edge.digest)

    def _add(self, connection: Connection) -> Edge:
        values = {"name": self.name, "uid": self._uid}
        connection.execute(insert(edges).values(**values).on_conflict_do_nothing())
        found = find_edge(connection, self.name)
        if found is None:
            raise StoreDamaged(f"centre {self.centre.where}: what was written there does not stand there")
        return found

    def _refuse_twice(self, others: list[Edge]) -> None:
        """Refuse to ship a log that is there under another name: its parts would count twice."""
        for one in others:
            if one.link and one.name != self.name and one.set_aside is None and self._holds(one):
                raise UsageError(
                    f"centre {self.centre.where}: holds this log as {one.name!r} already; given {self.name!r}, "
                    f"allowed: --as {one.name!r}"
                )

    def _beside(self, connection: Connection, edge: Edge) -> Edge:
        """Keep what the centre holds under a name of its own, and add the edge anew; what waits there waits for it."""
        taken = {one.name for one in list_edges(connection)}
        plain = f"{edge.name} until {datetime.now(UTC):%Y-%m-%d}"
        names = (plain, *(f"{plain} ({n})" for n in range(2, 1000)))
        free = next(name for name in names if name not in taken)
        connection.execute(update(edges).where(edges.c.number == edge.number).values(name=free, set_aside=func.now()))
        added = self._add(connection)
        waits = (entered.c.edge == edge.number) & entered.c.settled.is_(None)
        connection.execute(update(entered).where(waits).values(edge=added.number))
        return added

    def _other(self, connection: Connection, edge: Edge) -> UsageError:
        """Return the error for a name under which something else lies, with how far the two are one."""
        common = self._common(connection, edge)
        by = f"last heard from {edge.host or 'nobody'} on {edge.last_seen:%Y-%m-%d %H:%M} UTC"
        if not common:
            return UsageError(
                f"centre {self.centre.where}: {self.name!r} belongs to another log there ({edge.links} transactions, "
                f"{by}); allowed: a name of its own for this one, with --as NAME"
            )
        only_there = connection.execute(
            select(func.count()).where(_LEDGER.c.edge == edge.number, _LEDGER.c.id > common)
        ).scalar_one()
        return UsageError(
            f"centre {self.centre.where}: this log and what is there of {self.name!r} are one up to transaction "
            f"{common}; after it this log was put back from a backup, or salvaged, and the centre alone holds "
            f"{only_there} more. They stay there. With --anew they are kept under '{self.name} until' the date of "
            f"today, and this log goes whole as {self.name!r}; with --as NAME it goes under another name"
        )

    def _common(self, connection: Connection, edge: Edge) -> int:
        """Return the number of the newest link that both have, 0 for none: from there on every digest differs."""
        with self.log.reading() as here:
            least, most = 0, min(edge.link, newest_number(here))
            while least < most:
                middle = (least + most + 1) // 2
                if head_at(here, middle) == _head_there(connection, edge.number, middle):
                    least = middle
                else:
                    most = middle - 1
        return least


_LEDGER = AT_CENTRE["ledger"]


def _head_there(connection: Connection, number: int, link: int) -> Head:
    here = (_LEDGER.c.edge == number) & (_LEDGER.c.id <= link)
    query = select(_LEDGER.c.id, _LEDGER.c.digest).where(here).order_by(_LEDGER.c.id.desc()).limit(1)
    found = connection.execute(query).first()
    return BEGINNING if found is None else Head(found.id, found.digest)
