"""What people decided of parts, and how parts stand by the rule of `shotlog.parts.standing`."""

from collections.abc import Container, Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import select

from shotlog.clock import iso_utc, parse_utc
from shotlog.errors import UsageError
from shotlog.parts.doubt import Doubt, Lifted
from shotlog.parts.held import HeldNow, held_now
from shotlog.parts.part import Part, spans_of
from shotlog.parts.standing import DECISIONS, Decision, Ground, PartStanding, standings
from shotlog.records import EVER
from shotlog.settings import DesignSettings
from shotlog.store.log import schema
from shotlog.store.log.corrections import standing
from shotlog.store.log.log import Log
from shotlog.store.log.timeline import Timeline
from shotlog.store.log.transaction import Transaction
from shotlog.store.parts.doubts import said_of_parts
from shotlog.store.parts.inspections import inspected_shots
from shotlog.store.parts.parts import check_made, made_before, made_parts

__all__ = [
    "NobodySays",
    "decide_within",
    "decisions",
    "enter_decision",
    "held_among",
    "held_parts",
    "part_standings",
    "refuse_nameless",
]


class NobodySays(UsageError):
    """Parts are to be released, scrapped or held no more, and nobody says who does that; `what`: that they are."""

    def __init__(self, what: str) -> None:
        self.what = what
        super().__init__(
            f"initials: given nothing, allowed: yours; {what} only by somebody who says who, so enter them first"
        )


def enter_decision(
    log: Log, parts: Iterable[Part], decision: str, time: datetime, *, reason: str = "", initials: str = ""
) -> list[Decision]:
    """Enter a person's decision on parts; one row for each unbroken span of shots of one cavity.

    Raises
    ------
    UsageError
        A part was never moulded, the decision is not known, or a release or scrapping has no reason or no initials.
    """
    with log.transaction() as work:
        return decide_within(work, parts, decision, time, reason=reason, initials=initials)


def decide_within(
    work: Transaction, parts: Iterable[Part], decision: str, time: datetime, *, reason: str = "", initials: str = ""
) -> list[Decision]:
    """Enter what `enter_decision` enters, within a transaction."""
    if decision not in DECISIONS:
        raise UsageError(f"decision: given {decision!r}, allowed: {', '.join(DECISIONS)}")
    if decision != "held" and not reason.strip():
        raise UsageError(f"reason: given nothing, allowed: a few words that say why parts are {decision}")
    if decision != "held":
        refuse_nameless(f"parts are {decision}", initials)
    chosen = list(parts)
    check_made(work.connection, chosen)
    added = []
    for first, last in spans_of(chosen):
        row: dict[str, Any] = {"first": first.shot, "last": last.shot, "cavity": first.cavity, "decision": decision}
        row |= {"reason": " ".join(reason.split()), "initials": initials}
        press_id = work.press_id(first.press, iso_utc(time))
        entry_id = work.add(schema.dispositions, press_id=press_id, time=iso_utc(time), **row)
        added.append(Decision(entry_id, first.press, time=time, **row))
    return added


def refuse_nameless(what: str, initials: str) -> None:
    """Refuse to let parts go, or to scrap them, where nobody says who does.

    Raises
    ------
    NobodySays
        No initials are given.
    """
    if not initials.strip():
        raise NobodySays(what)


def decisions(log: Log, press: str, first: int = 0, last: int = EVER) -> list[Decision]:
    """Return the decisions in force on parts of shots `first` to `last`, in the order they were entered."""
    table = schema.dispositions
    names = ("id", "time", "first", "last", "cavity", "decision", "reason", "initials")
    query = (
        select(*(table.c[name] for name in names))
        .join(schema.presses)
        .where(schema.presses.c.name == press, table.c.first <= last, table.c.last >= first, standing(table))
        .order_by(table.c.id)
    )
    with log.reading() as connection:
        order = log.order(connection)
        return [
            Decision(
                number,
                press,
                since,
                upto,
                cavity,
                decision,
                reason,
                initials,
                parse_utc(time),
                order.place(table.name, number),
            )
            for number, time, since, upto, cavity, decision, reason, initials in connection.execute(query)
        ]


def part_standings(
    log: Log,
    press: str,
    designs: Mapping[str, DesignSettings],
    first: int = 0,
    last: int = EVER,
    timeline: Timeline | None = None,
    said: tuple[Sequence[Doubt], Sequence[Lifted]] | None = None,
) -> list[PartStanding]:
    """Return how the parts of shots `first` to `last` stand, in order.

    `timeline`: that of the press, `said`: what `said_of_parts` found of these shots, where it has been read already.
    """
    timeline = timeline or log.timeline(press)
    made = made_parts(log, press, designs, first, last, timeline)
    said = said or said_of_parts(log, press, first, last, timeline, designs)
    return standings(made, *said, decisions(log, press, first, last))


def held_parts(log: Log, press: str, designs: Mapping[str, DesignSettings]) -> list[PartStanding]:
    """Return the parts of a press that are held, in order."""
    return [standing for standing in part_standings(log, press, designs) if standing.state == "held"]


def held_among(
    log: Log, press: str, stands: Iterable[tuple[Part, Ground]], decided: Sequence[Decision], dry: Container[int]
) -> HeldNow | None:
    """Return what is held of a press in blocks of shots, and what to inspect first; None where nothing is.

    `stands`: its parts whose standing is known, `dry`: shots that made none.
    """
    shots = inspected_shots(log, press)
    return held_now(stands, lambda shot: made_before(log, press, shot, dry), shots, decided)
