"""Which press a shot is of, and whether the log has it: asked of all shots of a transaction at once, when it begins."""

from collections.abc import Iterable
from typing import Any

from sqlalchemy import BigInteger, ColumnElement, bindparam, case, select
from sqlalchemy.ext.compiler import compiles

from shotlog.records import Shot
from shotlog.store.log import schema
from shotlog.store.log.prepared import Asked, Prepared

__all__ = ["PRESS_AND_SHOT", "where_shots_are"]


class _Number(ColumnElement[int]):
    """The number that a server gives the next shot; none in a file, which tells it of the row at no cost."""

    inherit_cache = True
    type = BigInteger()


@compiles(_Number)
def _in_a_file(_: _Number, __: Any, **___: Any) -> str:
    return "NULL"


@compiles(_Number, "postgresql")
def _at_a_server(_: _Number, __: Any, **___: Any) -> str:
    return "nextval(pg_get_serial_sequence('shots', 'id'))"


PRESS_AND_SHOT = Prepared(
    select(schema.presses.c.id, schema.shots.c.id, case((schema.shots.c.id.is_(None), _Number())))
    .select_from(
        schema.presses.outerjoin(
            schema.shots,
            (schema.shots.c.press_id == schema.presses.c.id) & (schema.shots.c.shot == bindparam("shot")),
        )
    )
    .where(schema.presses.c.name == bindparam("name"))
)
"""The number of a press, and of its shot, None where the log has not got it, then the number to store it by where a
server says one; no row where it knows no such press.
"""


def where_shots_are(records: Iterable[object]) -> dict[tuple[str, int], Asked]:
    """Return the questions which press each shot is of, and whether it is in the log, to be asked all at once."""
    shots = [(one.press, one.shot) for one in records if isinstance(one, Shot)]
    return {(press, shot): (PRESS_AND_SHOT, {"name": press, "shot": shot}) for press, shot in shots}
