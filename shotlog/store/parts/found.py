"""What people said of parts and of what made them, as the log holds it; the rule is in `shotlog.parts.found`."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sqlalchemy import Connection, Select, Table, or_, select

from shotlog.clock import parse_utc
from shotlog.entries import GOOD, KINDS, NONE_GOOD
from shotlog.parts.ending import damage_in, tells_damage
from shotlog.parts.found import FoundWrong, found_wrong
from shotlog.parts.inspection import Inspection
from shotlog.parts.told import FINDING, INSPECTION, NOTE, TAKEN_OUT, Released, Sound, Told, Wrong
from shotlog.records import EVER, Stay
from shotlog.settings import DesignSettings
from shotlog.store.log import schema
from shotlog.store.log.corrections import standing
from shotlog.store.log.entered import in_force_from
from shotlog.store.log.log import Log
from shotlog.store.log.order import EntryOrder
from shotlog.store.log.shots import FIRST_TO_COME, first_come, last_shot
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts.inspections import read_inspections
from shotlog.store.parts.parts import cavities_at

__all__ = ["found_on", "speaks_against", "tells_of_parts"]

_SEEN = tuple(name for name, kind in KINDS.items() if kind.effect.found)
_SOUND = tuple(name for name, kind in KINDS.items() if kind.effect.sound)
_ASKED = (*_SEEN, *_SOUND, NOTE, GOOD, NONE_GOOD)
"""The kinds of entries that are read; notes as well, of which some are about damage."""


def tells_of_parts(kind: str, text: str) -> bool:
    """Whether an event of a kind is read here at all: a set-up, a lot or a note of no damage changes nothing found."""
    return kind in _ASKED and (kind != NOTE or bool(damage_in(text)))


def speaks_against(kind: str, text: str) -> bool:
    """Whether an event of a kind may speak against parts; that an insert is sound, or a part good, does not."""
    return tells_of_parts(kind, text) and kind not in (*_SOUND, GOOD)


def found_on(
    log: Log,
    press: str,
    timeline: Timeline,
    designs: Mapping[str, DesignSettings] | None = None,
    first: int = 0,
    last: int = EVER,
) -> list[FoundWrong]:
    """Return what people found wrong on a press, in the order of the log, and what is held for it.

    `timeline`: that of the press. `designs`: tell how many parts a shot makes, one where they are not given. Of what
    holds no part of shots `first` to `last`, some may be left out, and whether it `asks` is not told then.
    """
    with log.reading() as connection:
        newest = last_shot(connection, press)
        if newest is None:
            return []
        order, stays = log.order(connection), timeline.stays
        back = _reach_back(connection, press, stays, first, last)
        near, answers = schema.events.c.at_shot, schema.events.c.kind.in_((GOOD, NONE_GOOD))
        asked = _of(schema.events, press).where(schema.events.c.kind.in_(_ASKED))
        rows = connection.execute(asked.where(or_(near >= back, near == FIRST_TO_COME, answers))).mappings()
        noted = [{**row, "at_shot": in_force_from(connection, press, row["at_shot"])} for row in rows]
        bad = _bad(connection, press, order, back)
        wrong = [*_seen(noted, order), *_taken_out(connection, press, stays, order, back), *bad]
        if not wrong:
            return []
        since = min((stay.first for one in wrong for stay in timeline.stays_at(one.shot).values()), default=0)
        since = max(since, back)
        results = read_inspections(connection, press, since)
        first_shot = first_come(connection, press)
        halves = _of(schema.mountings, press, "id", "half")
        mounted = [(order.place("mountings", number), half) for number, half in connection.execute(halves)]
        decisions = _of(schema.dispositions, press, "id", "first", "last", "cavity", "decision")
        decided = [
            Released(order.place("dispositions", number), since, upto, cavity, decision == "released")
            for number, since, upto, cavity, decision in connection.execute(
                decisions.where(schema.dispositions.c.last >= back)
            )
        ]
    told = Told(
        wrong,
        stays,
        newest[0],
        [(order.place("events", row["id"]), row["at_shot"]) for row in noted if row["kind"] == GOOD],
        [(order.place("events", row["id"]), row["at_shot"]) for row in noted if row["kind"] == NONE_GOOD],
        [
            Sound(order.place("events", row["id"]), row["at_shot"], row["half"] or "")
            for row in noted
            if row["kind"] in _SOUND
        ],
        decided,
        results,
        first_shot,
        cavities_at(timeline, designs or {}),
        mounted,
    )
    return found_wrong(told, first, last)


def _reach_back(connection: Connection, press: str, stays: Sequence[Stay], first: int, last: int) -> int:
    """Return the first shot of which must be known what was said, to tell what is held of shots `first` to `last`.

    That is where the first stay began of any insert that was in then, or the stay before where none was. Where somebody
    answered once that no part is known to be good, what he answered may lie further back: then it is all read.
    """
    if first <= 0:
        return 0
    answered = _of(schema.events, press).where(schema.events.c.kind == NONE_GOOD).limit(1)
    if connection.execute(answered).first() is not None:
        return 0
    there = {one.mounting.insert.serial for one in stays if one.first <= last and one.end > first}
    before = max((one.first for one in stays if one.first <= first), default=0)
    return min([before, *(one.first for one in stays if one.mounting.insert.serial in there)])


def _of(table: Table, press: str, *columns: str) -> Select[Any]:
    """Return the question for the rows in force of a press, in the order they were entered; all columns, or some."""
    wanted = select(*(table.c[name] for name in columns)) if columns else select(table)
    return wanted.join(schema.presses).where(schema.presses.c.name == press, standing(table)).order_by(table.c.id)


def _seen(noted: Any, order: EntryOrder) -> Iterator[Wrong]:
    """Yield the findings that tell damage, and the notes that tell damage to a part."""
    for row in noted:
        finding = row["kind"] in _SEEN and tells_damage(row["text"])
        if finding or (row["kind"] == NOTE and damage_in(row["text"])):
            yield Wrong(
                order.place("events", row["id"]),
                FINDING if finding else NOTE,
                row["at_shot"],
                row["half"] or "",
                row["text"],
                row["initials"] or "",
                parse_utc(row["time"]),
            )


def _taken_out(
    connection: Connection, press: str, stays: Sequence[Stay], order: EntryOrder, since: int
) -> Iterator[Wrong]:
    """Yield the reused inserts that came out for damage, as people said, at shot `since` or later."""
    table = schema.removals
    query = _of(table, press, "id", "at_shot", "reason", "initials", "time").join(schema.inserts)
    query = query.add_columns(schema.inserts.c.serial)
    query = query.where(or_(table.c.at_shot >= since, table.c.at_shot == FIRST_TO_COME))
    ends = {(stay.mounting.insert.serial, stay.end, stay.reason): stay for stay in reversed(stays)}
    for number, at_shot, reason, initials, time, serial in connection.execute(query):
        end = in_force_from(connection, press, at_shot)
        stay = ends.get((serial, end, reason))
        if stay and not stay.mounting.single_use and stay.first < end and damage_in(reason):
            told = reason, initials or "", parse_utc(time)
            yield Wrong(order.place("removals", number), TAKEN_OUT, end - 1, stay.mounting.half, *told)


def _bad(connection: Connection, press: str, order: EntryOrder, since: int) -> Iterator[Wrong]:
    """Yield the bad results of inspections of parts of shot `since` and later."""
    table = schema.inspections
    out = or_(table.c.finding != "", table.c.value < table.c.low, table.c.value > table.c.high)
    for one in read_inspections(connection, press, since, EVER, out):
        yield Wrong(
            order.place("inspections", one.entry_id),
            INSPECTION,
            one.part.shot,
            one.half,
            _what(one),
            one.initials,
            one.entered,
            one,
        )


def _what(result: Inspection) -> str:
    """Return in a word what is wrong: what was seen, else what was measured."""
    return result.finding or f"{result.quantity} out of tolerance"
