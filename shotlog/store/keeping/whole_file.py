"""Whether the file of a log is whole: SQLite's own check of every page, and of what refers to what.

The hash chain reads rows. An index, a free page, or a page that no question happens to touch can be damaged without it.
"""

from collections.abc import Callable
from dataclasses import dataclass

from sqlalchemy import Connection, text
from sqlalchemy.exc import DatabaseError

from shotlog.store.log import schema
from shotlog.store.log.verifying import nobody

__all__ = ["FileDamage", "file_damage"]

_AFTER_STEPS = 200_000
"""Steps of the database's machine between two looks at whether to say something, or to stop."""


@dataclass(frozen=True, slots=True)
class FileDamage:
    """What is damaged in a file: the tables it is in, none where it is outside of all, and the database's words."""

    tables: tuple[str, ...]
    said: str

    @property
    def record_whole(self) -> bool:
        """Whether only tables are touched that hold nothing of the record and may be thrown away."""
        return bool(self.tables) and set(self.tables) <= {table.name for table in schema.CACHES}


def file_damage(connection: Connection, tell: Callable[[str], None] = nobody) -> FileDamage | None:
    """Return what is damaged in the file behind a connection, None where it is whole. Of a server nothing is asked."""
    if connection.dialect.name != "sqlite":
        return None
    with _Told(connection, tell):
        whole = _complaints(connection, "integrity_check(20)")
        if whole == ["ok"]:
            return _astray(connection)
        names = connection.execute(text("SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name")).scalars()
        damaged = {
            name: said for name in names if (said := _complaints(connection, f"integrity_check('{name}')")) != ["ok"]
        }
    return FileDamage(tuple(damaged), next(iter([*(said[0] for said in damaged.values()), *whole])))


def _astray(connection: Connection) -> FileDamage | None:
    """Return rows that refer to rows that are not there: the schema forbids them."""
    found = connection.exec_driver_sql("PRAGMA main.foreign_key_check").fetchall()
    if not found:
        return None
    tables = tuple(dict.fromkeys(str(row[0]) for row in found))
    return FileDamage(tables, f"row {found[0][1]} of {tables[0]} refers to a row of {found[0][2]} that is not there")


def _complaints(connection: Connection, check: str) -> list[str]:
    try:
        found = [str(row[0]) for row in connection.exec_driver_sql(f"PRAGMA main.{check}")]
    except DatabaseError as error:
        found = [str(error.orig)]
    return [" ".join(line.split()) for line in found if not line.startswith("*** in database")] or ["damaged"]


class _Told:
    """Tells how far it is while the database works for long, and lets Ctrl-C through: it would be swallowed there."""

    def __init__(self, connection: Connection, tell: Callable[[str], None]) -> None:
        self._connection = connection.connection.driver_connection
        self._tell, self._stopped = tell, False

    def __enter__(self) -> None:
        assert self._connection is not None  # noqa: S101  (for the type checker; the next line would fail as well)
        self._connection.set_progress_handler(self._step, _AFTER_STEPS)

    def __exit__(self, *_: object) -> None:
        assert self._connection is not None  # noqa: S101  (for the type checker; the next line would fail as well)
        self._connection.set_progress_handler(None, 0)
        if self._stopped:
            raise KeyboardInterrupt

    def _step(self) -> int:
        try:
            self._tell("every page of the file is being looked at")
        except KeyboardInterrupt:
            self._stopped = True
        return int(self._stopped)
