"""What is said of the log of an edge where it is only a copy: as of when it is, and what has yet to come."""

from datetime import datetime

from shotlog.wording.numbers import some
from shotlog.wording.times import at_time

__all__ = ["as_of_said"]


def as_of_said(edge: str, seen: datetime, behind: int, now: datetime, *, silent: bool) -> str:
    """Return as of when the log of an edge is at the centre; `behind`: transactions that it had then and did not bring.

    Examples
    --------
    >>> from datetime import UTC
    >>> now = datetime(2026, 3, 2, 12, tzinfo=UTC)
    >>> as_of_said("hall-2", now, 0, now, silent=False)
    'hall-2, up to date'
    >>> as_of_said("hall-2", now, 312, now, silent=False)
    'hall-2, 312 transactions have yet to come'
    """
    said = [f"not heard since {at_time(seen, now)}"] if silent else []
    said += [f"{some(behind, 'transaction')} {'has' if behind == 1 else 'have'} yet to come"] if behind else []
    return f"{edge}, {'; '.join(said) or 'up to date'}"
