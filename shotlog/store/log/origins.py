"""Which deliveries are in the log: a transaction keeps where it came from, so that it goes in once."""

from collections.abc import Sequence

from sqlalchemy import Connection, bindparam, select

from shotlog.store.log import schema
from shotlog.store.log.prepared import Prepared

__all__ = ["OF_ORIGIN", "has_origin", "known_origins"]

_ASKED = 500
"""Origins asked for with one query: a database takes only so many parameters."""

OF_ORIGIN = select(schema.ledger.c.id).where(schema.ledger.c.origin == bindparam("origin"))
"""The number of the transaction of an `origin`."""
_HAS_ORIGIN = Prepared(OF_ORIGIN)


def has_origin(connection: Connection, origin: str) -> bool:
    """Say whether a transaction of that origin is in the log."""
    return _HAS_ORIGIN.first(connection, origin=origin) is not None


def known_origins(connection: Connection, origins: Sequence[str]) -> set[str]:
    """Return which of some origins have a transaction in the log."""
    origin, known = schema.ledger.c.origin, set[str]()
    for first in range(0, len(origins), _ASKED):
        found = connection.execute(select(origin).where(origin.in_(origins[first : first + _ASKED]))).scalars()
        known.update(one for one in found if one is not None)
    return known
