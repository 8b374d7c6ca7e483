"""Which shot a weighing belongs to: proposed by time and order, visible, corrected by people.

Each weighing is matched on its own, to the newest shot before it that has no weight yet and is not older than the
balance's `after_s`; never by counting weighings. So a weighing that was late, doubled or left out costs one match and
never shifts the others. Where more than one shot could be meant, the match names them. What was set on the computer's
clock between a shot and its weighing is no part of the time between the two.
"""

from bisect import bisect_right
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection, func, select

from shotlog.clock import iso_utc, parse_utc
from shotlog.errors import UsageError
from shotlog.parts.part import Part
from shotlog.records import Proposal
from shotlog.store.log import schema
from shotlog.store.log.clock_steps import Steady
from shotlog.store.log.judgements import judge_again
from shotlog.store.log.log import Log
from shotlog.store.log.transaction import Transaction
from shotlog.store.parts.parts import check_made

__all__ = ["Weighed", "match_by_hand", "match_new", "weighings", "weighings_between"]


_SHOTS = 20
"""Shots read at a time: mostly the newest is the one."""


@dataclass(frozen=True, slots=True)
class Weighed:
    """One weighing and the shot it is taken for, None where none fits; `by_hand`: a person said so.

    `others`: the shots it could be of as well, None where that is not known (an older release matched it, or nobody has
    yet). `why`: what was said when it was matched; for people, nothing is read from it.
    """

    weighing_id: int
    press: str
    balance: str
    grams: float
    time: datetime
    shot: int | None
    by_hand: bool
    others: tuple[int, ...] | None
    why: str


def match_new(log: Log, press: str, time: datetime, say: Callable[[Proposal], str]) -> int:
    """Propose a shot for each weighing of a press that has no match yet; returns how many were looked at.

    What `say` makes of a proposal is kept beside it, as what was said on the day.
    """
    with log.reading() as connection:
        if not _unmatched(connection, press):
            return 0
    with log.transaction() as work:
        new = _unmatched(work.connection, press)
        for weighing in new:
            _enter(work, press, weighing.weighing_id, _proposal(work.connection, press, weighing), time, say)
    return len(new)


def match_by_hand(
    log: Log, press: str, chosen: Mapping[int, int | None], time: datetime, *, reason: str, initials: str = ""
) -> None:
    """Enter which shots weighings belong to, by number of the weighing; None for one that belongs to no shot.

    Raises
    ------
    UsageError
        There is no such weighing or shot, a shot would have two weights, or no reason is given.
    """
    if not reason.strip():
        raise UsageError("reason: given nothing, allowed: a few words that say why the match was wrong")
    known = {weighed.weighing_id: weighed for weighed in weighings(log, press)}
    with log.transaction() as work:
        for weighing_id in chosen:
            if weighing_id not in known:
                raise UsageError(f"weighing {weighing_id}: there is none for {press}")
        check_made(work.connection, [Part(press, shot) for shot in chosen.values() if shot is not None])
        after = {number: weighed.shot for number, weighed in known.items()} | dict(chosen)
        for shot in chosen.values():
            meant = [number for number, at in after.items() if at == shot]
            if shot is not None and len(meant) > 1:
                numbers = " and ".join(str(number) for number in meant)
                raise UsageError(f"shot {shot}: weighings {numbers} would be taken for it, allowed: one weight a shot")
        for weighing_id, shot in chosen.items():
            _match(work, weighing_id, shot, (), "by hand", reason.strip(), time, initials)
        changed = [shot for n in chosen for shot in (known[n].shot, chosen[n]) if shot is not None]
        if changed:
            judge_again(work, press, min(changed), "weights matched by hand", time)


def weighings(log: Log, press: str) -> list[Weighed]:
    """Return the weighings of a press in the order they came, each with its match in force."""
    table, matches = schema.weighings, schema.matches
    newest = select(func.max(matches.c.id)).group_by(matches.c.weighing_id)
    query = (
        select(table, matches.c.shot, matches.c.others, matches.c.basis, matches.c.reason)
        .select_from(table.join(schema.presses).outerjoin(matches))
        .where(schema.presses.c.name == press, matches.c.id.is_(None) | matches.c.id.in_(newest))
        .order_by(table.c.id)
    )
    with log.reading() as connection:
        return [
            Weighed(
                row.id,
                press,
                row.balance,
                row.grams,
                parse_utc(row.time),
                row.shot,
                row.basis == "by hand",
                None if row.others is None else tuple(int(shot) for shot in row.others.split()),
                row.reason or "not matched yet",
            )
            for row in connection.execute(query)
        ]


def weighings_between(log: Log, press: str, first: int, last: int) -> list[Weighed]:
    """Return the weighings of shots `first` to `last`.

    One of no shot goes with the newest shot before it, or else with the first shot of all.
    """
    every = weighings(log, press)
    loose = [one for one in every if one.shot is None]
    near = _near(log, press, [one.weighing_id for one in loose]) if loose else {}
    return [one for one in every if first <= (near.get(one.weighing_id, -1) if one.shot is None else one.shot) <= last]


def _near(log: Log, press: str, numbers: Sequence[int]) -> dict[int, int]:
    """Return the newest shot made before each of some weighings, or else the first shot of all; none without shots."""
    table, weighed = schema.shots, schema.weighings
    query = select(table.c.id, table.c.shot, table.c.time).join(schema.presses).where(schema.presses.c.name == press)
    with log.reading() as connection:
        steady = Steady(connection)
        shots = [(steady.shot(row.id, row.time), row.shot) for row in connection.execute(query.order_by(table.c.shot))]
        rows = connection.execute(select(weighed.c.id, weighed.c.time).where(weighed.c.id.in_(numbers))).all()
    made = [at for at, _ in shots]
    at = {row.id: max(0, bisect_right(made, steady.weighing(row.id, row.time)) - 1) for row in rows}
    return {number: shots[n][1] for number, n in at.items()} if shots else {}


@dataclass(frozen=True, slots=True)
class _New:
    weighing_id: int
    time: str
    after_s: float


def _unmatched(connection: Connection, press: str) -> list[_New]:
    table, matches = schema.weighings, schema.matches
    query = (
        select(table.c.id, table.c.time, table.c.after_s)
        .join(schema.presses)
        .where(schema.presses.c.name == press, table.c.id.not_in(select(matches.c.weighing_id)))
        .order_by(table.c.id)
    )
    return [_New(row.id, row.time, row.after_s or 0.0) for row in connection.execute(query)]


def _enter(
    work: Transaction, press: str, weighing_id: int, one: Proposal, time: datetime, say: Callable[[Proposal], str]
) -> None:
    _match(work, weighing_id, one.shot, one.others, "automatic", say(one), time, "")
    if one.shot is not None:
        judge_again(work, press, one.shot, f"weight of shot {one.shot}", time)


def _proposal(connection: Connection, press: str, new: _New) -> Proposal:
    """Return the shot of a weighing: by the order of the log, and by the time between the two whoever set the clock."""
    matches, weighed = schema.matches, schema.weighings
    newest = select(func.max(matches.c.id)).group_by(matches.c.weighing_id)
    taken = (
        select(matches.c.shot, matches.c.weighing_id)
        .select_from(matches.join(weighed).join(schema.presses))
        .where(schema.presses.c.name == press, matches.c.shot.is_not(None), matches.c.id.in_(newest))
    )
    has_weight = {row.shot: row.weighing_id for row in connection.execute(taken)}
    before = max((shot for shot, number in has_weight.items() if number < new.weighing_id), default=None)
    found = [shot for shot in _made_within(connection, press, new) if shot not in has_weight]
    free = [shot for shot in found if before is None or shot > before]
    return Proposal(free[0] if free else None, tuple(free[1:]), before, new.after_s)


def _made_within(connection: Connection, press: str, new: _New) -> Iterator[int]:
    """Yield the shots made at most `after_s` before a weighing, newest first; no further back is read."""
    table, steady = schema.shots, Steady(connection)
    at = steady.weighing(new.weighing_id, new.time)
    query = select(table.c.id, table.c.shot, table.c.time).join(schema.presses).where(schema.presses.c.name == press)
    query = query.order_by(table.c.shot.desc()).execution_options(yield_per=_SHOTS)
    with connection.execute(query) as rows:
        for row in rows:
            waited = at - steady.shot(row.id, row.time)
            if waited > new.after_s:
                return
            if waited >= 0.0:
                yield int(row.shot)


def _match(
    work: Transaction,
    weighing_id: int,
    shot: int | None,
    others: Sequence[int],
    basis: str,
    reason: str,
    time: datetime,
    initials: str,
) -> None:
    row = {"weighing_id": weighing_id, "shot": shot, "basis": basis, "reason": reason, "initials": initials}
    work.add(schema.matches, time=iso_utc(time), others=" ".join(str(other) for other in others), **row)
