"""Since when a press has not answered: one rule, for what the pages and `status` show and for what people are told."""

from collections.abc import Iterable
from datetime import datetime

__all__ = ["STEADY_S", "is_brief", "lost_since"]

STEADY_S = 20.0
"""A connection that is back for so long is back (own); one that comes and goes is lost."""


def is_brief(since: datetime, until: datetime) -> bool:
    """Whether a connection is back for less than it takes; a clock that was set back makes it none."""
    return 0.0 <= (until - since).total_seconds() < STEADY_S


def lost_since(changes: Iterable[tuple[datetime, str]]) -> datetime | None:
    """Return since when a press that is lost has been so, None where it is not lost.

    The reason of a loss may change its words, and the logger may end and start again meanwhile: it stays the one loss.

    Parameters
    ----------
    changes
        Time and state of the changes of its connection, the newest first; no more are taken than are needed.

    Examples
    --------
    >>> at = datetime(2026, 1, 5, 6)
    >>> lost_since([(at.replace(minute=3), "lost"), (at.replace(minute=2), "stopped"), (at, "lost")]) == at
    True
    >>> lost_since([(at, "connected")]) is None
    True
    """
    began: datetime | None = None
    back: datetime | None = None
    for time, state in changes:
        if began is None and state != "lost":
            return None
        if state == "connected":
            back = time
        elif state == "lost":
            if began is not None and back is not None and not is_brief(back, began):
                break
            began, back = time, None
    return began
