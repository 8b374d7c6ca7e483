"""A log, open: its connections, whether it is still the one at its path, and its transactions."""

import threading
import time
from collections.abc import Collection, Iterator, Sequence
from contextlib import AbstractContextManager, contextmanager, suppress
from typing import Self

from sqlalchemy import URL, Connection, Engine

from shotlog.errors import StoreDamaged, StoreError, StoreGone, StoreReplaced, StoreUnreachable, UsageError
from shotlog.records import Signature
from shotlog.store.log import engine as database
from shotlog.store.log.edge_at_centre import edge_of, without_edge
from shotlog.store.log.identity import Identity, Seen, read_head, read_uid
from shotlog.store.log.prepared import Asked
from shotlog.store.log.recovery import PutRight
from shotlog.store.log.transacting import transaction
from shotlog.store.log.transaction import Transaction
from shotlog.store.log.writing import Writing

__all__ = ["OpenedLog"]


class OpenedLog:
    """A log, open, whatever is asked of it: see `Log`.

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

    def transaction(
        self, origin: str | None = None, asked: Sequence[Asked] = ()
    ) -> AbstractContextManager[Transaction]:
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
        return transaction(self._writing, self._identity, self.url, self._notice, origin, *signed, asked)

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
        if self._store is None:
            return
        if self._writer is not None:
            self._writer = database.connect(self._store)
            self._writing = Writing(self._writer)
        self._reader = database.connect(self._store, read_only=True)

    def use_trial(self, name: str, part: str, resin: str, time: str) -> None:
        """Log the shots from now on under a trial, adding it when it is new or was described otherwise."""
        self._trial, self._trial_id = (name, part, resin, time), None
        with self.transaction() as work:
            self._trial_id = work.trial_id(name, part, resin, time)
