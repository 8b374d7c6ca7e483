"""What people entered, of every kind that can be taken back, in force or not: who, when, and its number."""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from typing import Any

from sqlalchemy import ColumnElement, Connection, FromClause, Table, and_, func, or_, select, true

from shotlog.clock import parse_utc
from shotlog.entries import LIFE, SETUP
from shotlog.records import EVER, MadeEntry, Who
from shotlog.setup_text import spoken
from shotlog.store.log import schema
from shotlog.store.log.log import Log
from shotlog.store.log.order import EntryOrder
from shotlog.store.log.shots import FIRST_TO_COME, first_come, last_shot
from shotlog.store.log.signed import signature_of, signed_columns, signed_on
from shotlog.store.undo import UNDO

__all__ = ["about_and_text", "entries_made", "made_entry", "newest_entries", "swapped_by"]


def entries_made(
    log: Log, press: str | None = None, kinds: Collection[str] = UNDO, first: int = 0, last: int = EVER
) -> list[MadeEntry]:
    """Return what people entered about a press, or about all of them and the baths, in the order it was entered.

    Of some `kinds`; of what is about shots, what touches shots `first` to `last`.
    """
    with log.reading() as connection:
        found = [
            one
            for kind in kinds
            if press is None or _is_of_a_press(UNDO[kind])
            for one in _read(connection, kind, press=press or "", shots=(first, last))
        ]
        return _in_order(found, log.order(connection))


def newest_entries(log: Log, press: str, kinds: Sequence[str], n: int) -> list[MadeEntry]:
    """Return the `n` newest entries of some kinds about a press, in the order they were entered; not what the program
    tells of lives, of which one end may bring many.
    """
    with log.reading() as connection:
        found = [one for kind in kinds for one in _read(connection, kind, press=press, newest=n)]
        return _in_order(found, log.order(connection))[-n:]


def swapped_by(log: Log, press: str, first: int, last: int) -> dict[tuple[str, str, int], Who]:
    """Return who mounted and who removed an insert of a press at shots `first` to `last`, by kind of entry, serial and
    shot, of what is in force.
    """
    return {
        (one.kind, one.about, one.first or 0): one.who
        for one in entries_made(log, press, ("mounting", "removal"), first, last)
        if one.taken_back is None
    }


def _is_of_a_press(table: Table) -> bool:
    return "press_id" in table.c or table is schema.soak_ends


def _in_order(found: list[MadeEntry], order: EntryOrder) -> list[MadeEntry]:
    return sorted(found, key=lambda one: (order.place(UNDO[one.kind].name, one.number), one.kind, one.number))


def made_entry(log: Log, kind: str, number: int) -> MadeEntry | None:
    """Return one entry, in force or not."""
    with log.reading() as connection:
        return next(_read(connection, kind, number), None)


def _read(
    connection: Connection,
    kind: str,
    number: int | None = None,
    press: str = "",
    newest: int | None = None,
    shots: tuple[int, int] = (0, EVER),
) -> Iterator[MadeEntry]:
    table, gone = UNDO[kind], schema.corrections
    source: FromClause = table
    columns: list[Any] = [*table.c]
    for other, name in ((schema.presses, "name"), (schema.inserts, "serial"), (schema.baths, "name")):
        key = {"presses": "press_id", "inserts": "insert_id", "baths": "bath_id"}[other.name]
        if key in table.c:
            source = source.outerjoin(other, other.c.id == table.c[key])
            columns.append(other.c[name].label(f"of_{other.name}"))
    if table is schema.soak_ends:
        source = table.join(schema.soaks).join(schema.presses).join(schema.baths)
        columns += [schema.soaks.c.shot, schema.soaks.c.cavity]
        columns += [schema.presses.c.name.label("of_presses"), schema.baths.c.name.label("of_baths")]
    if table is schema.acknowledgements:
        told = schema.told
        begun = (told.c.spell == table.c.spell) & (told.c.receiver == "") & (told.c.phase == "begins")
        columns.append(select(func.min(told.c.said)).where(begun).scalar_subquery().label("told"))
    back = schema.signed.alias("back")
    source = source.outerjoin(gone, (gone.c.entry == table.name) & (gone.c.entry_id == table.c.id))
    source = source.outerjoin(schema.signed, signed_on(table)).outerjoin(back, signed_on(gone, back))
    columns += [gone.c.time.label("gone"), gone.c.reason.label("why"), gone.c.initials.label("gone_by")]
    columns += [*signed_columns(), *signed_columns(back)]
    query = select(*columns).select_from(source).order_by(table.c.id.desc()).limit(newest)
    if newest is not None and table is schema.events:
        query = query.where(table.c.kind != LIFE)
    if number is not None:
        query = query.where(table.c.id == number)
    if press:
        query = query.where(schema.presses.c.name == press)
    if shots != (0, EVER) and _is_of_a_press(table):
        query = query.where(_touches(table, *shots))
    for row in map(dict, connection.execute(query).mappings()):  # a row of the library says slowly what it has not
        first = next((row[name] for name in ("at_shot", "shot", "first") if row.get(name) is not None), None)
        if first == FIRST_TO_COME and last_shot(connection, row["of_presses"]) is not None:
            first = first_come(connection, row["of_presses"])
        about, text = about_and_text(kind, row)
        yield MadeEntry(
            kind,
            row["id"],
            row.get("of_presses") or "",
            first,
            row.get("last", first),
            row.get("cavity"),
            about,
            text,
            row.get("half") or "",
            row.get("initials") or "",
            parse_utc(row["time"]),
            None if row["gone"] is None else parse_utc(row["gone"]),
            row["why"] or "",
            row["gone_by"] or "",
            signature_of(row),
            signature_of(row, back),
            _at_press(connection, row) if kind == "event" and row["kind"] == SETUP else "",
        )


def _touches(table: Table, first: int, last: int) -> ColumnElement[bool]:
    """Return the condition that an entry is about some of these shots, about none, or about the first that comes."""
    source = schema.soaks if table is schema.soak_ends else table
    ends = [source.c[name] for name in ("first", "last", "at_shot", "shot") if name in source.c]
    if not ends:
        return true()
    begin, end = ends[0], ends[-1]
    return or_(begin.is_(None), begin == FIRST_TO_COME, and_(begin <= last, end >= first))


def _at_press(connection: Connection, row: Mapping[str, Any]) -> str:
    """Return who changed at the press what a set-up entry of the logger tells of; empty where nobody is known, or
    where its text says it.
    """
    table = schema.set_points
    changed = (table.c.press_id == row["press_id"], table.c.shot == row["at_shot"], table.c.by != "")
    if " at the press)" in row["text"] or not Who(row["initials"] or "", signature_of(row)).is_program:
        return ""
    rows = connection.execute(select(table.c.name, table.c.by).where(*changed).order_by(table.c.id)).all()
    return " and ".join(dict.fromkeys(one.by for one in rows if f"{spoken(one.name)} " in row["text"]))


def about_and_text(kind: str, row: Mapping[Any, Any]) -> tuple[str, str]:
    """Return what the row of an entry is about, and what was said of it."""
    return _SAID[kind](row)


def _measured(row: Mapping[Any, Any]) -> tuple[str, str]:
    return row["quantity"], ", ".join(filter(None, (row["given"], row["finding"])))


def _checked(row: Mapping[Any, Any]) -> tuple[str, str]:
    units = {"concentration": "mol/l", "temperature": "degC"}
    return row["of_baths"], ", ".join(f"{row[name]:g} {unit}" for name, unit in units.items() if row[name] is not None)


_SAID: dict[str, Callable[[Mapping[Any, Any]], tuple[str, str]]] = {
    "mounting": lambda row: (row["of_inserts"], "single-use" if row["single_use"] else ""),
    "removal": lambda row: (row["of_inserts"], row["reason"]),
    "event": lambda row: (row["kind"], row["text"]),
    "decision": lambda row: (row["decision"], row["reason"]),
    "inspection": _measured,
    "place": lambda row: (row["place"], ""),
    "picture": lambda row: (row["of_inserts"] or "", row["remark"]),
    "bath-in": lambda row: (row["of_baths"], ""),
    "bath-out": lambda row: (row["of_baths"], row["remark"]),
    "bath-check": _checked,
    "acknowledgement": lambda row: (row["about"], row["told"] or ""),
    "dimension": lambda row: (row["of_inserts"], f"{row['name']} {row['value_mm']:g} mm"),
}
"""What each kind is about, and what was said of it."""
