"""Connections to the presses over time, as the logger noted them."""

from typing import Any

from sqlalchemy import Row, Select, select

from shotlog.clock import parse_utc
from shotlog.records import Link
from shotlog.store.log import schema
from shotlog.store.log.clock_steps import Steady
from shotlog.store.log.log import Log

__all__ = ["last_link", "links"]


def links(log: Log, press: str) -> list[tuple[Link, float]]:
    """Return every change of the connection to a press, in the order they were noted, each with when that was in
    seconds as if nobody had ever set the clock.
    """
    with log.reading() as connection:
        steady = Steady(connection)
        rows = connection.execute(_of(press).order_by(schema.links.c.id))
        return [(_link(press, row), steady.link(row.id, row.time)) for row in rows]


def last_link(log: Log, press: str) -> Link | None:
    """Return the last change of the connection to a press, or None."""
    with log.reading() as connection:
        row = connection.execute(_of(press).order_by(schema.links.c.id.desc()).limit(1)).first()
    return None if row is None else _link(press, row)


def _of(press: str) -> Select[Any]:
    table = schema.links
    return (
        select(table.c.id, table.c.time, table.c.state, table.c.detail)
        .select_from(table.join(schema.presses))
        .where(schema.presses.c.name == press)
    )


def _link(press: str, row: Row[Any]) -> Link:
    return Link(press, parse_utc(row.time), row.state, row.detail)
