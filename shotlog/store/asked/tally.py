"""Counts that are carried on: rows are only ever added, so what was counted once stays counted.

A screen asks every second. Counting a million shots each time would cost more than all else; here only rows that came
since are looked at, and they also tell which presses have anything new.
"""

import threading
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from types import MappingProxyType

from sqlalchemy import Connection, Table, func, select

from shotlog.clock import parse_utc
from shotlog.store.log import schema
from shotlog.store.log.log import Log

__all__ = ["Counts", "Tally"]

_OF_A_PRESS = (
    schema.shots, schema.verdicts, schema.links, schema.faults, schema.gaps, schema.judgings, schema.weighings,
    schema.mountings, schema.removals, schema.events, schema.inspections, schema.dispositions,
    schema.pictures,
)  # fmt: skip
_OF_ANY = (schema.corrections, schema.makings, schema.queued, schema.matches, schema.clock_steps, schema.starts)
"""Tables whose rows may concern any press."""
_ENTERED = (
    schema.mountings, schema.removals, schema.events, schema.corrections, schema.makings, schema.queued,
)  # fmt: skip
_COUNTED = (schema.shots, schema.faults)
_TABLES = (*_OF_A_PRESS, *_OF_ANY)

# Made once: it is asked every second by every viewer, and making it costs more than its answer.
_NEWEST = select(
    *(select(func.max(table.c.id)).scalar_subquery() for table in _TABLES),
    select(schema.presence.c.time).where(schema.presence.c.role == "run").scalar_subquery(),
)


@dataclass(frozen=True, slots=True)
class Counts:
    """What a press has in the log: shots, and faults by kind.

    `changes` moves on whenever the log gains anything that may be shown of the press, `entries` whenever something was
    entered that may concern it.
    """

    n_shots: int = 0
    faults: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))
    changes: int = 0
    entries: int = 0

    @property
    def n_faults(self) -> int:
        """How many faults there are, of all kinds."""
        return sum(self.faults.values())


class Tally:
    """Counts of every press of one log. Any thread may ask; each question costs one small query."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._start_over()

    def _start_over(self) -> None:
        self._newest: dict[str, int] = {}
        self._names: dict[int, str] = {}
        self._shots: dict[str, int] = {}
        self._faults: dict[str, dict[str, int]] = {}
        self._changes: dict[str, int] = {}
        self._entries: dict[str, int] = {}
        self._any = self._any_entry = 0

    def counts(self, log: Log, press: str) -> Counts:
        """Return the counts of a press, brought up to date; all zero where the log has nothing of it."""
        return self.all(log, [press])[0][press]

    def all(self, log: Log, presses: Sequence[str]) -> tuple[dict[str, Counts], datetime | None]:
        """Return the counts of presses, all of one moment, and when the logger last said that it was at work."""
        with self._lock:
            seen = self._catch_up(log)
            return {press: self._counts(press) for press in presses}, seen

    def every(self, log: Log) -> dict[str, Counts]:
        """Return the counts of every press that the log has, in the order in which it came to know them."""
        with self._lock:
            self._catch_up(log)
            return {press: self._counts(press) for press in self._names.values()}

    def _counts(self, press: str) -> Counts:
        return Counts(
            self._shots.get(press, 0),
            MappingProxyType(dict(self._faults.get(press, {}))),
            self._changes.get(press, 0) + self._any,
            self._entries.get(press, 0) + self._any_entry,
        )

    def _catch_up(self, log: Log) -> datetime | None:
        with log.reading() as connection:
            *newest, seen = connection.execute(_NEWEST).one()
            found = {table.name: n or 0 for table, n in zip(_TABLES, newest, strict=True)}
            if found != self._newest:
                self._take_all(connection, found)
        return parse_utc(seen) if seen else None

    def _take_all(self, connection: Connection, found: dict[str, int]) -> None:
        if any(found[name] < before for name, before in self._newest.items()):
            self._start_over()
        names = connection.execute(select(schema.presses.c.id, schema.presses.c.name).order_by(schema.presses.c.id))
        self._names = {row.id: row.name for row in names}
        for table in _TABLES:
            before = self._newest.get(table.name, 0)
            if found[table.name] > before:
                self._take(connection, table, before)
        self._newest = found

    def _take(self, connection: Connection, table: Table, after: int) -> None:
        """Take in what a table has gained since row `after`."""
        if table in _OF_ANY:
            self._any += 1
            self._any_entry += table in _ENTERED
            return
        if table in _COUNTED or self._newest:
            gained = self._gained(connection, table, after)
        else:  # the first look: every press is new
            gained = dict.fromkeys(self._names.values(), 0)
        for press, n in gained.items():
            self._changes[press] = self._changes.get(press, 0) + 1
            if table in _ENTERED:
                self._entries[press] = self._entries.get(press, 0) + 1
            if table is schema.shots:
                self._shots[press] = self._shots.get(press, 0) + n

    def _gained(self, connection: Connection, table: Table, after: int) -> dict[str, int]:
        """Return by press how many rows a table has gained since row `after`, of faults how many they stand for."""
        # Without the sum a database may walk its index by press over the whole table instead of the few new rows.
        press_id = table.c.press_id + 0 if after else table.c.press_id
        kind = [table.c.kind] if table is schema.faults else []
        n = func.sum(func.coalesce(table.c.more, 0) + 1) if table is schema.faults else func.count()
        query = select(press_id, n, *kind).group_by(press_id, *kind)
        gained: dict[str, int] = {}
        for number, count, *kinds in connection.execute(query.where(table.c.id > after) if after else query):
            press = self._names[number]
            gained[press] = gained.get(press, 0) + int(count)
            for one in kinds:
                faults = self._faults.setdefault(press, {})
                faults[one] = faults.get(one, 0) + int(count)
        return gained
