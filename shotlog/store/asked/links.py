"""Connections to the presses over time, as the logger noted them."""

from sqlalchemy import select

from shotlog.clock import parse_utc
from shotlog.records import Link
from shotlog.store.log import schema
from shotlog.store.log.log import Log

__all__ = ["links"]


def links(log: Log, press: str) -> list[Link]:
    """Return every change of the connection to a press, in the order they were noted."""
    table = schema.links
    query = (
        select(table.c.time, table.c.state, table.c.detail)
        .select_from(table.join(schema.presses))
        .where(schema.presses.c.name == press)
        .order_by(table.c.id)
    )
    with log.reading() as connection:
        return [Link(press, parse_utc(row.time), row.state, row.detail) for row in connection.execute(query)]
