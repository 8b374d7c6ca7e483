"""How long a cycle of a press usually takes, by its last shots."""

from itertools import pairwise
from statistics import median

from shotlog.clock import parse_utc
from shotlog.store.log.log import Log
from shotlog.store.log.shots import columns

__all__ = ["usual_cycle_s"]

_CYCLES = 30


def usual_cycle_s(log: Log, press: str, last: int) -> float | None:
    """Return how long a cycle usually takes, in s, up to shot `last`; None where too few shots tell."""
    with log.reading() as connection:
        _, times, _ = columns(connection, press, (), max(0, last - _CYCLES), last)
    moments = [parse_utc(text) for text in times]
    cycles = [(later - earlier).total_seconds() for earlier, later in pairwise(moments)]
    return median(cycles) if len(cycles) >= 3 else None
