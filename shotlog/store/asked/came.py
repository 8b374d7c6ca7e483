"""What came into the log, in the order in which it came, from any place on: for whoever is told of it as it comes."""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, RowMapping, Table, select

from shotlog.channels import CHANNELS
from shotlog.clock import parse_utc
from shotlog.records import Gap, InForce, Link, SetPointChange, Verdict
from shotlog.store.asked.log_place import DIGITS, Place, place_of
from shotlog.store.asked.told import ToldRow
from shotlog.store.log import schema
from shotlog.store.log.entered import read_timeline
from shotlog.store.log.judgements import in_force, verdict_rows
from shotlog.store.log.log import Log
from shotlog.store.log.timeline import Timeline
from shotlog.store.log.weighed import read_weights, with_weight
from shotlog.store.parts.found import tells_of_parts

__all__ = ["Bearing", "Came", "Following", "LoggedNow", "Record", "VerdictMade"]

_ASKED = 500
"""Rows asked for with one query: a database takes only so many parameters."""
_BEARING = frozenset(
    table.name
    for table in (
        schema.events, schema.inspections, schema.dispositions, schema.removals, schema.mountings, schema.corrections,
    )
)  # fmt: skip
"""Entries that may change what stands at a press without a new verdict."""
_FINDING = frozenset(table.name for table in (schema.events, schema.inspections, schema.removals))
"""Those of them that may say themselves that something is wrong."""


@dataclass(frozen=True, slots=True)
class LoggedNow:
    """A shot as the log has it by now: `halves` by what was entered until it is read, `values` with its weight."""

    press: str
    shot: int
    counter: int
    time: datetime
    values: Mapping[str, float]
    halves: Mapping[str, InForce]
    trial: str | None


@dataclass(frozen=True, slots=True)
class VerdictMade:
    """A verdict as it was made. `time`: when its shot was made; `judging`: under which it was made, a growing number.

    `again`: the shot had been judged before; `newest`: no later shot had been.
    """

    verdict: Verdict
    time: datetime | None
    judging: int
    again: bool
    newest: bool


Record = LoggedNow | VerdictMade | Gap | Link | SetPointChange | ToldRow


@dataclass(frozen=True, slots=True)
class Bearing:
    """The last of the entries of one transaction that may change what stands at a press; no more is told of it.

    `takes_back`: it takes back what somebody found, which stood before and is not found any more.
    """

    press: str
    takes_back: bool


@dataclass(frozen=True, slots=True)
class Came:
    """What came at a place."""

    place: Place
    record: Record | Bearing


@dataclass(frozen=True, slots=True)
class _Row:
    """A row that a link names; `entries`: which of its rows may bear on a press, by their numbers in the link."""

    place: Place
    table: str
    row_id: int
    entries: tuple[tuple[int, str], ...] = ()


_Rows = Sequence[RowMapping]
_Names = Mapping[int, str]
_Reader = Callable[[Connection, _Rows, _Names], Iterable[tuple[int, Record]]]


class Following:
    """Hands out what came into a log from a place on; what it has to work out for that it keeps from call to call."""

    def __init__(self, log: Log) -> None:
        self._log = log
        self._timelines: dict[str, Timeline] = {}
        self._highest: dict[int, int] = {}
        self._upto = Place()

    def after(self, place: Place, most: int = 100) -> tuple[list[Came], Place]:
        """Return what came after a place, of `most` rows at most, and the place behind it; the same where none did."""
        with self._log.reading() as connection:
            rows = list(_rows_after(connection, place, most))
            if not rows:
                return [], place
            if place != self._upto:
                self._highest.clear()
            self._upto = rows[-1].place
            if any(row.table in _BEARING for row in rows):
                self._timelines.clear()
            return self._came(connection, rows), rows[-1].place

    def standing(self, press: str) -> list[Came]:
        """Return the last change of the connection to a press and its newest verdict in force, as they came.

        The verdict is the `newest` unless one on a later shot waits to be made again.
        """
        kept, self._highest = self._highest, {}
        try:
            with self._log.reading() as connection:
                presses, table = schema.presses, schema.verdicts
                press_id = connection.execute(select(presses.c.id).where(presses.c.name == press)).scalar()
                rows = [_newest(connection, one, press_id) for one in (schema.links, table)]
                found = [row for row in rows if row is not None]
                for row in found:
                    if press_id is not None and row.table == table.name:
                        others = select(table.c.shot).where(table.c.press_id == press_id, table.c.id != row.row_id)
                        highest = connection.execute(others.order_by(table.c.shot.desc()).limit(1)).scalar()
                        self._highest[press_id] = -1 if highest is None else int(highest)
                return self._came(connection, found)
        finally:
            self._highest = kept

    def _came(self, connection: Connection, rows: Sequence[_Row]) -> list[Came]:
        names = {row.id: row.name for row in connection.execute(select(schema.presses)).all()}
        read: dict[str, _Reader] = {
            "shots": self._shots, "verdicts": self._judgements, "gaps": _gaps, "links": _links,
            "set_points": _set_points, "told": _told,
        }  # fmt: skip
        found: dict[tuple[str, int], Record] = {}
        for table, reader in read.items():
            ids = [row.row_id for row in rows if row.table == table]
            if ids:
                asked = _rows_of(connection, schema.RECORD_TABLES[table], ids)
                found |= {(table, row_id): one for row_id, one in reader(connection, asked, names)}
        bearing = _last_bearing(connection, rows)
        came = [(row.place, found.get((row.table, row.row_id)) or bearing.get(row.place)) for row in rows]
        return [Came(place, record) for place, record in came if record is not None]

    def _shots(self, connection: Connection, rows: _Rows, names: _Names) -> Iterator[tuple[int, LoggedNow]]:
        trials = {row.id: row.name for row in connection.execute(select(schema.trials)).all()}
        weights = {}
        for press_id in {row["press_id"] for row in rows}:
            numbers = [row["shot"] for row in rows if row["press_id"] == press_id]
            weights[press_id] = read_weights(connection, names[press_id], min(numbers) - 1, max(numbers))
        for row in rows:
            press, shot = names[row["press_id"]], row["shot"]
            if press not in self._timelines:
                self._timelines[press] = read_timeline(connection, press)
            values = {name: row[name] for name in CHANNELS if row[name] is not None}
            yield (
                row["id"],
                LoggedNow(
                    press,
                    shot,
                    row["counter"],
                    parse_utc(row["time"]),
                    with_weight(values, weights[row["press_id"]].get(shot)),
                    self._timelines[press].halves(shot),
                    trials.get(row["trial_id"]),
                ),
            )

    def _judgements(self, connection: Connection, rows: _Rows, names: _Names) -> Iterator[tuple[int, VerdictMade]]:
        times = _times(connection, rows)
        for row in rows:
            press_id, shot = row["press_id"], row["shot"]
            (said,) = verdict_rows([row], names[press_id])
            before = self._highest_before(connection, press_id, row["id"])
            self._highest[press_id] = max(before, shot)
            time = times.get((press_id, shot))
            yield row["id"], VerdictMade(said, time, row["judging_id"], shot <= before, shot >= before)

    def _highest_before(self, connection: Connection, press_id: int, row_id: int) -> int:
        """Return the highest shot of a press that was judged before a verdict came; -1 for none."""
        if press_id not in self._highest:
            table = schema.verdicts
            query = select(table.c.shot).where(table.c.press_id == press_id, table.c.id < row_id)
            highest = connection.execute(query.order_by(table.c.shot.desc()).limit(1)).scalar()
            self._highest[press_id] = -1 if highest is None else int(highest)
        return self._highest[press_id]


def _newest(connection: Connection, table: Table, press_id: int | None) -> _Row | None:
    """Return the newest row of a press; of verdicts, that on the last shot of those in force."""
    query = select(table.c.id).where(table.c.press_id == press_id)
    if table is schema.verdicts:
        query = query.where(in_force(table, table.c.shot)).order_by(table.c.shot.desc())
    newest = connection.execute(query.order_by(table.c.id.desc()).limit(1)).scalar()
    place = None if newest is None else place_of(connection, table, newest)
    return None if newest is None or place is None else _Row(place, table.name, newest)


def _rows_after(connection: Connection, place: Place, most: int) -> Iterator[_Row]:
    table = schema.ledger
    n = 0
    query = select(table).where(table.c.id >= place.link).order_by(table.c.id)
    links = connection.execute(query.limit(most + 1))  # of the first, all may be passed
    for link in links:
        passed = place.row if link.id == place.link else 0
        names = link.rows.split()
        entries = tuple((at, name) for at, name in enumerate(names, 1) if name.partition(":")[0] in _BEARING)
        for number, name in enumerate(names[passed : passed + most - n], passed + 1):
            kind, _, row_id = name.partition(":")
            yield _Row(Place(link.id, number, link.digest[:DIGITS]), kind, int(row_id), entries)
            n += 1
        if n >= most:
            return


def _last_bearing(connection: Connection, rows: Sequence[_Row]) -> dict[Place, Bearing]:
    """Return by place the last entry of its link that bears on its press: wherever one stops, it comes once."""
    names = {name for row in rows if row.table in _BEARING for _, name in row.entries}
    bearing = _bearing(connection, names)
    last: dict[tuple[int, str], int] = {}
    for row in rows:
        last |= {(row.place.link, bearing[name].press): at for at, name in row.entries if name in bearing}
    found = {row.place: bearing.get(f"{row.table}:{row.row_id}") for row in rows}
    return {place: one for place, one in found.items() if one is not None and last[place.link, one.press] == place.row}


def _bearing(connection: Connection, names: Collection[str]) -> dict[str, Bearing]:
    """Return by its name, as a link has it, each entry by which something may be found at a press, or found no more.

    One that takes another back bears on the press of that; a set-up, say, on none.
    """
    ids: dict[str, list[int]] = {}
    for name in names:
        kind, _, row_id = name.partition(":")
        ids.setdefault(kind, []).append(int(row_id))
    presses = {row.id: row.name for row in connection.execute(select(schema.presses)).all()}
    found: dict[str, Bearing] = {}
    for kind, of_kind in ids.items():
        rows = _rows_of(connection, schema.RECORD_TABLES[kind], of_kind)
        if kind == schema.corrections.name:
            back = {f"{row['entry']}:{row['entry_id']}": f"{kind}:{row['id']}" for row in rows}
            taken = _bearing(connection, [name for name in back if name.partition(":")[0] in _BEARING])
            found |= {back[name]: Bearing(one.press, name.partition(":")[0] in _FINDING) for name, one in taken.items()}
        else:
            bearing = [row for row in rows if kind != schema.events.name or tells_of_parts(row["kind"], row["text"])]
            found |= {f"{kind}:{row['id']}": Bearing(presses[row["press_id"]], False) for row in bearing}
    return found


def _rows_of(connection: Connection, table: Table, ids: Sequence[int]) -> list[RowMapping]:
    """Return rows by their numbers, in the order of these."""
    found: dict[int, RowMapping] = {}
    for first in range(0, len(ids), _ASKED):
        query = select(table).where(table.c.id.in_(ids[first : first + _ASKED]))
        found |= {row["id"]: row for row in connection.execute(query).mappings()}
    return [found[one] for one in sorted(found)]


def _times(connection: Connection, rows: Sequence[RowMapping]) -> dict[tuple[int, int], datetime]:
    table = schema.shots
    found: dict[tuple[int, int], datetime] = {}
    for press_id in {row["press_id"] for row in rows}:
        numbers = [row["shot"] for row in rows if row["press_id"] == press_id]
        for first in range(0, len(numbers), _ASKED):
            asked = table.c.shot.in_(numbers[first : first + _ASKED])
            query = select(table.c.shot, table.c.time).where(table.c.press_id == press_id, asked)
            found |= {(press_id, row.shot): parse_utc(row.time) for row in connection.execute(query)}
    return found


def _gaps(_: Connection, rows: _Rows, names: _Names) -> Iterator[tuple[int, Gap]]:
    for row in rows:
        known: dict[str, Any] = {name: row[name] for name in ("least", "most") if row[name] is not None}
        press, time = names[row["press_id"]], parse_utc(row["time"])
        yield row["id"], Gap(press, row["first"], row["last"], time, row["reason"], **known)


def _links(_: Connection, rows: _Rows, names: _Names) -> Iterator[tuple[int, Link]]:
    for row in rows:
        yield row["id"], Link(names[row["press_id"]], parse_utc(row["time"]), row["state"], row["detail"])


def _set_points(_: Connection, rows: _Rows, names: _Names) -> Iterator[tuple[int, SetPointChange]]:
    for row in rows:
        press, time = names[row["press_id"]], parse_utc(row["time"])
        said = (row["name"], row["old"], row["value"], row["unit"], row["by"])
        yield row["id"], SetPointChange(press, row["shot"], time, *said)


def _told(_: Connection, rows: _Rows, names: _Names) -> Iterator[tuple[int, ToldRow]]:
    for row in rows:
        press = None if row["press_id"] is None else names[row["press_id"]]
        said = (row["about"], row["spell"], row["phase"], row["receiver"], row["said"])
        yield row["id"], ToldRow(press, *said, parse_utc(row["time"]), row["id"])
