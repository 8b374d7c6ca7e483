"""One life looked at closely: its strips, what was called on it, the levels it was held against; and its sisters."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf, isnan

from dashboard.shared.held_against import drawn_levels, drawn_marks
from dashboard.shared.press_reader import LONGEST
from dashboard.shared.views import EventLine, Strip, Strips
from dashboard.shift.query import Query
from dashboard.shift.scope import Window
from dashboard.shift.whole import ShiftReader, Timelines, doubts_in
from shotlog.records import Baseline, Stay
from shotlog.review.costs import PartCounts
from shotlog.review.episodes import Episode
from shotlog.review.history import History, read_history
from shotlog.review.suspects import suspects_of
from shotlog.settings import Bound, DesignSettings
from shotlog.store.asked import state
from shotlog.store.log.log import Log
from shotlog.store.log.shots import columns
from shotlog.wording.entries import entry_text, tells_of_life
from shotlog.wording.parts import why_out

__all__ = ["CalledSpan", "LifeView", "SisterLine", "Sisters", "read_life", "read_sisters"]

MOST_SISTERS = 12
"""Lives drawn over each other: more hide one another (own)."""


@dataclass(frozen=True, slots=True)
class CalledSpan:
    """Parts in doubt, shots `first` to `last`, with the onset they go back to and its interval."""

    first: int
    last: int
    onset: int
    onset_low: int
    onset_high: int
    text: str


@dataclass(frozen=True, slots=True)
class LifeView:
    """A stay of an insert in a press. `n_stay` of `n_stays`; shots `first` to `last`, drawn are `drawn`.

    `accepted`: (shot, told at shot): from where on a changed level was taken as normal, and when that was first said.
    """

    serial: str
    press: str
    half: str
    design: str
    n_stay: int
    n_stays: int
    first: int
    last: int
    mounted: bool
    reason: str
    drawn: tuple[int, int]
    channels: tuple[str, ...]
    strips: Strips
    spans: tuple[CalledSpan, ...]
    calls: tuple[Episode, ...]
    baselines: tuple[Baseline, ...]
    accepted: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class SisterLine:
    """One life over shots on the insert, 1 being the first; a value is None where the press gave none."""

    serial: str
    press: str
    chosen: bool
    numbers: tuple[int, ...]
    shots: tuple[int, ...]
    values: tuple[float | None, ...]


@dataclass(frozen=True, slots=True)
class Sisters:
    """Lives of one design and half in one channel, oldest first; `n_others` more are not drawn."""

    design: str
    half: str
    channel: str
    action: Bound
    lives: tuple[SisterLine, ...]
    n_others: int


def read_life(reader: ShiftReader, query: Query) -> LifeView | None:
    """Read the life a view looks at closely; None where the log knows no such insert, or no shot on it.

    Raises
    ------
    StoreError
        The log cannot be read.
    """
    log, known = reader.log(), reader.timelines()
    stays = _with_shots(log, known.stays_of.get(query.life, ()))
    if not stays:
        return None
    n_stay = query.stay if 1 <= query.stay <= len(stays) else len(stays)
    stay, last = stays[n_stay - 1]
    upto = query.upto if stay.first <= query.upto <= last else last
    window = Window(stay.mounting.press, max(stay.first, upto - LONGEST + 1), upto, 0)
    history = read_history(log, window.press, window.first, upto, timeline=known.presses[window.press])
    design = reader.settings.designs.get(stay.mounting.insert.design, DesignSettings())
    record = history.record
    baselines = tuple(state.baselines(log, window.press, stay.first, upto))
    doubts = doubts_in(log, window, known.presses[window.press], reader.settings.designs)
    spans = tuple(
        CalledSpan(one.first, one.last, one.onset, one.onset_low, one.onset_high, one.because)
        for one in suspects_of(history, doubts, {}, lambda _first, _last: PartCounts())
    )
    return LifeView(
        serial=query.life,
        press=window.press,
        half=stay.mounting.half,
        design=stay.mounting.insert.design,
        n_stay=n_stay,
        n_stays=len(stays),
        first=stay.first,
        last=last,
        mounted=stay.end == inf,
        reason="" if stay.end == inf else why_out(stay.reason, stay.replaced_by),
        drawn=(window.first, window.last),
        channels=record.channels,
        strips=_strips(history, stay, window, query.channels, design.limits, baselines, record.accepted),
        spans=spans,
        calls=history.episodes,
        baselines=baselines,
        accepted=record.accepted,
    )


def _with_shots(log: Log, stays: Sequence[Stay]) -> list[tuple[Stay, int]]:
    """Return the stays that made a shot, oldest first, each with its last shot."""
    found = []
    for stay in sorted(stays, key=lambda one: one.mounting.came):
        newest = log.last_shot(stay.mounting.press)
        if newest is not None and newest[0] >= stay.first:
            found.append((stay, int(min(stay.end - 1, newest[0]))))
    return found


def _strips(
    history: History,
    stay: Stay,
    window: Window,
    channels: Sequence[str],
    limits: Mapping[str, Bound],
    baselines: Sequence[Baseline],
    accepted: Sequence[tuple[int, int]],
) -> Strips:
    record = history.record
    shots = tuple(record.shots.tolist())
    drawn = []
    for channel in (name for name in channels if name in record.channels):
        column = record.values[:, record.channels.index(channel)].tolist()
        values = tuple(None if isnan(value) else value for value in column)
        levels = drawn_levels([one for one in baselines if one.channel == channel], window.first, window.last)
        signals = [one for one in record.signals if one.channel == channel]
        marks = drawn_marks(signals, dict(zip(shots, values, strict=True)))
        drawn.append(Strip(channel, values, levels, limits.get(channel, Bound()), marks))
    return Strips(
        insert=stay.mounting.insert.serial,
        start=stay.first,
        shots=shots,
        settling=record.settling,
        gaps=tuple((max(gap.first, window.first), min(gap.last, window.last)) for gap in record.gaps),
        events=tuple(sorted(_events(history, stay, accepted), key=lambda one: one.shot)),
        onset=None,
        strips=tuple(drawn),
    )


def _events(history: History, stay: Stay, accepted: Sequence[tuple[int, int]]) -> list[EventLine]:
    record = history.record
    lines = []
    for entry in record.entries:
        if not entry.taken_back and not tells_of_life(entry.event.kind, entry.event.text):
            text = entry_text(entry.event.kind, entry.event.text)
            lines.append(EventLine(entry.event.at_shot, text, text))
    for other in record.timeline.stays:
        if other.first > stay.first and other.mounting.half != stay.mounting.half and not other.mounting.single_use:
            text = f"{other.mounting.insert.serial} in {other.mounting.half}"
            lines.append(EventLine(other.first, text, text))
    for call in history.episodes:
        lines.append(EventLine(call.first, call.worst, call.sentence))
    lines += [EventLine(since, "level accepted", f"taken as normal, said at shot {at}") for since, at in accepted]
    return lines


def read_sisters(reader: ShiftReader, query: Query, life: LifeView) -> Sisters:
    """Read the lives of the inserts of a life's design and half, in the channel the view names.

    Raises
    ------
    StoreError
        The log cannot be read.
    """
    log, known = reader.log(), reader.timelines()
    serials = _sister_serials(known, life)
    at = serials.index(life.serial)
    # The last before it and a few after: a life is mostly held against those that came before.
    start = max(0, min(at - MOST_SISTERS * 2 // 3, len(serials) - MOST_SISTERS))
    chosen = serials[start : start + MOST_SISTERS]
    limits = reader.settings.designs.get(life.design, DesignSettings()).limits
    lives = tuple(_sister(log, known, serial, life, query.beside) for serial in chosen)
    drawn = tuple(one for one in lives if one.numbers)
    others = len(serials) - len(chosen)
    return Sisters(life.design, life.half, query.beside, limits.get(query.beside, Bound()), drawn, others)


def _sister_serials(known: Timelines, life: LifeView) -> list[str]:
    """Return the serials of the inserts of a life's design and half, its own among them, in the order they came in."""
    own = known.stays_of[life.serial][0].mounting
    stays = [
        stays[0].mounting
        for stays in known.stays_of.values()
        if (one := stays[0].mounting).half == own.half
        and (one.insert.design, one.single_use) == (own.insert.design, own.single_use)
        and (own.insert.design or one.insert.serial == own.insert.serial)
    ]
    return [one.insert.serial for one in sorted(stays, key=lambda one: one.came)]


def _sister(log: Log, known: Timelines, serial: str, life: LifeView, channel: str) -> SisterLine:
    numbers: list[int] = []
    shots: list[int] = []
    values: list[float | None] = []
    before, press = 0, ""
    for stay, end in _with_shots(log, known.stays_of[serial]):
        press = stay.mounting.press
        last = min(end, stay.first + LONGEST - 1 - before)
        if last < stay.first:
            break
        with log.reading() as connection:
            found, _, table = columns(connection, press, (channel,), stay.first, last)
        numbers += [before + shot - stay.first + 1 for shot in found.tolist()]
        shots += found.tolist()
        values += [None if isnan(value) else value for value in table[:, 0].tolist()]
        before += end - stay.first + 1
    return SisterLine(serial, press, serial == life.serial, tuple(numbers), tuple(shots), tuple(values))
