"""Queues of single-use pieces: each shot takes the next serial, a dry shot takes none.

A series belongs to a single-use mounting. Without a queue its pieces are numbered on from the mounted serial; with one
they are taken in the order they were queued, whatever their names. A piece that was broken or skipped is dropped from
the queue by a later entry, and the shots after it move up. Where a queue has run out, the shots have no piece on record
until more are queued: they are shown, not guessed.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from math import inf

from sqlalchemy import Connection, select

from shotlog.clock import iso_utc
from shotlog.errors import UsageError
from shotlog.records import EVER, InForce, Insert, Mounting, Stay
from shotlog.store.inserts.entries import mount_within
from shotlog.store.inserts.making import describe_within
from shotlog.store.log import schema
from shotlog.store.log.corrections import correct, standing
from shotlog.store.log.entered import read_timeline
from shotlog.store.log.judgements import judge_again
from shotlog.store.log.log import Log
from shotlog.store.log.shots import last_shot
from shotlog.store.log.timeline import Timeline, piece
from shotlog.store.log.transaction import Entered, Transaction

__all__ = ["Queue", "Taken", "drop", "enqueue", "queues", "serials_named", "taken_pieces", "used_twice"]


@dataclass(frozen=True, slots=True)
class Queue:
    """The pieces of one single-use series: `taken` so far, `waiting` for the next shots.

    `numbered`: the series has no queue, its pieces are numbered on and never run out. `without`: shots made since it
    ran out.
    """

    press: str
    half: str
    first: int
    numbered: bool
    taken: int
    waiting: tuple[Insert, ...]
    without: int
    mounted: bool


@dataclass(frozen=True, slots=True)
class Taken:
    """The single-use piece that one shot took, and the values of that shot."""

    press: str
    shot: int
    half: str
    piece: InForce
    values: Mapping[str, float]


def serials_named(words: Sequence[str]) -> list[str]:
    """Return the serials that a person names, each alone or as a run ``S-001..S-020``.

    Raises
    ------
    UsageError
        A run does not count up, or a serial is named twice.

    Examples
    --------
    >>> serials_named(["S-009..S-011", "S-020"])
    ['S-009', 'S-010', 'S-011', 'S-020']
    """
    found: list[str] = []
    for word in words:
        first, dots, last = word.partition("..")
        run = [first]
        while dots and run[-1] != last and len(run) < 10_000:
            run.append(piece(first, len(run)))
        if run[-1] != (last or first):
            raise UsageError(f"serials: given {word!r}, allowed: SERIAL, or SERIAL..SERIAL counting up")
        found += run
    twice = sorted(serial for serial, n in Counter(found).items() if n > 1)
    if twice:
        raise UsageError(f"serial {twice[0]}: given twice, allowed: each piece once")
    return found


def enqueue(
    log: Log,
    press: str,
    serials: Sequence[str],
    time: datetime,
    *,
    half: str = "moving",
    at_shot: int | None = None,
    said: dict[str, str | float] | None = None,
    positions: Sequence[str] = (),
    initials: str = "",
) -> Entered[Mounting] | None:
    """Queue pieces for a half: behind those waiting there, or with `at_shot` as a new series that shot begins.

    Parameters
    ----------
    said
        What holds of all the pieces, as in `making.describe` (design, print batch, plate).
    positions
        Place on the plate of each piece, in the order of `serials`; none, or as many as serials.

    Returns
    -------
    Entered[Mounting] | None
        The mounting where a new series was begun.

    Raises
    ------
    UsageError
        A serial was used or queued before, or the half holds a reused insert and no `at_shot` is given.
    """
    if not serials:
        raise UsageError("serials: given none, allowed: at least one")
    if positions and len(positions) != len(serials):
        raise UsageError(f"positions: given {len(positions)}, allowed: {len(serials)}, one a serial")
    told = dict(said or {})
    with log.transaction() as work:
        stay = _open_series(work.connection, press, half, at_shot)
        joined = stay if at_shot is None else None
        _refuse_used(work.connection, serials)
        if joined is not None:
            told = {"design": joined.mounting.insert.design, **told}
        pieces = []
        for n, serial in enumerate(serials):
            place: dict[str, str | float] = {"plate_position": positions[n]} if positions else {}
            pieces.append(describe_within(work, serial, time, said={**told, **place}, initials=initials))
        if joined is None:
            begun = mount_within(
                work, press, serials[0], time, half=half, at_shot=at_shot, single_use=True, initials=initials
            )
            series, from_shot = serials[0], begun.record.at_shot
        else:
            begun, series = None, joined.mounting.insert.serial
            from_shot = _next_unfilled(work, read_timeline(work.connection, press), joined)
        series_id = work.insert_id(series, "", "", iso_utc(time))
        for insert_id in pieces:
            work.add(schema.queued, series_id=series_id, insert_id=insert_id, time=iso_utc(time))
        judge_again(work, press, from_shot, f"{len(serials)} pieces queued from {serials[0]}", time)
    return begun


def drop(log: Log, press: str, serial: str, time: datetime, reason: str, initials: str = "") -> None:
    """Take a piece out of its queue: the shots from its own on move up by one.

    Raises
    ------
    UsageError
        The piece is in no queue of this press, or no reason is given.
    """
    with log.transaction() as work:
        timeline = read_timeline(work.connection, press)
        for stay in timeline.stays:
            waiting = timeline.queue(stay) if stay.mounting.single_use else None
            names = [insert.serial for insert in waiting or ()]
            if serial in names:
                correct(work, schema.queued, _queued_id(work.connection, serial), reason, time, initials)
                judge_again(work, press, stay.first, f"piece {serial} dropped from its queue", time)
                return
        raise UsageError(f"piece {serial}: it is in no queue of {press}")


def queues(log: Log, press: str) -> list[Queue]:
    """Return the single-use series of a press, in order of first shot."""
    with log.reading() as connection:
        timeline = read_timeline(connection, press)
        last = last_shot(connection, press)
    upcoming = 1 if last is None else last[0] + 1
    found = []
    for stay in timeline.stays:
        if stay.mounting.single_use and stay.end > stay.first:
            n = timeline.n_taken(stay, int(min(stay.end, max(upcoming, stay.first))))
            waiting = timeline.queue(stay)
            rest = tuple(waiting[n:]) if waiting is not None and stay.end == inf else ()
            without = 0 if waiting is None else max(0, n - len(waiting))
            where = (press, stay.mounting.half, stay.first)
            found.append(Queue(*where, waiting is None, n - without, rest, without, stay.end == inf))
    return found


def taken_pieces(log: Log, press: str, first: int = 0, last: int = EVER) -> list[Taken]:
    """Return the single-use pieces that the stored shots `first` to `last` took, in order."""
    dry = set(log.timeline(press).dry_shots)
    return [
        Taken(press, shot.shot, half, held, shot.values)
        for shot in log.logged(press, first - 1, last)
        if shot.shot not in dry
        for half, held in shot.halves.items()
        if held.single_use
    ]


def used_twice(log: Log) -> dict[str, list[Taken]]:
    """Return the serials that more than one shot took, with those shots: an entry about them is wrong."""
    found: dict[str, list[Taken]] = {}
    for press in log.presses():
        for taken in taken_pieces(log, press):
            found.setdefault(taken.piece.serial, []).append(taken)
    return {serial: shots for serial, shots in found.items() if len(shots) > 1}


def _open_series(connection: Connection, press: str, half: str, at_shot: int | None) -> Stay | None:
    """Return the stay in a half whose queue more pieces can join, None where a new series begins."""
    timeline = read_timeline(connection, press)
    stay = next((stay for stay in timeline.stays if stay.mounting.half == half and stay.end == inf), None)
    if stay is not None and not stay.mounting.single_use and at_shot is None:
        raise UsageError(
            f"{press} {half}: holds the reused insert {stay.mounting.insert.serial}, allowed: remove it first, or say "
            "with which shot the single-use pieces begin"
        )
    return stay if stay is not None and timeline.queue(stay) is not None else None


def _next_unfilled(work: Transaction, timeline: Timeline, stay: Stay) -> int:
    """Return the first shot that had no piece, else the next shot: where more pieces change something."""
    last = last_shot(work.connection, stay.mounting.press)
    upcoming = 1 if last is None else last[0] + 1
    shot = stay.first
    while shot < upcoming and stay.mounting.half in timeline.halves(shot):
        shot += 1
    return shot


def _refuse_used(connection: Connection, serials: Sequence[str]) -> None:
    table, inserts = schema.queued, schema.inserts
    query = select(inserts.c.serial).select_from(table.join(inserts, inserts.c.id == table.c.insert_id))
    queued = set(connection.execute(query.where(standing(table))).scalars())
    for serial in serials:
        if serial in queued:
            raise UsageError(f"serial {serial}: it is in a queue already, allowed: each piece once")
    for press in connection.execute(select(schema.presses.c.name)).scalars().all():
        last = last_shot(connection, press)
        timeline = read_timeline(connection, press)
        for stay in timeline.stays:
            where = f"{press} {stay.mounting.half} from shot {stay.first}"
            first = stay.mounting.insert.serial
            if not stay.mounting.single_use or timeline.queue(stay) is not None:
                used = {first} if not stay.mounting.single_use else set()
            else:
                end = int(min(stay.end, max(stay.first, 0 if last is None else last[0] + 1)))
                used = {piece(first, n) for n in range(timeline.n_taken(stay, end))}
            for serial in serials:
                if serial in used:
                    raise UsageError(f"serial {serial}: used before ({where}), allowed: each piece once")


def _queued_id(connection: Connection, serial: str) -> int:
    table, inserts = schema.queued, schema.inserts
    query = select(table.c.id).join(inserts, inserts.c.id == table.c.insert_id)
    return int(connection.execute(query.where(inserts.c.serial == serial, standing(table))).scalar_one())
