"""What came into the log against some parts after a link of its chain; `shotlog.parts.let_go` is the rule that asks."""

from collections.abc import Collection, Iterable, Iterator, Mapping

from sqlalchemy import Connection, RowMapping, Table, select

from shotlog.parts.let_go import CALLED, INSPECTED, NOTED, TAKEN_BACK, Newer, PartSpan
from shotlog.parts.part import Part, spans_of
from shotlog.parts.told import INSPECTION
from shotlog.settings import DesignSettings
from shotlog.store.log import schema
from shotlog.store.log.corrections import standing
from shotlog.store.log.entered import in_force_from
from shotlog.store.log.log import Log
from shotlog.store.log.order import EntryOrder
from shotlog.store.parts.dispositions import decisions
from shotlog.store.parts.doubts import said_of_parts
from shotlog.store.parts.found import speaks_against, tells_of_parts
from shotlog.store.parts.inspections import inspection_of, read_inspections

__all__ = ["newer_about"]


def newer_about(
    log: Log,
    parts: Iterable[PartSpan],
    link: int,
    designs: Mapping[str, DesignSettings],
    known: Collection[str] = frozenset(),
) -> list[Newer]:
    """Return what came into the log after a link of its chain that speaks against letting some parts go.

    `known`: entries (``dispositions:12``) that count as there before, though they came later. `designs`: tell how many
    parts a shot makes.
    """
    found: list[Newer] = []
    with log.reading() as connection:
        order = log.order(connection)
        since = order.mark(connection, link)
        passed = {order.place(*_named(name)) for name in known}
        for span in parts:
            found += _said(log, connection, order, span)
            found += _taken_back(connection, order, span)
            found += _doubted(log, order, span, designs)
    return [one for one in found if one.place > since and one.place not in passed]


_RELEASED = "released"


def _named(name: str) -> tuple[str, int]:
    table, _, number = name.partition(":")
    return table, int(number)


def _said(log: Log, connection: Connection, order: EntryOrder, span: PartSpan) -> Iterator[Newer]:
    """Yield what people said against parts that is in force: decisions, inspections, and entries that tell of parts."""
    press, first, last = span.press, span.first, span.last
    for one in (one for one in decisions(log, press, first, last) if one.decision != _RELEASED):
        about = _cut(span, one.first, one.last, one.cavity)
        yield Newer(one.place, one.decision, about, f"dispositions:{one.entry_id}", one.initials)
    for result in (one for one in read_inspections(connection, press, first, last) if one.bad):
        about = PartSpan(press, result.part.shot, result.part.shot, result.part.cavity)
        place = order.place("inspections", result.entry_id)
        yield Newer(place, INSPECTED, about, f"inspections:{result.entry_id}", result.initials)
    table = schema.events
    query = select(table).join(schema.presses).where(schema.presses.c.name == press, standing(table))
    for row in connection.execute(query):
        shot = in_force_from(connection, press, row.at_shot)
        if speaks_against(row.kind, row.text) and first <= shot <= last:
            about = PartSpan(press, shot, shot)
            yield Newer(order.place("events", row.id), NOTED, about, f"events:{row.id}", row.initials or "")


def _taken_back(connection: Connection, order: EntryOrder, span: PartSpan) -> Iterator[Newer]:
    """Yield what was taken back of what had been said for parts: that a part was good, that it may go."""
    for table, first, last in (
        (schema.dispositions, "first", "last"),
        (schema.inspections, "shot", "shot"),
        (schema.events, "at_shot", "at_shot"),
    ):
        gone = schema.corrections
        joined = table.join(schema.presses).join(gone, (gone.c.entry == table.name) & (gone.c.entry_id == table.c.id))
        query = (
            select(
                gone.c.id.label("gone"),
                gone.c.initials.label("gone_by"),
                schema.presses.c.name.label("press"),
                *table.c,
            )
            .select_from(joined)
            .where(schema.presses.c.name == span.press, table.c[first] <= span.last, table.c[last] >= span.first)
        )
        for row in connection.execute(query).mappings():
            if not _spoke_for(table, row):
                continue
            about = _cut(span, row[first], row[last], row.get("cavity"))
            place = order.place(gone.name, row["gone"])
            yield Newer(place, TAKEN_BACK, about, f"{table.name}:{row['id']}", row["gone_by"] or "")


def _spoke_for(table: Table, row: RowMapping) -> bool:
    """Whether an entry said that parts may go, or nothing against it."""
    if table is schema.dispositions:
        return bool(row["decision"] == _RELEASED)
    if table is schema.inspections:
        return not inspection_of(row["press"], row).bad
    return tells_of_parts(row["kind"], row["text"]) and not speaks_against(row["kind"], row["text"])


def _doubted(log: Log, order: EntryOrder, span: PartSpan, designs: Mapping[str, DesignSettings]) -> Iterator[Newer]:
    """Yield what speaks against parts by itself, by when it first did."""
    doubts, _ = said_of_parts(log, span.press, span.first, span.last, designs=designs)
    for doubt in doubts:
        wrong = doubt.wrong
        what = CALLED if wrong is None else INSPECTED if doubt.basis == INSPECTION else NOTED
        entry, initials = ("", "") if wrong is None else (order.at(wrong.place), wrong.initials)
        by_place: dict[int, list[Part]] = {}
        for shot in range(max(doubt.first, span.first), min(doubt.last, span.last) + 1):
            by_place.setdefault(doubt.since[shot].place, []).append(Part(span.press, shot))
        for place, parts in by_place.items():
            for first, last in spans_of(parts):
                about = PartSpan(span.press, first.shot, last.shot)
                at = None if wrong is None or first.shot <= wrong.shot <= last.shot else wrong.shot or None
                yield Newer(place, what, about, entry, initials, at)


def _cut(span: PartSpan, first: int, last: int, cavity: int | None) -> PartSpan:
    return PartSpan(span.press, max(first, span.first), min(last, span.last), cavity)
