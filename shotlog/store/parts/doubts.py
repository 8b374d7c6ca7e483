"""What the log knows that speaks against parts, or once did; the rule is in `shotlog.parts.doubt`."""

import json
from collections.abc import Iterator, Mapping

from sqlalchemy import Connection, func, literal_column, select

from shotlog.clock import parse_utc
from shotlog.facts import SwapFinding
from shotlog.parts.against import by_far_out, by_found
from shotlog.parts.doubt import Doubt, JudgedFrom, Lifted, Naming, by_call, by_verdict, with_shown
from shotlog.parts.far import FarOut
from shotlog.records import EVER
from shotlog.settings import DesignSettings
from shotlog.store.log import schema
from shotlog.store.log.judgements import in_force
from shotlog.store.log.log import Log
from shotlog.store.log.order import EntryOrder
from shotlog.store.log.prepared import of_press
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts.found import found_on

__all__ = ["CALLED", "EDGE", "called_on", "far_out_on", "found_against", "held_for_call", "said_of_parts"]


CALLED = schema.verdicts.c.verdict != literal_column("'keep'")
"""Written out, so that the index `verdicts_called` serves it."""

_TELLING = 500
"""Shots after a call within which a swap has shown what it was (own)."""

EDGE = func.coalesce(schema.verdicts.c.onset_low, schema.verdicts.c.onset, schema.verdicts.c.shot)
"""The first shot whose part a call names, where it is not after the call itself."""


def said_of_parts(
    log: Log,
    press: str,
    first: int = 0,
    last: int = EVER,
    timeline: Timeline | None = None,
    designs: Mapping[str, DesignSettings] | None = None,
) -> tuple[list[Doubt], list[Lifted]]:
    """Return what speaks against parts of a press, and the parts that calls named before and that none names now.

    It is complete for the parts of shots `first` to `last`; of others there may be some. `timeline`: that of the press,
    where it has been read already. `designs`: tell how many parts a shot makes.
    """
    called, once = called_on(log, press, first, last)
    found = found_against(log, press, timeline or log.timeline(press), designs, first, last)
    odd = far_out_on(log, press, first, last)
    return sorted([*called, *found, *odd], key=lambda doubt: doubt.first), once


def called_on(
    log: Log, press: str, first: int, last: int, reach: int | None = None
) -> tuple[list[Doubt], list[Lifted]]:
    """Return what calls say against parts of shots `first` to `last`, and what they name no more.

    `reach`: how many shots back the farthest call of the press reaches, where that is known already.
    """
    with log.reading() as connection:
        about = (first, last) if (first, last) == (0, EVER) else _calls_about(connection, press, first, last, reach)
        namings = list(_namings(connection, press, *about, log.order(connection)))
        judgings, swaps = list(_judgings(connection, press)), list(_swaps(connection, press, *about))
    called, once = by_verdict(press, namings, judgings)
    return with_shown(called, swaps), once


def found_against(
    log: Log,
    press: str,
    timeline: Timeline,
    designs: Mapping[str, DesignSettings] | None,
    first: int = 0,
    last: int = EVER,
) -> list[Doubt]:
    """Return what people found that speaks against parts of shots `first` to `last`."""
    found = by_found(press, found_on(log, press, timeline, designs, first, last))
    return [one for one in found if one.first <= last and one.last >= first]


def far_out_on(log: Log, press: str, first: int, last: int) -> list[Doubt]:
    """Return the shots of `first` to `last` whose part is held because they lay far out alone."""
    with log.reading() as connection:
        odd = list(_odd(connection, press, first, last, log.order(connection)))
    return by_far_out(press, odd)


def held_for_call(log: Log, press: str, shot: int) -> int | None:
    """Return the first shot whose parts are held for the change that the verdict in force at `shot` speaks of.

    None where it speaks of none. Only the calls since the last shot that was kept are read, for this is asked at every
    shot: a shot that was kept ends a run of calls (see `shotlog.parts.doubt`).
    """
    table = schema.verdicts
    kept = (
        select(table.c.shot)
        .join(schema.presses)
        .where(schema.presses.c.name == press, ~CALLED, table.c.shot < shot, in_force(table, table.c.shot))
        .order_by(table.c.shot.desc())
        .limit(1)
    )
    with log.reading() as connection:
        since = (connection.execute(kept).scalar() or 0) + 1
        called = by_call(press, list(_namings(connection, press, since, shot, log.order(connection))))
    return next((one.first for one in called if one.first <= shot <= one.last), None)


def _odd(connection: Connection, press: str, first: int, last: int, order: EntryOrder) -> Iterator[FarOut]:
    """Yield the shots held back as odd, as every verdict said it, also such as are out of force.

    A part held for it stays held when its shot is judged again otherwise: only a person lets it go.
    """
    table, judgings = schema.verdicts, schema.judgings
    query = (
        select(table.c.id, table.c.shot, table.c.insert, table.c.facts, judgings.c.time)
        .select_from(table.join(judgings, judgings.c.id == table.c.judging_id))
        .where(of_press(table, press), table.c.shot.between(first, last), schema.TELLS_ODD)
    )
    for row in connection.execute(query):
        facts = json.loads(row.facts)
        if facts["odd_shot"] == row.shot:
            said = (facts.get("odd_channel"), facts.get("odd_by"), order.of_verdict(row.id), parse_utc(row.time))
            yield FarOut(row.shot, row.insert, *said)


def _swaps(connection: Connection, press: str, first: int, last: int) -> Iterator[SwapFinding]:
    """Yield what swaps showed of the changes called at some shots, by the verdicts in force."""
    table = schema.verdicts
    query = (
        select(table.c.facts)
        .join(schema.presses)
        .where(schema.presses.c.name == press, table.c.shot.between(first, min(last, EVER - _TELLING) + _TELLING))
        .where(table.c.facts.like('%"at_shot"%'), in_force(table, table.c.shot))
        .order_by(table.c.shot)
    )
    for row in connection.execute(query):
        told = json.loads(row.facts).get("swap")
        if told is not None:
            yield SwapFinding(**told)


def _calls_about(connection: Connection, press: str, first: int, last: int, reach: int | None) -> tuple[int, int]:
    """Return the first and last shot whose calls must be known to tell of shots `first` to `last`.

    Calls have to do with each other where the shots they name touch, or where only missed shots lie between. They are
    looked for around the shots asked about, ever farther out until none that was not looked at can belong to them.
    """
    last = min(last, _newest(connection, press, first))
    reach = _reach(connection, press) if reach is None else reach
    around = last - first + reach + 1
    since, until = first - around, last + around
    while True:
        groups = _groups(connection, press, since, until)
        low, high, before, after = first, last, *_stored(connection, press, first, last)
        while touched := [one for one in groups if one[1] >= before and one[0] <= after]:
            wider = min(low, touched[0][0]), max(high, touched[-1][1])
            if wider == (low, high):
                break
            low, high = wider
            before, after = _stored(connection, press, low, high)
        if before >= since and after + reach <= until:
            return low, high
        around *= 2
        since, until = min(since, before) - around, max(until, after + reach) + around


def _groups(connection: Connection, press: str, since: int, until: int) -> list[tuple[int, int]]:
    """Return the spans of shots that calls at shots `since` to `until` name, those that touch joined, in order."""
    table = schema.verdicts
    query = (
        select(table.c.shot, EDGE.label("edge"))
        .join(schema.presses)
        .where(schema.presses.c.name == press, CALLED, table.c.shot.between(since, until))
    )
    groups: list[tuple[int, int]] = []
    for edge, shot in sorted((min(row.edge, row.shot), row.shot) for row in connection.execute(query)):
        if groups and edge <= groups[-1][1] + 1:
            groups[-1] = groups[-1][0], max(groups[-1][1], shot)
        else:
            groups.append((edge, shot))
    return groups


def _reach(connection: Connection, press: str) -> int:
    """Return how many shots back the farthest call of a press reaches."""
    table = schema.verdicts
    query = select(func.max(table.c.shot - EDGE)).join(schema.presses).where(schema.presses.c.name == press, CALLED)
    return max(0, connection.execute(query).scalar() or 0)


def _newest(connection: Connection, press: str, least: int) -> int:
    table = schema.shots
    query = select(func.max(table.c.shot)).join(schema.presses).where(schema.presses.c.name == press)
    return max(least, connection.execute(query).scalar() or least)


def _stored(connection: Connection, press: str, low: int, high: int) -> tuple[int, int]:
    """Return the shots stored next to a span, before and after it; the very next numbers where there are none."""
    table = schema.shots
    of_press = select(schema.presses.c.id).where(schema.presses.c.name == press).scalar_subquery()
    before = select(func.max(table.c.shot)).where(table.c.press_id == of_press, table.c.shot < low)
    after = select(func.min(table.c.shot)).where(table.c.press_id == of_press, table.c.shot > high)
    found = connection.execute(before).scalar(), connection.execute(after).scalar()
    return low - 1 if found[0] is None else found[0], high + 1 if found[1] is None else found[1]


def _namings(connection: Connection, press: str, first: int, last: int, order: EntryOrder) -> Iterator[Naming]:
    table, judgings, shots = schema.verdicts, schema.judgings, schema.shots
    earlier = shots.alias("earlier")
    moment = select(shots.c.time).where(shots.c.press_id == table.c.press_id, shots.c.shot == table.c.shot)
    after = select(func.max(earlier.c.shot)).where(
        earlier.c.press_id == table.c.press_id, earlier.c.shot < table.c.shot
    )
    query = (
        select(
            table.c.shot, table.c.insert, table.c.verdict, table.c.cause,
            table.c.onset, table.c.onset_low, table.c.onset_high, table.c.judging_id,
            judgings.c.time.label("judged"), moment.scalar_subquery().label("moulded"),
            after.scalar_subquery().label("after"), in_force(table, table.c.shot).label("stands"),
            table.c.limits, table.c.facts, table.c.id,
        )
        .select_from(table.join(judgings, judgings.c.id == table.c.judging_id))
        .join(schema.presses, schema.presses.c.id == table.c.press_id)
        .where(schema.presses.c.name == press, CALLED, table.c.shot.between(first, last))
        .order_by(table.c.shot, table.c.id)
    )  # fmt: skip
    for row in connection.execute(query):
        limits = tuple(row.limits.split(";")) if row.limits else ()
        moulded = None if row.moulded is None else parse_utc(row.moulded)
        said = (bool(row.stands), limits, _found(row.facts), order.of_verdict(row.id))
        yield Naming(*row[:8], parse_utc(row.judged), moulded, row.after, *said)


def _found(facts: str | None) -> str:
    """Return the finding that stood at a verdict, in words, from its facts as the log keeps them."""
    return str(json.loads(facts)["found"]["text"]) if facts and '"found"' in facts else ""


def _judgings(connection: Connection, press: str) -> Iterator[JudgedFrom]:
    table = schema.judgings
    query = (
        select(table.c.id, table.c.from_shot, table.c.reason)
        .select_from(table.join(schema.presses))
        .where(schema.presses.c.name == press)
        .order_by(table.c.id)
    )
    return (JudgedFrom(*row) for row in connection.execute(query))
