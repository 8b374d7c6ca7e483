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
    `start` is the last sign of it. `n_missed`: shots the press counted meanwhile that are still missing. `lasted_s`:
    how long it was, whoever set the clock meanwhile.
    """

    press: str
    start: datetime
    end: datetime | None
    how: str
    detail: str
    n_missed: int
    lasted_s: float | None = None


_HOW = {"lost": "connection lost", "stopped": "logging stopped"}


def outages_of(
    links: Sequence[Link],
    times: Sequence[datetime],
    shots: Sequence[int],
    gaps: Sequence[Gap],
    steady: tuple[Sequence[float], Sequence[float]] | None = None,
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
    steady
        When each link was noted and each shot made, in seconds as if nobody had ever set the clock: what came before
        what is told by these. By default they are the times.
    """
    linked, made = steady or ([one.time.timestamp() for one in links], [one.timestamp() for one in times])
    found: list[Outage] = []
    down: _At | None = None
    up: _At | None = None
    why: Link | None = None
    for link, at_s in zip(links, linked, strict=True):
        at = _At(link.time, at_s)
        if link.state != "connected":
            down, up, why = down or at, None, why if down else link
            continue
        if down is not None and why is not None:
            found.append(_outage(why.press, down, at, _HOW[why.state], why.detail, made, shots, gaps))
        elif up is not None:
            n = bisect_left(made, at_s)
            start = max(up, _At(times[n - 1], made[n - 1]), key=lambda one: one.steady_s) if n else up
            detail = "it began anew without having ended"
            found.append(_outage(link.press, start, at, "logging broke off", detail, made, shots, gaps))
        down, up, why = None, at, None
    if down is not None and why is not None:
        found.append(_outage(why.press, down, None, _HOW[why.state], why.detail, made, shots, gaps))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class _At:
    """A moment: as the clock showed it, and in seconds as if nobody had ever set that."""

    time: datetime
    steady_s: float


def _outage(
    press: str,
    start: _At,
    end: _At | None,
    how: str,
    detail: str,
    made: Sequence[float],
    shots: Sequence[int],
    gaps: Sequence[Gap],
) -> Outage:
    """Count the shots missing between the last one seen before and the first one seen after."""
    before = bisect_right(made, start.steady_s)
    after = len(made) if end is None else bisect_left(made, end.steady_s)
    low = shots[before - 1] if before else -1
    high = shots[after] if after < len(shots) else None
    missed = sum(gap.n_shots for gap in gaps if gap.first > low and (high is None or gap.last < high))
    lasted = None if end is None else end.steady_s - start.steady_s
    return Outage(press, start.time, None if end is None else end.time, how, detail, missed, lasted)
