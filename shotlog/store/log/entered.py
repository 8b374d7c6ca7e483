"""What was entered about a press, read as the timeline of what was in force at each shot."""

from dataclasses import replace

from sqlalchemy import Connection, RowMapping, func, select

from shotlog.clock import parse_utc
from shotlog.records import Event, Insert, Mounting, Removal
from shotlog.store.log import schema
from shotlog.store.log.corrections import standing
from shotlog.store.log.prepared import Prepared
from shotlog.store.log.shots import FIRST_TO_COME, first_come
from shotlog.store.log.timeline import Timeline

__all__ = ["entries_mark", "event_of", "in_force_from", "read_timeline"]


_MARKED = (
    schema.mountings, schema.removals, schema.events, schema.corrections,
    schema.makings, schema.queued,
)  # fmt: skip
_MARK = Prepared(select(*(select(func.max(t.c.id)).scalar_subquery().label(f"newest_{t.name}") for t in _MARKED)))


def entries_mark(connection: Connection) -> tuple[int | None, ...]:
    """Return numbers that differ once anything was entered or taken back, at any press: cheap to ask at every shot."""
    return _MARK.first(connection) or ()


def in_force_from(connection: Connection, press: str, at_shot: int) -> int:
    """Return the shot from which an entry holds that stands in the log with `at_shot`."""
    return first_come(connection, press) if at_shot == FIRST_TO_COME else at_shot


def read_timeline(connection: Connection, press: str) -> Timeline:
    """Return the timeline of a press from its entries in force."""
    mountings, removals, inserts = schema.mountings, schema.removals, schema.inserts
    pieces = (
        inserts.c.serial,
        inserts.c.print_batch,
        schema.designs.c.name.label("design"),
    )
    with_insert = {
        table: table.join(schema.presses).join(inserts).outerjoin(schema.designs) for table in (mountings, removals)
    }
    mounted = connection.execute(
        select(mountings, *pieces)
        .select_from(with_insert[mountings])
        .where(schema.presses.c.name == press, standing(mountings))
        .order_by(mountings.c.id)
    ).mappings()
    removed = connection.execute(
        select(removals, inserts.c.serial)
        .select_from(with_insert[removals])
        .where(schema.presses.c.name == press, standing(removals))
        .order_by(removals.c.id)
    ).mappings()
    noted = connection.execute(
        select(schema.events)
        .join(schema.presses)
        .where(schema.presses.c.name == press, standing(schema.events))
        .order_by(schema.events.c.id)
    ).mappings()
    told = _told(connection)

    def at(row: RowMapping) -> int:
        return in_force_from(connection, press, row["at_shot"])

    return Timeline(
        [
            Mounting(
                press,
                row["half"],
                _insert(row, told),
                at(row),
                parse_utc(row["time"]),
                row["single_use"],
                row["initials"] or "",
                row["id"],
            )
            for row in mounted
        ],
        [
            Removal(
                press,
                row["serial"],
                at(row),
                parse_utc(row["time"]),
                row["reason"],
                row["initials"] or "",
                row["newest_mounting"],
            )
            for row in removed
        ],
        [replace(event_of(press, row), at_shot=at(row)) for row in noted],
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


def _insert(row: RowMapping, told: dict[str, dict[str, str]]) -> Insert:
    known = {"design": row["design"] or "", "print_batch": row["print_batch"]}
    return Insert(row["serial"], **(known | told.get(row["serial"], {})))


def _queues(connection: Connection, told: dict[str, dict[str, str]]) -> dict[str, list[Insert]]:
    """Return the pieces of each queued series, in order, by the serial it was mounted with."""
    table, inserts = schema.queued, schema.inserts
    series = inserts.alias("series")
    query = (
        select(
            series.c.serial.label("series"),
            inserts.c.serial,
            inserts.c.print_batch,
            schema.designs.c.name.label("design"),
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
    for row in connection.execute(query).mappings():
        queue = queues.setdefault(row["series"], [])
        if row["stands"]:
            queue.append(_insert(row, told))
    return queues
