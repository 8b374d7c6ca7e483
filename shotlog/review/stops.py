"""Stops: what a pause or purge did, and how many shots until the values had settled again."""

from dataclasses import dataclass
from datetime import datetime

import numpy as np

from shotlog.entries import KINDS
from shotlog.review.source import PressRecord

__all__ = ["Stop", "stops_of"]

_FACTOR = 3.0
"""A shot more usual cycles than this after the one before came after a stop (judgement).

A verdict takes a wait from four on: it knows only the cycles before.
"""

_ABOUT = 31


@dataclass(frozen=True, slots=True)
class Stop:
    """A stop before shot `at_shot`: its length, what was noted.

    And the shots until values were judged again (None: not yet).
    """

    press: str
    at_shot: int
    time: datetime | None
    minutes: float | None
    noted: str
    settled_after: int | None


def stops_of(record: PressRecord) -> tuple[Stop, ...]:
    """Return the stops of a press: those noted, and those seen in the time between shots."""
    noted = {
        entry.event.at_shot: f"{entry.event.kind}: {entry.event.text}"
        for entry in record.entries
        if KINDS[entry.event.kind].effect.stood and not entry.taken_back
    }
    mounted = {stay.first: f"{stay.mounting.insert.serial} mounted" for stay in record.timeline.stays}
    long = _long_waits(record)
    return tuple(
        Stop(
            record.press,
            at,
            record.time_of(at),
            long.get(at),
            {**mounted, **noted}.get(at, ""),
            _settled_after(record, at),
        )
        for at in sorted({*noted, *long})
    )


def _long_waits(record: PressRecord) -> dict[int, float]:
    """Return minutes waited before a shot, for waits of more than three usual cycles."""
    if len(record.shots) < 5:
        return {}
    seconds = np.diff(record.seconds)
    cycles = seconds / np.diff(record.shots)
    found = {}
    for at, wait in enumerate(seconds):
        near = cycles[max(0, at - _ABOUT // 2) : at + _ABOUT // 2 + 1]
        if cycles[at] > _FACTOR * float(np.median(near)):
            found[int(record.shots[at + 1])] = float(wait) / 60.0
    return found


def _settled_after(record: PressRecord, at: int) -> int | None:
    for n, shot in enumerate(record.shots[record.rows(at, record.last_shot)].tolist()):
        if shot not in record.settling:
            return n
    return None
