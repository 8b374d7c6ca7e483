"""In which order the entries of different tables came into the log: that of the hash chain, never of a clock.

A row's own number orders it within its table only. Every transaction leaves one link in the chain that names its rows,
so the links tell what came before what, however often the clocks were set. An entry has an even place; a verdict, of
which there are as many as shots, has the odd one after the newest entry before it.
"""

import threading
from bisect import bisect_left, bisect_right

from sqlalchemy import Connection, bindparam, func, select

from shotlog.store.log import schema
from shotlog.store.log.prepared import Prepared

__all__ = ["EntryOrder"]

_TABLES = tuple(
    table.name
    for table in (
        schema.events, schema.inspections, schema.dispositions, schema.removals, schema.mountings, schema.places,
        schema.pictures, schema.soaks, schema.soak_ends, schema.bath_checks, schema.dimensions,
        schema.acknowledgements, schema.corrections,
    )
)  # fmt: skip

_VERDICT = f"{schema.verdicts.name}:"


class EntryOrder:
    """Places of people's entries, brought up to date with each `read`: what was read once is not read again."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._newest_link = 0
        self._places: dict[str, int] = {}
        self._verdicts: list[int] = []
        self._links: list[int] = []

    def read(self, connection: Connection) -> None:
        """Take in the links that came since. Any thread may ask."""
        with self._lock:
            self._read(connection)

    def _read(self, connection: Connection) -> None:
        ledger = schema.ledger
        newest = connection.execute(select(func.max(ledger.c.id))).scalar() or 0
        if newest <= self._newest_link:
            return
        just_before = ledger.alias("just_before")
        rows_before = select(just_before.c.rows).where(just_before.c.id == ledger.c.id - 1).scalar_subquery()
        query = select(ledger.c.id, ledger.c.rows, rows_before)
        query = query.where(ledger.c.id > self._newest_link, schema.ENTERED_IN).order_by(ledger.c.id)
        last, judged = 0, 0
        for link, rows, before in connection.execute(query).all():
            if _VERDICT in rows:
                judged = _newest_verdict(rows)
            elif before is not None and _VERDICT in before:
                judged = _newest_verdict(before)
            elif link != last + 1 or not last:
                judged = _judged_before(connection, link)
            last = link
            for name in rows.split():
                if name.partition(":")[0] in _TABLES:
                    self._verdicts.append(judged)
                    self._links.append(link)
                    self._places[name] = 2 * len(self._verdicts)
        self._newest_link = newest

    def mark(self, connection: Connection, link: int) -> int:
        """Return a place of its own after all that came with a link or before it, and before all that came later.

        What came later moves up by one entry; nothing else is told otherwise. `read` comes first.
        """
        judged = _judged_before(connection, link + 1)
        with self._lock:
            n = bisect_right(self._links, link)
            self._links.insert(n, link)
            self._verdicts.insert(n, judged)
            self._places = {name: at + 2 * (at > 2 * n) for name, at in self._places.items()}
            return 2 * (n + 1)

    def place(self, table: str, entry_id: int) -> int:
        """Return the place of an entry; 0 where no link names it."""
        return self._places.get(f"{table}:{entry_id}", 0)

    def at(self, place: int) -> str:
        """Return the entry at a place (``dispositions:12``), empty where none is."""
        with self._lock:
            return next((name for name, at in self._places.items() if at == place), "")

    def of_verdict(self, verdict_id: int) -> int:
        """Return the place of a verdict among the entries."""
        return 2 * bisect_left(self._verdicts, verdict_id) + 1


_JUDGED_BEFORE = Prepared(
    select(schema.ledger.c.rows)
    .where(schema.ledger.c.id < bindparam("link"), schema.ledger.c.rows.like(f"%{_VERDICT}%"))
    .order_by(schema.ledger.c.id.desc())
    .limit(1)
)


def _judged_before(connection: Connection, link: int) -> int:
    """Return the newest verdict that the chain names before a link; 0 for none."""
    return _newest_verdict(_JUDGED_BEFORE.scalar(connection, link=link) or "")


def _newest_verdict(rows: str) -> int:
    return max((int(name.removeprefix(_VERDICT)) for name in rows.split() if name.startswith(_VERDICT)), default=0)
