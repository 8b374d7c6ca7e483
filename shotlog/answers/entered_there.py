"""What was entered at a centre, as commands and pages say it: what it is, who made it, and what became of it."""

from collections.abc import Collection
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from shotlog.records import Who
from shotlog.wording.times import at_time
from shotlog.wording.waiting import became_said, what_said
from shotlog.wording.who import by_whom

if TYPE_CHECKING:
    from shotlog.store.centre.entered import WaitingEntry
    from shotlog.store.log.log import Log

__all__ = ["entered_line", "not_in_yet", "not_taken_in"]

_NEWEST = 200
_REFUSED_FOR = timedelta(days=7)
"""How long what was refused is said beside how parts stand (own): who made it need not ask for it."""


def entered_line(one: "WaitingEntry", edge: str, now: datetime) -> str:
    """Return what was entered at a centre for an edge, when and by whom, and what became of it."""
    who = by_whom(Who(one.signature.initials, one.signature))
    became = became_said(one.state, edge, one.became, one.why)
    return f"{what_said(one.said)} ({at_time(one.made, now)}{who}): {became}"


def not_taken_in(
    log: "Log", now: datetime, press: str | None = None, shots: Collection[int] | None = None
) -> list[str]:
    """Return what `not_in_yet` returns, a line each."""
    return [_line(one, log.edge, now) for one in not_in_yet(log, now, press, shots)]


def not_in_yet(
    log: "Log", now: datetime, press: str | None = None, shots: Collection[int] | None = None
) -> "list[WaitingEntry]":
    """Return what was entered at the centre about parts and is not in the edge's log, in order.

    That is what waits for it, and what was refused lately. `press`, `shots`: only what is about these; what takes an
    entry back names none, and is about all.
    """
    from shotlog.store.centre.entered import REFUSED, entered_at_centre

    def is_asked(one: "WaitingEntry") -> bool:
        return press is None or any(
            not said.press
            or (said.press == press and (shots is None or said.first is None or _any(shots, said.first, said.last)))
            for said in one.said
        )

    return [
        one
        for one in entered_at_centre(log, _NEWEST)
        if (one.waits or (one.state == REFUSED and now - one.made <= _REFUSED_FOR)) and is_asked(one)
    ]


def _line(one: "WaitingEntry", edge: str, now: datetime) -> str:
    return f"entered at the centre, waiting {one.number}: {entered_line(one, edge, now)}"


def _any(shots: Collection[int], first: int, last: int | None) -> bool:
    return any(first <= shot <= (first if last is None else last) for shot in shots)
