"""The whole story of one insert, read from the log: how it was made, where it was mounted, what was said, its parts."""

import threading
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from math import inf

from dashboard.parts.desk import piece_taken
from dashboard.shared.held import NOTHING, HeldOfPress, HeldReader, HeldRun, held_runs
from dashboard.shared.source import Source
from dashboard.shared.timelines import Timelines
from shotlog.parts.inspection import Inspection
from shotlog.parts.standing import Decision
from shotlog.records import NOBODY, Mounting, Who
from shotlog.review.episodes import Episode
from shotlog.review.source import Said
from shotlog.review.still_held import NEAR
from shotlog.store.asked import state
from shotlog.store.asked.entries_made import swapped_by
from shotlog.store.asked.tally import Tally
from shotlog.store.asked.who import Makers, makers
from shotlog.store.inserts.making import AMOUNTS, TEXTS, Making, makings
from shotlog.store.log.log import Log
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts import dispositions, inspections, soaks
from shotlog.store.parts.places import where_mark
from shotlog.store.parts.soaks import Soak
from shotlog.wording.numbers import some
from shotlog.wording.parts import why_out

__all__ = ["LifeStory", "StayStory", "StoryReader", "made_of"]

_LONGEST = 2_000
"""Shots of a stay whose verdicts are read, the newest."""

_KEPT = 20
"""Inserts whose stories are kept, the last ones asked for."""

_WORDS = {"resin": "print material", "plate_position": "place on the plate", "layer_um": "layer", "mass_g": "mass"}


@dataclass(frozen=True, slots=True)
class StayStory:
    """One stay in a press: shots `first` to `last`, what was called on it, and what became of its parts.

    `last` is None before the first shot. `put_in` and `taken_out`: who did, as far as it was entered; `makers`: who
    made every other entry. `used_by`: the one shot a single-use piece was used by.
    """

    press: str
    half: str
    first: int
    last: int | None
    n_shots: int
    mounted: bool
    single_use: bool
    reason: str
    since: datetime
    put_in: Who
    taken_out: Who
    called: tuple[Episode, ...]
    held: tuple[HeldRun, ...]
    decided: tuple[Decision, ...]
    inspected: tuple[Inspection, ...]
    soaked: tuple[Soak, ...]
    makers: Makers


@dataclass(frozen=True, slots=True)
class LifeStory:
    """All stays of an insert, the newest first."""

    serial: str
    stays: tuple[StayStory, ...]


def made_of(log: Log, serial: str, now: datetime) -> Mapping[str, str] | None:
    """Return how an insert was made, in words by what is said; None where nobody entered it."""
    made = makings(log).get(serial)
    if made is None:
        return None
    said = {_WORDS.get(name, name.replace("_", " ")): str(getattr(made, name)) for name in TEXTS if getattr(made, name)}
    for name, unit in AMOUNTS.items():
        value = getattr(made, name)
        if value is not None:
            said[_WORDS.get(name, name)] = f"{value:g} {unit}".strip()
    said |= {f"dimension {name}": f"{size:g} mm" for name, size in made.dimensions.items()}
    return said | _age(made, now)


def _age(made: Making, now: datetime) -> dict[str, str]:
    age = made.age_days(now)
    if age is None or made.cured is None:
        return {}
    return {"cured": f"{made.cured.astimezone():%Y-%m-%d %H:%M}, {some(round(age), 'day')} ago"}


_Mark = tuple[int, HeldOfPress, tuple[int, ...]]
_Stayed = tuple[tuple[int, datetime], StayStory]
"""A stay, after when its mounting came."""


class StoryReader:
    """Tells where inserts were and what became of them: of a press anew only where the log gained something about it.

    A page asks every two seconds, on a log of years. `held`: the held parts, which other pages ask for as well.
    """

    def __init__(self, source: Source, held: HeldReader) -> None:
        self._source, self._held = source, held
        self._reading = threading.Lock()
        self._forget(None)

    def _forget(self, log: Log | None) -> None:
        """Begin anew with a log: another file may lie in the place of the one before."""
        self._log, self._tally = log, Tally()
        self._timelines = Timelines()
        self._kept: dict[tuple[str, str], tuple[_Mark, list[_Stayed]]] = {}

    def story(self, serial: str) -> LifeStory:
        """Return where an insert was and what became of it.

        Raises
        ------
        StoreError
            The log cannot be read.
        """
        log = self._source.reading()
        with self._reading:  # so that what is new is read once, however many viewers ask for it
            if log is not self._log:
                self._forget(log)
            counts, held, soaked = self._tally.every(log), self._held.every(NEAR), where_mark(log)
            found: list[_Stayed] = []
            for press, known in counts.items():
                mark = known.changes, held.get(press, NOTHING), soaked
                before, stays = self._kept.pop((press, serial), (None, []))
                if before != mark:
                    stays = _stays(log, press, serial, self._timelines.of(log, press, known), mark[1])
                self._kept[press, serial] = mark, stays
                found += stays
            while len(self._kept) > _KEPT * len(counts):
                del self._kept[next(iter(self._kept))]
        return LifeStory(serial, tuple(stay for _, stay in sorted(found, key=lambda one: one[0], reverse=True)))


def _stays(log: Log, press: str, serial: str, timeline: Timeline, held: HeldOfPress) -> list[_Stayed]:
    """Return the stays of an insert in a press."""
    spans, newest = _spans(timeline, serial), log.last_shot(press)
    last = 0 if newest is None else newest[0]
    runs = held_runs(press, held.parts) if spans else []
    found = []
    for first, end, half, single_use, reason, mounting in spans:
        upto = int(min(end - 1, last))
        swapped = swapped_by(log, press, first, upto + 1)
        decided = dispositions.decisions(log, press, first, upto)
        inspected = inspections.inspections(log, press, first, upto)
        soaked = soaks.soaks(log, press, first, upto)
        entries = {("dispositions", one.entry_id) for one in decided}
        entries |= {("inspections", one.entry_id) for one in inspected} | {("soaks", one.entry_id) for one in soaked}
        said = Said(state.each_verdict(log, press, max(first, upto - _LONGEST), upto), timeline.stays)
        stay = StayStory(
            press,
            half,
            first,
            upto if upto >= first else None,
            _n_made(timeline, first, upto),
            end == inf,
            single_use,
            reason,
            mounting.time,
            swapped.get(("mounting", mounting.insert.serial, mounting.at_shot), NOBODY),
            swapped.get(("removal", serial, upto + 1), NOBODY),
            tuple(one for one in said.episodes if one.insert == serial),
            tuple(one for one in runs if one.first <= upto and first <= one.last),
            tuple(decided),
            tuple(inspected),
            tuple(soaked),
            makers(log, entries),
        )
        found.append((mounting.came, stay))
    return found


def _n_made(timeline: Timeline, first: int, last: int) -> int:
    return max(0, last - first + 1 - sum(first <= shot <= last for shot in timeline.dry_shots))


def _spans(timeline: Timeline, serial: str) -> list[tuple[int, float, str, bool, str, Mounting]]:
    """Return first shot, end, half, whether single-use, reason and mounting of each time an insert was in."""
    spans = [
        (stay.first, stay.end, stay.mounting.half, False, why_out(stay.reason, stay.replaced_by), stay.mounting)
        for stay in timeline.stays
        if stay.mounting.insert.serial == serial and not stay.mounting.single_use and stay.end > stay.first
    ]
    taken = piece_taken(timeline, serial)
    if taken is not None:
        shot, half = taken
        stay = timeline.stays_at(shot)[half]
        spans.append((shot, shot + 1, half, True, "left the press with its part", stay.mounting))
    return spans
