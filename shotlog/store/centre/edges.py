"""The edges of a centre: whose logs it holds, how far each, and since when it heard nothing."""

from dataclasses import dataclass
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any

from sqlalchemy import Connection, RowMapping, func, select

from shotlog.store.centre.tables import edges as table

__all__ = ["UNHEARD_S", "Edge", "find_edge", "list_edges"]

UNHEARD_S = 60.0
"""Edges that ship say every 5 s that they are there; a network that is away for some seconds is no news (own)."""


@dataclass(frozen=True, slots=True)
class Edge:
    """One edge as the centre knows it; times are by the clock of the centre, and UTC.

    ``number``: what its rows stand under. ``uid``, ``host``, ``release``: which log it is, the computer that shipped it
    and with which release. ``links``, ``link``, ``digest``: how many links of its chain are here, the number of the
    newest and its digest; 0 and empty before the first. ``behind``: links that the edge had and the centre had not when
    it was last heard. ``last_seen``: when it was; ``last_shipped``: when the newest link came. ``set_aside``: when its
    log went anew under its name (`ship --anew`), and this stayed as the copy of what was lost: it is read by its name,
    and counts nowhere; None for an edge at work.
    """

    number: int
    name: str
    uid: str
    host: str
    release: str
    links: int
    link: int
    digest: str
    behind: int
    first_seen: datetime
    last_seen: datetime
    last_shipped: datetime
    set_aside: datetime | None
    silent_s: float
    """Seconds since it was last heard, by the clock of the centre alone."""


def list_edges(connection: Connection) -> list[Edge]:
    """Return the edges of a centre, by name."""
    return [_edge(row) for row in connection.execute(_QUERY.order_by(table.c.name)).mappings()]


def find_edge(connection: Connection, name: str) -> Edge | None:
    """Return the edge of a name, None where there is none."""
    row = connection.execute(_QUERY.where(table.c.name == name)).mappings().first()
    return None if row is None else _edge(row)


_SILENT_S = func.extract("epoch", func.now() - table.c.last_seen)
_QUERY = select(*table.c, _SILENT_S.label("silent_s"))


def _edge(row: RowMapping) -> Edge:
    return Edge(**{name: _plain(value) for name, value in row.items()})


def _plain(value: Any) -> Any:
    if isinstance(value, datetime):
        return value.astimezone(UTC)
    return float(value) if isinstance(value, Decimal) else value
