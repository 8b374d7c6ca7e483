"""When nobody was looking: the connection to a press was lost, or the logging did not run."""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from shotlog.records import Gap, Link

__all__ = ["Outage", "outages_of"]


@dataclass(frozen=True, slots=True)
class Outage:
    """From `start` to `end` (None: it lasts) no shot could be seen; `how` is one of the words below.

    ``connection lost``, ``logging stopped``, or ``logging broke off``: it began anew without having ended, so that
    `start` is the last sign of it. `n_missed`: shots the press counted meanwhile that are still missing.
    """

    press: str
    start: datetime
    end: datetime | None
    how: str
    detail: str
    n_missed: int


_HOW = {"lost": "connection lost", "stopped": "logging stopped"}


def outages_of(
    links: Sequence[Link], times: Sequence[datetime], shots: Sequence[int], gaps: Sequence[Gap]
) -> tuple[Outage, ...]:
    """Return the outages of a press in order.

    Parameters
    ----------
    links
        Every change of the connection, in order.
    times, shots
        When each stored shot was made, and its number.
    gaps
        The shots still missing.
    """
    found: list[Outage] = []
    down: Link | None = None
    up: Link | None = None
    for link in links:
        if link.state != "connected":
            down, up = down or link, None
            continue
        if down is not None:
            found.append(_outage(down.press, down.time, link.time, _HOW[down.state], down.detail, times, shots, gaps))
        elif up is not None:
            seen = times[: bisect_left(times, link.time)]
            start = max(up.time, seen[-1]) if seen else up.time
            detail = "it began anew without having ended"
            found.append(_outage(link.press, start, link.time, "logging broke off", detail, times, shots, gaps))
        down, up = None, link
    if down is not None:
        found.append(_outage(down.press, down.time, None, _HOW[down.state], down.detail, times, shots, gaps))
    return tuple(found)


def _outage(
    press: str,
    start: datetime,
    end: datetime | None,
    how: str,
    detail: str,
    times: Sequence[datetime],
    shots: Sequence[int],
    gaps: Sequence[Gap],
) -> Outage:
    """Count the shots missing between the last one seen before and the first one seen after."""
    before = bisect_right(times, start)
    after = len(times) if end is None else bisect_left(times, end)
    low = shots[before - 1] if before else -1
    high = shots[after] if after < len(shots) else None
    missed = sum(gap.n_shots for gap in gaps if gap.first > low and (high is None or gap.last < high))
    return Outage(press, start, end, how, detail, missed)
