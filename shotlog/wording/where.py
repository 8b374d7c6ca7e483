"""Words for where a part is, and what is due with it."""

import re
from datetime import datetime

from shotlog.parts.where import Whereabouts
from shotlog.wording.times import ago, clock_time

__all__ = ["NOWHERE", "bath_named", "where_text"]

_SAYS_SO = re.compile(r"bath\b", re.IGNORECASE)

NOWHERE = "nobody has said"
"""Where a part is of which there is no entry."""


def bath_named(name: str) -> str:
    """Return a bath as people say it; a name that begins with the word is not given it twice.

    Examples
    --------
    >>> bath_named("B1"), bath_named(" bath 1 "), bath_named("Bathroom sink")
    ('bath B1', 'bath 1', 'bath Bathroom sink')
    """
    given = name.strip()
    return given if _SAYS_SO.match(given) else f"bath {given}"


def where_text(where: Whereabouts | None, now: datetime | None = None) -> str:
    """Return where a part is; with `now`, by how much it is overdue as well."""
    if where is None:
        return NOWHERE
    if where.how == "out of bath":
        return f"out of {bath_named(where.name)} since {clock_time(where.since)}" + (
            "" if where.cleared else ", not all gone"
        )
    said = (
        f"in {bath_named(where.name)}" if where.how == "in bath" else f"{where.name}, since {clock_time(where.since)}"
    )
    if where.due is None:
        return said
    late = 0.0 if now is None else where.overdue_h(now)
    return f"{said}, due {clock_time(where.due)}" + (f", OVERDUE by {ago(late * 3600.0)}" if late else "")
