"""The lives a view holds from the first shot to the last, dated by what the review knows of them.

The store works out the end of every insert of a log; a log of a million shots has ten thousand of them, and a page
shows forty. Here the same is asked of those forty only.
"""

from collections.abc import Mapping, Sequence
from math import inf

from shotlog.review.lives import History, Life, lives_of
from shotlog.store.inserts.ends import InsertEnd, blamed_half
from shotlog.store.log.log import Log
from shotlog.store.log.timeline import Stay, Timeline
from shotlog.store.parts.inspections import Inspection, inspections

__all__ = ["whole_lives"]


def whole_lives(
    log: Log,
    histories: Mapping[str, History],
    timelines: Mapping[str, Timeline],
    stays_of: Mapping[str, Sequence[Stay]],
    newest: Mapping[str, int],
) -> dict[str, Life]:
    """Return, by serial, the lives that the windows hold whole.

    Parameters
    ----------
    stays_of
        Every stay in the log, by serial.
    newest
        The last shot of each press.
    """
    serials = {
        stay.mounting.insert.serial: None
        for history in histories.values()
        for stay in history.record.timeline.stays
        if not stay.mounting.single_use
    }
    whole = {serial: stays_of[serial] for serial in serials if serial in stays_of}
    whole = {
        serial: stays
        for serial, stays in whole.items()
        if all(_holds(histories.get(one.mounting.press), one, newest[one.mounting.press]) for one in stays)
    }
    bad = {press: _first_bad(log, history) for press, history in histories.items()}
    ends = [_end(stays, timelines, newest, bad) for stays in whole.values()]
    return {life.serial: life for life in lives_of(list(histories.values()), ends)}


def _holds(history: History | None, stay: Stay, newest: int) -> bool:
    """Say whether a window holds a stay from end to end; shots missed at its ends were never there to be read."""
    if history is None or not len(history.record.shots):
        return False
    record = history.record
    first = min([int(record.shots[0]), *(gap.first for gap in record.gaps)])
    last = max([record.last_shot, *(gap.last for gap in record.gaps)])
    return stay.first >= first and min(stay.end - 1, newest) <= last


def _end(
    stays: Sequence[Stay],
    timelines: Mapping[str, Timeline],
    newest: Mapping[str, int],
    bad: Mapping[str, Mapping[str, Inspection]],
) -> InsertEnd:
    made = sum(_made(timelines[stay.mounting.press], stay, newest[stay.mounting.press]) for stay in stays)
    last = stays[-1]
    insert, mounted = last.mounting.insert, last.end == inf
    found = (bad[stay.mounting.press].get(insert.serial) for stay in stays)
    return InsertEnd(
        serial=insert.serial,
        design=insert.design,
        print_batch=insert.print_batch,
        half=last.mounting.half,
        press=last.mounting.press,
        first=stays[0].first,
        shots=made,
        shots_made=made,
        ended="mounted" if mounted else "removed",
        at_shot=None if mounted else int(last.end),
        reason=last.reason,
        bad=next((one for one in found if one is not None), None),
        stays=tuple(stays),
    )


def _made(timeline: Timeline, stay: Stay, newest: int) -> int:
    return timeline.n_taken(stay, int(min(stay.end, max(newest + 1, stay.first))))


def _first_bad(log: Log, history: History) -> dict[str, Inspection]:
    """Return the first bad part of each insert it speaks against, by serial."""
    record = history.record
    if not len(record.shots):
        return {}
    judged = {verdict.shot: verdict.insert for verdict in record.verdicts}
    found: dict[str, Inspection] = {}
    for result in inspections(log, record.press, int(record.shots[0]), record.last_shot):
        if result.bad:
            shot, stays = result.part.shot, record.timeline.stays_at(result.part.shot)
            since = {half: stay.first for half, stay in stays.items()}
            half = blamed_half(record.timeline.halves(shot), result.half, judged.get(shot, ""), since)
            if half in stays and not stays[half].mounting.single_use:
                found.setdefault(stays[half].mounting.insert.serial, result)
    return found
