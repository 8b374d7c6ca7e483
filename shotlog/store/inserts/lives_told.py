"""Lives as the log tells of them: each once on its own press, and from there to every other one of its design.

An entry is never changed, and none is taken back by the program: what is known otherwise of a life later is told anew,
and the newest that is told of an insert counts from its shot on. A life whose entry on its own press a person takes
back is told as none. Whoever takes back what one press was told takes it back there alone, and it is not told again.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from math import inf

from sqlalchemy import Connection, func, select

from shotlog.entries import LIFE
from shotlog.life_text import LifeTold, life_text, life_told
from shotlog.store.inserts.entries import note_within
from shotlog.store.log import schema
from shotlog.store.log.entered import entries_mark, read_timeline
from shotlog.store.log.log import Log
from shotlog.store.log.transaction import Transaction

__all__ = ["ENOUGH_OWN", "MOST_TOLD", "LivesTold", "changed_entries", "lives_counted", "lives_of_other_logs"]

ENOUGH_OWN = 12
"""A press on which so many lives of a design have ended is told of no more (judgement: with 12 of its own the median is
known to 12 % without the others and to 9 to 12 % with them, `tests/benchmark/bench_sisters.py`)."""

MOST_TOLD = 60
"""Lives of a design that a press is told of when it first mounts it: the newest, as many as the call keeps."""

Key = tuple[str, str, str]


@dataclass(slots=True)
class LivesTold:
    """What a log tells of lives, read on as it grows.

    `own`: by press, site (empty: this log) and serial, what was told last on the very press, with the number of that
    entry; `told`: the same of what a press was told of another; `back`: entries that were taken back.
    """

    own: dict[Key, tuple[int, LifeTold]] = field(default_factory=dict)
    told: dict[Key, tuple[int, LifeTold]] = field(default_factory=dict)
    back: set[int] = field(default_factory=set)
    _read: tuple[int, int] = (0, 0)

    def tell(
        self,
        log: Log,
        time: datetime,
        ended: Mapping[str, Iterable[LifeTold]],
        elsewhere: Iterable[LifeTold] = (),
    ) -> int:
        """Enter what is not told yet; return how many entries that made.

        `ended`: lives as they ended on presses of this log, all that is known of those presses; `elsewhere`: lives in
        other logs, with their site.
        """
        with log.transaction() as work:
            self.read(work.connection)
            said = [*self._on_their_own(ended)]
            for press, life in said:
                self._enter(work, press, life, time)
            spread = [*self._to_the_others(work.connection, elsewhere)]
            for press, life in spread:
                self._enter(work, press, life, time)
            moved = [*self._carried_over(work.connection)]
            for press, life, at_shot in moved:
                self._enter(work, press, life, time, at_shot)
        return len(said) + len(spread) + len(moved)

    def read(self, connection: Connection) -> None:
        """Read on what the log tells by now."""
        events, gone = schema.events, schema.corrections
        query = select(events.c.id, schema.presses.c.name, events.c.text).join(schema.presses)
        for number, press, text in connection.execute(
            query.where(events.c.kind == LIFE, events.c.id > self._read[0]).order_by(events.c.id)
        ):
            if (life := life_told(text)) is not None:
                self._keep(press, number, life)
        newest = connection.execute(select(func.max(events.c.id))).scalar() or 0
        back = select(gone.c.id, gone.c.entry_id).where(gone.c.entry == events.name, gone.c.id > self._read[1])
        taken = connection.execute(back.order_by(gone.c.id)).all()
        self.back |= {row.entry_id for row in taken}
        self._read = int(newest), taken[-1].id if taken else self._read[1]

    def _keep(self, press: str, number: int, life: LifeTold) -> None:
        to = self.told if life.press else self.own
        to[press, *life.known_by] = number, life

    def _enter(self, work: Transaction, press: str, life: LifeTold, time: datetime, at_shot: int | None = None) -> None:
        entered = note_within(work, press, LIFE, life_text(life), time, at_shot=at_shot)
        self._keep(press, entered.entry_id, life)
        self._read = max(self._read[0], entered.entry_id), self._read[1]

    def _on_their_own(self, ended: Mapping[str, Iterable[LifeTold]]) -> Iterator[tuple[str, LifeTold]]:
        for press, lives in ended.items():
            for life in lives:
                known = self.own.get((press, *life.known_by))
                if life.serial and (known is None or known[1] != life):
                    yield press, life

    def _to_the_others(self, connection: Connection, elsewhere: Iterable[LifeTold]) -> Iterator[tuple[str, LifeTold]]:
        """Yield what each press is to be told of lives that ended elsewhere: of an insert, the life with most shots.

        Inserts of one serial in two logs are two.
        """
        lives: dict[str, dict[tuple[str, str], LifeTold]] = {}
        here: dict[tuple[str, str], int] = {}
        for (press, *_), (number, life) in sorted(self.own.items(), key=lambda one: one[1][0]):
            is_none = number in self.back
            life = LifeTold(life.serial, life.design, 0, 0, press=press) if is_none else replace(life, press=press)
            here[press, life.design] = here.get((press, life.design), 0) + (not is_none)
            known = lives.setdefault(life.design, {})
            if life.known_by not in known or life.made >= known[life.known_by].made:
                known[life.known_by] = life
        for life in elsewhere:
            known = lives.setdefault(life.design, {})
            if life.known_by not in known or life.made > known[life.known_by].made:
                known[life.known_by] = life
        for press, design in _mounted_on(connection):
            enough = here.get((press, design), 0) >= ENOUGH_OWN
            for life in [*lives.get(design, {}).values()][-MOST_TOLD:]:
                told, own = self.told.get((press, *life.known_by)), self.own.get((press, *life.known_by))
                if own is not None and own[1].made >= life.made:
                    continue
                if (life.made > 0 and not enough) if told is None else (told[1] != life):
                    yield press, life

    def _carried_over(self, connection: Connection) -> Iterator[tuple[str, LifeTold, int]]:
        """Yield the shots that an insert made on other presses before it came to the one where it is now, where that is
        not told: a press that makes no shot after it sees no life end.
        """
        timelines = {press: read_timeline(connection, press) for press in _moved_about(connection)}
        for press, timeline in timelines.items():
            for now in timeline.stays:
                serial = now.mounting.insert.serial
                if now.mounting.single_use or now.end != inf or (press, "", serial) in self.told:
                    continue
                made, last = 0, ""
                for other, there in timelines.items():
                    stays = [one for one in there.stays if one.mounting.insert.serial == serial and one.end != inf]
                    if other != press and stays:
                        made, last = made + sum(there.n_taken(one, int(one.end)) for one in stays), other
                if made:
                    design = now.mounting.insert.design
                    yield press, LifeTold(serial, design, made, made, press=last), now.mounting.at_shot


def lives_of_other_logs(log: Log, design: str) -> list[LifeTold]:
    """Return the lives of a design that ended at other sites, as presses here were told of them last."""
    found = {life.known_by: life for _, life in _in_force(log).told.values() if life.design == design and life.site}
    return [life for life in found.values() if life.made > 0]


def lives_counted(log: Log) -> dict[tuple[str, str], tuple[int, int]]:
    """Return by press and design how many lives that ended there the log tells of, and how many on other presses the
    press was told of; where it was told of none, nothing.
    """
    lives, found = _in_force(log), dict[tuple[str, str], tuple[int, int]]()
    for (press, *_), (_, life) in sorted(lives.told.items()):
        here, elsewhere = found.get((press, life.design), (0, 0))
        found[press, life.design] = here, elsewhere + (life.made > 0)
    for (press, *_), (_, life) in lives.own.items():
        if (press, life.design) in found:
            here, elsewhere = found[press, life.design]
            found[press, life.design] = here + 1, elsewhere
    return {key: one for key, one in found.items() if one[1]}


def _in_force(log: Log) -> LivesTold:
    """Return what the log tells of lives, without what was taken back."""
    lives = LivesTold()
    with log.reading() as connection:
        lives.read(connection)
    for some in (lives.own, lives.told):
        for key in [key for key, (number, _) in some.items() if number in lives.back]:
            del some[key]
    return lives


def changed_entries(log: Log) -> tuple[int | None, ...]:
    """Return numbers that differ once anything was entered, or taken back, at any press."""
    with log.reading() as connection:
        return entries_mark(connection)


def _mounted_on(connection: Connection) -> list[tuple[str, str]]:
    """Return every press with each design that was mounted on it."""
    mountings, inserts, making = schema.mountings, schema.inserts, schema.makings
    told = select(making.c.insert_id, making.c.design).where(making.c.design.is_not(None)).order_by(making.c.id)
    designs = {row.insert_id: row.design for row in connection.execute(told)}
    query = (
        select(schema.presses.c.name, inserts.c.id, schema.designs.c.name.label("design"))
        .select_from(mountings.join(schema.presses).join(inserts).outerjoin(schema.designs))
        .where(mountings.c.single_use.is_(False))
        .distinct()
    )
    found = {(row.name, designs.get(row.id, row.design) or "") for row in connection.execute(query)}
    return sorted(one for one in found if one[1])


def _moved_about(connection: Connection) -> list[str]:
    """Return the presses that share an insert with another."""
    table = schema.mountings
    several = select(table.c.insert_id).group_by(table.c.insert_id).having(func.count(table.c.press_id.distinct()) > 1)
    query = select(schema.presses.c.name).join(table).where(table.c.insert_id.in_(several), ~table.c.single_use)
    return sorted({*connection.execute(query).scalars()})
