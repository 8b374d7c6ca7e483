"""How inserts ended, as far as bad parts tell it: what the log knows; the rule is in `shotlog.parts.ends`."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from math import inf

from sqlalchemy import select

from shotlog.parts.ends import BadPart, InsertEnd, PressStays, ends_of
from shotlog.parts.inspection import Inspection
from shotlog.records import EVER
from shotlog.store.log import schema
from shotlog.store.log.judgements import in_force
from shotlog.store.log.log import Log
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts.inspections import inspections

__all__ = ["bad_parts", "insert_ends"]

_AT_ONCE = 500


def insert_ends(
    log: Log, serials: Collection[str] | None = None, timelines: Mapping[str, Timeline] | None = None
) -> list[InsertEnd]:
    """Return the life of every reused insert, in the order they were first mounted within each press.

    Parameters
    ----------
    serials
        Only the lives of these; a log of a million shots has ten thousand, and a page shows forty.
    timelines
        Those of some presses, where they have been read already.
    """
    return ends_of(_read(log, serials, timelines or {}))


def _read(log: Log, serials: Collection[str] | None, timelines: Mapping[str, Timeline]) -> Iterator[PressStays]:
    for press in log.presses():
        timeline = timelines.get(press) or log.timeline(press)
        stays = [
            stay
            for stay in timeline.stays
            if not stay.mounting.single_use and (serials is None or stay.mounting.insert.serial in serials)
        ]
        if stays:
            newest = log.last_shot(press)
            first, end = min(stay.first for stay in stays), max(stay.end for stay in stays)
            results = inspections(log, press, first, EVER if end == inf else int(end) - 1)
            bad = bad_parts(log, press, timeline, results)
            yield PressStays(stays, timeline.dry_shots, -1 if newest is None else newest[0], bad)


def bad_parts(log: Log, press: str, timeline: Timeline, results: Sequence[Inspection]) -> list[BadPart]:
    """Return the bad ones of some results, with what made those parts."""
    bad = [result for result in results if result.bad]
    judged = _judged(log, press, sorted({result.part.shot for result in bad}))
    return [
        BadPart(result, timeline.halves(shot), timeline.stays_at(shot), judged.get(shot, ""))
        for result in bad
        for shot in [result.part.shot]
    ]


def _judged(log: Log, press: str, shots: list[int]) -> dict[int, str]:
    """Return the serial judged at each shot, by the verdicts in force."""
    table = schema.verdicts
    found: dict[int, str] = {}
    for n in range(0, len(shots), _AT_ONCE):
        query = (
            select(table.c.shot, table.c.insert)
            .join(schema.presses)
            .where(schema.presses.c.name == press, table.c.shot.in_(shots[n : n + _AT_ONCE]))
            .where(in_force(table, table.c.shot))
        )
        with log.reading() as connection:
            found |= {row.shot: row.insert for row in connection.execute(query)}
    return found
