"""Words for where a part is, and what is due with it."""

from datetime import datetime

from shotlog.parts.where import Whereabouts
from shotlog.wording.times import ago, clock_time

__all__ = ["NOWHERE", "where_text"]

NOWHERE = "nobody has said"
"""Where a part is of which there is no entry."""


def where_text(where: Whereabouts | None, now: datetime | None = None) -> str:
    """Return where a part is; with `now`, by how much it is overdue as well."""
    if where is None:
        return NOWHERE
    if where.how == "out of bath":
        return f"out of bath {where.name} since {clock_time(where.since)}" + ("" if where.cleared else ", not all gone")
    said = f"in bath {where.name}" if where.how == "in bath" else f"{where.name}, since {clock_time(where.since)}"
    if where.due is None:
        return said
    late = 0.0 if now is None else where.overdue_h(now)
    return f"{said}, due {clock_time(where.due)}" + (f", OVERDUE by {ago(late * 3600.0)}" if late else "")
