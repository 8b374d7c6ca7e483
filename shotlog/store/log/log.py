"""The log of one or more presses: append-only, durable per transaction, readable while it is written."""

import re
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING, Any, Self

from sqlalchemy import Connection, Engine, RowMapping, func, select
from sqlalchemy.engine import make_url

from shotlog.clock import parse_utc
from shotlog.errors import StoreDamaged, StoreUnreachable
from shotlog.records import Event, Insert, LoggedShot, Mounting, Removal
from shotlog.store.log import engine as database
from shotlog.store.log import schema
from shotlog.store.log.chain import GENESIS, digest
from shotlog.store.log.corrections import standing
from shotlog.store.log.shots import last_shot, logged_shots
from shotlog.store.log.timeline import Timeline
from shotlog.store.log.transaction import Record, Transaction, transaction

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["Log", "open_log"]

Row = tuple[str, dict[str, Any]]

_LINKS = 500
"""Links of the chain verified at a time."""


class Log:
    """A log, open. Write with `append` and with the functions of `store.entries`; the rest reads.

    Reading uses its own connections, which cannot write. Use as a context manager, or call `close`.
    """

    def __init__(self, url: str, writer: Engine | None, reader: Engine) -> None:
        self.url = url
        self._writer, self._reader = writer, reader
        self._trial_id: int | None = None

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Close every connection; closing twice is fine."""
        self._reader.dispose()
        if self._writer is not None:
            self._writer.dispose()

    @contextmanager
    def transaction(self, origin: str | None = None) -> Iterator[Transaction]:
        """Open a write transaction; committed when the block ends well, undone when it does not.

        Raises
        ------
        StoreUnreachable
            The log is open for reading only, locked, on a full disk, or its server is down.
        """
        if self._writer is None:
            raise StoreUnreachable(f"log {self.url}: opened for reading only")
        with transaction(self._writer, self.url, origin, self._trial_id) as work:
            yield work

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Open a connection that reads one consistent state; keep it short, the log grows meanwhile."""
        with database.translated(self.url), self._reader.connect() as connection:
            yield connection

    def append(self, records: Iterable[Record], origin: str | None = None) -> None:
        """Add records in one transaction; returns after they are durably committed.

        A shot the log already has is left alone. With `origin`, a second call of that origin adds nothing: it makes a
        repeated delivery harmless.
        """
        with self.transaction(origin) as work:
            if origin is not None and work.has_origin(origin):
                return
            for record in records:
                work.append(record)

    def use_trial(self, name: str, part: str, resin: str, time: str) -> None:
        """Log the shots from now on under a trial, adding it when it is new or was described otherwise."""
        table = schema.trials
        with self.transaction() as work:
            query = select(table.c.id).where(table.c.name == name, table.c.part == part, table.c.resin == resin)
            found = work.connection.execute(query).scalar()
            self._trial_id = (
                found if found is not None else work.add(table, name=name, part=part, resin=resin, time=time)
            )

    def presses(self) -> list[str]:
        """Return the names of the presses that have anything in the log, in the order they came."""
        with self.reading() as connection:
            return list(connection.execute(select(schema.presses.c.name).order_by(schema.presses.c.id)).scalars())

    def timeline(self, press: str) -> Timeline:
        """Return which inserts and events were in force on a press, from the entries in force now."""
        with self.reading() as connection:
            return read_timeline(connection, press)

    def last_shot(self, press: str) -> tuple[int, int] | None:
        """Return the last stored shot of a press and its raw counter reading, or None."""
        with self.reading() as connection:
            return last_shot(connection, press)

    def logged(self, press: str, after: int = -1, upto: int | None = None) -> Iterator[LoggedShot]:
        """Yield the shots of a press after shot `after`, in order, each with what was in force."""
        with self.reading() as connection:
            yield from logged_shots(connection, press, read_timeline(connection, press), after, upto)

    def verify(self) -> tuple[int, str]:
        """Recompute the hash chain over the whole log; return how many transactions it has and the last digest.

        Raises
        ------
        StoreDamaged
            A row was changed, added or taken out after it was written; says in which transaction.
        """
        with self.reading() as connection:
            before, n, covered = GENESIS, 0, 0
            links = connection.execute(
                select(schema.ledger).order_by(schema.ledger.c.id).execution_options(yield_per=_LINKS)
            ).mappings()
            for part in links.partitions():
                for link, rows in zip(part, _covered(connection, part, self.url), strict=True):
                    if digest(before, rows) != link["digest"]:
                        raise StoreDamaged(
                            f"log {self.url}: transaction {link['id']} ({link['rows'][:80]}) was changed later"
                        )
                    before, n, covered = link["digest"], n + 1, covered + len(rows)
            stored = sum(len(connection.execute(select(table.c.id)).all()) for table in schema.RECORD_TABLES.values())
            if stored != covered:
                raise StoreDamaged(f"log {self.url}: {stored} rows where the chain covers {covered}")
        return n, before

    def shots(self, press: str | None = None) -> "pd.DataFrame":
        """Return the shots as a pandas frame: one row a shot, with inserts, design, events and every channel present.

        The units are in ``frame.attrs["units"]``.
        """
        from shotlog.store.log import frames

        return frames.shots(self, press)

    def inserts(self) -> "pd.DataFrame":
        """Return every insert's stays in a press as a pandas frame, one row a stay."""
        from shotlog.store.log import frames

        return frames.inserts(self)

    def signals(self, press: str | None = None) -> "pd.DataFrame":
        """Return the signals in force as a pandas frame, in shot order."""
        from shotlog.store.log import frames

        return frames.signals(self, press)

    def verdicts(self, press: str | None = None) -> "pd.DataFrame":
        """Return the verdicts in force as a pandas frame, one row a shot."""
        from shotlog.store.log import frames

        return frames.verdicts(self, press)


def _covered(connection: Connection, links: Sequence[RowMapping], where: str) -> list[list[Row]]:
    """Return the rows that each of the links covers, read table by table."""
    names = [[_name(word, where) for word in link["rows"].split()] for link in links]
    ids: dict[str, set[int]] = {}
    for name, row_id in chain.from_iterable(names):
        ids.setdefault(name, set()).add(row_id)
    found = {}
    for name, wanted in ids.items():
        table = schema.RECORD_TABLES[name]
        # Ids of one table lie close together in links that follow each other.
        query = select(table).where(table.c.id.between(min(wanted), max(wanted)))
        found[name] = {row["id"]: dict(row) for row in connection.execute(query).mappings() if row["id"] in wanted}
        if len(found[name]) < len(wanted):
            gone = min(wanted - found[name].keys())
            raise StoreDamaged(f"log {where}: row {gone} of {name} was taken out")
    return [[(name, found[name][row_id]) for name, row_id in link] for link in names]


def _name(word: str, where: str) -> tuple[str, int]:
    table, _, row_id = word.partition(":")
    if table not in schema.RECORD_TABLES or not re.fullmatch("[0-9]{1,18}", row_id):
        raise StoreDamaged(f"log {where}: the chain names {word!r}, which is no row of the record")
    return table, int(row_id)


def entries_mark(connection: Connection) -> tuple[int | None, ...]:
    """Return numbers that differ once anything was entered or taken back, at any press: cheap to ask at every shot."""
    tables = (
        schema.mountings, schema.removals, schema.events, schema.corrections,
        schema.makings, schema.queued,
    )  # fmt: skip
    return tuple(connection.execute(select(*(select(func.max(t.c.id)).scalar_subquery() for t in tables))).one())


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
    return Timeline(
        [
            Mounting(
                press,
                row["half"],
                _insert(row, told),
                row["at_shot"],
                parse_utc(row["time"]),
                row["single_use"],
            )
            for row in mounted
        ],
        [Removal(press, row["serial"], row["at_shot"], parse_utc(row["time"]), row["reason"]) for row in removed],
        [Event(press, row["at_shot"], row["kind"], row["text"], parse_utc(row["time"])) for row in noted],
        _queues(connection, told),
    )


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


def open_log(url: str, *, read_only: bool = True) -> Log:
    """Open a log by its SQLAlchemy URL.

    A log opened for writing is made when it does not exist, and brought to this release's schema.

    Raises
    ------
    StoreUnreachable
        There is no such log (when only reading), or it cannot be opened or written.
    StoreDamaged
        It was written by a newer release, or is no log.

    Examples
    --------
    A notebook reads a trial like this::

        log = shotlog.open_log("sqlite:///trial.db")
        shots = log.shots()
        shots.attrs["units"]["cushion"]   # 'mm'
    """
    reader = database.connect(url, read_only=True)
    where = reader.url.render_as_string() if reader.dialect.name != "sqlite" else url
    if read_only and reader.dialect.name == "sqlite" and not Path(make_url(url).database or "").exists():
        raise StoreUnreachable(f"log {where}: there is no such file yet")
    writer = None if read_only else database.connect(url)
    log = Log(where, writer, reader)
    try:
        if writer is None:
            database.check_version(reader, where)
        else:
            database.prepare(writer, reader, where)
    except BaseException:
        log.close()
        raise
    return log
