"""The log that a centre holds of one edge: its address, and how a connection comes to see that log and no other.

``postgresql+psycopg://USER@HOST/DB?edge=hall-2`` is the log of the edge hall-2 at the centre DB. In a namespace of the
database there is a view for each table of the log, which shows the rows of the edge that a setting of the connection
names. So whatever reads a log reads this one, and nothing can be written through it.
"""

from collections.abc import Sequence
from typing import Any

from sqlalchemy import URL, Engine, event, text

from shotlog.errors import StoreReplaced, UsageError
from shotlog.withheld import without_secrets

__all__ = [
    "CENTRE",
    "EDGE",
    "NUMBER",
    "VIEWS",
    "address_of",
    "edge_of",
    "no_such_edge",
    "refuse_centre",
    "see_edge",
    "without_edge",
]

CENTRE = "centre"
"""The namespace of the tables of a centre."""
VIEWS = "edge"
"""The namespace of the views of one edge's log."""
EDGE = "edge"
"""What names an edge in the query of an address."""
NUMBER = "shotlog.edge"
"""The setting of a connection that holds the number of the edge it sees."""

_IS_CENTRE = f"SELECT to_regclass('{CENTRE}.edges') IS NOT NULL"
_NAMES = f"SELECT name FROM {CENTRE}.edges ORDER BY name"  # noqa: S608  (a name of ours)
_NUMBER_OF = f"SELECT number FROM {CENTRE}.edges WHERE name = %s"  # noqa: S608  (a name of ours)


def edge_of(url: URL) -> str | None:
    """Return which edge an address names, None where it names none.

    Raises
    ------
    UsageError
        It names more than one.
    """
    if url.get_backend_name() == "sqlite":
        return None
    given = url.query.get(EDGE)
    if given is None or isinstance(given, str):
        return given
    raise UsageError(f"store: given {shown_url(url)!r}, allowed: one {EDGE}= at most")


def address_of(url: URL, name: str) -> str:
    """Return the address of the log of an edge at a centre, with its password if it has one: not to be shown."""
    return url.update_query_dict({EDGE: name}).render_as_string(hide_password=False)


def without_edge(url: URL) -> str:
    """Return the address of the centre that holds the log of an edge, with its password if it has one."""
    return url.difference_update_query([EDGE]).render_as_string(hide_password=False)


def shown_url(url: URL) -> str:
    """Return an address as it may be shown."""
    return without_secrets(url.render_as_string())


def see_edge(engine: Engine, name: str) -> None:
    """Let every connection of an engine see the log of one edge, for reading only.

    Connecting then raises UsageError where the database is no centre, or knows no such edge. Once connected, it is one
    log for good: where the name was given to another one since (`ship --anew`), each use raises StoreReplaced.
    """
    where, number = shown_url(engine.url), list[int]()

    @event.listens_for(engine, "do_connect")
    def take_out(_: object, __: object, ___: object, parameters: dict[str, Any]) -> None:
        parameters.pop(EDGE, None)  # which the driver does not know

    # first of all, for the library takes note of the namespace that a connection stands in
    @event.listens_for(engine, "connect", insert=True)
    def see(connection: Any, _: object) -> None:
        with connection.cursor() as cursor:
            if not cursor.execute(_IS_CENTRE).fetchone()[0]:
                raise UsageError(f"store: given {where!r}, which is no centre: nothing was ever shipped there")
            found = cursor.execute(_NUMBER_OF, (name,)).fetchone()
            if found is None:
                names = [str(row[0]) for row in cursor.execute(_NAMES)]
                raise no_such_edge(where, name, names)
            number[:] = number or [found[0]]
            settings = {
                NUMBER: str(number[0]),
                "search_path": VIEWS,
                "default_transaction_read_only": "on",
                "default_transaction_isolation": "repeatable read",  # what is asked in several questions agrees
            }
            for setting, value in settings.items():
                cursor.execute("SELECT set_config(%s, %s, false)", (setting, value))
        connection.commit()

    @event.listens_for(engine, "checkout")
    def still(connection: Any, _: object, __: object) -> None:
        connection.autocommit = True  # asked by itself: what is read next begins a state of its own
        with connection.cursor() as cursor:
            found = cursor.execute(_NUMBER_OF, (name,)).fetchone()
        connection.autocommit = False
        if found is None or found[0] != number[0]:
            raise StoreReplaced(f"log {where}: it was set aside at the centre, and another lies there under its name")


def no_such_edge(where: str, name: str, names: Sequence[str]) -> UsageError:
    """Return the error for an edge that a centre does not know."""
    return UsageError(f"store: given edge {name!r} at {where}, allowed: {', '.join(names) or 'none was shipped yet'}")


def refuse_centre(engine: Engine, where: str) -> None:
    """Refuse a database that is a centre in place of a log.

    Raises
    ------
    UsageError
        It is; names the edges whose logs it holds.
    """
    if engine.dialect.name == "sqlite" or edge_of(engine.url) is not None:
        return
    with engine.connect() as connection:
        if not connection.execute(text(_IS_CENTRE)).scalar_one():
            return
        names = [str(name) for name in connection.execute(text(_NAMES)).scalars()]
    raise UsageError(
        f"store: given {where!r}, which is a centre that holds the logs of many edges, allowed: one of them, with "
        f"?{EDGE}=NAME behind it: {', '.join(names) or 'none was shipped yet'}"
    )
