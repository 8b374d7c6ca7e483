"""Changes that were called, each with what else is asked of it: what changed near it, and how sisters stood then."""

from bisect import bisect_left, bisect_right
from dataclasses import dataclass

from shotlog.review.episodes import Episode
from shotlog.review.history import History
from shotlog.review.source import PressRecord

__all__ = ["Call", "calls_of"]

_NEAR = 10
_SISTERS = 60
"""Sisters that a call is held against, the newest: a log of years has hundreds (own)."""


@dataclass(frozen=True, slots=True)
class Call:
    """An episode with what else is asked of it: what changed near its onset.

    And sister inserts at the same shot number. `sisters`: (serial, shots on it, value) of the leading channel
    `channel`, `here` being the insert itself at its last call.
    """

    episode: Episode
    changed_near: tuple[str, ...]
    on_insert: int
    channel: str
    here: float | None
    sisters: tuple[tuple[str, float], ...]


def calls_of(history: History, first: int) -> tuple[Call, ...]:
    """Return the calls of a press that reach to shot `first` or later."""
    return tuple(_call(history, one) for one in history.episodes if one.last >= first)


def _call(history: History, episode: Episode) -> Call:
    record = history.record
    onset = episode.first if episode.onset is None else episode.onset
    near = [
        f"{entry.event.kind} at shot {entry.event.at_shot}: {entry.event.text}"
        for entry in record.entries
        if abs(entry.event.at_shot - onset) <= _NEAR and not entry.taken_back
    ]
    near += [
        f"{stay.mounting.insert.serial} mounted ({stay.mounting.half}) at shot {stay.first}"
        for stay in record.timeline.stays
        if abs(stay.first - onset) <= _NEAR
    ]
    near += [f"shots {gap.first} to {gap.last} missed" for gap in record.gaps if abs(gap.first - onset) <= _NEAR]
    mine = [stay for stay in record.timeline.stays if stay.mounting.insert.serial == episode.insert]
    if not mine or not record.channels:
        return Call(episode, tuple(near), 0, "", None, ())
    own = mine[-1]
    number = episode.last - own.first
    channel = _leading(record, episode)
    sisters: list[tuple[str, float]] = []
    for stay in reversed(record.timeline.stays):
        if len(sisters) == _SISTERS:
            break
        alike = stay.mounting.insert.design == own.mounting.insert.design and stay.mounting.half == own.mounting.half
        at = stay.first + number
        if alike and not stay.mounting.single_use and stay.first < own.first and at < stay.end:
            value = _mean(record, channel, at)
            if value is not None:
                sisters.append((stay.mounting.insert.serial, value))
    return Call(
        episode, tuple(near), number + 1, channel, _mean(record, channel, episode.last), tuple(reversed(sisters))
    )


def _leading(record: PressRecord, episode: Episode) -> str:
    """Return the first channel that a chart signalled while the call stood, else the first one measured."""
    first = bisect_left(record.signals, episode.first, key=lambda one: one.shot)
    last = bisect_right(record.signals, episode.last, key=lambda one: one.shot)
    signalled = (one.channel for one in record.signals[first:last])
    return next((name for name in signalled if name in record.channels), record.channels[0])


def _mean(record: PressRecord, channel: str, upto: int) -> float | None:
    """Return a channel's mean over the five shots up to `upto`."""
    _, values = record.column(channel, upto - 4, upto)
    return float(values.mean()) if len(values) else None
