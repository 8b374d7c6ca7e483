"""The whole chain of one part: what made it, how its values stand beside its neighbours', what was said and decided.

A part that was called is a part of many shots, and its values alone say little: 4.86 mm of cushion is much or little by
what this mould did on this day. So each value stands beside those of its neighbours: the nearest parts made before it,
before the onset where there is one, that nothing speaks against. Where nobody knows of a part that is good, what is
found on an insert holds all it ever made; then such parts, against which nothing else speaks, stand in and it is said.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from statistics import median

from shotlog.channels import CHANNELS
from shotlog.charts.baseline import spread_of
from shotlog.errors import UsageError
from shotlog.parts.doubt import Doubt
from shotlog.parts.inspection import Inspection
from shotlog.parts.part import Part
from shotlog.parts.picture import Picture
from shotlog.parts.standing import Decision, PartStanding
from shotlog.parts.where import Whereabouts
from shotlog.records import NOBODY, InForce, LoggedShot, Signal, Stay, Verdict, Who
from shotlog.settings import DesignSettings
from shotlog.store.asked import state
from shotlog.store.asked.history import first_said
from shotlog.store.asked.set_points import SetInForce, set_points_at
from shotlog.store.asked.state import EntryRow
from shotlog.store.asked.who import Makers, makers
from shotlog.store.inserts.making import Making, makings
from shotlog.store.keeping.archived import archive_of_shot
from shotlog.store.log.log import Log
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts.dispositions import decisions, part_standings
from shotlog.store.parts.inspections import inspections
from shotlog.store.parts.pictures import pictures_of_part
from shotlog.store.parts.places import Place, where_is
from shotlog.store.parts.soaks import Soak, soaks
from shotlog.store.parts.weights import Weighed, weighings

__all__ = ["BesideOthers", "MadeHalf", "PartChain", "chain_of"]

_NEIGHBOURS = 10
"""Neighbours a value stands beside: enough for a spread, few enough to be of the same hour (own)."""

_FEWEST = 5
_LOOKED_BACK = 120
"""Shots before the onset among which neighbours are looked for (own)."""


@dataclass(frozen=True, slots=True)
class MadeHalf:
    """One half of the mould at the part's shot. `on_insert`: which shot of that half it was, None of a single piece."""

    half: str
    held: InForce
    made: Making | None
    on_insert: int | None


@dataclass(frozen=True, slots=True)
class BesideOthers:
    """A value beside those of `n` neighbours, in its channel's unit.

    `spread`: their shot-to-shot spread, at least a third of the smallest change that matters; `off`: how many spreads
    the value lies from their median. All None where fewer than five neighbours have one.
    """

    channel: str
    value: float
    n: int
    median: float | None = None
    low: float | None = None
    high: float | None = None
    spread: float | None = None

    @property
    def off(self) -> float | None:
        """How many spreads above their median it lies, below it where negative."""
        return None if self.median is None or not self.spread else (self.value - self.median) / self.spread


@dataclass(frozen=True, slots=True)
class PartChain:
    """All that is known of one part.

    `neighbours`: shots of the parts its values stand beside; `alike`: they were made on the same reused inserts and
    lot; `held_too`: some of them are held themselves, for what was found on an insert; `before`: the shot they lie
    before. `said` is the verdict in force on its shot, `first_said` the one given on the day where it was another;
    `archive`: the file that holds what was said, where it went there, else empty.
    `notes`: entries about its shot. `n_cavities`: parts its shot made. `makers`: who made each of the entries.
    `set_points`: what the press was set to, none where it does not tell.
    """

    standing: PartStanding
    halves: tuple[MadeHalf, ...]
    n_cavities: int
    shot: LoggedShot | None
    neighbours: tuple[int, ...]
    alike: bool
    held_too: bool
    before: int
    beside: tuple[BesideOthers, ...]
    notes: tuple[EntryRow, ...]
    weighed: Weighed | None
    signals: tuple[Signal, ...]
    said: Verdict | None
    first_said: Verdict | None
    where: Whereabouts | None
    soaks: tuple[Soak, ...]
    places: tuple[Place, ...]
    inspections: tuple[Inspection, ...]
    decisions: tuple[Decision, ...]
    pictures: tuple[Picture, ...]
    archive: str = ""
    set_points: tuple[SetInForce, ...] = ()
    makers: Makers = field(default_factory=dict)

    def who(self, table: str, number: int | None) -> Who:
        """Return who made an entry of a table (``dispositions``)."""
        return self.makers.get((table, number or 0), NOBODY)

    @property
    def part(self) -> Part:
        """The part."""
        return self.standing.part


def chain_of(log: Log, designs: Mapping[str, DesignSettings], part: Part) -> PartChain:
    """Return the chain of a part.

    Raises
    ------
    UsageError
        The press has counted no such shot, it was dry, or the mould has no such cavity.
    """
    press, shot = part.press, part.shot
    timeline = log.timeline(press)
    of_shot = part_standings(log, press, designs, shot, shot, timeline)
    standing = next((one for one in of_shot if one.part == part), None)
    if standing is None:
        allowed = f"allowed: cavity 1 to {len(of_shot)} (design setting cavities)" if of_shot else ""
        raise UsageError(f"part {part}: {allowed or 'the press has counted no such shot, or it was dry'}")
    before = min([shot, *(doubt.first for doubt in standing.doubts if not _with_the_insert(doubt))])
    around = part_standings(log, press, designs, before - _LOOKED_BACK, before - 1, timeline)
    logged = {one.shot: one for one in log.logged(press, before - _LOOKED_BACK - 1, before - 1)}
    logged |= {one.shot: one for one in log.logged(press, shot - 1, shot)}
    settling = {one.shot for one in state.verdicts(log, press, before - _LOOKED_BACK, shot) if one.settling}
    settled = [one for one in around if one.part.shot in logged and one.part.shot not in settling]
    chosen, alike = _neighbours(standing, settled)
    neighbours = sorted(one.part.shot for one in chosen)
    made, stays, where = makings(log), timeline.stays_at(shot), where_is(log, press)
    said, on_the_day = next(iter(state.verdicts(log, press, shot, shot)), None), first_said(log, press, shot)
    chain = PartChain(
        standing=standing,
        halves=tuple(
            MadeHalf(half, held, made.get(held.serial), _on_insert(timeline, stays[half], shot))
            for half, held in standing.made.halves.items()
        ),
        n_cavities=len(of_shot),
        shot=logged.get(shot),
        neighbours=tuple(neighbours),
        alike=alike,
        held_too=any(one.state == "held" for one in chosen),
        before=before,
        beside=_beside(logged.get(shot), [logged[one] for one in neighbours]),
        notes=tuple(one for one in state.entries(log, press, shot, shot) if not one.taken_back),
        weighed=next((one for one in weighings(log, press) if one.shot == shot), None),
        signals=tuple(state.signals(log, press, shot, shot)),
        said=said,
        first_said=None if on_the_day == said else on_the_day,
        where=where.of(part),
        soaks=tuple(one for one in soaks(log, press) if one.part == part),
        places=tuple(one for one in where.places if one.is_about(part)),
        inspections=tuple(one for one in inspections(log, press, shot, shot) if one.part == part),
        decisions=tuple(one for one in decisions(log, press, shot, shot) if one.is_about(part)),
        pictures=tuple(pictures_of_part(log, part)),
        archive=_archive(log, part) if said is None else "",
        set_points=tuple(set_points_at(log, press, shot)),
    )
    return replace(chain, makers=makers(log, _entries_of(chain)))


def _entries_of(chain: PartChain) -> set[tuple[str, int]]:
    """Return the entries that a chain tells of, by table and number."""
    found = {("events", one.entry_id) for one in chain.notes} | {("places", one.entry_id) for one in chain.places}
    found |= {("inspections", one.entry_id) for one in chain.inspections}
    found |= {("dispositions", one.entry_id) for one in chain.decisions}
    found |= {("pictures", one.entry_id) for one in chain.pictures} | {("soaks", one.entry_id) for one in chain.soaks}
    return found | {("soak_ends", one.end_id) for one in chain.soaks if one.end_id is not None}


def _archive(log: Log, part: Part) -> str:
    kept = archive_of_shot(log, part.press, part.shot)
    return "" if kept is None else str(kept.file)


def _on_insert(timeline: Timeline, stay: Stay, shot: int) -> int | None:
    return None if stay.mounting.single_use else timeline.n_taken(stay, shot) + 1


def _neighbours(standing: PartStanding, around: Sequence[PartStanding]) -> tuple[list[PartStanding], bool]:
    """Return the nearest parts before it that nothing speaks against, and whether they were made as the part was."""
    cavity = standing.part.cavity
    clean = [one for one in reversed(around) if one.part.cavity == cavity and one.state in ("made", "released")]
    also = [
        one
        for one in reversed(around)
        if one.part.cavity == cavity and (one in clean or all(_with_the_insert(doubt) for doubt in one.doubts))
    ]
    for those in (clean, also):
        alike = [one for one in those if _made_as(one) == _made_as(standing)]
        if len(alike) >= _FEWEST:
            return alike[:_NEIGHBOURS], True
    return (clean if len(clean) >= _FEWEST else also)[:_NEIGHBOURS], False


def _with_the_insert(doubt: Doubt) -> bool:
    """Say whether a part is held only because something was found on an insert it was made on, at another shot."""
    return bool(doubt.serial) and doubt.wrong is not None


def _made_as(one: PartStanding) -> tuple[object, ...]:
    """Return what neighbours should share: the reused inserts, lot and set-up."""
    serials = tuple(sorted(held.serial for held in one.made.halves.values() if not held.single_use))
    return serials, one.made.lot, one.made.setup


def _beside(shot: LoggedShot | None, neighbours: Sequence[LoggedShot]) -> tuple[BesideOthers, ...]:
    if shot is None:
        return ()
    found = []
    for channel in (name for name in CHANNELS if name in shot.values):
        values = [one.values[channel] for one in neighbours if channel in one.values]
        told = BesideOthers(channel, shot.values[channel], len(values))
        if len(values) >= _FEWEST:
            spread = max(spread_of(values, "mr"), CHANNELS[channel].least_change / 3.0)
            told = BesideOthers(channel, told.value, len(values), median(values), min(values), max(values), spread)
        found.append(told)
    return tuple(found)
