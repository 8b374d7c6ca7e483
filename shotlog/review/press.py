"""What happened at one press over a period: all that the report says of it, as plain data."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from shotlog.parts.doubt import Lifted
from shotlog.parts.inspection import Inspection
from shotlog.parts.picture import Picture
from shotlog.records import LOG_AWAY, NOBODY, Baseline, Fault, Gap, MadeEntry, Who
from shotlog.review.answers import Answer, answers_of
from shotlog.review.beside import Beside
from shotlog.review.calls import Call, calls_of
from shotlog.review.choices import Choice, choices_of
from shotlog.review.costs import Bill, PartCounts, bill_of
from shotlog.review.drift import Drift
from shotlog.review.held import HeldGroup
from shotlog.review.history import History
from shotlog.review.ledger import insert_cost
from shotlog.review.look_first import ToInspect, inspect_first
from shotlog.review.lots import LotChange, LotRun, lot_changes
from shotlog.review.measured import Measured, measured_of
from shotlog.review.outages import Outage, outages_of
from shotlog.review.rejudged import Rejudged
from shotlog.review.relation import Relation
from shotlog.review.series import Pieces, pieces_of
from shotlog.review.shared import Shared
from shotlog.review.source import MountedStretch, PressRecord
from shotlog.review.states import PartRun, PressParts
from shotlog.review.stops import Stop, stops_of
from shotlog.review.suspects import Suspects, found_bad, suspects_of
from shotlog.review.swaps import Swap
from shotlog.review.turns import Turn
from shotlog.review.weighed import WeighedCounts, weighed_counts
from shotlog.settings import DesignSettings
from shotlog.store.asked.faults import FaultKind
from shotlog.store.asked.state import EntryRow
from shotlog.store.inserts.making import Making
from shotlog.store.parts.places import Place
from shotlog.store.parts.soaks import Soak

__all__ = ["LogAway", "PressReview", "press_review"]


@dataclass(frozen=True, slots=True)
class LogAway:
    """The log could not be written, up to `time`; `detail`: since when, why, and which shots of the press waited."""

    time: datetime
    detail: str


@dataclass(frozen=True, slots=True)
class PressReview:
    """One press over the period, shots `first` to `last`; `n_seen` of them were stored, `n_settling` not charted, of
    which `n_unjudged` were not judged either.

    `values` by channel, NaN where missing. `entered`: what people entered about the press and these shots, of every
    kind, that which was taken back as well.
    """

    press: str
    first: int
    last: int
    start: datetime
    end: datetime
    n_seen: int
    n_missed: int
    n_settling: int
    stretches: tuple[MountedStretch, ...]
    turns: tuple[Turn, ...]
    calls: tuple[Call, ...]
    answers: tuple[Answer, ...]
    rejudged: tuple[Rejudged, ...]
    suspects: tuple[Suspects, ...]
    lifted: tuple[Lifted, ...]
    held: tuple[HeldGroup, ...]
    runs: tuple[PartRun, ...]
    inspect_first: tuple[ToInspect, ...]
    shared: tuple[Shared, ...]
    swaps: tuple[Swap, ...]
    drifts: tuple[Drift, ...]
    stops: tuple[Stop, ...]
    lots: tuple[LotChange, ...]
    made_of: tuple[LotRun, ...]
    entries: tuple[EntryRow, ...]
    gaps: tuple[Gap, ...]
    filled: tuple[tuple[int, int], ...]
    outages: tuple[Outage, ...]
    weighed: WeighedCounts | None
    faults: tuple[FaultKind, ...]
    baselines: tuple[Baseline, ...]
    choices: tuple[Choice, ...]
    pieces: Pieces
    parts: PartCounts
    bill: Bill | None
    inspected: tuple[Inspection, ...]
    soaks: tuple[Soak, ...]
    places: tuple[Place, ...]
    measured: tuple[Measured, ...]
    relations: tuple[Relation, ...]
    shots: NDArray[np.int64]
    values: Mapping[str, NDArray[np.float64]]
    n_unjudged: int = 0
    pictures: tuple[Picture, ...] = ()
    log_away: tuple[LogAway, ...] = ()
    entered: tuple[MadeEntry, ...] = ()

    def who(self, kind: str, number: int) -> Who:
        """Return who made an entry about the press, by its kind (``decision``) and number."""
        return next((one.who for one in self.entered if (one.kind, one.number) == (kind, number)), NOBODY)


def press_review(
    history: History,
    beside: Beside,
    first: int,
    designs: Mapping[str, DesignSettings],
    parts: PressParts,
    shared: tuple[Shared, ...],
    held: tuple[HeldGroup, ...],
    made_of: tuple[LotRun, ...],
    made: Mapping[str, Making],
    results: Sequence[Inspection],
    soaked: Sequence[Soak],
    placed: Sequence[Place],
) -> PressReview | None:
    """Return what happened at a press from shot `first` on; None when it made no shot since."""
    record = history.record
    where = record.rows(first, record.last_shot)
    if where.start >= where.stop:
        return None
    outages = _outages(record, beside, None if first <= 0 else record.times[where.start])
    first, last = int(record.shots[where.start]), record.last_shot
    known = history.designs(designs)
    costs = {serial: design.cost for serial, design in known.items()}
    counted = parts.count(first, last)
    called = suspects_of(history, parts.doubts, costs, parts.count)
    every = [*called, *found_bad(history, parts.doubts, parts.count, called)]
    suspects = tuple(one for one in every if one.last >= first)
    swaps = tuple(swap for swap in history.swaps if swap.at_shot >= first)
    seen = set(record.shots[where].tolist())
    measured, relations = measured_of(record, first, results)
    return PressReview(
        press=record.press,
        first=first,
        last=last,
        start=record.times[where.start],
        end=record.times[-1],
        n_seen=where.stop - where.start,
        n_missed=sum(min(gap.last, last) - max(gap.first, first) + 1 for gap in record.gaps if gap.last >= first),
        n_settling=sum(int(shot) in record.settling for shot in record.shots[where]),
        stretches=tuple(one for one in record.stretches if one.last >= first),
        turns=tuple(turn for turn in record.turns if turn.last >= first),
        calls=calls_of(history, first),
        answers=answers_of(history, results, first),
        rejudged=tuple(
            one for one in beside.rejudged if any(e is not None and e.last >= first for e in (one.was, one.now))
        ),
        suspects=suspects,
        lifted=tuple(one for one in parts.lifted if one.last >= first),
        held=held,
        runs=parts.runs(first, last),
        inspect_first=inspect_first(suspects, held, swaps, results, seen - _settled(parts, first, last)),
        shared=shared,
        swaps=swaps,
        drifts=history.drifts(known, first),
        stops=tuple(stop for stop in stops_of(record) if stop.at_shot >= first),
        lots=tuple(lot for lot in lot_changes(record) if lot.noted >= first),
        made_of=made_of,
        entries=tuple(entry for entry in record.entries if entry.event.at_shot >= first),
        gaps=tuple(gap for gap in record.gaps if gap.last >= first),
        filled=tuple(span for span in record.filled if span[1] >= first),
        outages=outages,
        weighed=weighed_counts(record, beside.weighings, first),
        faults=_fault_kinds(beside.faults, record.times[where.start]),
        baselines=tuple(one for one in record.baselines if one.last >= first),
        choices=choices_of(record, first),
        pieces=pieces_of(record, first),
        parts=counted,
        bill=_bill(record, first, counted, known, made),
        inspected=tuple(one for one in results if one.part.shot >= first),
        soaks=tuple(one for one in soaked if one.part.shot >= first),
        places=tuple(one for one in placed if one.last >= first),
        measured=measured,
        relations=relations,
        shots=record.shots[where].copy(),
        values={name: record.values[where, at].copy() for at, name in enumerate(record.channels)},
        n_unjudged=sum(int(shot) in record.unjudged for shot in record.shots[where]),
        pictures=beside.pictures,
        log_away=tuple(LogAway(one.time, one.detail) for one in beside.faults if one.kind == LOG_AWAY),
    )


def _settled(parts: PressParts, first: int, last: int) -> set[int | None]:
    """Return shots whose parts nobody has to look at any more: released, scrapped, or known to be good."""
    let_go = (run for run in parts.runs(first, last) if run.state in ("released", "scrapped"))
    shots = {shot for run in let_go for shot in range(run.first, run.last + 1)}
    return {doubt.last_good for doubt in parts.doubts} | shots


def _outages(record: PressRecord, beside: Beside, since: datetime | None) -> tuple[Outage, ...]:
    """Return the outages that reach into a period; `since` is its first shot, None for the whole log."""
    links, linked = [one for one, _ in beside.links], [at_s for _, at_s in beside.links]
    steady = (linked, record.seconds.tolist())
    found = outages_of(links, record.times, record.shots.tolist(), record.gaps, steady)
    return tuple(one for one in found if since is None or one.end is None or one.end >= since)


def _fault_kinds(faults: Sequence[Fault], since: datetime) -> tuple[FaultKind, ...]:
    recent = [fault for fault in faults if fault.time >= since]
    found = []
    counted: Counter[str] = Counter()
    for fault in recent:
        counted[fault.kind] += 1 + fault.more
    for kind, n in counted.most_common():
        mine = [fault for fault in recent if fault.kind == kind]
        found.append(FaultKind(kind, n, mine[0].time, mine[-1].time, mine[0].shot, mine[0].detail, mine[-1].detail))
    return tuple(found)


def _bill(
    record: PressRecord,
    first: int,
    parts: PartCounts,
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
