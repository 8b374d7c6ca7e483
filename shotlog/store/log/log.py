"""The log of one or more presses: append-only, durable per transaction, readable while it is written."""

import threading
import time
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING, Self, TypeVar

from sqlalchemy import URL, Connection, Engine, select
from sqlalchemy.engine import make_url

from shotlog.channels import CHANNELS
from shotlog.errors import (
    StoreDamaged,
    StoreError,
    StoreGone,
    StoreMissing,
    StoreReplaced,
    StoreUnreachable,
    UsageError,
)
from shotlog.recording import Columns
from shotlog.records import Event, Fault, LoggedShot, SetPointChange, Shot, Signature
from shotlog.store.log import engine as database
from shotlog.store.log import schema
from shotlog.store.log.edge_at_centre import edge_of, without_edge
from shotlog.store.log.entered import read_timeline
from shotlog.store.log.identity import Identity, Seen, read_head, read_uid
from shotlog.store.log.order import EntryOrder
from shotlog.store.log.prepared import Asked
from shotlog.store.log.recorded import recorded
from shotlog.store.log.recovery import PutRight
from shotlog.store.log.set_point_rows import HeldSetPoints
from shotlog.store.log.set_points import KeepingSetPoints
from shotlog.store.log.shots import channels_present, last_shot, logged_shots
from shotlog.store.log.timeline import Timeline
from shotlog.store.log.transaction import Record, Transaction, Trial, transaction, where_shots_are
from shotlog.store.log.verifying import nobody, verify_chain, verify_since
from shotlog.store.log.writing import Writing
from shotlog.withheld import without_secrets

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["Log", "open_log", "opened_as", "shown"]


class Log:
    """A log, open. Write with `append` and with the functions of `store.entries`; the rest reads.

    Reading uses its own connections, which cannot write. Use as a context manager, or call `close`.
    """

    def __init__(self, url: str, writer: Engine | None, reader: Engine, store: URL | None = None) -> None:
        self.url = url
        self._writer, self._reader, self._store = writer, reader, store
        self._writing = None if writer is None else Writing(writer)
        self._path = None if store is None else database.file_of(store)
        self._identity = Identity(url, self._path)
        self._trouble: StoreError | None = None
        self.openings = 0
        """How often it was opened: what was read before the last time may be of another log."""
        self._since = 0.0
        self._trial: tuple[str, str, str, str] | None = None
        self._trial_id: int | None = None
        self._order = EntryOrder()
        self._set_points = HeldSetPoints()
        self._is_earlier = False
        self._moment = threading.local()
        self.signature: Signature | None = None
        """Who enters what is entered through it: signs each entry, in its transaction."""
        self.presses_open: Collection[str] | None = None
        """The presses that something may be entered for through it; None for any."""
        self.waiting: list[int] = []
        """What was entered through it and waits for its edge, by its numbers at the centre (`store.centre`)."""

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Close every connection; closing twice is fine."""
        self._reader.dispose()
        if self._writer is not None and self._writing is not None:
            self._writing.give_back()
            self._writer.dispose()

    @property
    def edge(self) -> str:
        """The edge whose log this is as a centre holds it; empty of a log at its own place."""
        return "" if self._store is None else edge_of(self._store) or ""

    @property
    def centre_address(self) -> str:
        """The address of the centre that holds it, with its password if there is one: not to be shown."""
        if self._store is None or not self.edge:
            raise UsageError(f"log {self.url}: given at its own place, allowed: that of an edge at a centre")
        return without_edge(self._store)

    @contextmanager
    def transaction(self, origin: str | None = None, asked: Sequence[Asked] = ()) -> Iterator[Transaction]:
        """Open a write transaction; committed when the block ends well, undone when it does not.

        `asked`: what is asked as well when it begins, under its lock, in the same way there and back to a server.

        Raises
        ------
        StoreUnreachable
            The log is open for reading only, locked, on a full disk, or its server is down; as StoreGone or
            StoreReplaced: what is open is not the log that lies at its path.
        """
        if self._writing is None:
            raise StoreUnreachable(f"log {self.url}: opened for reading only")
        signed = self._trial_id, self.signature, self.presses_open
        try:
            with transaction(self._writing, self._identity, self.url, origin, *signed, asked) as work:
                yield work
        except (StoreGone, StoreReplaced, StoreDamaged) as error:
            self._notice(error)
            raise

    @contextmanager
    def _noticed(self) -> Iterator[None]:
        """Remember that the log is gone, replaced or damaged, and since when."""
        try:
            yield
        except (StoreGone, StoreReplaced, StoreDamaged) as error:
            self._notice(error)
            raise

    def _notice(self, error: StoreError) -> None:
        if self._trouble is None:
            self._trouble, self._since = error, time.monotonic()

    def doubt(self, error: StoreError) -> None:
        """Take the log for one that has to be opened again, for what was found beside it."""
        with suppress(StoreError), self._noticed():
            raise error

    @property
    def trouble(self) -> StoreError | None:
        """Why the log has to be opened again (`reopen`), None where it need not be."""
        return self._trouble

    @property
    def seen(self) -> Seen | None:
        """The log as it was last seen, None where it never was."""
        return self._identity.seen

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Open a connection that reads one consistent state; keep it short, the log grows meanwhile."""
        held = getattr(self._moment, "connection", None)
        if held is not None:
            with self._noticed(), database.translated(self.url):
                yield held
            return
        with self._noticed(), database.translated(self.url), self._reader.connect() as connection:
            connection.begin()  # a statement on the driver's own cursor (`Prepared`) begins nothing by itself
            yield connection
            if self._path is None:  # nothing was written; a driver that rolls back forgets what it had a server prepare
                connection.commit()

    @contextmanager
    def one_moment(self) -> Iterator[None]:
        """Let all that this thread reads within be of one state: what is said of it in several sentences agrees."""
        with self.reading() as connection:
            self._moment.connection = connection
            try:
                yield
            finally:
                self._moment.connection = None

    def prepare(self) -> None:
        """Make sure that what lies at the path is a log of ours, and can be read and written as it was opened.

        Raises
        ------
        StoreUnreachable
            It cannot be opened, or is not the log that was open before.
        StoreDamaged
            It was written by a newer release, or is no log.
        """
        if self._writer is None:
            self._is_earlier = database.prepare_reading(self._reader, self.url)
        else:
            database.prepare(self._writer, self._reader, self.url, self._path)
        self._identity.take()
        self.openings += 1
        with self.reading() as connection:
            newest = read_head(connection)
            self._identity.check_chain(connection, newest)
            self._identity.saw(newest, read_uid(connection))

    def is_at_its_path(self) -> bool:
        """Say whether the file that is open is still the one at the path of the log."""
        try:
            self._identity.check_file()
        except StoreUnreachable:
            return False
        return True

    def is_outgrown(self) -> bool:
        """Say whether it is read as one of an earlier release, what came later as empty, and is none any more."""
        return self._is_earlier and database.schema_of(self._reader, self.url) == database.SCHEMA

    def reopen(self) -> PutRight | None:
        """Open the log again where it is back at its path; return what was done to put it right, here always None.

        Raises
        ------
        StoreUnreachable
            Not yet: what lies at its path cannot be opened, or is not this log.
        StoreDamaged
            It is no log.
        """
        self._renew()
        self.prepare()
        self._trouble = None
        if self._trial is not None:
            self.use_trial(*self._trial)
        return None

    def _renew(self) -> None:
        """Connect anew: what a connection still has open may lie elsewhere by now."""
        self.close()
        self._order, self._set_points = EntryOrder(), HeldSetPoints()
        if self._store is None:
            return
        if self._writer is not None:
            self._writer = database.connect(self._store)
            self._writing = Writing(self._writer)
        self._reader = database.connect(self._store, read_only=True)

    def append(
        self,
        records: Iterable[Record | SetPointChange],
        origin: str | None = None,
        trial: Trial = None,
    ) -> list[Event | Fault]:
        """Add records in one transaction; returns after they are durably committed, what was put beside them: set-up
        entries of what a press was set to otherwise.

        A shot the log already has is left alone. With `origin`, a second call of that origin adds nothing: it makes a
        repeated delivery harmless. `trial`: see `Transaction.under`; None for the one of `use_trial`.
        """
        records = [*records]
        shots = where_shots_are(records)
        with self.transaction(origin, [*shots.values()]) as work:
            if work.is_repeated:
                return []
            work.under(trial)
            work.found({shot: rows[0] if rows else None for shot, rows in zip(shots, work.answers, strict=True)})
            keeping = KeepingSetPoints(work, self._set_points)
            for record in records:
                if isinstance(record, SetPointChange):
                    keeping.told(record)
                elif work.append(record) is not None and isinstance(record, Shot):
                    keeping.read(record)
            keeping.finish()
        return keeping.made

    def use_trial(self, name: str, part: str, resin: str, time: str) -> None:
        """Log the shots from now on under a trial, adding it when it is new or was described otherwise."""
        self._trial, self._trial_id = (name, part, resin, time), None
        with self.transaction() as work:
            self._trial_id = work.trial_id(name, part, resin, time)

    def presses(self) -> list[str]:
        """Return the names of the presses that have anything in the log, in the order they came."""
        with self.reading() as connection:
            return list(connection.execute(select(schema.presses.c.name).order_by(schema.presses.c.id)).scalars())

    def timeline(self, press: str) -> Timeline:
        """Return which inserts and events were in force on a press, from the entries in force now."""
        with self.reading() as connection:
            return read_timeline(connection, press)

    def order(self, connection: Connection) -> EntryOrder:
        """Return in which order people's entries came into the log, those that `connection` sees among them."""
        self._order.read(connection)
        return self._order

    def last_shot(self, press: str) -> tuple[int, int] | None:
        """Return the last stored shot of a press and its raw counter reading, or None."""
        with self.reading() as connection:
            return last_shot(connection, press)

    def logged(self, press: str, after: int = -1, upto: int | None = None) -> Iterator[LoggedShot]:
        """Yield the shots of a press after shot `after`, in order, each with what was in force."""
        with self.reading() as connection:
            yield from logged_shots(connection, press, read_timeline(connection, press), after, upto)

    def channels_present(self, presses: Sequence[str]) -> list[str]:
        """Return the channels that were measured at least once on any of the presses."""
        with self.reading() as connection:
            present = channels_present(connection, presses)
        return [name for name in CHANNELS if name in present]

    def recorded(
        self, press: str, after: int = -1, upto: int | None = None, channels: Collection[str] = CHANNELS.keys()
    ) -> Iterator[Columns]:
        """Yield the shots that `logged` yields, some thousand at a time, as the columns of a recording.

        `channels`: those asked for, with all that were ever measured among them.
        """
        with self.reading() as connection:
            yield from recorded(connection, press, read_timeline(connection, press), after, upto, channels)

    def verify(self, tell: Callable[[str], None] = nobody) -> tuple[int, str]:
        """Recompute the hash chain over the whole log; return how many transactions it has and the last digest.

        `tell` is told now and then how far it is.

        Raises
        ------
        StoreDamaged
            A row was changed, added or taken out after it was written; says in which transaction.
        """
        with self.reading() as connection:
            return verify_chain(connection, self.url, tell)

    def verify_since(self, shots: Mapping[str, int], tell: Callable[[str], None] = nobody) -> tuple[int, str, int]:
        """Recompute the chain since the first of some shots, by press; see `verifying.verify_since`."""
        with self.reading() as connection:
            return verify_since(connection, self.url, shots, tell)

    def shots(self, press: str | None = None) -> "pd.DataFrame":
        """Return the shots as a pandas frame: one row a shot, with inserts, design, events and every channel present.

        The units are in ``frame.attrs["units"]``.
        """
        from shotlog.store.log import frames

        names = [press] if press is not None else self.presses()
        with self.one_moment():
            present = self.channels_present(names)
            return frames.shots(chain.from_iterable(self.recorded(name, channels=present) for name in names), present)

    def inserts(self) -> "pd.DataFrame":
        """Return every insert's stays in a press as a pandas frame, one row a stay."""
        from shotlog.store.log import frames

        return frames.inserts((name, self.timeline(name), self.last_shot(name)) for name in self.presses())

    def set_points(self, press: str | None = None) -> "pd.DataFrame":
        """Return what presses were set to as a pandas frame: one row where something was set otherwise, or first read.

        Columns: press, shot (the first made with it), name, value (text; empty where it could not be read), number (of
        the value, NaN where it is none), unit, old (empty at a first reading), by, time.
        """
        from shotlog.store.log import frames

        with self.reading() as connection:
            return frames.set_points(connection, press)

    def signals(self, press: str | None = None) -> "pd.DataFrame":
        """Return the signals in force as a pandas frame, in shot order."""
        from shotlog.store.log import frames

        with self.reading() as connection:
            return frames.signals(connection, press)

    def verdicts(self, press: str | None = None) -> "pd.DataFrame":
        """Return the verdicts in force as a pandas frame, one row a shot."""
        from shotlog.store.log import frames

        with self.reading() as connection:
            return frames.verdicts(connection, press)


def open_log(url: str, *, read_only: bool = True) -> Log:
    """Open a log by its SQLAlchemy URL.

    A log opened for writing is made when it does not exist, and brought to this release's schema; one of an earlier
    schema that is only read stays as it is.

    Raises
    ------
    StoreUnreachable
        There is no such log (when only reading), or it cannot be opened or written.
    StoreDamaged
        It was written by a newer release, or is no log.
    """
    return opened_as(Log, url, read_only)


Opened = TypeVar("Opened", bound=Log)


def shown(url: str, reader: Engine) -> str:
    """Return how a log is named to people: no password in it."""
    return without_secrets(reader.url.render_as_string() if reader.dialect.name != "sqlite" else url)


def opened_as(kind: type[Opened], url: str, read_only: bool) -> Opened:
    """Open a log as one of a kind that can do more; see `open_log`."""
    reader = database.connect(url, read_only=True)
    where = shown(url, reader)
    if read_only and reader.dialect.name == "sqlite" and not Path(make_url(url).database or "").exists():
        raise StoreMissing(f"log {where}: there is no such file yet")
    writer = None if read_only else database.connect(url)
    log = kind(where, writer, reader, make_url(url))
    try:
        log.prepare()
    except BaseException:
        log.close()
        raise
    return log
