"""Connections to the presses over time, as the logger noted them."""

from dataclasses import replace
from typing import Any

from sqlalchemy import Connection, Row, Select, select

from shotlog.clock import parse_utc
from shotlog.lost import lost_since
from shotlog.records import Link
from shotlog.store.log import schema
from shotlog.store.log.clock_steps import Steady
from shotlog.store.log.log import Log

__all__ = ["last_link", "links", "newest_link"]

_MOST_BACK = 1_000
"""Changes that are looked back on for when a loss began."""


def links(log: Log, press: str) -> list[tuple[Link, float]]:
    """Return every change of the connection to a press, in the order they were noted, each with when that was in
    seconds as if nobody had ever set the clock.
    """
    with log.reading() as connection:
        steady = Steady(connection)
        rows = connection.execute(_of(press).order_by(schema.links.c.id))
        return [(_link(press, row), steady.link(row.id, row.time)) for row in rows]


def last_link(log: Log, press: str) -> Link | None:
    """Return how the connection to a press is, or None; that it is lost since it was, whatever was said of it since."""
    with log.reading() as connection:
        return newest_link(connection, press)


def newest_link(connection: Connection, press: str) -> Link | None:
    """Return what `last_link` does."""
    query = _of(press).order_by(schema.links.c.id.desc())
    row = connection.execute(query.limit(1)).first()
    if row is None:
        return None
    link = _link(press, row)
    if link.state != "lost":
        return link
    with connection.execute(query.limit(_MOST_BACK)) as rows:
        since = lost_since((parse_utc(one.time), one.state) for one in rows)
    return link if since is None else replace(link, time=since)


def _of(press: str) -> Select[Any]:
    table = schema.links
    return (
        select(table.c.id, table.c.time, table.c.state, table.c.detail)
        .select_from(table.join(schema.presses))
        .where(schema.presses.c.name == press)
    )


def _link(press: str, row: Row[Any]) -> Link:
    return Link(press, parse_utc(row.time), row.state, row.detail)
