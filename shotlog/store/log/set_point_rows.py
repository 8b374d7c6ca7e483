"""Reading the rows of set-points of a press: what was in force, how it was read, and what changed."""

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import ColumnElement, Connection, func, select

from shotlog.store.log import schema
from shotlog.store.log.restless import Changed

__all__ = ["HeldSetPoints", "ReadAs", "SetPointRow", "key_of"]

_LOOKED_BACK = 200
"""Changes of a set-point that are looked back at: those of one that never stands still have no end."""

ReadAs = Mapping[str, Any] | None
"""How a set-point is read, as a start of the recorder keeps it; None where none knew it."""


def key_of(name: str) -> str:
    """Return how a set-point is named among what a start keeps of how a press is read."""
    return f"set-point {name}"


@dataclass(frozen=True, slots=True)
class SetPointRow:
    """A row: what a set-point was from `shot` on; an empty value where it was not read."""

    number: int
    shot: int
    name: str
    value: str
    unit: str
    old: str | None
    by: str
    newest_start: int


class HeldSetPoints:
    """The set-points of the log, those in force at hand: a shot that changes none is held against them by one look.

    State: the newest row of each name asked for, as long as nothing was added since; and the starts met, as read.
    """

    def __init__(self) -> None:
        self._mark = -1
        self._newest: dict[tuple[int, str], SetPointRow | None] = {}
        self._starts: dict[int, Mapping[str, Mapping[str, Any]]] = {}
        self._mark_of_starts = -1

    def look(self, newest: int) -> None:
        """Forget what is no longer so, by the number of the newest row, 0 for none. To be asked before others."""
        if newest != self._mark:
            self._mark, self._newest = newest, {}

    def newest(self, connection: Connection, press_id: int, name: str, upto: int) -> SetPointRow | None:
        """Return the row of a name in force at shot `upto`."""
        if (press_id, name) not in self._newest:
            self._newest[press_id, name] = _first(connection, _of(press_id, name))
        held = self._newest[press_id, name]
        if held is None or held.shot <= upto:
            return held
        return _first(connection, _of(press_id, name), schema.set_points.c.shot <= upto)

    def last_value(self, connection: Connection, press_id: int, name: str, upto: int) -> SetPointRow | None:
        """Return the last row up to a shot at which a name was read."""
        table = schema.set_points
        return _first(connection, _of(press_id, name), table.c.shot <= upto, table.c.value != "")

    def told_before(
        self, connection: Connection, press_id: int, name: str, time: str, value: str, old: str | None
    ) -> SetPointRow | None:
        """Return the row of a change by when the press said that it was made: one that is told again, of which later
        ones are known; `old` is what it was before, None where that is not told.
        """
        table = schema.set_points
        was = [] if old is None else [table.c.old == old]
        return _first(connection, _of(press_id, name), table.c.time == time, table.c.value == value, *was)

    def changes(self, connection: Connection, press_id: int, name: str, upto: int) -> list[Changed]:
        """Return the last changes of a name up to a shot, in their order; one that was told twice is one."""
        table = schema.set_points
        query = (
            select(table.c.shot, table.c.old, table.c.value)
            .where(_of(press_id, name), table.c.shot <= upto, table.c.old.is_not(None), table.c.value != "")
            .order_by(table.c.shot.desc(), table.c.id.desc())
            .limit(_LOOKED_BACK)
        )
        rows = [Changed(row.shot, row.old, row.value) for row in connection.execute(query)]
        return list(reversed(list(dict.fromkeys(rows))))

    def told_since(self, connection: Connection, press_id: int, after: int, upto: int) -> list[str]:
        """Return the names of which a row holds from a shot in `after` < shot <= `upto`."""
        table = schema.set_points
        query = select(table.c.name).where(table.c.press_id == press_id, table.c.shot > after, table.c.shot <= upto)
        return list(dict.fromkeys(connection.execute(query.order_by(table.c.id)).scalars()))

    def newest_start(self, connection: Connection) -> int:
        """Return the number of the newest start of the recorder, 0 for none."""
        return connection.execute(select(func.max(schema.starts.c.id))).scalar() or 0

    def read_as(self, connection: Connection, press: str, start: int) -> Mapping[str, Any]:
        """Return how the set-points of a press are read by a start, by `key_of`; what else it keeps stands among it."""
        if start not in self._starts:
            table = schema.starts
            self._starts[start] = _maps(connection.execute(select(table.c.maps).where(table.c.id == start)).scalar())
        return self._starts[start].get(press, {})


def _maps(text: str | None) -> Mapping[str, Mapping[str, Any]]:
    """Return what a start keeps of how presses are read; nothing where it does not tell, which must cost no shot."""
    try:
        maps = json.loads(text or "{}")
    except ValueError:
        return {}
    return maps if isinstance(maps, dict) else {}


def _of(press_id: int, name: str) -> ColumnElement[bool]:
    return (schema.set_points.c.press_id == press_id) & (schema.set_points.c.name == name)


def _first(connection: Connection, *conditions: ColumnElement[bool]) -> SetPointRow | None:
    table = schema.set_points
    query = select(table).where(*conditions).order_by(table.c.shot.desc(), table.c.id.desc()).limit(1)
    row = connection.execute(query).mappings().first()
    return None if row is None else held_of(row)


def held_of(row: Mapping[Any, Any]) -> SetPointRow:
    """Return a row of the table as it is used."""
    return SetPointRow(
        row["id"], row["shot"], row["name"], row["value"], row["unit"], row["old"], row["by"], row["newest_start"]
    )


def names_of(read_as: Iterable[str]) -> list[str]:
    """Return the set-points among what a start keeps of how a press is read."""
    begins = key_of("")
    return [key.removeprefix(begins) for key in read_as if key.startswith(begins)]
