"""The whole story of one insert, read from the log: how it was made, where it was mounted, what was said, its parts."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from math import inf

from dashboard.parts.desk import piece_taken
from dashboard.shared.held import HeldReader, HeldRun, held_runs
from dashboard.shared.source import Source
from shotlog.parts.inspection import Inspection
from shotlog.parts.standing import Decision
from shotlog.records import NOBODY, Mounting, Who
from shotlog.review.episodes import Episode
from shotlog.review.source import Said
from shotlog.store.asked import state
from shotlog.store.asked.entries_made import swapped_by
from shotlog.store.asked.who import Makers, makers
from shotlog.store.inserts.making import AMOUNTS, TEXTS, Making, makings
from shotlog.store.log.log import Log
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts import dispositions, inspections, soaks
from shotlog.store.parts.soaks import Soak
from shotlog.wording.numbers import some
from shotlog.wording.parts import why_out

__all__ = ["LifeStory", "StayStory", "life_story", "made_of"]

_LONGEST = 2_000
"""Shots of a stay whose verdicts are read, the newest."""

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


def life_story(source: Source, held: HeldReader, serial: str) -> LifeStory:
    """Return where an insert was and what became of it.

    Raises
    ------
    StoreError
        The log cannot be read.
    """
    log = source.reading()
    found: list[tuple[tuple[int, datetime], StayStory]] = []
    against, known = {one.press: one for one in held.doubts() or ()}, makers(log)
    for press in log.presses():
        timeline, newest = log.timeline(press), log.last_shot(press)
        last = 0 if newest is None else newest[0]
        for first, end, half, single_use, reason, mounting in _spans(timeline, serial):
            upto = int(min(end - 1, last))
            swapped = swapped_by(log, press, first, upto + 1)
            runs: list[HeldRun] = []
            decided = [one for one in dispositions.decisions(log, press) if one.first <= upto and first <= one.last]
            if press in against:
                runs = [one for one in held_runs(against[press], dispositions.decisions(log, press))
                        if one.first <= upto and first <= one.last]  # fmt: skip
            verdicts = state.each_verdict(log, press, max(first, upto - _LONGEST), upto)
            said = Said(verdicts, timeline.stays)
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
                tuple(runs),
                tuple(decided),
                tuple(inspections.inspections(log, press, first, upto)),
                tuple(one for one in soaks.soaks(log, press) if first <= one.part.shot <= upto),
                known,
            )
            found.append((mounting.came, stay))
    return LifeStory(serial, tuple(stay for _, stay in sorted(found, key=lambda one: one[0], reverse=True)))


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
