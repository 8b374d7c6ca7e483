"""How far a log is at a centre, in a line."""

from datetime import datetime

from shotlog.wording.numbers import some
from shotlog.wording.times import clock_time, rough_ago

__all__ = ["shipped_said"]


def shipped_said(
    to: str, link: int | None, at: datetime | None, waits: int, why: str, since: datetime | None, now: datetime
) -> str:
    """Return how it stands with a centre: what it has, and what keeps the rest from it.

    Examples
    --------
    >>> from datetime import UTC
    >>> now = datetime(2026, 1, 5, 6, 1, tzinfo=UTC)
    >>> shipped_said("hall-2 at db", 12, datetime(2026, 1, 5, 6, 0, 50, tzinfo=UTC), 0, "", None, now)
    'centre: hall-2 at db has all up to transaction 12 (10 s ago)'
    """
    if link is None:
        held = f"centre: {to} has nothing yet"
    else:
        ago = "" if at is None else f" ({rough_ago(at, now)})"
        after = f"; {some(waits, 'transaction')} came since" if waits else ""
        held = f"centre: {to} has all up to transaction {link}{ago}{after}"
    return f"{held}; out of reach since {clock_time(since)}: {why}" if why else held
