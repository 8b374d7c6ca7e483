"""The connections through which a log is written, each kept from one transaction to the next.

Taking one from the library's pool, and giving it back, costs as much as the statements of a shot; and at a server each
time a way there and back, to ask whether it is still there.
"""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from sqlalchemy import Connection, Engine
from sqlalchemy.exc import DBAPIError

from shotlog.store.log.patience import begin_write
from shotlog.store.log.prepared import Prepared, Row, as_the_library
from shotlog.store.log.server import begin_on_server

__all__ = ["Writing"]

_IN_DOUBT = "it was lost while this was put on record, which may be done: look before it is entered again"
"""Of a connection to a server: nobody heard whether the commit came to its disk. What has an origin goes in once."""


class Writing:
    """Opens transactions of a log, under the lock of writers; any number of threads may, each on a connection."""

    def __init__(self, engine: Engine) -> None:
        self._engine = engine
        self._kept: list[Connection] = []

    @property
    def is_open(self) -> bool:
        """Whether a connection is kept, so that the next transaction need not open one."""
        return bool(self._kept)

    @contextmanager
    def transaction(self, first: Prepared, **given: Any) -> Iterator[tuple[Connection, Row]]:
        """Open a transaction and give its connection, and the row that answers what is asked first under the lock; it
        is committed when the block ends well, undone when it does not.

        What runs in the block may read and write by the library or on the driver's own cursor.

        Raises
        ------
        DBAPIError, sqlite3.Error
            As the library, or the driver below it, raises it.
        """
        kept = self._kept
        connection, row = self._begun(kept, first, given)
        try:
            yield connection, row
            _commit(connection)
        except BaseException:
            connection.close()  # the library's pool undoes what was begun
            raise
        kept.append(connection)

    def give_back(self) -> None:
        """Give the connections back to the library's pool, one that is in use as soon as it is not."""
        kept, self._kept = self._kept, []
        while kept:
            kept.pop().close()

    def _begun(self, kept: list[Connection], first: Prepared, given: Mapping[str, Any]) -> tuple[Connection, Row]:
        """Return a connection on which a transaction has begun, and what was asked first."""
        while True:
            try:
                connection, is_kept = kept.pop(), True
            except IndexError:
                connection, is_kept = self._engine.connect(), False
            try:
                rows = _begin(connection, first, given)
            except BaseException as error:
                connection.close()
                # a server was started anew meanwhile: nothing was asked of it yet
                if not (is_kept and isinstance(error, DBAPIError) and error.connection_invalidated):
                    raise
            else:
                return connection, rows[0]


def _begin(connection: Connection, first: Prepared, given: Mapping[str, Any]) -> list[Row]:
    if connection.dialect.name != "sqlite":
        return begin_on_server(connection, first, given)
    begin_write(connection)
    return first.run(connection, given)


def _commit(connection: Connection) -> None:
    try:
        if connection.in_transaction():  # the library was asked for something meanwhile, and takes it for its own
            connection.commit()
        else:
            _commit_by_driver(connection)
    except DBAPIError as error:
        if error.connection_invalidated:
            error.add_note(_IN_DOUBT)
        raise


def _commit_by_driver(connection: Connection) -> None:
    try:
        connection.connection.commit()
    except connection.dialect.loaded_dbapi.Error as error:
        raise as_the_library(connection, "COMMIT", (), error) from error
