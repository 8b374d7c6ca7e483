"""All that the page *After the shift* shows of a view, read from the log: lives, changes, drift, parts in doubt."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf

from dashboard.shared.source import Source
from dashboard.shift.ends import whole_lives
from dashboard.shift.query import Query
from dashboard.shift.scope import MOST_SHOTS, Window, matches, windows_of
from shotlog.parts.doubt import Doubt
from shotlog.records import Stay, Who
from shotlog.review.drift import Drift
from shotlog.review.history import History, read_history
from shotlog.review.lives import Life
from shotlog.review.press import PressReview
from shotlog.review.reading import read_review
from shotlog.review.states import read_parts
from shotlog.review.suspects import Suspects, found_bad, suspects_of
from shotlog.review.turns import Turn
from shotlog.settings import DesignSettings, Settings
from shotlog.store.asked.entries_made import swapped_by
from shotlog.store.asked.trials import TrialShots, trials
from shotlog.store.inserts.making import makings
from shotlog.store.log.entered import entries_mark
from shotlog.store.log.log import Log
from shotlog.store.log.shots import last_shot
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts.doubts import said_of_parts
from shotlog.wording.parts import why_out

__all__ = ["PressShift", "Shift", "ShiftReader", "StayLine", "Timelines", "doubts_in", "reviewed"]


@dataclass(frozen=True, slots=True)
class StayLine:
    """A stay in a press as the page lists it: shots `first` to `last`, `n_shots` counted by the press, dry ones not.

    `life` is the insert's whole life, where the view holds all of it.
    """

    press: str
    half: str
    serial: str
    design: str
    print_batch: str
    single_use: bool
    first: int
    last: int
    n_shots: int
    mounted: bool
    reason: str
    life: Life | None


@dataclass(frozen=True, slots=True)
class PressShift:
    """One press over its window.

    `swapped_by`: who mounted and removed inserts, as `entries_made.swapped_by` has it."""

    window: Window
    history: History
    turns: tuple[Turn, ...]
    stays: tuple[StayLine, ...]
    drifts: tuple[Drift, ...]
    suspects: tuple[Suspects, ...]
    swapped_by: Mapping[tuple[str, str, int], Who]

    @property
    def press(self) -> str:
        """The name of the press."""
        return self.window.press


@dataclass(frozen=True, slots=True)
class Shift:
    """A view: the presses with shots in it, the others by name, and whether there is any shot in the log at all."""

    query: Query
    presses: tuple[PressShift, ...]
    silent: tuple[str, ...]
    any_shot: bool

    @property
    def stays(self) -> tuple[StayLine, ...]:
        """Every stay, press by press, in order of first shot."""
        return tuple(stay for one in self.presses for stay in one.stays)

    @property
    def channels(self) -> tuple[str, ...]:
        """The channels that were measured at some press."""
        return tuple(dict.fromkeys(name for one in self.presses for name in one.history.record.channels))


@dataclass(frozen=True, slots=True)
class Timelines:
    """The timeline of every press in the log, and every stay by the serial it was mounted with."""

    presses: Mapping[str, Timeline]
    stays_of: Mapping[str, Sequence[Stay]]


class ShiftReader:
    """Reads views, of `most` shots at once; keeps the timelines, slow to read in a long log, until an entry is made."""

    def __init__(self, source: Source, most: int = MOST_SHOTS) -> None:
        self._source, self.most = source, most
        self._kept: tuple[object, Timelines] | None = None

    @property
    def settings(self) -> Settings:
        """The configuration."""
        return self._source.settings

    def log(self) -> Log:
        """Return the log, open for reading.

        Raises
        ------
        StoreError
            It cannot be read.
        """
        return self._source.reading()

    def timelines(self) -> Timelines:
        """Return the timelines as they are now."""
        log = self.log()
        presses = log.presses()
        with log.reading() as connection:
            begun = [last_shot(connection, press) is not None for press in presses]
            mark = (presses, begun, entries_mark(connection))
        if self._kept is None or self._kept[0] != mark:
            found = {press: log.timeline(press) for press in presses}
            stays_of: dict[str, list[Stay]] = {}
            for timeline in found.values():
                for stay in timeline.stays:
                    if stay.end > stay.first:
                        stays_of.setdefault(stay.mounting.insert.serial, []).append(stay)
            self._kept = mark, Timelines(found, stays_of)
        return self._kept[1]

    def look(self) -> None:
        """Read what every view asks for, so that the first one need not: timelines, and the order of entries."""
        self.timelines()
        with self.log().reading() as connection:
            self.log().order(connection)

    def trials(self) -> list[TrialShots]:
        """Return the trials that have a name, in the order they were entered."""
        return [trial for trial in trials(self.log()) if trial.name]

    def read(self, query: Query) -> Shift:
        """Read a view.

        Raises
        ------
        StoreError
            The log cannot be read.
        """
        log, designs, known = self.log(), self.settings.designs, self.timelines()
        told = self.trials() if query.trial else []
        found = windows_of(log, query, known.presses, told, designs, self.most)
        histories = {
            one.press: read_history(log, one.press, one.first, one.last, timeline=known.presses[one.press])
            for one in found
        }
        newest = {press: (log.last_shot(press) or (0, 0))[0] for press in known.presses}
        lives = whole_lives(log, histories, known.presses, known.stays_of, newest)
        presses = []
        for window in found:
            lines = tuple(
                _line(known.presses[window.press], stay, newest[window.press], lives)
                for stay in histories[window.press].record.timeline.stays
                if stay.end > stay.first and matches(stay, query, designs)
            )
            timeline, history = known.presses[window.press], histories[window.press]
            presses.append(_press_shift(log, query, designs, window, timeline, history, lines))
        shown = {one.press for one in presses}
        silent = tuple(press for press in known.presses if press not in shown)
        return Shift(query, tuple(presses), silent, any(newest.values()))


def reviewed(reader: ShiftReader, query: Query) -> tuple[PressReview, ...]:
    """Return the review of each press over its window of a view; its inserts and pieces as far as the window reaches.

    Raises
    ------
    StoreError
        The log cannot be read.
    """
    log, designs, known = reader.log(), reader.settings.designs, reader.timelines()
    told = reader.trials() if query.trial else []
    made, found = makings(log), []
    for window in windows_of(log, query, known.presses, told, designs, reader.most):
        timeline = known.presses[window.press]
        history = read_history(log, window.press, window.first, window.last, timeline=timeline)
        span = [(window.first, window.last)]
        one, _ = read_review(log, history, window.first, designs, span, made, timeline=timeline)
        found += [] if one is None else [one]
    return tuple(found)


def doubts_in(log: Log, window: Window, timeline: Timeline, designs: Mapping[str, DesignSettings]) -> list[Doubt]:
    """Return what the log holds parts of a window for."""
    doubts, _ = said_of_parts(log, window.press, window.first, window.last, timeline, designs)
    return _touching(doubts, window)


def _touching(doubts: Sequence[Doubt], window: Window) -> list[Doubt]:
    return [one for one in doubts if one.first <= window.last and window.first <= one.last]


def _press_shift(
    log: Log,
    query: Query,
    designs: Mapping[str, DesignSettings],
    window: Window,
    timeline: Timeline,
    history: History,
    lines: tuple[StayLine, ...],
) -> PressShift:
    said = said_of_parts(log, window.press, window.first, window.last, timeline, designs)
    span = [(window.first, window.last)]
    parts = read_parts(log, window.press, designs, span, timeline=timeline, said=said)
    doubts = _touching(said[0], window)
    known = history.designs(designs)
    costs = {serial: design.cost for serial, design in known.items()}
    called = suspects_of(history, doubts, costs, parts.count)
    suspects = [*called, *found_bad(history, doubts, parts.count, called)]
    wanted = None if not (query.design or query.resin) else {line.serial for line in lines}
    return PressShift(
        window,
        history,
        tuple(turn for turn in history.record.turns if wanted is None or turn.insert in wanted),
        lines,
        tuple(one for one in history.drifts(known) if wanted is None or one.insert in wanted),
        tuple(one for one in suspects if wanted is None or one.insert in wanted),
        swapped_by(
            log,
            window.press,
            min((line.first for line in lines), default=window.first),
            max((line.last for line in lines), default=window.last) + 1,
        ),
    )


def _line(timeline: Timeline, stay: Stay, newest: int, lives: Mapping[str, Life]) -> StayLine:
    insert, end = stay.mounting.insert, int(min(stay.end, newest + 1))
    mounted = stay.end == inf
    return StayLine(
        press=stay.mounting.press,
        half=stay.mounting.half,
        serial=insert.serial,
        design=insert.design,
        print_batch=insert.print_batch,
        single_use=stay.mounting.single_use,
        first=stay.first,
        last=end - 1,
        n_shots=timeline.n_taken(stay, end),
        mounted=mounted,
        reason="" if mounted else why_out(stay.reason, stay.replaced_by),
        life=None if stay.mounting.single_use else lives.get(insert.serial),
    )
