"""A centre, open: its edges, the log of each, and transactions on what is its own."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Self

from sqlalchemy import Connection, Engine
from sqlalchemy.engine import make_url
from sqlalchemy.exc import DBAPIError

from shotlog.errors import CentreAway, StoreUnreachable, UsageError
from shotlog.store.centre.edges import Edge, find_edge, list_edges
from shotlog.store.centre.lines import Lines
from shotlog.store.centre.making import bring_up, is_centre
from shotlog.store.log import engine as database
from shotlog.store.log.edge_at_centre import address_of, edge_of, no_such_edge, without_edge
from shotlog.store.log.log import Log, open_log, shown
from shotlog.store.log.server import warn_of_unsafe

__all__ = ["Centre", "centre_of", "edges", "open_centre"]


class Centre:
    """A centre, open. Use as a context manager, or call `close`; `where` is its address as it may be shown."""

    def __init__(self, url: str, where: str, engine: Engine) -> None:
        self._url, self.where, self._engine = make_url(url), where, engine

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Close every connection; closing twice is fine."""
        self._engine.dispose()

    @contextmanager
    def transaction(self) -> Iterator[Connection]:
        """Open a transaction on the tables of the centre (`store.centre.tables`), committed when the block ends well.

        Raises
        ------
        CentreAway
            The server is away.
        UsageError
            Its user has no right to do that.
        """
        with self.translated(), self._engine.begin() as connection:
            yield connection

    @contextmanager
    def translated(self) -> Iterator[None]:
        """Turn the errors of the database library into ours, naming the centre."""
        try:
            with database.translated(self.where):
                try:
                    yield
                except DBAPIError as error:
                    self._refused(error)
                    raise
        except CentreAway:
            raise
        except StoreUnreachable as error:
            raise CentreAway(str(error).replace("log ", "centre ", 1)) from error

    def _refused(self, error: DBAPIError) -> None:
        """Raise what is told of an error that the log of a press does not know."""
        state, reason = getattr(error.orig, "sqlstate", None), " ".join(str(error.orig).split())
        if state == _ONLY_READS:
            raise CentreAway(f"centre {self.where}: {reason}") from error
        if state == _NO_RIGHT:
            reason = (
                f"{reason}: who ships needs to own the tables of the centre, or the right to make them; "
                "who enters there, the right to INSERT and UPDATE centre.entered"
            )
        if state == _NO_RIGHT or _REFUSED.search(reason):
            raise UsageError(f"centre {self.where}: {reason}") from error

    def edges(self) -> list[Edge]:
        """Return the edges, by name."""
        with self.transaction() as connection:
            return list_edges(connection)

    def edge(self, name: str) -> Edge:
        """Return one edge.

        Raises
        ------
        UsageError
            There is none of that name; says which there are.
        """
        with self.transaction() as connection:
            found = find_edge(connection, name)
            if found is None:
                raise no_such_edge(self.where, name, [one.name for one in list_edges(connection)])
        return found

    def address(self, name: str) -> str:
        """Return the address of the log of an edge, for `open_log`; it holds the password, if there is one."""
        return address_of(self._url, name)

    def log(self, name: str) -> Log:
        """Return the log of an edge, open for reading; whoever asked closes it.

        Raises
        ------
        UsageError
            There is no such edge.
        """
        return open_log(self.address(name))


_NO_RIGHT, _ONLY_READS = "42501", "25006"
"""What a server says where a right is missing, and where it takes nothing, as one that stands by for another (SQLSTATE
insufficient_privilege, read_only_sql_transaction)."""

_REFUSED = re.compile(
    r'password authentication failed|no password supplied|no pg_hba\.conf entry|(?:database|role) ".*" does not exist|'
    r"authentication failed for user|permission denied for database"
)
"""What nobody mends by waiting, in the words of the server and of the driver: a connection that was refused carries no
code. In another language it counts as away, and is told with its words."""


def open_centre(url: str, release: str | None = None, lines: Lines | None = None) -> Centre:
    """Open the centre at an address.

    With `release`, that of whoever ships to it, it is made where there is none yet, and brought up to what this one
    needs; without, it is taken as it is. `lines`: take note of its connections.

    Raises
    ------
    UsageError
        The address is none of a PostgreSQL server, or names one edge; there is no centre, or may be none, or its user
        has no right to make it.
    CentreAway
        The server is away.
    StoreDamaged
        A newer release brought it up.
    """
    parsed = make_url(url)
    is_other = parsed.get_backend_name() == "sqlite" or edge_of(parsed) is not None
    engine = database.connect(url, read_only=is_other)  # which is refused, and a file of that name not made before
    where = shown(url, engine)
    if engine.dialect.name != "postgresql" or edge_of(make_url(url)) is not None:
        engine.dispose()
        raise UsageError(f"centre: given {where}, allowed: postgresql+psycopg://USER@HOST/DB")
    if lines is not None:
        lines.watch(engine, where)
    centre = Centre(url, where, engine)
    try:
        with centre.transaction() as connection:
            if release is not None:
                bring_up(connection, where, release)
                warn_of_unsafe(connection, f"centre {where}")
            elif not is_centre(connection):
                raise UsageError(f"centre: given {where}, which is none: nothing was ever shipped there")
    except BaseException:
        centre.close()
        raise
    return centre


def centre_of(url: str) -> str:
    """Return the address of the centre that holds the log of an edge, by the address of that log; not to be shown."""
    return without_edge(make_url(url))


def edges(url: str) -> list[Edge]:
    """Return the edges of the centre at an address, by name; raises as `open_centre`."""
    with open_centre(url) as centre:
        return centre.edges()
