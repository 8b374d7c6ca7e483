"""What happened at one press over a period: all that the report says of it, as plain data."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from shotlog.records import Baseline, Fault, Gap
from shotlog.review.costs import Bill, Counts, bill_of
from shotlog.review.drift import Drift, drifts_of
from shotlog.review.episodes import Episode
from shotlog.review.ledger import PartStates, counts_of, insert_cost
from shotlog.review.lives import History
from shotlog.review.measured import Measured, measured_of
from shotlog.review.relation import Relation
from shotlog.review.series import Pieces, pieces_of
from shotlog.review.source import PressRecord, Stretch
from shotlog.review.stops import Stop, stops_of
from shotlog.review.suspects import Suspects, found_bad, suspects_of
from shotlog.review.swaps import Swap
from shotlog.settings import DesignSettings
from shotlog.store.dispositions import Standing
from shotlog.store.doubts import Doubt, Lifted
from shotlog.store.inspections import Inspection
from shotlog.store.making import Making
from shotlog.store.soaks import Soak
from shotlog.store.state import EntryRow

__all__ = ["Call", "FaultKind", "PressReview", "Turn", "press_review"]

_NEAR = 10


@dataclass(frozen=True, slots=True)
class Turn:
    """The verdict from shot `first` to `last` on one insert, with the sentence it ended on."""

    insert: str
    first: int
    last: int
    settling: bool
    verdict: str
    sentence: str


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


@dataclass(frozen=True, slots=True)
class FaultKind:
    """Faults of one kind: how many, when first and last, and the newest in words."""

    kind: str
    n: int
    first: datetime
    last: datetime
    example: str


@dataclass(frozen=True, slots=True)
class PressReview:
    """One press over the period, shots `first` to `last`; `n_seen` of them were stored.

    `n_settling` were not judged.
    """

    press: str
    first: int
    last: int
    start: datetime
    end: datetime
    n_seen: int
    n_missed: int
    n_settling: int
    stretches: tuple[Stretch, ...]
    turns: tuple[Turn, ...]
    calls: tuple[Call, ...]
    suspects: tuple[Suspects, ...]
    lifted: tuple[Lifted, ...]
    swaps: tuple[Swap, ...]
    drifts: tuple[Drift, ...]
    stops: tuple[Stop, ...]
    entries: tuple[EntryRow, ...]
    gaps: tuple[Gap, ...]
    filled: tuple[tuple[int, int], ...]
    faults: tuple[FaultKind, ...]
    baselines: tuple[Baseline, ...]
    pieces: Pieces
    parts: Counts
    bill: Bill | None
    inspected: tuple[Inspection, ...]
    soaks: tuple[Soak, ...]
    measured: tuple[Measured, ...]
    relations: tuple[Relation, ...]
    shots: tuple[int, ...]
    values: Mapping[str, tuple[float | None, ...]]


def press_review(
    history: History,
    first: int,
    designs: Mapping[str, DesignSettings],
    states: PartStates,
    made: Mapping[str, Making],
    results: Sequence[Inspection],
    soaked: Sequence[Soak],
) -> PressReview | None:
    """Return what happened at a press from shot `first` on; None when it made no shot since."""
    record = history.record
    where = record.rows(first, record.last_shot)
    if where.start >= where.stop:
        return None
    first, last = int(record.shots[where.start]), record.last_shot
    inserts = {stay.mounting.insert.serial: stay.mounting.insert for stay in record.timeline.stays}
    known = {serial: designs.get(insert.design, DesignSettings()) for serial, insert in inserts.items()}
    stretches = tuple(one for one in record.stretches if one.last >= first)

    def count(since: int, until: int) -> Counts:
        return counts_of(states, [(record.press, since, until)])

    parts = count(first, last)
    doubts = _doubts(states[record.press])
    suspects = [
        *suspects_of(history, doubts, {serial: design.cost for serial, design in known.items()}, count),
        *found_bad(history, doubts, count),
    ]
    measured, relations = measured_of(record, first, results)
    return PressReview(
        record.press,
        first,
        last,
        record.times[where.start],
        record.times[-1],
        where.stop - where.start,
        sum(min(gap.last, last) - max(gap.first, first) + 1 for gap in record.gaps if gap.last >= first),
        sum(int(shot) in record.settling for shot in record.shots[where]),
        stretches,
        tuple(turn for turn in _turns(record) if turn.last >= first),
        tuple(_call(history, one) for one in history.episodes if one.last >= first),
        tuple(one for one in suspects if one.last >= first),
        tuple(one for one in _lifted(states[record.press]) if one.last >= first),
        tuple(swap for swap in history.swaps if swap.at_shot >= first),
        tuple(drift for stretch in stretches for drift in _drifts(history, stretch, known)),
        tuple(stop for stop in stops_of(record) if stop.at_shot >= first),
        tuple(entry for entry in record.entries if entry.event.at_shot >= first),
        tuple(gap for gap in record.gaps if gap.last >= first),
        tuple(span for span in record.filled if span[1] >= first),
        _fault_kinds(record.faults, record.times[where.start]),
        tuple(one for one in record.baselines if one.last >= first),
        pieces_of(record, first),
        parts,
        _bill(record, first, parts, known, made),
        tuple(one for one in results if one.part.shot >= first),
        tuple(one for one in soaked if one.part.shot >= first),
        measured,
        relations,
        tuple(record.shots[where].tolist()),
        _columns(record, where),
    )


def _doubts(states: Mapping[int, Sequence[Standing]]) -> list[Doubt]:
    """Return each thing that speaks against parts, once."""
    found: list[Doubt] = []
    for standings in states.values():
        for standing in standings:
            found += [doubt for doubt in standing.doubts if not any(doubt is one for one in found)]
    return found


def _lifted(states: Mapping[int, Sequence[Standing]]) -> list[Lifted]:
    every = (one for standings in states.values() for standing in standings for one in standing.lifted)
    return list(dict.fromkeys(every))


def _turns(record: PressRecord) -> list[Turn]:
    turns: list[Turn] = []
    for verdict in record.verdicts:
        turn = Turn(verdict.insert, verdict.shot, verdict.shot, verdict.settling, verdict.verdict, verdict.sentence)
        before = turns[-1] if turns else turn
        alike = (before.insert, before.settling, before.verdict) == (turn.insert, turn.settling, turn.verdict)
        if turns and alike:
            turns[-1] = replace(turn, first=before.first)
        else:
            turns.append(turn)
    return turns


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
    channel = next((n for s in episode.signals for n in s.split(":")[1:2] if n in record.channels), record.channels[0])
    sisters = []
    for stay in record.timeline.stays:
        alike = stay.mounting.insert.design == own.mounting.insert.design and stay.mounting.half == own.mounting.half
        at = stay.first + number
        if alike and not stay.mounting.single_use and stay.first < own.first and at < stay.end:
            value = _mean(record, channel, at)
            if value is not None:
                sisters.append((stay.mounting.insert.serial, value))
    return Call(episode, tuple(near), number + 1, channel, _mean(record, channel, episode.last), tuple(sisters))


def _mean(record: PressRecord, channel: str, upto: int) -> float | None:
    """Return a channel's mean over the five shots up to `upto`."""
    _, values = record.column(channel, upto - 4, upto)
    return float(values.mean()) if len(values) else None


def _drifts(history: History, stretch: Stretch, known: Mapping[str, DesignSettings]) -> list[Drift]:
    judged = next((v.insert for v in history.record.verdicts if stretch.first <= v.shot <= stretch.last), "")
    called = [one for one in history.episodes if one.stands and stretch.first <= one.first <= stretch.last]
    limits = known[judged].limits if judged in known else {}
    return drifts_of(history.record, stretch, judged, limits, called[-1] if called else None)


def _fault_kinds(faults: Sequence[Fault], since: datetime) -> tuple[FaultKind, ...]:
    recent = [fault for fault in faults if fault.time >= since]
    found = []
    for kind, n in Counter(fault.kind for fault in recent).most_common():
        mine = [fault for fault in recent if fault.kind == kind]
        found.append(FaultKind(kind, n, mine[0].time, mine[-1].time, mine[-1].detail))
    return tuple(found)


def _bill(
    record: PressRecord,
    first: int,
    parts: Counts,
    known: Mapping[str, DesignSettings],
    made: Mapping[str, Making],
) -> Bill | None:
    """Return what the period's parts cost; every insert mounted in it counts whole, single-use pieces one by one."""
    inserts = changeovers = 0.0
    for stay in record.timeline.stays:
        serial = stay.mounting.insert.serial
        if stay.end <= first or stay.first > record.last_shot or stay.end == stay.first:
            continue
        each = insert_cost(known[serial], made.get(serial)) or 0.0
        if stay.mounting.single_use:
            until = int(min(stay.end, record.last_shot + 1))
            inserts += each * (
                record.timeline.n_taken(stay, until) - record.timeline.n_taken(stay, max(first, stay.first))
            )
        elif stay.first >= first:
            inserts += each
            changeovers += known[serial].cost.get("changeover", 0.0)
    costs = [settings.cost for settings in known.values() if settings.cost]
    if not costs:
        return None
    dearest = {name: max(cost.get(name, 0.0) for cost in costs) for name in ("part", "late_find")}
    return bill_of(parts, dearest, inserts, changeovers)


def _columns(record: PressRecord, where: slice) -> Mapping[str, tuple[float | None, ...]]:
    found = {}
    for at, channel in enumerate(record.channels):
        column = record.values[where, at].tolist()
        found[channel] = tuple(None if value != value else value for value in column)
    return found
