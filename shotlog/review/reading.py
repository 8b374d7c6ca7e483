"""A press read for the review: its parts taken one by one, and what lies beside the shots, put together with them."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from datetime import datetime

from shotlog.parts.standing import PartStanding
from shotlog.records import EVER
from shotlog.review.beside import read_beside
from shotlog.review.held import HeldGroups
from shotlog.review.history import History
from shotlog.review.lots import LotRuns
from shotlog.review.press import PressReview, press_review
from shotlog.review.shared import Shares
from shotlog.review.source import silent
from shotlog.review.states import PressParts, read_parts
from shotlog.settings import DesignSettings
from shotlog.store.asked.entries_made import entries_made
from shotlog.store.inserts.making import Making
from shotlog.store.log.log import Log
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts.inspections import inspections
from shotlog.store.parts.places import places
from shotlog.store.parts.soaks import soaks

__all__ = ["read_review"]


def read_review(
    log: Log,
    history: History,
    first: int,
    designs: Mapping[str, DesignSettings],
    spans: Iterable[tuple[int, int]],
    made: Mapping[str, Making],
    *,
    timeline: Timeline,
    since: datetime | None = None,
    tell: Callable[[str], None] = silent,
) -> tuple[PressReview | None, PressParts]:
    """Return what happened at a press from shot `first` on, None where it made none since, and how its parts stand.

    Parameters
    ----------
    history
        The press over the shots that are needed to tell, some of them before `first`.
    spans
        First and last shot of the parts to read.
    made
        How inserts were made, by serial.
    timeline
        That of the press.
    since
        The time that `first` was found by, for faults that belong to no shot.
    """
    press, shots = history.record.press, history.record.shots
    reach = int(shots[0]) if len(shots) else 0
    results, soaked = inspections(log, press, reach), soaks(log, press)
    begin = min(shots[history.record.rows(first, EVER)].tolist(), default=EVER)
    shares, held, lots = Shares(results, soaked, made, begin), HeldGroups(begin), LotRuns(begin)

    def take(standing: PartStanding) -> None:
        for taker in (shares, held, lots):
            taker.take(standing)

    parts = read_parts(log, press, designs, spans, take, tell, timeline)
    tell(f"{press}: what happened")
    beside = read_beside(log, press, first, since)
    found = (shares.found, held.found, lots.found)
    one = press_review(history, beside, first, designs, parts, *found, made, results, soaked, places(log, press))
    if one is None:
        return None, parts
    entered = entries_made(log, press, first=one.first)
    return replace(one, entered=tuple(each for each in entered if each.last is None or each.last >= one.first)), parts
