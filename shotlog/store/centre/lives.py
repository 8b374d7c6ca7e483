"""Lives at the centre: how inserts of the designs that an edge has lived and ended at the others."""

from collections.abc import Collection
from dataclasses import dataclass, field, replace
from datetime import datetime

from sqlalchemy import Connection, Table, select

from shotlog.entries import LIFE
from shotlog.life_text import LifeTold, life_told
from shotlog.store.centre.shipping import Shipping
from shotlog.store.centre.tables import AT_CENTRE, edges
from shotlog.store.inserts.lives_told import LivesTold
from shotlog.store.log import schema
from shotlog.store.log.signed import PROGRAM

__all__ = ["EVERY_S", "LivesElsewhere"]

EVERY_S = 60.0
"""How often the centre is asked, in seconds: a life ends once in an hour or a day."""


@dataclass(slots=True)
class LivesElsewhere:
    """Asks the centre, at a round of shipping, what it has of lives at other edges, and tells the presses here of those
    of their designs. Nothing waits for it: it asks once in `EVERY_S`, and only of edges that have shipped since.

    Every edge is read on from where it was read to; a life that was known otherwise later, or taken back there, is told
    anew. What an edge was told of others is not read: it is read where it was first told.
    """

    _asked: datetime | None = None
    _links: dict[int, int] = field(default_factory=dict)
    _upto: dict[int, int] = field(default_factory=dict)
    _back: dict[int, int] = field(default_factory=dict)
    _lives: dict[tuple[int, str, str], tuple[int, LifeTold]] = field(default_factory=dict)
    _told: LivesTold = field(default_factory=LivesTold)
    _of: object = None

    def turn(self, shipping: Shipping, time: datetime) -> int:
        """Tell what is new; return how many entries that made in the log of the edge.

        Raises
        ------
        CentreAway, StoreError
            Centre or log is out of reach; it is told at a later round.
        """
        if self._asked is not None and abs((time - self._asked).total_seconds()) < EVERY_S:
            return 0
        self._read(shipping)
        self._asked = time
        if self._of is not shipping.log:
            self._of, self._told = shipping.log, LivesTold()
        if not self._lives:
            return 0
        log, before = shipping.log, shipping.log.signature
        log.signature = PROGRAM
        try:
            return self._told.tell(log, time, {}, [life for _, life in self._lives.values()])
        except BaseException:
            self._of = None
            raise
        finally:
            log.signature = before

    def _read(self, shipping: Shipping) -> None:
        """Read on what other edges tell; what is cut short is read again."""
        before = self._links.copy(), self._upto.copy(), self._back.copy(), self._lives.copy()
        try:
            self._read_on(shipping)
        except BaseException:
            self._links, self._upto, self._back, self._lives = before
            raise

    def _read_on(self, shipping: Shipping) -> None:
        events, presses, gone = (AT_CENTRE[one.name] for one in (schema.events, schema.presses, schema.corrections))
        with shipping.log.reading() as connection:
            names = connection.execute(select(schema.logs.c.uid)).scalars().all()
        with shipping.centre.transaction() as connection:
            # what was set aside when this log was put back from a backup tells of its own lives
            others = (edges.c.number != shipping.edge.number) & edges.c.uid.not_in(names)
            every = select(edges.c.number, edges.c.name, edges.c.links, edges.c.set_aside).where(others)
            for number, name, links, set_aside in connection.execute(every.order_by(edges.c.number)).all():
                if set_aside is not None:  # they are told under the name by the log that is there now
                    self._lives = {key: life for key, life in self._lives.items() if key[0] != number}
                    continue
                if self._links.get(number) == links:
                    continue
                self._links[number] = links
                since = self._upto.get(number, 0)
                query = (
                    select(events.c.id, presses.c.name, events.c.text)
                    .join(presses, (presses.c.edge == events.c.edge) & (presses.c.id == events.c.press_id))
                    .where(events.c.edge == number, events.c.id > since, events.c.kind == LIFE)
                    .order_by(events.c.id)
                )
                for row in connection.execute(query):
                    self._upto[number] = row.id
                    life = life_told(row.text)
                    if life is not None and not life.press:
                        kept = replace(life, press=row.name, site=name)
                        self._lives[number, row.name, life.serial] = row.id, kept
                taken = self._taken_back(connection, gone, number)
                for key, (row_id, life) in self._lives.items():
                    if key[0] == number and row_id in taken and life.made:
                        self._lives[key] = row_id, LifeTold(life.serial, life.design, 0, 0, press=key[1], site=name)

    def _taken_back(self, connection: Connection, gone: Table, number: int) -> Collection[int]:
        """Return the entries that were taken back at an edge since it was last asked."""
        query = select(gone.c.id, gone.c.entry_id).where(gone.c.edge == number, gone.c.entry == schema.events.name)
        rows = connection.execute(query.where(gone.c.id > self._back.get(number, 0)).order_by(gone.c.id)).all()
        if rows:
            self._back[number] = rows[-1].id
        return {row.entry_id for row in rows}
