"""Which shot a weighing belongs to: proposed by time and order, visible, corrected by people.

Each weighing is matched on its own, to the newest shot before it that has no weight yet and is not older than the
balance's `after_s`; never by counting weighings. So a weighing that was late, doubled or left out costs one match and
never shifts the others. Where more than one shot could be meant, the match says so.
"""

from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlalchemy import Connection, func, select

from shotlog.clock import iso_utc, parse_utc
from shotlog.errors import UsageError
from shotlog.store.log import schema
from shotlog.store.log.judgements import judge_again
from shotlog.store.log.log import Log
from shotlog.store.log.shots import columns
from shotlog.store.log.transaction import Transaction
from shotlog.store.parts.parts import Part, check_made

__all__ = ["Weighed", "match_by_hand", "match_new", "weighings", "weighings_between"]


@dataclass(frozen=True, slots=True)
class Weighed:
    """One weighing and the shot it is taken for, None where none fits; `by_hand`: a person said so; `why` in words."""

    weighing_id: int
    press: str
    balance: str
    grams: float
    time: datetime
    shot: int | None
    by_hand: bool
    why: str


def match_new(log: Log, press: str, time: datetime) -> int:
    """Propose a shot for each weighing of a press that has no match yet; returns how many were looked at."""
    with log.reading() as connection:
        if not _unmatched(connection, press):
            return 0
    with log.transaction() as work:
        new = _unmatched(work.connection, press)
        for weighing in new:
            _propose(work, press, weighing, time)
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
            _match(work, weighing_id, shot, "by hand", reason.strip(), time, initials)
        changed = [shot for n in chosen for shot in (known[n].shot, chosen[n]) if shot is not None]
        if changed:
            judge_again(work, press, min(changed), "weights matched by hand", time)


def weighings(log: Log, press: str) -> list[Weighed]:
    """Return the weighings of a press in the order they came, each with its match in force."""
    table, matches = schema.weighings, schema.matches
    newest = select(func.max(matches.c.id)).group_by(matches.c.weighing_id)
    query = (
        select(table, matches.c.shot, matches.c.basis, matches.c.reason)
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
                row.reason or "not matched yet",
            )
            for row in connection.execute(query)
        ]


def weighings_between(log: Log, press: str, first: int, last: int) -> list[Weighed]:
    """Return the weighings of shots `first` to `last`.

    One of no shot goes with the newest shot before it, or else with the first shot of all.
    """
    with log.reading() as connection:
        shots, times, _ = columns(connection, press, ())
    made = [parse_utc(time) for time in times]
    found = []
    for one in weighings(log, press) if made else ():
        shot = int(shots[max(0, bisect_right(made, one.time) - 1)]) if one.shot is None else one.shot
        if first <= shot <= last:
            found.append(one)
    return found


@dataclass(frozen=True, slots=True)
class _New:
    weighing_id: int
    time: datetime
    after_s: float


def _unmatched(connection: Connection, press: str) -> list[_New]:
    table, matches = schema.weighings, schema.matches
    query = (
        select(table.c.id, table.c.time, table.c.after_s)
        .join(schema.presses)
        .where(schema.presses.c.name == press, table.c.id.not_in(select(matches.c.weighing_id)))
        .order_by(table.c.time, table.c.id)
    )
    return [_New(row.id, parse_utc(row.time), row.after_s or 0.0) for row in connection.execute(query)]


def _propose(work: Transaction, press: str, new: _New, time: datetime) -> None:
    free, before = _candidates(work.connection, press, new)
    if not free:
        why = f"no shot without a weight in the {new.after_s:g} s before it"
        if before is not None:
            why += f"; was the weighing before it meant for another shot than {before}?"
        _match(work, new.weighing_id, None, "automatic", why, time, "")
        return
    others = ", ".join(str(shot) for shot in free[1:])
    why = f"newest shot before it; could be {others} as well" if others else "only shot before it without a weight"
    _match(work, new.weighing_id, free[0], "automatic", why, time, "")
    judge_again(work, press, free[0], f"weight of shot {free[0]}", time)


def _candidates(connection: Connection, press: str, new: _New) -> tuple[list[int], int | None]:
    """Return the shots a weighing can be of, newest first, and the shot of the weighing before it."""
    shots, matches, weighed = schema.shots, schema.matches, schema.weighings
    newest = select(func.max(matches.c.id)).group_by(matches.c.weighing_id)
    taken = (
        select(matches.c.shot, weighed.c.time)
        .select_from(matches.join(weighed).join(schema.presses))
        .where(schema.presses.c.name == press, matches.c.shot.is_not(None), matches.c.id.in_(newest))
    )
    earlier = {row.shot: row.time for row in connection.execute(taken)}
    before = max((shot for shot, time in earlier.items() if parse_utc(time) <= new.time), default=None)
    window = (iso_utc(new.time - timedelta(seconds=new.after_s)), iso_utc(new.time))
    query = (
        select(shots.c.shot)
        .join(schema.presses)
        .where(schema.presses.c.name == press, shots.c.time.between(*window))
        .order_by(shots.c.shot.desc())
    )
    found = [int(shot) for shot in connection.execute(query).scalars() if shot not in earlier]
    return [shot for shot in found if before is None or shot > before], before


def _match(
    work: Transaction, weighing_id: int, shot: int | None, basis: str, reason: str, time: datetime, initials: str
) -> None:
    row = {"weighing_id": weighing_id, "shot": shot, "basis": basis, "reason": reason, "initials": initials}
    work.add(schema.matches, time=iso_utc(time), **row)
