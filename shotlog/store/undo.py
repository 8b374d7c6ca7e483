"""Taking back what was entered, whatever it is about: it stays on record, out of force. And entering it once more."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, Connection, Table, and_, select

from shotlog.clock import iso_utc, parse_utc
from shotlog.entries import NONE_GOOD
from shotlog.errors import UsageError
from shotlog.parts.let_go import PartSpan
from shotlog.records import EVER, Event, Insert, Mounting, Removal, Signature
from shotlog.store.inserts.entries import entered_with, mount_within, note_within, remove_within
from shotlog.store.log import schema
from shotlog.store.log.corrections import correct, is_standing, standing
from shotlog.store.log.entered import event_of
from shotlog.store.log.judgements import judge_again
from shotlog.store.log.log import Log
from shotlog.store.log.signed import signed_on
from shotlog.store.log.transaction import Entered, Transaction
from shotlog.store.parts.dispositions import refuse_nameless
from shotlog.store.parts.found import found_on

__all__ = ["UNDO", "act_of_taking_back", "enter_again", "let_go_by", "take_back", "take_back_within"]

UNDO: dict[str, Table] = {
    "mounting": schema.mountings,
    "removal": schema.removals,
    "event": schema.events,
    "decision": schema.dispositions,
    "inspection": schema.inspections,
    "place": schema.places,
    "picture": schema.pictures,
    "bath-in": schema.soaks,
    "bath-out": schema.soak_ends,
    "bath-check": schema.bath_checks,
    "dimension": schema.dimensions,
    "acknowledgement": schema.acknowledgements,
}
"""What can be taken back: the kinds as people name them, and the table that each stands in."""

_TABLES = {table.name: table for table in UNDO.values()}
_JUDGED = ("mountings", "removals", "events")
"""Entries about a press: the shots from theirs on are judged again without them. The others change no verdict."""

_IN_TURN = ("soaks", "soak_ends")
"""Entries that others rest on: they are not entered again as they were, but by putting the part in or taking it out."""


def take_back(
    log: Log, entry: str, entry_id: int, time: datetime, reason: str, initials: str = ""
) -> Event | Mounting | Removal | None:
    """Take an entry out of force; it stays on record. `entry` is the table it stands in.

    With a mounting goes the removal that was entered with it, of the insert that it replaced.

    Returns
    -------
    Event | Mounting | Removal | None
        What was taken back, where it is an entry about a press.

    Raises
    ------
    UsageError
        There is no such entry, it was taken back before, something rests on it, or no reason is given; or it is a
        decision and nobody says who takes it back: that lets parts go, or holds them.
    """
    with log.transaction() as work:
        return take_back_within(work, entry, entry_id, time, reason, initials)


def take_back_within(
    work: Transaction, entry: str, entry_id: int, time: datetime, reason: str, initials: str = ""
) -> Event | Mounting | Removal | None:
    """Take back what `take_back` does, within a transaction."""
    table = _table(entry)
    _refuse_rested_on(work, entry, entry_id)
    correct(work, table, entry_id, reason, time, initials)
    if table is schema.dispositions:
        refuse_nameless("a decision on parts is taken back", initials)
    for number, _ in entered_with(work.connection, entry_id) if table is schema.mountings else ():
        if is_standing(work.connection, schema.removals, number):
            correct(work, schema.removals, number, reason, time, initials)
    if entry not in _JUDGED:
        return None
    record = _about_a_press(work, table, entry_id)
    judge_again(work, record.press, record.at_shot, f"entry taken back: {reason}", time)
    return record


def act_of_taking_back(log: Log, entry: str, entry_id: int, signature: Signature) -> str:
    """Return the act (see `shotlog.access.roles`) that it is for whom a signature names to take an entry back.

    What holds parts by itself lets them go once it is out of force: what somebody found wrong, or that none before it
    is known to be good. Whoever entered it, by the log-in, may take that slip back.
    """
    table = _table(entry)
    if table is schema.dispositions:
        return "decide"
    numbers = [(table, entry_id)]
    with log.reading() as connection:
        if table is schema.mountings:
            numbers += [(schema.removals, number) for number, _ in entered_with(connection, entry_id)]
        others = [one for one in numbers if not _is_of(connection, *one, signature)]
    return "let go" if any(let_go_by(log, *one) for one in others) else "enter"


def _is_of(connection: Connection, table: Table, entry_id: int, signature: Signature) -> bool:
    """Whether an entry was made under the log-in that a signature names."""
    query = select(schema.signed.c.account).select_from(table.join(schema.signed, signed_on(table)))
    account = connection.execute(query.where(table.c.id == entry_id)).scalar()
    return bool(account) and account == signature.account


def let_go_by(log: Log, table: Table, entry_id: int) -> list[PartSpan]:
    """Return the parts that are held, or scrapped, for an entry in force by itself: taking it back may let them go.

    What was found wrong holds its own part and others, by the rule of `shotlog.parts.found`.
    """
    if table not in (schema.events, schema.removals, schema.inspections, schema.dispositions):
        return []
    query = (
        select(schema.presses.c.name, *table.c).select_from(table.join(schema.presses)).where(table.c.id == entry_id)
    )
    with log.reading() as connection:
        row = connection.execute(query).mappings().first()
        if row is None or not is_standing(connection, table, entry_id):
            return []
        place = log.order(connection).place(table.name, entry_id)
    press = row["name"]
    if table is schema.dispositions:
        kept = row["decision"] != "released"
        return [PartSpan(press, row["first"], row["last"], row["cavity"])] if kept else []
    if table is schema.events and row["kind"] == NONE_GOOD:
        return [PartSpan(press, 0, EVER)]
    found = (one for one in found_on(log, press, log.timeline(press)) if one.wrong.place == place)
    return [
        PartSpan(press, first, last)
        for one in found
        for first, last in [(one.wrong.shot, one.wrong.shot), *((held.first, held.last) for held in one.held)]
    ]


def enter_again(
    log: Log, entry: str, entry_id: int, time: datetime, initials: str = ""
) -> tuple[int, Event | Mounting | Removal | None]:
    """Enter once more, as an entry of its own, what was taken back; returns its number, and it as `take_back` does.

    The pictures that were taken with a finding go with it.

    Raises
    ------
    UsageError
        There is no such entry, it is in force, itself or as a later entry, or what was entered since stands against it;
        or it releases or scraps parts and nobody says who.
    """
    table = _table(entry)
    with log.transaction() as work:
        row = work.connection.execute(select(table).where(table.c.id == entry_id)).mappings().first()
        if row is None:
            raise UsageError(f"entry {entry_id} of {entry}: there is none")
        if is_standing(work.connection, table, entry_id):
            raise UsageError(f"entry {entry_id} of {entry}: it is in force, allowed: one that was taken back")
        if entry in _IN_TURN:
            raise UsageError(f"entry {entry_id} of {entry}: put the part in or take it out again as it is now")
        if (since := _entered_since(work, table, row)) is not None:
            raise UsageError(f"entry {entry_id} of {entry}: it is in force again, as entry {since}")
        if entry in _JUDGED:
            out = [reason for _, reason in entered_with(work.connection, entry_id)] if entry == "mountings" else []
            made = _once_more(work, _about_a_press(work, table, entry_id), time, initials, *out[:1])
            if table is schema.events:
                _take_pictures_along(work, entry_id, made.entry_id, time, initials)
            return made.entry_id, made.record
        if table is schema.dispositions and row["decision"] != "held":
            refuse_nameless(f"parts are {row['decision']}", initials)
        again = {"time": iso_utc(time), "initials": initials or row["initials"]}
        return work.add(table, **_without_number(row) | again), None


def _without_number(row: Mapping[Any, Any]) -> dict[str, Any]:
    return {name: value for name, value in row.items() if name != "id"}


def _entered_since(work: Transaction, table: Table, row: Mapping[Any, Any]) -> int | None:
    """Return the number of a later entry in force that says the same, whoever entered it, or None."""
    said = [table.c[name] for name in row if name not in ("id", "time", "initials")]
    same = [column.is_(None) if row[column.name] is None else column == row[column.name] for column in said]
    query = select(table.c.id).where(table.c.id > row["id"], standing(table), *same)
    return work.connection.execute(query).scalar()


def _take_pictures_along(work: Transaction, before: int, again: int, time: datetime, initials: str) -> None:
    """Enter the pictures of a finding for the finding that it was entered again as."""
    table = schema.pictures
    query = select(table).where(table.c.event_id == before, standing(table)).order_by(table.c.id)
    for row in work.connection.execute(query).mappings().all():
        correct(work, table, row["id"], f"its finding was entered again, as entry {again}", time, initials)
        work.add(table, **_without_number(row) | {"event_id": again, "time": iso_utc(time)})


def _once_more(
    work: Transaction, record: Event | Mounting | Removal, time: datetime, initials: str, came_out: str = ""
) -> Entered[Event] | Entered[Mounting] | Entered[Removal]:
    who = initials or record.initials
    match record:
        case Event():
            return note_within(
                work, record.press, record.kind, record.text, time,
                at_shot=record.at_shot, half=record.half, initials=who,
            )  # fmt: skip
        case Removal():
            return remove_within(
                work, record.press, record.serial, time, reason=record.reason, at_shot=record.at_shot, initials=who
            )
        case Mounting():
            return mount_within(
                work, record.press, record.insert.serial, time,
                half=record.half, at_shot=record.at_shot, single_use=record.single_use, initials=who, reason=came_out,
            )  # fmt: skip


def _table(entry: str) -> Table:
    if entry not in _TABLES:
        raise UsageError(f"entry: given {entry!r}, allowed: {', '.join(_TABLES)}")
    return _TABLES[entry]


def _about_a_press(work: Transaction, table: Table, entry_id: int) -> Event | Mounting | Removal:
    presses, inserts, designs = schema.presses, schema.inserts, schema.designs
    joined = table.join(presses)
    columns: list[ColumnElement[Any]] = [*table.c, presses.c.name.label("press")]
    if table is not schema.events:
        joined = joined.join(inserts).outerjoin(designs)
        columns += [inserts.c.serial, inserts.c.print_batch, designs.c.name.label("design")]
    query = select(*columns).select_from(joined).where(table.c.id == entry_id)
    row = work.connection.execute(query).mappings().one()
    press, at_shot, time = row["press"], row["at_shot"], parse_utc(row["time"])
    if table is schema.events:
        return event_of(press, row)
    if table is schema.removals:
        return Removal(press, row["serial"], at_shot, time, row["reason"], row["initials"] or "")
    insert = Insert(row["serial"], row["design"] or "", row["print_batch"])
    return Mounting(press, row["half"], insert, at_shot, time, row["single_use"], row["initials"] or "")


def _refuse_rested_on(work: Transaction, entry: str, entry_id: int) -> None:
    """Refuse to take back a stay in a bath, or its end, that a later entry goes on from."""
    if entry == "soaks":
        ends = schema.soak_ends
        query = select(ends.c.id).where(ends.c.soak_id == entry_id, standing(ends))
        if (end := work.connection.execute(query).scalar()) is not None:
            raise UsageError(f"entry {entry_id} of soaks: the part came out (entry {end}); take that back first")
    if entry == "soak_ends" and (again := _in_again(work, entry_id)) is not None:
        raise UsageError(f"entry {entry_id} of soak_ends: the part is in again (entry {again}); take that back first")


def _in_again(work: Transaction, end_id: int) -> int | None:
    """Return the later stay in a bath of the part that came out, or None: a part is in one bath at a time."""
    ends, later, first = schema.soak_ends, schema.soaks, schema.soaks.alias("first")
    same_part = and_(*(later.c[name] == first.c[name] for name in ("press_id", "shot", "cavity")))
    query = (
        select(later.c.id)
        .select_from(ends.join(first, first.c.id == ends.c.soak_id).join(later, same_part))
        .where(ends.c.id == end_id, later.c.id > first.c.id, standing(later))
    )
    return work.connection.execute(query).scalar()
