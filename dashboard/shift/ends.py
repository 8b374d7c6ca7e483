"""The lives a view holds from the first shot to the last, dated by what the review knows of them."""

from collections.abc import Mapping, Sequence

from shotlog.records import Stay
from shotlog.review.history import History
from shotlog.review.lives import Life, lives_of
from shotlog.store.log.log import Log
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts.ends import insert_ends

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
    within = {press: history.record.timeline for press, history in histories.items()}
    ends = insert_ends(log, whole, {**timelines, **within})
    return {life.serial: life for life in lives_of(list(histories.values()), ends)}


def _holds(history: History | None, stay: Stay, newest: int) -> bool:
    """Say whether a window holds a stay from end to end; shots missed at its ends were never there to be read."""
    if history is None or not len(history.record.shots):
        return False
    record = history.record
    first = min([int(record.shots[0]), *(gap.first for gap in record.gaps)])
    last = max([record.last_shot, *(gap.last for gap in record.gaps)])
    return stay.first >= first and min(stay.end - 1, newest) <= last
