"""What the log knows that speaks against parts, or once did; the rule is in `shotlog.parts.doubt`."""

import json
from collections.abc import Iterator, Mapping
from operator import gt, lt
from typing import Any

from sqlalchemy import Connection, Select, bindparam, func, literal_column, select

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
from shotlog.store.log.prepared import Prepared, of_press
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts.found import found_on

__all__ = ["CALLED", "EDGE", "called_on", "far_out_on", "found_against", "held_for_call", "said_of_parts"]


CALLED = schema.verdicts.c.verdict != literal_column("'keep'")
"""Written out, so that the index `verdicts_called` serves it."""

_TELLING = 500
"""Shots after a call within which a swap has shown what it was (own)."""

EDGE = func.coalesce(schema.verdicts.c.onset_low, schema.verdicts.c.onset, schema.verdicts.c.shot)
"""The first shot whose part a call names, where it is not after the call itself."""


_NEWEST = Prepared(select(func.max(schema.shots.c.shot)).where(of_press(schema.shots)))
_BESIDE = [
    Prepared(
        select(end(schema.shots.c.shot)).where(of_press(schema.shots), beyond(schema.shots.c.shot, bindparam("shot")))
    )
    for end, beyond in ((func.max, lt), (func.min, gt))
]
_CALLS = Prepared(
    select(schema.verdicts.c.shot, EDGE).where(
        of_press(schema.verdicts), CALLED, schema.verdicts.c.shot.between(bindparam("first"), bindparam("last"))
    )
)
_JUDGINGS = Prepared(
    select(schema.judgings.c.id, schema.judgings.c.from_shot, schema.judgings.c.reason)
    .where(of_press(schema.judgings))
    .order_by(schema.judgings.c.id)
)
_SWAPS = Prepared(
    select(schema.verdicts.c.facts)
    .where(of_press(schema.verdicts), schema.verdicts.c.shot.between(bindparam("first"), bindparam("last")))
    .where(schema.verdicts.c.facts.like('%"at_shot"%'), in_force(schema.verdicts, schema.verdicts.c.shot))
    .order_by(schema.verdicts.c.shot)
)


def _all_namings() -> Select[Any]:
    table, judgings, shots = schema.verdicts, schema.judgings, schema.shots
    earlier = shots.alias("earlier")
    moment = select(shots.c.time).where(shots.c.press_id == table.c.press_id, shots.c.shot == table.c.shot)
    after = select(func.max(earlier.c.shot)).where(
        earlier.c.press_id == table.c.press_id, earlier.c.shot < table.c.shot
    )
    return (
        select(
            table.c.shot, table.c.insert, table.c.verdict, table.c.cause,
            table.c.onset, table.c.onset_low, table.c.onset_high, table.c.judging_id,
            judgings.c.time.label("judged"), moment.scalar_subquery().label("moulded"),
            after.scalar_subquery().label("after"), in_force(table, table.c.shot).label("stands"),
            table.c.limits, table.c.facts, table.c.id,
        )
        .select_from(table.join(judgings, judgings.c.id == table.c.judging_id))
        .where(of_press(table), CALLED, table.c.shot.between(bindparam("first"), bindparam("last")))
        .order_by(table.c.shot, table.c.id)
    )  # fmt: skip


_NAMINGS = Prepared(_all_namings())


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
    upto = min(last, EVER - _TELLING) + _TELLING
    for (facts,) in _SWAPS.all(connection, press=press, first=first, last=upto):
        told = json.loads(facts).get("swap")
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
    called = _CALLS.all(connection, press=press, first=since, last=until)
    groups: list[tuple[int, int]] = []
    for edge, shot in sorted((min(edge, shot), shot) for shot, edge in called):
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
    return max(least, _NEWEST.scalar(connection, press=press) or least)


def _stored(connection: Connection, press: str, low: int, high: int) -> tuple[int, int]:
    """Return the shots stored next to a span, before and after it; the very next numbers where there are none."""
    before, after = (
        one.scalar(connection, press=press, shot=end) for one, end in zip(_BESIDE, (low, high), strict=True)
    )
    return low - 1 if before is None else before, high + 1 if after is None else after


def _namings(connection: Connection, press: str, first: int, last: int, order: EntryOrder) -> Iterator[Naming]:
    for row in _NAMINGS.all(connection, press=press, first=first, last=last):
        shot, insert, verdict, cause, *onset, judging, judged, moulded, after, stands, limits, facts, number = row
        yield Naming(
            shot,
            insert,
            verdict,
            cause,
            onset[0],
            onset[1],
            onset[2],
            judging,
            parse_utc(judged),
            None if moulded is None else parse_utc(moulded),
            after,
            bool(stands),
            tuple(limits.split(";")) if limits else (),
            _found(facts),
            order.of_verdict(number),
        )


def _found(facts: str | None) -> str:
    """Return the finding that stood at a verdict, in words, from its facts as the log keeps them."""
    return str(json.loads(facts)["found"]["text"]) if facts and '"found"' in facts else ""


def _judgings(connection: Connection, press: str) -> Iterator[JudgedFrom]:
    return (JudgedFrom(*row) for row in _JUDGINGS.all(connection, press=press))
