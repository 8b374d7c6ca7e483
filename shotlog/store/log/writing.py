"""The connections through which a log is written, each kept from one transaction to the next.

Taking one from the library's pool, and giving it back, costs as much as the statements of a shot; and at a server each
time a way there and back, to ask whether it is still there.
"""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Engine
from sqlalchemy.exc import DBAPIError

from shotlog.store.log.one_way import OneWay
from shotlog.store.log.patience import begin_write
from shotlog.store.log.prepared import Asked, Row, as_the_library
from shotlog.store.log.server import begin_on_server

__all__ = ["Begun", "Writing"]

_Kept = tuple[Connection, OneWay | None]
"""A connection; and how several statements are sent on it at once, None for a file, where nothing is sent."""


@dataclass(slots=True)
class Begun:
    """A transaction that has begun.

    `answers`: the rows that answer each of what was asked first. `last`: what is to go in together with the commit,
    None for nothing; then `last_answer` is what it answered.
    """

    connection: Connection
    answers: list[list[Row]]
    last: Asked | None = None
    last_answer: list[Row] | None = None


_IN_DOUBT = "it was lost while this was put on record, which may be done: look before it is entered again"
"""Of a connection to a server: nobody heard whether the commit came to its disk. What has an origin goes in once."""


class Writing:
    """Opens transactions of a log, under the lock of writers; any number of threads may, each on a connection."""

    def __init__(self, engine: Engine) -> None:
        # at a server a transaction is begun by us, with the first questions, and not by the driver in a way of its own
        is_file = engine.dialect.name == "sqlite"
        self._engine = engine if is_file else engine.execution_options(isolation_level="AUTOCOMMIT")
        self._kept: list[_Kept] = []

    @property
    def is_open(self) -> bool:
        """Whether a connection is kept, so that the next transaction need not open one."""
        return bool(self._kept)

    @contextmanager
    def transaction(self, asked: Sequence[Asked]) -> Iterator[Begun]:
        """Open a transaction, and ask first, under the lock; it is committed when the block ends well, undone when it
        does not.

        What runs in the block may read and write by the library or on the driver's own cursor.

        Raises
        ------
        DBAPIError, sqlite3.Error
            As the library, or the driver below it, raises it.
        """
        kept = self._kept
        (connection, way), answers = self._begun(kept, asked)
        begun = Begun(connection, answers)
        try:
            yield begun
            _commit(begun, way)
        except BaseException:
            connection.close()  # the library's pool undoes what was begun
            raise
        kept.append((connection, way))

    def give_back(self) -> None:
        """Give the connections back to the library's pool, one that is in use as soon as it is not."""
        kept, self._kept = self._kept, []
        while kept:
            kept.pop()[0].close()

    def _begun(self, kept: list[_Kept], asked: Sequence[Asked]) -> tuple[_Kept, list[list[Row]]]:
        """Return a connection on which a transaction has begun, and the answers to what was asked first."""
        while True:
            try:
                one, is_kept = kept.pop(), True
            except IndexError:
                one, is_kept = self._opened(), False
            try:
                return one, _begin(*one, asked)
            except BaseException as error:
                one[0].close()
                # a server was started anew meanwhile: nothing was asked of it yet
                if not (is_kept and isinstance(error, DBAPIError) and error.connection_invalidated):
                    raise

    def _opened(self) -> _Kept:
        connection = self._engine.connect()
        return connection, None if connection.dialect.name == "sqlite" else OneWay(connection)


def _begin(connection: Connection, way: OneWay | None, asked: Sequence[Asked]) -> list[list[Row]]:
    if way is not None:
        return begin_on_server(way, asked)
    begin_write(connection)
    return [statement.run(connection, given) for statement, given in asked]


def _commit(begun: Begun, way: OneWay | None) -> None:
    connection, last = begun.connection, begun.last
    try:
        if last is not None and way is not None:
            begun.last_answer, _ = way.send([last, "COMMIT"])
        elif last is not None:
            begun.last_answer = last[0].run(connection, last[1])
        if connection.in_transaction():  # the library was asked for something meanwhile, and takes it for its own
            connection.commit()
        else:
            _commit_by_driver(connection)
    except DBAPIError as error:
        if error.connection_invalidated:
            error.add_note(_IN_DOUBT)
        raise


def _commit_by_driver(connection: Connection) -> None:
    driver: Any = connection.connection.dbapi_connection
    try:
        driver.commit()
    except connection.dialect.loaded_dbapi.Error as error:
        raise as_the_library(connection, "COMMIT", (), error) from error
