"""Which shots the review of a period reads: those of the period, and what it holds them against."""

from collections.abc import Mapping
from datetime import datetime

from shotlog.store.log.log import Log
from shotlog.store.log.shots import first_shot_at
from shotlog.store.log.timeline import Timeline

__all__ = ["first_since", "made_before", "mounted_since", "reach_of"]

_BEFORE = 2_000
"""Shots before a period that it is held against: more than a lot, a stop or a batch of pieces reaches back (own)."""


def first_since(log: Log, press: str, since: datetime) -> int:
    """Return the first shot of a press made since a time; the one after its newest where none was."""
    newest = log.last_shot(press)
    with log.reading() as connection:
        return 0 if newest is None else first_shot_at(connection, press, since, 0, newest[0])


def reach_of(timeline: Timeline, first: int, newest: int) -> int:
    """Return the shot from which a press must be read to tell of shots `first` to `newest`; the newest if none are."""
    if first > newest:
        return newest
    lives = [stay.first for stay in timeline.stays_at(first).values() if not stay.mounting.single_use]
    return max(0, min([first - _BEFORE, *lives]))


def mounted_since(timelines: Mapping[str, Timeline], firsts: Mapping[str, int], newest: Mapping[str, int]) -> set[str]:
    """Return the serials of the reused inserts that made a shot since the first shot of each press."""
    return {
        stay.mounting.insert.serial
        for press, timeline in timelines.items()
        for stay in timeline.within(firsts[press], newest[press]).stays
        if not stay.mounting.single_use and firsts[press] <= newest[press]
    }


def made_before(timeline: Timeline, serials: set[str] | None, reach: int) -> list[tuple[int, int]]:
    """Return the shots, first and last of each stay, that inserts made before `reach`."""
    return [
        (stay.first, int(min(stay.end, reach)) - 1)
        for stay in timeline.stays
        if serials is not None and stay.mounting.insert.serial in serials and stay.first < min(stay.end, reach)
    ]
