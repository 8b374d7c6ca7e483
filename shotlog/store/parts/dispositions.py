"""Which parts are held, released or scrapped.

Parts are held by themselves: from the early edge of an onset as soon as a verdict says watch or swap, and from a bad
part on to the end of its insert's stay as soon as an inspection finds it (see `doubts`). Only a person releases or
scraps, with a reason. A decision stands until newer evidence speaks against the part: then it is held again, and both
are shown.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import select

from shotlog.clock import iso_utc, parse_utc
from shotlog.errors import UsageError
from shotlog.settings import DesignSettings
from shotlog.store.log import schema
from shotlog.store.log.corrections import standing
from shotlog.store.log.log import Log
from shotlog.store.parts.doubts import Doubt, Lifted, doubts, said_of_parts
from shotlog.store.parts.parts import MadePart, Part, check_made, made_parts

__all__ = [
    "DECISIONS",
    "Decision",
    "Doubt",
    "PartStanding",
    "decide",
    "decisions",
    "doubts",
    "held_parts",
    "part_standings",
]

DECISIONS = ("held", "released", "scrapped")

_EVER = 2**62


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
class PartStanding:
    """How a part stands: ``made`` (nothing speaks against it), ``held``, ``released`` or ``scrapped``, and why.

    `again`: a person had released it, and newer evidence holds it again. `lifted`: calls that named it once and do not
    any more.
    """

    made: MadePart
    state: str
    doubts: tuple[Doubt, ...]
    lifted: tuple[Lifted, ...]
    decision: Decision | None
    again: bool

    @property
    def part(self) -> Part:
        return self.made.part

    @property
    def why(self) -> str:
        """The reason in words, empty where nothing speaks against the part and nothing ever did."""
        said = [doubt.text for doubt in self.doubts] + [f"no longer {one.text}" for one in self.lifted]
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
) -> list[PartStanding]:
    """Return how the parts of shots `first` to `last` stand, in order."""
    against: dict[int, list[Doubt]] = {}
    speaking, before = said_of_parts(log, press, first, last)
    for doubt in speaking:
        for shot in doubt.since:
            against.setdefault(shot, []).append(doubt)
    once: dict[int, list[Lifted]] = {}
    for one in before:
        for shot in range(one.first, one.last + 1):
            once.setdefault(shot, []).append(one)
    decided = decisions(log, press)
    return [
        _stands(made, against.get(made.part.shot, []), once.get(made.part.shot, []), decided)
        for made in made_parts(log, press, designs, first, last)
    ]


def held_parts(log: Log, press: str, designs: Mapping[str, DesignSettings]) -> list[PartStanding]:
    """Return the parts of a press that are held, in order."""
    return [standing for standing in part_standings(log, press, designs) if standing.state == "held"]


def _stands(made: MadePart, against: list[Doubt], once: list[Lifted], decided: list[Decision]) -> PartStanding:
    part = made.part
    said = next((decision for decision in reversed(decided) if decision.is_about(part)), None)
    newest = max((doubt.since[part.shot] for doubt in against), default=None)
    again = said is not None and said.decision == "released" and newest is not None and newest > said.time
    untouched = "held" if against else "made"
    state = untouched if said is None else "held" if again else said.decision
    return PartStanding(made, state, tuple(against), tuple(once), said, again)


def _spans(parts: list[Part]) -> list[tuple[Part, Part]]:
    """Return first and last part of each unbroken run of shots in one cavity."""
    spans: list[tuple[Part, Part]] = []
    for part in parts:
        if spans and spans[-1][1] == Part(part.press, part.shot - 1, part.cavity):
            spans[-1] = (spans[-1][0], part)
        else:
            spans.append((part, part))
    return spans
