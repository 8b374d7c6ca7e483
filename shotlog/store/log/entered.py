"""What was entered about a press, read as the timeline of what was in force at each shot."""

from typing import Any

from sqlalchemy import Connection, Label, RowMapping, func, select

from shotlog.clock import parse_utc
from shotlog.records import Event, Insert, Mounting, Removal
from shotlog.store.log import schema
from shotlog.store.log.corrections import standing
from shotlog.store.log.prepared import Prepared
from shotlog.store.log.shots import FIRST_TO_COME, first_come
from shotlog.store.log.timeline import Timeline

__all__ = ["entries_mark", "event_of", "in_force_from", "newest_entries", "read_timeline"]


_MARKED = (
    schema.mountings, schema.removals, schema.events, schema.corrections,
    schema.makings, schema.queued,
)  # fmt: skip


def newest_entries() -> list[Label[Any]]:
    """Return columns that together differ once anything was entered or taken back, at any press."""
    return [select(func.max(t.c.id)).scalar_subquery().label(f"newest_{t.name}") for t in _MARKED]


_MARK = Prepared(select(*newest_entries()))


def entries_mark(connection: Connection) -> tuple[int | None, ...]:
    """Return numbers that differ once anything was entered or taken back, at any press: cheap to ask at every shot."""
    return _MARK.first(connection) or ()


def in_force_from(connection: Connection, press: str, at_shot: int) -> int:
    """Return the shot from which an entry holds that stands in the log with `at_shot`."""
    return first_come(connection, press) if at_shot == FIRST_TO_COME else at_shot


def read_timeline(connection: Connection, press: str) -> Timeline:
    """Return the timeline of a press from its entries in force."""
    mountings, removals, inserts = schema.mountings, schema.removals, schema.inserts
    pieces = (inserts.c.serial, schema.designs.c.name, inserts.c.print_batch)
    with_insert = {
        table: table.join(schema.presses).join(inserts).outerjoin(schema.designs) for table in (mountings, removals)
    }
    columns = (mountings.c[name] for name in ("half", "at_shot", "time", "single_use", "initials", "id"))
    mounted = connection.execute(
        select(*pieces, *columns)
        .select_from(with_insert[mountings])
        .where(schema.presses.c.name == press, standing(mountings))
        .order_by(mountings.c.id)
    )
    columns = (removals.c[name] for name in ("at_shot", "time", "reason", "initials", "newest_mounting"))
    removed = connection.execute(
        select(inserts.c.serial, *columns)
        .select_from(with_insert[removals])
        .where(schema.presses.c.name == press, standing(removals))
        .order_by(removals.c.id)
    )
    columns = (schema.events.c[name] for name in ("at_shot", "kind", "text", "time", "half", "initials"))
    noted = connection.execute(
        select(*columns)
        .join(schema.presses)
        .where(schema.presses.c.name == press, standing(schema.events))
        .order_by(schema.events.c.id)
    )
    told = _told(connection)

    def at(shot: int) -> int:
        return in_force_from(connection, press, shot)

    return Timeline(
        [
            Mounting(
                press,
                half,
                _insert(serial, design, batch, told),
                at(shot),
                parse_utc(time),
                single_use,
                by or "",
                number,
            )
            for serial, design, batch, half, shot, time, single_use, by, number in mounted
        ],
        [
            Removal(press, serial, at(shot), parse_utc(time), reason, by or "", newest)
            for serial, shot, time, reason, by, newest in removed
        ],
        [
            Event(press, at(shot), kind, text, parse_utc(time), half or "", by or "")
            for shot, kind, text, time, half, by in noted
        ],
        _queues(connection, told),
    )


def event_of(press: str, row: RowMapping) -> Event:
    """Return the event that a row of `events` keeps."""
    said = row["half"] or "", row["initials"] or ""
    return Event(press, row["at_shot"], row["kind"], row["text"], parse_utc(row["time"]), *said)


def _told(connection: Connection) -> dict[str, dict[str, str]]:
    """Return design and print batch of the inserts whose making was described; a later statement wins."""
    table = schema.makings
    query = (
        select(schema.inserts.c.serial, table.c.design, table.c.print_batch)
        .join(schema.inserts)
        .where(standing(table))
        .order_by(table.c.id)
    )
    told: dict[str, dict[str, str]] = {}
    for serial, design, print_batch in connection.execute(query):
        said = {"design": design, "print_batch": print_batch}
        told.setdefault(serial, {}).update({name: text for name, text in said.items() if text is not None})
    return told


def _insert(serial: str, design: str | None, print_batch: str, told: dict[str, dict[str, str]]) -> Insert:
    said = told.get(serial, {})
    return Insert(serial, said.get("design", design or ""), said.get("print_batch", print_batch))


def _queues(connection: Connection, told: dict[str, dict[str, str]]) -> dict[str, list[Insert]]:
    """Return the pieces of each queued series, in order, by the serial it was mounted with."""
    table, inserts = schema.queued, schema.inserts
    series = inserts.alias("series")
    query = (
        select(
            series.c.serial.label("series"),
            inserts.c.serial,
            schema.designs.c.name,
            inserts.c.print_batch,
            standing(table).label("stands"),
        )
        .select_from(
            table.join(inserts, inserts.c.id == table.c.insert_id)
            .join(series, series.c.id == table.c.series_id)
            .outerjoin(schema.designs, schema.designs.c.id == inserts.c.design_id)
        )
        .order_by(table.c.id)
    )
    queues: dict[str, list[Insert]] = {}
    for series_of, serial, design, print_batch, stands in connection.execute(query):
        queue = queues.setdefault(series_of, [])
        if stands:
            queue.append(_insert(serial, design, print_batch, told))
    return queues
