"""How things stand at a press now, and what happened over a stretch of shots: what screens and commands show."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields
from datetime import datetime
from typing import Any, TypeVar

from sqlalchemy import ColumnElement, Connection, RowMapping, Select, Table, func, literal, select

from shotlog.channels import CHANNELS
from shotlog.clock import parse_utc
from shotlog.records import EVER, NOBODY, Baseline, Event, Gap, Link, Signal, Stay, Verdict, Weighing, Who
from shotlog.store.asked.links import newest_link
from shotlog.store.asked.tally import Counts, Tally
from shotlog.store.asked.unjudged import Unjudged, unjudged
from shotlog.store.log import schema
from shotlog.store.log.clock_steps import Steady
from shotlog.store.log.entered import event_of, in_force_from
from shotlog.store.log.judgements import in_force, verdict_rows
from shotlog.store.log.log import Log
from shotlog.store.log.prepared import of_press
from shotlog.store.log.signed import signature_of, signed_columns, signed_on
from shotlog.store.log.timeline import Timeline

__all__ = [
    "EntryRow",
    "MountingRow",
    "PressState",
    "baselines",
    "change_mark",
    "each_verdict",
    "entries",
    "gaps",
    "last_weighing",
    "mountings",
    "n_missed",
    "press_state",
    "signals",
    "size_bytes",
    "uncertain_gaps",
    "verdicts",
]

_CHUNK = 2000

_Kept = TypeVar("_Kept", Baseline, Gap, Signal, Weighing)


@dataclass(frozen=True, slots=True)
class PressState:
    """A press as the log knows it: last shot, what is mounted, connection, verdict. None where nothing is known.

    `set_since_s`: by how much the computer's clock was set since the last shot was made, forward where positive.
    `uncertain`: the gaps of which it is not certain how many shots they hold. `unjudged`: its shots that wait for their
    verdict.
    """

    press: str
    shot: int | None
    time: datetime | None
    values: Mapping[str, float]
    mounted: Mapping[str, Stay]
    link: Link | None
    verdict: Verdict | None
    n_shots: int
    n_missed: int
    n_faults: int
    set_since_s: float = 0.0
    uncertain: tuple[Gap, ...] = ()
    unjudged: Unjudged | None = None


def press_state(log: Log, press: str, counts: Counts | None = None, timeline: Timeline | None = None) -> PressState:
    """Return how things stand at a press; the stays are those of the next shot.

    Who asks again and again hands in `counts` and `timeline`: working them out afresh costs more the longer the log.
    """
    verdict = next(iter(verdicts(log, press, limit=1)), None)
    counts = Tally().counts(log, press) if counts is None else counts
    timeline = log.timeline(press) if timeline is None else timeline
    with log.reading() as connection:
        row = _newest(connection, schema.shots, schema.shots.c.shot, press)
        link = newest_link(connection, press)
        set_since_s = 0.0 if row is None else Steady(connection).set_since_shot(row["id"])
        through = None if verdict is None else verdict.shot
        waits = None if row is None or row["shot"] == through else unjudged(connection, press, through)
    shot = None if row is None else row["shot"]
    return PressState(
        press,
        shot,
        None if row is None else parse_utc(row["time"]),
        {} if row is None else {name: row[name] for name in CHANNELS if row[name] is not None},
        timeline.stays_at(1 if shot is None else shot + 1),
        link,
        verdict,
        counts.n_shots,
        n_missed(log, press),
        counts.n_faults,
        set_since_s,
        uncertain_gaps(log, press),
        waits,
    )


# Made once: it is asked every second by every viewer, and making it costs more than its answer.
_NEWEST_OF_EACH = select(*(select(func.max(table.c.id)).scalar_subquery() for table in schema.RECORD_TABLES.values()))


def change_mark(log: Log) -> tuple[int, ...]:
    """Return numbers that differ once anything in the record has changed; cheap, for asking every second."""
    with log.reading() as connection:
        found = connection.execute(_NEWEST_OF_EACH).one()
    return tuple(value or 0 for value in found)


def verdicts(log: Log, press: str, first: int = 0, last: int = EVER, limit: int | None = None) -> list[Verdict]:
    """Return the verdicts in force on shots `first` to `last`, in order; with `limit`, the last so many."""
    table = schema.verdicts
    query = _between(table, press, table.c.shot, first, last).where(in_force(table, table.c.shot))
    query = query.order_by(None).order_by(table.c.shot.desc())
    with log.reading() as connection:
        rows = connection.execute(query.limit(limit) if limit else query).mappings().all()
    return list(verdict_rows(reversed(rows), press))


def each_verdict(log: Log, press: str, first: int = 0, last: int = EVER) -> Iterator[Verdict]:
    """Yield the verdicts in force on shots `first` to `last`, in order: a long log has more than fit in memory."""
    table = schema.verdicts
    query = _between(table, press, table.c.shot, first, last).where(in_force(table, table.c.shot))
    with log.reading() as connection, connection.execute(query.execution_options(yield_per=_CHUNK)) as rows:
        yield from verdict_rows(rows.mappings(), press)


def signals(log: Log, press: str, first: int = 0, last: int = EVER) -> list[Signal]:
    """Return the signals in force on shots `first` to `last`, in order."""
    table = schema.signals
    query = _between(table, press, table.c.shot, first, last).where(in_force(table, table.c.shot))
    return _records(log, query, Signal)


def baselines(log: Log, press: str, first: int = 0, last: int = EVER) -> list[Baseline]:
    """Return the baselines in force that were frozen on shots `first` to `last`, in order."""
    table = schema.baselines
    return _records(
        log, _between(table, press, table.c.last, first, last).where(in_force(table, table.c.last)), Baseline
    )


def gaps(log: Log, press: str, first: int = 0, last: int = EVER, limit: int | None = None) -> list[Gap]:
    """Return the gaps that touch shots `first` to `last`, in order; with `limit`, the last so many."""
    table = schema.gaps
    query = _of(table, press).where(table.c.last >= first, table.c.first <= last).order_by(table.c.first.desc())
    return _records(log, query.limit(limit) if limit else query, Gap)[::-1]


def uncertain_gaps(log: Log, press: str) -> tuple[Gap, ...]:
    """Return the gaps of which it is not certain how many shots they hold, in order."""
    table = schema.gaps
    return tuple(_records(log, _of(table, press).where(table.c.most.is_not(None)).order_by(table.c.first), Gap))


def n_missed(log: Log, press: str) -> int:
    """Return how many shots the press counted that are not in the log: its gaps, less what was taken in later."""
    table, shots = schema.gaps, schema.shots
    there = (
        select(func.count())
        .where(shots.c.press_id == table.c.press_id, shots.c.shot.between(table.c.first, table.c.last))
        .scalar_subquery()
    )
    with log.reading() as connection:
        return int(
            connection.execute(_of(table, press, func.sum(table.c.last - table.c.first + 1 - there))).scalar() or 0
        )


@dataclass(frozen=True, slots=True)
class EntryRow:
    """An event with its number in the log, whether it was taken back, and who noted it."""

    entry_id: int
    event: Event
    taken_back: bool
    who: Who = NOBODY


def entries(log: Log, press: str, first: int = 0, last: int = EVER) -> list[EntryRow]:
    """Return the events people noted for shots `first` to `last`, in order of shot, those taken back included."""
    table = schema.events
    taken = select(schema.corrections.c.entry_id).where(schema.corrections.c.entry == "events")
    query = _between(table, press, table.c.at_shot, first, last).add_columns(*signed_columns())
    with log.reading() as connection:
        rows = connection.execute(query.outerjoin(schema.signed, signed_on(table))).mappings().all()
        gone = set(connection.execute(taken).scalars())
    return [
        EntryRow(
            row["id"],
            event_of(press, row),
            row["id"] in gone,
            Who(row["initials"] or "", signature_of(row)),
        )
        for row in rows
    ]


@dataclass(frozen=True, slots=True)
class MountingRow:
    """A mounting with its number in the log, and whether it was taken back."""

    entry_id: int
    half: str
    serial: str
    at_shot: int
    taken_back: bool


def mountings(log: Log, press: str, limit: int | None = None) -> list[MountingRow]:
    """Return the mountings entered for a press, in the order they were entered, those taken back included.

    With `limit`, the last so many.
    """
    table = schema.mountings
    taken = select(schema.corrections.c.entry_id).where(schema.corrections.c.entry == "mountings")
    query = (
        select(table.c.id, table.c.half, schema.inserts.c.serial, table.c.at_shot)
        .select_from(table.join(schema.presses).join(schema.inserts))
        .where(schema.presses.c.name == press)
        .order_by(table.c.id.desc())
        .limit(limit)
    )
    with log.reading() as connection:
        rows = connection.execute(query).all()
        gone = set(connection.execute(taken).scalars())
        return [
            MountingRow(row.id, row.half, row.serial, in_force_from(connection, press, row.at_shot), row.id in gone)
            for row in reversed(rows)
        ]


def last_weighing(log: Log, press: str, balance: str) -> Weighing | None:
    """Return the newest weight that a balance gave of what a press moulded, or None."""
    table = schema.weighings
    query = _of(table, press).where(table.c.balance == balance).order_by(table.c.id.desc()).limit(1)
    return next(iter(_records(log, query, Weighing)), None)


def size_bytes(log: Log) -> int:
    """Return how much room the log takes, in bytes; what still waits to be moved into the file is in it."""
    with log.reading() as connection:
        if connection.dialect.name == "sqlite":
            query = "SELECT page_count * page_size FROM pragma_page_count(), pragma_page_size()"
        else:
            query = "SELECT pg_database_size(current_database())"
        return int(connection.exec_driver_sql(query).scalar() or 0)


def _newest(connection: Connection, table: Table, order: ColumnElement[int], press: str) -> RowMapping | None:
    query = _of(table, press).order_by(order.desc()).limit(1)
    return connection.execute(query).mappings().first()


def _of(table: Table, press: str, what: ColumnElement[Any] | None = None) -> Select[Any]:
    query = select(table, literal(press).label("press")) if what is None else select(what).select_from(table)
    return query.where(of_press(table, press))


def _between(table: Table, press: str, shot: ColumnElement[int], first: int, last: int) -> Select[Any]:
    return _of(table, press).where(shot >= first, shot <= last).order_by(shot, table.c.id)


def _records(log: Log, query: Select[Any], kind: type[_Kept]) -> list[_Kept]:
    with log.reading() as connection:
        rows = connection.execute(query).mappings().all()
    return [kind(**_said(row, [field.name for field in fields(kind)])) for row in rows]


def _said(row: RowMapping, names: Sequence[str]) -> dict[str, Any]:
    """Return what a row says of these; what an earlier release did not know is left to the record's own default."""
    there = [name for name in names if row[name] is not None]
    return {name: parse_utc(row[name]) if name == "time" else row[name] for name in there}
