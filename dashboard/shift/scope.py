"""Which shots a view is about: at each press one unbroken window, never longer than a page can read at once.

The log may hold a million shots. A day is turned into shot numbers by halving the interval, a window is the newest
shots of what was asked for, and it is widened so that a life that lies across its edge is whole where there is room.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import inf

from dashboard.shift.query import Query, moment_of
from shotlog.records import Stay
from shotlog.settings import DesignSettings
from shotlog.store.asked.trials import TrialShots
from shotlog.store.log.log import Log
from shotlog.store.log.shots import first_shot_at, shot_from
from shotlog.store.log.timeline import Timeline

__all__ = ["MOST_SHOTS", "Window", "matches", "windows_of"]

MOST_SHOTS = 3000
"""Shots read for one page, all presses together: forty lives of seventy-five shots.

More would take longer than a second, and no screen tells them apart (own, measured).
"""


@dataclass(frozen=True, slots=True)
class Window:
    """Shots `first` to `last` of a press; `n_left_out` shots before them were asked for and do not fit."""

    press: str
    first: int
    last: int
    n_left_out: int


def matches(stay: Stay, query: Query, designs: Mapping[str, DesignSettings]) -> bool:
    """Say whether a stay's insert is of the design and the resin asked for."""
    design = stay.mounting.insert.design
    family = designs[design].resin_family if design in designs else ""
    return query.design in ("", design) and query.resin in ("", family)


def windows_of(
    log: Log,
    query: Query,
    timelines: Mapping[str, Timeline],
    trials: Iterable[TrialShots],
    designs: Mapping[str, DesignSettings],
    most: int = MOST_SHOTS,
) -> tuple[Window, ...]:
    """Return the window of each press that has shots in what was asked for."""
    told = list(trials)
    asked = {}
    for press, timeline in timelines.items():
        span = _asked(log, query, press, timeline, told, designs) if query.press in ("", press) else None
        if span is not None:
            asked[press] = span
    each = most // max(len(asked), 1)
    return tuple(
        _fitted(press, span, timelines[press].stays, each, _newest(log, press)) for press, span in asked.items()
    )


def _newest(log: Log, press: str) -> int:
    last = log.last_shot(press)
    return 0 if last is None else last[0]


def _asked(
    log: Log,
    query: Query,
    press: str,
    timeline: Timeline,
    trials: Sequence[TrialShots],
    designs: Mapping[str, DesignSettings],
) -> tuple[int, int] | None:
    first, last = 0, _newest(log, press)
    with log.reading() as connection:
        if query.trial:
            spans = [one.shots[press] for one in trials if one.name == query.trial and press in one.shots]
            if not spans:
                return None
            first, last = min(span[0] for span in spans), max(span[1] for span in spans)
        since, until = moment_of(query.since), moment_of(query.until, end=True)
        if since is not None:
            first = max(first, first_shot_at(connection, press, since, first, last))
        if until is not None:
            last = min(last, first_shot_at(connection, press, until, first, last) - 1)
        if query.design or query.resin:
            known = [stay for stay in timeline.stays if matches(stay, query, designs) and _touches(stay, first, last)]
            first = max([first, *([known[0].first] if known else [last + 1])])
            last = min([last, *(int(stay.end) - 1 for stay in [_latest(known)] if stay is not None and stay.end < inf)])
        found = shot_from(connection, press, first, last)
    return None if found is None else (found[0], last)


def _latest(stays: Sequence[Stay]) -> Stay | None:
    return max(stays, key=lambda stay: stay.end, default=None)


def _touches(stay: Stay, first: int, last: int) -> bool:
    return stay.first <= last and stay.end > first and stay.end > stay.first


def _fitted(press: str, asked: tuple[int, int], stays: Sequence[Stay], most: int, newest: int) -> Window:
    """Return the newest `most` shots of what was asked for, widened to whole lives where there is room."""
    first = max(asked[0], asked[1] - most + 1)
    last = asked[1]
    reused = [stay for stay in stays if not stay.mounting.single_use and stay.end > stay.first]
    for stay in sorted((one for one in reused if one.first < first < one.end), key=lambda one: -one.first):
        if last - stay.first < most:
            first = min(first, stay.first)
    for stay in sorted((one for one in reused if one.first <= last < one.end - 1), key=lambda one: one.end):
        end = int(min(stay.end - 1, newest))
        if end - first < most:
            last = max(last, end)
    return Window(press, first, last, max(0, first - asked[0]))
