"""The connections through which a log is written, each kept from one transaction to the next.

Taking one from the library's pool, and giving it back, costs as much as the statements of a shot; and at a server each
time a way there and back, to ask whether it is still there.
"""

from collections.abc import Sequence
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
_IN_DOUBT = "it was lost while this was put on record, which may be done: look before it is entered again"
"""Of a connection to a server: nobody heard whether the commit came to its disk. What has an origin goes in once."""


@dataclass(frozen=True, slots=True)
class Begun:
    """A transaction that has begun.

    `way`: how several statements are sent on its connection at once, None for a file, where nothing is sent.
    `answers`: the rows that answer each of what was asked first. `kept`: where its connection goes after a commit; a
    log that was closed meanwhile looks there no more.
    """

    connection: Connection
    way: OneWay | None
    answers: list[list[Row]]
    kept: list[_Kept]


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

    def begin(self, asked: Sequence[Asked]) -> Begun:
        """Begin a transaction, and ask first, under the lock; whoever begins one ends it by `commit` or `undo`.

        What runs until then may read and write by the library or on the driver's own cursor.

        Raises
        ------
        DBAPIError, sqlite3.Error
            As the library, or the driver below it, raises it.
        """
        kept = self._kept
        while True:
            try:
                one, is_kept = kept.pop(), True
            except IndexError:
                one, is_kept = self._opened(), False
            try:
                return Begun(*one, _begin(*one, asked), kept)
            except BaseException as error:
                one[0].close()
                # a server was started anew meanwhile: nothing was asked of it yet
                if not (is_kept and isinstance(error, DBAPIError) and error.connection_invalidated):
                    raise

    def commit(self, begun: Begun, last: Sequence[Asked]) -> list[Row]:
        """Commit it together with some `last` statements; return what the very last one answered, nothing for none."""
        answer = _commit(begun.connection, begun.way, last)
        begun.kept.append((begun.connection, begun.way))
        return answer

    def undo(self, begun: Begun) -> None:
        """Undo all of it; also where its commit failed."""
        begun.connection.close()  # the library's pool undoes what was begun

    def give_back(self) -> None:
        """Give the connections back to the library's pool, one that is in use as soon as it is not."""
        kept, self._kept = self._kept, []
        while kept:
            kept.pop()[0].close()

    def _opened(self) -> _Kept:
        connection = self._engine.connect()
        return connection, None if connection.dialect.name == "sqlite" else OneWay(connection)


def _begin(connection: Connection, way: OneWay | None, asked: Sequence[Asked]) -> list[list[Row]]:
    if way is not None:
        return begin_on_server(way, asked)
    begin_write(connection)
    return [statement.run(connection, given) for statement, given in asked]


def _commit(connection: Connection, way: OneWay | None, last: Sequence[Asked]) -> list[Row]:
    answers: list[list[Row]] = [[]]
    try:
        if last and way is not None:
            *answers, _ = way.send([*last, "COMMIT"])
        elif last:
            answers = [statement.run(connection, given) for statement, given in last]
        if connection.in_transaction():  # the library was asked for something meanwhile, and takes it for its own
            connection.commit()
        else:
            _commit_by_driver(connection)
    except DBAPIError as error:
        if error.connection_invalidated:
            error.add_note(_IN_DOUBT)
        raise
    return answers[-1]


def _commit_by_driver(connection: Connection) -> None:
    driver: Any = connection.connection.dbapi_connection
    try:
        driver.commit()
    except connection.dialect.loaded_dbapi.Error as error:
        raise as_the_library(connection, "COMMIT", (), error) from error
