"""Parts that people have already looked at or decided on: what is said of them later changes what was decided about."""

from shotlog.entries import LOT, SETUP
from shotlog.records import EVER
from shotlog.store.log.log import Log
from shotlog.store.parts.dispositions import decisions
from shotlog.store.parts.inspections import inspections

__all__ = ["checked_parts"]

_ON_RECORD = (LOT, SETUP)
"""What the record of a part names beside its inserts."""

_DECIDED = ("released", "scrapped")


def checked_parts(log: Log, press: str, kind: str, text: str, at_shot: int | None) -> int:
    """Return how many parts were inspected, released or scrapped whose lot or set-up an entry would change.

    `at_shot`: None for the next shot, of which there is no part yet.
    """
    last = log.last_shot(press)
    if kind not in _ON_RECORD or at_shot is None or last is None:
        return 0
    noted = [event for event in log.timeline(press).events if event.kind == kind]
    before = [event.text for event in noted if event.at_shot <= at_shot]
    if before and before[-1] == text.strip():
        return 0
    until = min((event.at_shot for event in noted if event.at_shot > at_shot), default=EVER) - 1
    until = min(until, last[0])
    found = {(one.part.shot, one.part.cavity) for one in inspections(log, press, at_shot, until)}
    for one in decisions(log, press, at_shot, until):
        if one.decision in _DECIDED:
            span = range(max(one.first, at_shot), min(one.last, until) + 1)
            found |= {(shot, one.cavity or 1) for shot in span}
    return len(found)
