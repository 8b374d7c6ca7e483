"""What may be entered at a centre, as it waits there for its edge: rows of a log, with presses by their names.

The edge makes each row anew by the functions that its own people enter with, so that nothing goes in that they would be
refused; and it takes nothing else from a centre, whatever that holds.
"""

from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, Table, func, select

from shotlog.clock import parse_utc
from shotlog.entries import FINDING, NOTE
from shotlog.errors import UsageError
from shotlog.parts.let_go import PartSpan
from shotlog.parts.part import Part
from shotlog.records import MadeEntry, Signature
from shotlog.store.asked.entries_made import about_and_text
from shotlog.store.centre.said import TABLES, Said
from shotlog.store.inserts.entries import note_within
from shotlog.store.log import schema
from shotlog.store.log.log import Log
from shotlog.store.log.shots import FIRST_TO_COME
from shotlog.store.log.signed import signature_of, signed_columns, signed_on
from shotlog.store.log.transaction import Transaction
from shotlog.store.parts.dispositions import decide_within
from shotlog.store.parts.inspections import add_inspection
from shotlog.store.parts.parts import check_made, unmade
from shotlog.store.undo import UNDO, let_go_by, take_back_within

__all__ = [
    "ELSEWHERE",
    "KINDS_AT_CENTRE",
    "TABLES_AT_CENTRE",
    "UNREADABLE",
    "VIA",
    "as_listed",
    "enter_said",
    "is_same",
    "let_go_said",
    "made_said_of",
    "refuse_absent",
    "refuse_elsewhere",
    "row_said",
]

UNREADABLE = (ArithmeticError, AttributeError, LookupError, TypeError, ValueError)
"""What reading a row raises of which nothing can be made: it lacks a column, or holds what no release writes."""

VIA = "centre"
"""By what an entry came that was made at a centre."""

ELSEWHERE = "enter it at the press: at a centre people enter decisions on parts, inspections, notes and findings"

KINDS_AT_CENTRE = (FINDING, NOTE)
"""The kinds of entries about a press that can be entered at a centre."""
TABLES_AT_CENTRE = ("dispositions", "inspections", "events")
"""The tables of entries that can be entered there, and taken back by who did."""
KIND_OF = {table.name: kind for kind, table in UNDO.items()}
"""The kinds of entries as people name them, by the table each stands in."""


def as_listed(entry: str) -> str:
    """Return an entry (``dispositions:12``) by the kind and number that people know and `undo` takes; else empty."""
    table, _, number = entry.partition(":")
    return f"{KIND_OF[table]} {number}" if table in KIND_OF else ""


_COME_BY_THEMSELVES = (schema.judgings,)
"""Rows that a function of the log adds beside what is entered, and adds again at the edge."""


def row_said(connection: Connection, table: Table, row: Mapping[str, Any], signature: Signature | None) -> Said | None:
    """Return a row that somebody enters at a centre as it waits there; None for one that comes by itself.

    Raises
    ------
    UsageError
        It is nothing that can be entered there.
    """
    if table in _COME_BY_THEMSELVES:
        return None
    said: dict[str, Any] = {"table": table.name, **{name: value for name, value in row.items() if name != "press_id"}}
    if "press_id" in row:
        presses = schema.presses
        query = select(presses.c.name).where(presses.c.id == row["press_id"])
        said["press"] = connection.execute(query).scalar_one()
    refuse_elsewhere(said)
    if table is schema.corrections:
        _refuse_others(connection, said, signature)
    return said


def refuse_elsewhere(said: Said) -> None:
    """Refuse what cannot be entered at a centre.

    Raises
    ------
    UsageError
        It is such.
    """
    table, kind = said["table"], said.get("kind")
    if table not in TABLES or (table == "corrections" and said["entry"] not in TABLES_AT_CENTRE):
        raise UsageError(ELSEWHERE)
    if table == "events" and kind not in KINDS_AT_CENTRE:
        raise UsageError(f"{kind}: {ELSEWHERE}")
    if table == "dispositions" and said["cavity"] is None:
        raise UsageError(ELSEWHERE)


def refuse_absent(connection: Connection, said: Said) -> None:
    """Refuse what is about a press or a shot that the edge's log has not got: it was put back from a backup, or the
    entry was not made by a program of ours.

    Raises
    ------
    UsageError
        It is such.
    """
    if "press" not in said:
        return
    press, shots, gaps = said["press"], schema.shots, schema.gaps
    number = connection.execute(select(schema.presses.c.id).where(schema.presses.c.name == press)).scalar()
    if number is None:
        raise UsageError(f"press {press}: the log there has nothing of it")
    ends = [
        select(func.min(first), func.max(last)).where(table.c.press_id == number)
        for table, first, last in ((shots, shots.c.shot, shots.c.shot), (gaps, gaps.c.first, gaps.c.last))
    ]
    counted = [end for query in ends for end in connection.execute(query).one() if end is not None]
    oldest, newest = min(counted, default=FIRST_TO_COME), max(counted, default=FIRST_TO_COME)
    if said["table"] == "events":
        oldest, newest = FIRST_TO_COME, newest + 1  # an entry may be about what lay before the log, and what comes next
    for name in ("first", "last", "shot", "at_shot"):
        if name in said and not oldest <= said[name] <= newest:
            raise UsageError(f"shot {said[name]} of {press}: the press has counted no such shot")


def _refuse_others(connection: Connection, said: Said, signature: Signature | None) -> None:
    """Refuse to take back at a centre what was not entered there, or by somebody else."""
    table = TABLES[said["entry"]]
    query = select(*signed_columns()).select_from(table.join(schema.signed, signed_on(table)))
    row = connection.execute(query.where(table.c.id == said["entry_id"])).mappings().first()
    made = None if row is None else signature_of(row)
    if made is None or made.via != VIA:
        raise UsageError("it was not entered at a centre: take it back where it was")
    if signature is not None and not is_same(made, signature):
        raise UsageError(
            f"it was entered by {made.account or made.initials or 'somebody else'}, and by nobody else "
            "it is taken back at a centre"
        )


def is_same(one: Signature, other: Signature) -> bool:
    """Say whether two signatures are of the same person: of one account, or without any of the same initials."""
    return one.account == other.account and (bool(one.account) or one.initials == other.initials)


def let_go_said(log: Log, said: Said) -> list[PartSpan]:
    """Return the parts that a row would let go: those it releases, or what they are held or scrapped for."""
    if said["table"] == "dispositions" and said["decision"] == "released":
        return [PartSpan(said["press"], int(said["first"]), int(said["last"]), int(said["cavity"]))]
    return let_go_by(log, TABLES[said["entry"]], int(said["entry_id"])) if said["table"] == "corrections" else []


def made_said_of(said: Said, signature: Signature) -> MadeEntry:
    """Return a row as an entry that was made; of one that takes another back, `kind` and `number` are that one's."""
    time, who = parse_utc(said["time"]), said["initials"] or ""
    if said["table"] == "corrections":
        kind, number = KIND_OF[said["entry"]], int(said["entry_id"])
        return MadeEntry(
            kind, number, "", None, None, None, "", "", "", who, time, time, said["reason"], who, signature
        )
    first = next(said[name] for name in ("first", "shot", "at_shot") if name in said)
    kind, half = KIND_OF[said["table"]], said.get("half") or ""
    where = (said["press"], first, said.get("last", first), said.get("cavity"))
    return MadeEntry(kind, 0, *where, *about_and_text(kind, said), half, who, time, signature=signature)


def enter_said(work: Transaction, said: Said) -> None:
    """Enter a row that waited at a centre, by what the edge's own people enter it with.

    Raises
    ------
    UsageError
        The edge's log has something against it.
    """
    _ENTER[said["table"]](work, said, parse_utc(said["time"]))


def _decide(work: Transaction, said: Said, time: datetime) -> None:
    press, cavity = said["press"], int(said["cavity"])
    parts: Sequence[Part] = [Part(press, shot, cavity) for shot in range(int(said["first"]), int(said["last"]) + 1)]
    if said["decision"] != "released":
        parts = _made(work.connection, parts)
    decide_within(work, parts, said["decision"], time, reason=said["reason"], initials=said["initials"])


def _made(connection: Connection, parts: Sequence[Part]) -> Sequence[Part]:
    """Return the parts that are there by what the edge knows now: one noted as dry since must let no other one go."""
    none = unmade(connection, parts)
    return [part for part in parts if (part.press, part.shot) not in none] or parts


def _inspect(work: Transaction, said: Said, time: datetime) -> None:
    part = Part(said["press"], int(said["shot"]), int(said["cavity"]))
    check_made(work.connection, [part])
    names = ("quantity", "value", "low", "high", "unit", "given", "finding", "half", "instrument", "initials")
    row = {name: said[name] for name in names}
    _with_half(
        lambda half: add_inspection(work, part, time, parse_utc(said["inspected"]), **row | {"half": half}), said
    )


def _note(work: Transaction, said: Said, time: datetime) -> None:
    def note(half: str) -> None:
        about = (work, said["press"], said["kind"], said["text"], time)
        note_within(*about, at_shot=int(said["at_shot"]), half=half, initials=said["initials"] or "")

    _with_half(note, said)


def _with_half(enter: Callable[[str], object], said: Said) -> None:
    """Enter what was seen for the half that was named; without one where the edge knows by now that it was empty.

    What was found must not be lost: it then speaks against every half that may have made it.
    """
    half = said["half"] or ""
    try:
        enter(half)
    except UsageError:
        if not half:
            raise
        enter("")


def _take_back(work: Transaction, said: Said, time: datetime) -> None:
    _refuse_others(work.connection, said, None)
    take_back_within(work, said["entry"], int(said["entry_id"]), time, said["reason"], said["initials"] or "")


_ENTER: Mapping[str, Callable[[Transaction, Said, datetime], None]] = {
    "dispositions": _decide, "inspections": _inspect, "events": _note, "corrections": _take_back,
}  # fmt: skip
