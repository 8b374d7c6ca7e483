"""Which press a shot is of, and whether the log has it: asked of all shots of a transaction at once, when it begins."""

from collections.abc import Iterable

from sqlalchemy import bindparam, select

from shotlog.records import Shot
from shotlog.store.log import schema
from shotlog.store.log.prepared import Asked, Prepared

__all__ = ["PRESS_AND_SHOT", "where_shots_are"]

PRESS_AND_SHOT = Prepared(
    select(schema.presses.c.id, schema.shots.c.id)
    .select_from(
        schema.presses.outerjoin(
            schema.shots,
            (schema.shots.c.press_id == schema.presses.c.id) & (schema.shots.c.shot == bindparam("shot")),
        )
    )
    .where(schema.presses.c.name == bindparam("name"))
)
"""The number of a press, and of its shot, None where the log has not got it; no row where it knows no such press."""


def where_shots_are(records: Iterable[object]) -> dict[tuple[str, int], Asked]:
    """Return the questions which press each shot is of, and whether it is in the log, to be asked all at once."""
    shots = [(one.press, one.shot) for one in records if isinstance(one, Shot)]
    return {(press, shot): (PRESS_AND_SHOT, {"name": press, "shot": shot}) for press, shot in shots}
