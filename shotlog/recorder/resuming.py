"""Where a collector goes on from: the last shot of its press, in the log or on its way there."""

from itertools import pairwise
from statistics import median

from shotlog.clock import parse_utc
from shotlog.collectors.base import Resume
from shotlog.records import Shot
from shotlog.store.log.log import Log
from shotlog.store.log.shots import columns, last_shot, values_at

__all__ = ["resume_at"]

_LOOKED_AT = 40
_ENOUGH = 3


def resume_at(log: Log, press: str, waiting: Shot | None) -> Resume | None:
    """Return where a press stands, None where nothing is known of it; `waiting`: its last shot not in the log yet.

    Raises
    ------
    StoreError
        The log cannot be read.
    """
    with log.reading() as connection:
        last = last_shot(connection, press)
        if last is None:
            return None if waiting is None else _of(waiting, None)
        shots, times, _ = columns(connection, press, (), last[0] - _LOOKED_AT, last[0])
        values = values_at(connection, press, last[0])
    moments = [parse_utc(text) for text in times]
    cycle_s = _usual(shots.tolist(), [moment.timestamp() for moment in moments])
    if waiting is not None and waiting.shot > last[0]:
        return _of(waiting, cycle_s)
    return Resume(*last, values, moments[-1], cycle_s)


def _of(shot: Shot, cycle_s: float | None) -> Resume:
    return Resume(shot.shot, shot.counter, shot.values, shot.time, cycle_s)


def _usual(shots: list[int], seconds: list[float]) -> float | None:
    """Return what a shot usually took, in seconds; where the clock was set back no time is taken."""
    took = [
        later - earlier
        for (shot, earlier), (after, later) in pairwise(zip(shots, seconds, strict=True))
        if after == shot + 1 and later > earlier
    ]
    return median(took) if len(took) >= _ENOUGH else None
