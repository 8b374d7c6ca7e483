"""Several statements sent to a PostgreSQL server in one message, and all their answers got back in one.

Each question alone is a way there and back, which over a network takes longer than what is asked. A message of several
statements carries no values beside it: so each is prepared at the server once, and called by its name, the values
quoted by the driver ("Extended Query", "EXECUTE" of the PostgreSQL manual). The driver's own pipeline sends every
statement by itself, and takes twice the processor time.
"""

from collections.abc import Sequence
from itertools import count
from typing import Any

from sqlalchemy import Connection

from shotlog.store.log.prepared import Asked, Prepared, Row, as_the_library

__all__ = ["OneWay"]

_NUMBERS = count(1)
_PREPARED = "shotlog_prepared"
_STILL_THERE = "SELECT name FROM pg_prepared_statements"


class OneWay:
    """Sends statements on a connection that begins no transaction by itself (``AUTOCOMMIT``)."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection
        # kept with the driver's own connection: the pool may give that to a second one of us
        self._names: dict[Prepared, str] = connection.info.setdefault(_PREPARED, {})
        self._is_sure = not self._names
        """Whether all of them are at the server still: the driver takes all away where it undoes, in some cases."""

    def send(self, statements: Sequence[str | Asked]) -> list[list[Row]]:
        """Run statements one after the other and return the rows of each; none runs after one that failed.

        Raises
        ------
        DBAPIError
            As the library raises it; a connection that was lost is not used again.
        """
        driver: Any = self._connection.connection.dbapi_connection
        try:
            if not self._is_sure:
                self._look_again(driver)
            text = ";".join(one if isinstance(one, str) else self._called(driver, *one) for one in statements)
            cursor = driver.execute(text, prepare=False)
            answers = [_rows(cursor)]
            while cursor.nextset():
                answers.append(_rows(cursor))
        except self._connection.dialect.loaded_dbapi.Error as error:
            raise as_the_library(self._connection, "; ".join(map(str, statements)), None, error) from error
        return answers

    def undo(self) -> None:
        """Undo what was begun.

        Raises
        ------
        DBAPIError
            As the library raises it; a connection that was lost is not used again.
        """
        try:
            self._connection.connection.rollback()
        except self._connection.dialect.loaded_dbapi.Error as error:
            raise as_the_library(self._connection, "ROLLBACK", None, error) from error
        self._is_sure = False

    def _look_again(self, driver: Any) -> None:
        there = {name for (name,) in driver.execute(_STILL_THERE, prepare=False).fetchall()}
        for statement in [statement for statement, name in self._names.items() if name not in there]:
            del self._names[statement]
        self._is_sure = True

    def _called(self, driver: Any, statement: Prepared, given: Any) -> str:
        from psycopg.adapt import Transformer

        sql, places, fixed = statement.numbered(self._connection)
        name = self._names.get(statement)
        if name is None:
            name = f"shotlog_{next(_NUMBERS)}"
            driver.execute(f"PREPARE {name} AS {sql}", prepare=False)
            self._names[statement] = name
        if not places:
            return f"EXECUTE {name}"
        quote = Transformer.from_context(driver).as_literal
        values = (given[place] if place in given else fixed.get(place) for place in places)
        return f"EXECUTE {name}({','.join(quote(value).decode() for value in values)})"


def _rows(cursor: Any) -> list[Row]:
    return [*cursor.fetchall()] if cursor.rownumber is not None else []
