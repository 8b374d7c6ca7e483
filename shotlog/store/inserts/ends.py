"""When inserts ended: at their removal, or at the first bad part they made, whichever came first.

A bad part is found a day late, when the insert has long been taken out or, worse, is still in. The end of its life is
the shot of that part all the same. Which insert a bad part speaks against is worked out: the half the person named;
else the insert the verdict of that shot judged; else the reused half changed last; else the single-use piece.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import inf

from sqlalchemy import select

from shotlog.records import HALVES, InForce
from shotlog.store.log import schema
from shotlog.store.log.judgements import in_force
from shotlog.store.log.log import Log
from shotlog.store.log.timeline import Stay, Timeline
from shotlog.store.parts.inspections import Inspection, inspections

__all__ = ["InsertEnd", "blamed_half", "insert_ends"]

_ORDER = ("fixed", "core", "moving")


@dataclass(frozen=True, slots=True)
class InsertEnd:
    """The life of one reused insert, over all its stays in presses.

    `shots`: shots it made up to its end, gaps included, dry ones not. `ended`: ``mounted`` (still in: the life is not
    over), ``removed`` (taken out, `reason` says why) or ``bad part`` (`bad` says what was found, `shots` counts the
    shots before that part). `at_shot`: first shot after its life, on `press`; None while mounted. `shots_made`: shots
    it made in all, past its end as well.
    """

    serial: str
    design: str
    print_batch: str
    half: str
    press: str
    first: int
    shots: int
    shots_made: int
    ended: str
    at_shot: int | None
    reason: str
    bad: Inspection | None
    stays: tuple[Stay, ...]


def insert_ends(log: Log) -> list[InsertEnd]:
    """Return the life of every reused insert, in the order they were first mounted within each press."""
    found: dict[str, InsertEnd] = {}
    for press in log.presses():
        timeline = log.timeline(press)
        last = log.last_shot(press)
        newest = -1 if last is None else last[0]
        first_bad = _first_bad(log, press, timeline)
        for stay in timeline.stays:
            if stay.mounting.single_use or stay.end <= stay.first:
                continue
            serial = stay.mounting.insert.serial
            life = _life(timeline, stay, newest, first_bad)
            found[serial] = _joined(found[serial], life) if serial in found else life
    return list(found.values())


def blamed_half(halves: Mapping[str, InForce], named: str, judged: str, since: Mapping[str, int]) -> str:
    """Return the half a bad part speaks against, empty where no insert was on record.

    Parameters
    ----------
    named
        The half the person named, or empty.
    judged
        Serial of the insert that the verdict of the shot judged, or empty.
    since
        The shot each half's insert came in at.
    """
    if named:
        return named if named in halves else ""
    for half in HALVES:
        if half in halves and judged and halves[half].serial == judged:
            return half
    reused = [half for half in _ORDER if half in halves and not halves[half].single_use]
    candidates = reused or [half for half in _ORDER if half in halves]
    return max(candidates, key=lambda half: (since.get(half, 0), _ORDER.index(half)), default="")


def _first_bad(log: Log, press: str, timeline: Timeline) -> dict[Stay, Inspection]:
    """Return the first bad part of each stay of a reused insert."""
    bad = [result for result in inspections(log, press) if result.bad]
    judged = _judged(log, press, [result.part.shot for result in bad])
    found: dict[Stay, Inspection] = {}
    for result in bad:
        shot = result.part.shot
        stays = timeline.stays_at(shot)
        since = {half: stay.first for half, stay in stays.items()}
        half = blamed_half(timeline.halves(shot), result.half, judged.get(shot, ""), since)
        if half and half in stays:
            found.setdefault(stays[half], result)
    return found


def _judged(log: Log, press: str, shots: list[int]) -> dict[int, str]:
    """Return the serial judged at each shot, by the verdicts in force."""
    if not shots:
        return {}
    table = schema.verdicts
    query = (
        select(table.c.shot, table.c.insert)
        .join(schema.presses)
        .where(schema.presses.c.name == press, table.c.shot >= min(shots), table.c.shot <= max(shots))
        .where(in_force(table, table.c.shot))
    )
    with log.reading() as connection:
        return {row.shot: row.insert for row in connection.execute(query)}


def _life(timeline: Timeline, stay: Stay, newest: int, first_bad: Mapping[Stay, Inspection]) -> InsertEnd:
    insert = stay.mounting.insert
    made = timeline.n_taken(stay, int(min(stay.end, max(newest + 1, stay.first))))
    mounted = stay.end == inf
    life = InsertEnd(
        insert.serial,
        insert.design,
        insert.print_batch,
        stay.mounting.half,
        stay.mounting.press,
        stay.first,
        made,
        made,
        "mounted" if mounted else "removed",
        None if mounted else int(stay.end),
        stay.reason,
        None,
        (stay,),
    )
    bad = first_bad.get(stay)
    if bad is None:
        return life
    until = timeline.n_taken(stay, bad.part.shot)
    return replace(life, shots=until, ended="bad part", at_shot=bad.part.shot, bad=bad, reason=str(bad))


def _joined(before: InsertEnd, now: InsertEnd) -> InsertEnd:
    """Return two stays of one insert as one life; after a bad part the life is over, whatever came later."""
    made, stays = before.shots_made + now.shots_made, (*before.stays, *now.stays)
    if before.ended == "bad part":
        return replace(before, shots_made=made, stays=stays)
    return replace(now, first=before.first, shots=before.shots_made + now.shots, shots_made=made, stays=stays)
