"""Which parts are held, released or scrapped.

Parts are held by themselves: from the early edge of an onset as soon as a verdict says watch or swap, and from a bad
part on to the end of its insert's stay as soon as an inspection finds it. Only a person releases or scraps, with a
reason. A decision stands until newer evidence speaks against the part: then it is held again, and both are shown.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import select

from shotlog.clock import iso_utc, parse_utc
from shotlog.errors import UsageError
from shotlog.settings import DesignSettings
from shotlog.store import schema
from shotlog.store.corrections import standing
from shotlog.store.ends import insert_ends
from shotlog.store.inspections import inspections
from shotlog.store.judgements import in_force
from shotlog.store.log import Log
from shotlog.store.parts import MadePart, Part, check_made, made_parts

__all__ = ["DECISIONS", "Decision", "Doubt", "Standing", "decide", "decisions", "held_parts", "part_standings"]

DECISIONS = ("held", "released", "scrapped")

_EVER = 2**62


@dataclass(frozen=True, slots=True)
class Doubt:
    """Why parts of shots `first` to `last` are held without anybody having said so.

    `basis`: ``verdict`` or ``inspection``; `serial`: the insert it is about; `text`: in words. `since`: for each shot,
    when the evidence first spoke against it.
    """

    press: str
    basis: str
    serial: str
    first: int
    last: int
    text: str
    since: Mapping[int, datetime]


@dataclass(frozen=True, slots=True)
class Decision:
    """What a person decided of the parts of shots `first` to `last`; `cavity` is None for all cavities."""

    entry_id: int
    press: str
    first: int
    last: int
    cavity: int | None
    decision: str
    reason: str
    initials: str
    time: datetime

    def is_about(self, part: Part) -> bool:
        """Say whether this was decided of a part."""
        return self.first <= part.shot <= self.last and self.cavity in (None, part.cavity)


@dataclass(frozen=True, slots=True)
class Standing:
    """How a part stands: ``made`` (nothing speaks against it), ``held``, ``released`` or ``scrapped``, and why.

    `again`: a person had released it, and newer evidence holds it again.
    """

    made: MadePart
    state: str
    doubts: tuple[Doubt, ...]
    decision: Decision | None
    again: bool

    @property
    def part(self) -> Part:
        return self.made.part

    @property
    def why(self) -> str:
        """The reason in words, empty where nothing speaks against the part."""
        said = [doubt.text for doubt in self.doubts]
        decided = [] if self.decision is None else [f"{self.decision.decision}: {self.decision.reason}".rstrip(": ")]
        return "; ".join(said + decided if self.state == "held" else decided + said)


def decide(
    log: Log, parts: Iterable[Part], decision: str, time: datetime, *, reason: str = "", initials: str = ""
) -> list[Decision]:
    """Enter a person's decision on parts; one row for each unbroken span of shots of one cavity.

    Raises
    ------
    UsageError
        A part was never moulded, the decision is not known, or a release or scrapping has no reason.
    """
    if decision not in DECISIONS:
        raise UsageError(f"decision: given {decision!r}, allowed: {', '.join(DECISIONS)}")
    if decision != "held" and not reason.strip():
        raise UsageError(f"reason: given nothing, allowed: a few words that say why parts are {decision}")
    chosen = sorted(set(parts), key=lambda part: (part.press, part.cavity, part.shot))
    with log.transaction() as work:
        check_made(work.connection, chosen)
        added = []
        for first, last in _spans(chosen):
            row: dict[str, Any] = {"first": first.shot, "last": last.shot, "cavity": first.cavity, "decision": decision}
            row |= {"reason": " ".join(reason.split()), "initials": initials}
            press_id = work.press_id(first.press, iso_utc(time))
            entry_id = work.add(schema.dispositions, press_id=press_id, time=iso_utc(time), **row)
            added.append(Decision(entry_id, first.press, time=time, **row))
    return added


def decisions(log: Log, press: str) -> list[Decision]:
    """Return the decisions in force on a press's parts, in the order they were entered."""
    table = schema.dispositions
    query = (
        select(table).join(schema.presses).where(schema.presses.c.name == press, standing(table)).order_by(table.c.id)
    )
    names = ("first", "last", "cavity", "decision", "reason", "initials")
    with log.reading() as connection:
        return [
            Decision(row["id"], press, time=parse_utc(row["time"]), **{name: row[name] for name in names})
            for row in connection.execute(query).mappings()
        ]


def part_standings(
    log: Log, press: str, designs: Mapping[str, DesignSettings], first: int = 0, last: int = _EVER
) -> list[Standing]:
    """Return how the parts of shots `first` to `last` stand, in order."""
    against: dict[int, list[Doubt]] = {}
    for doubt in doubts(log, press):
        for shot in doubt.since:
            against.setdefault(shot, []).append(doubt)
    decided = decisions(log, press)
    return [
        _stands(made, against.get(made.part.shot, []), decided) for made in made_parts(log, press, designs, first, last)
    ]


def held_parts(log: Log, press: str, designs: Mapping[str, DesignSettings]) -> list[Standing]:
    """Return the parts of a press that are held, in order."""
    return [standing for standing in part_standings(log, press, designs) if standing.state == "held"]


def doubts(log: Log, press: str) -> list[Doubt]:
    """Return what speaks against parts of a press by itself, in order of first shot."""
    return sorted([*_by_verdict(log, press), *_by_inspection(log, press)], key=lambda doubt: doubt.first)


def _stands(made: MadePart, against: list[Doubt], decided: list[Decision]) -> Standing:
    part = made.part
    said = next((decision for decision in reversed(decided) if decision.is_about(part)), None)
    newest = max((doubt.since[part.shot] for doubt in against), default=None)
    again = said is not None and said.decision == "released" and newest is not None and newest > said.time
    untouched = "held" if against else "made"
    state = untouched if said is None else "held" if again else said.decision
    return Standing(made, state, tuple(against), said, again)


def _spans(parts: list[Part]) -> list[tuple[Part, Part]]:
    """Return first and last part of each unbroken run of shots in one cavity."""
    spans: list[tuple[Part, Part]] = []
    for part in parts:
        if spans and spans[-1][1] == Part(part.press, part.shot - 1, part.cavity):
            spans[-1] = (spans[-1][0], part)
        else:
            spans.append((part, part))
    return spans


def _by_verdict(log: Log, press: str) -> list[Doubt]:
    """Return a doubt for each unbroken run of shots on one insert whose verdict in force was watch or swap.

    A verdict made again by a later judging is not newer evidence: a part counts as named since the first verdict of
    that run that named it, under whichever judging.
    """
    table, judgings, shots = schema.verdicts, schema.judgings, schema.shots
    moment = select(shots.c.time).where(shots.c.press_id == table.c.press_id, shots.c.shot == table.c.shot)
    query = (
        select(
            table.c.shot, table.c.insert, table.c.verdict, table.c.cause, table.c.onset, table.c.onset_low,
            judgings.c.time.label("judged"), moment.scalar_subquery().label("moulded"),
            in_force(table, table.c.shot).label("stands"),
        )
        .select_from(table.join(judgings, judgings.c.id == table.c.judging_id))
        .join(schema.presses, schema.presses.c.id == table.c.press_id)
        .where(schema.presses.c.name == press, table.c.verdict != "keep")
        .order_by(table.c.shot, table.c.id)
    )  # fmt: skip
    with log.reading() as connection:
        rows = connection.execute(query).all()
    runs: list[list[Any]] = []
    for row in (row for row in rows if row.stands):
        follows = runs and runs[-1][-1].insert == row.insert and runs[-1][-1].shot == row.shot - 1
        runs[-1].append(row) if follows else runs.append([row])
    return [_run_doubt(press, run, [row for row in rows if run[0].shot <= row.shot <= run[-1].shot]) for run in runs]


def _run_doubt(press: str, run: list[Any], every: list[Any]) -> Doubt:
    named = {shot for row in run for shot in range(_early_edge(row), row.shot + 1)}
    since: dict[int, datetime] = {}
    for row in every:
        said = max(parse_utc(row.judged), parse_utc(row.moulded))
        for shot in range(_early_edge(row), row.shot + 1):
            if shot in named and (shot not in since or said < since[shot]):
                since[shot] = said
    last = run[-1]
    cause = f", {last.cause}" if last.cause else ""
    onset = "" if last.onset is None else f", onset {last.onset}"
    text = f"{last.verdict} at shot {last.shot} on {last.insert or 'no insert on record'}{cause}{onset}"
    return Doubt(press, "verdict", last.insert, min(named), max(named), text, since)


def _early_edge(row: Any) -> int:
    edge = row.onset_low if row.onset_low is not None else row.onset
    return int(row.shot if edge is None else min(edge, row.shot))


def _by_inspection(log: Log, press: str) -> list[Doubt]:
    """Return a doubt for each bad part, and from the first bad one of an insert on for the rest of its stay."""
    found = []
    for result in inspections(log, press):
        if result.bad:
            shot = result.part.shot
            text = f"inspection of {result.part}: {result}"
            found.append(Doubt(press, "inspection", "", shot, shot, text, {shot: result.entered}))
    latest = log.last_shot(press)
    for end in insert_ends(log):
        if end.bad is None or end.bad.part.press != press or latest is None:
            continue
        stay = next(
            stay for stay in end.stays if stay.mounting.press == press and stay.first <= end.bad.part.shot < stay.end
        )
        later = range(end.bad.part.shot + 1, int(min(stay.end, latest[0] + 1)))
        if later:
            text = f"made on {end.serial} after its first bad part ({end.bad.part})"
            since = dict.fromkeys(later, end.bad.entered)
            found.append(Doubt(press, "inspection", end.serial, later[0], later[-1], text, since))
    return found
