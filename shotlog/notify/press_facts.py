"""The facts of a press that its states are worked out from, read from the log, and the spells in them.

Only the newest shots are read, and those since a state that lasts began: a log of years costs no more than a day's.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime

from shotlog.notify.held_spells import HeldPart, hold_spells
from shotlog.notify.spells import QUIET_SHOTS, Known, Spell, named
from shotlog.notify.states import JudgedShot, LinkRow, call_spells, limit_spells, lost_spells, withdrawn
from shotlog.parts.standing import Decision, by_shot, held_by_hand
from shotlog.settings import Settings
from shotlog.store.asked.judged import is_judged_again, judged_from, links_from
from shotlog.store.log.log import Log
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts.dispositions import decisions, part_standings
from shotlog.store.parts.doubts import said_of_parts

__all__ = ["Passed", "PressLook", "look_at_press"]

_BACK = 60
"""Shots before the oldest one that matters which are read as well: a call reaches back to its early edge."""
_BACK_AT_FIRST = 300
_BEHIND = 5
"""Shots by which judging may be behind; more of them, and it is catching up (own)."""
_MOST_BACK = 2_000
"""Shots that are read at most. Parts held for longer than that, and never decided on, are told of no more."""


@dataclass(frozen=True, slots=True)
class Passed:
    """How far was looked at a press: shots judged, changes of its connection, decisions on parts; -1 for never."""

    shot: int = -1
    link: int = -1
    decision: int = -1


@dataclass(frozen=True, slots=True)
class PressLook:
    """What was seen at a press: spells by name, of those that the log knows which are `gone`, and how far was looked.

    `gone`: known to last, and not found any more: shots were judged again since, and nobody says so now. `is_whole`:
    False while shots are judged again.
    """

    spells: tuple[Spell, ...] = ()
    gone: tuple[Known, ...] = ()
    passed: Passed = field(default_factory=Passed)
    is_whole: bool = True


def look_at_press(
    log: Log,
    settings: Settings,
    press: str,
    known: Sequence[Known],
    passed: Passed,
    now: datetime,
    shots: bool = True,
    patient: bool = True,
) -> PressLook:
    """Return how things stand at a press.

    `known`: the spells of this press that the log knows. `shots`: whether to look at more than its connection; while
    shots are judged again, that waits. `patient`: whether it waits as well while judging is behind by some shots: what
    would be told then is another thing with every one of them.

    Raises
    ------
    StoreError
        The log cannot be read.
    """
    lost, link = _lost(log, press, [one for one in known if one.of == f"lost {press}"], passed.link, now)
    shot_known = [one for one in known if one.of != f"lost {press}"]
    newest = log.last_shot(press)
    if not shots or newest is None or is_judged_again(log, press):
        return PressLook(tuple(lost), (), replace(passed, link=link), not shots or newest is None)
    decided = decisions(log, press)
    first = _first(newest[0], shot_known, passed, decided)
    timeline = log.timeline(press)
    moulds = sorted({stay.first for stay in timeline.stays if not stay.mounting.single_use})
    judged = [
        JudgedShot(one.shot, one.time, one.verdict, one.limits, _mould(moulds, one.shot), one.settling)
        for one in judged_from(log, press, first)
    ]
    upto = judged[-1].shot if judged else passed.shot
    if patient and newest[0] - upto > _BEHIND and judged:
        return PressLook(tuple(lost), (), replace(passed, link=link), is_whole=False)
    held = _held(log, settings, press, first, timeline, moulds, decided, shot_known)
    old = upto if passed.shot < 0 else passed.shot
    spells = named([*call_spells(press, judged), *limit_spells(press, judged), *held], shot_known, old)
    there = {one.name for one in spells}
    gone = [
        one
        for one in shot_known
        if not one.is_over and one.name not in there and one.anchor >= first and withdrawn(one, judged)
    ]
    latest = max((one.entry_id for one in decided), default=0)
    return PressLook((*lost, *spells), tuple(gone), Passed(upto, link, max(latest, passed.decision)))


def _first(newest: int, known: Sequence[Known], passed: Passed, decided: Sequence[Decision]) -> int:
    """Return the first shot to be read; parts made long ago may be held by hand today."""
    matter = [newest - _BACK_AT_FIRST if passed.shot < 0 else min(passed.shot, newest)]
    matter += [one.first for one in decided if one.decision == "held" and one.entry_id > passed.decision >= 0]
    matter += [one.anchor - QUIET_SHOTS for one in known if not one.is_over and one.anchor >= 0]
    return max(0, newest - _MOST_BACK, min(matter) - _BACK)


def _mould(moulds: Sequence[int], shot: int) -> int:
    return max((one for one in moulds if one <= shot), default=0)


def _lost(log: Log, press: str, known: Sequence[Known], passed: int, now: datetime) -> tuple[list[Spell], int]:
    open_rows = [one.anchor for one in known if not one.is_over]
    first = None if passed < 0 else min([passed, *open_rows])
    rows = [LinkRow(number, link.time, link.state, link.detail) for number, link in links_from(log, press, first)]
    upto = rows[-1].number if rows else passed
    return named(lost_spells(press, rows, now), known, upto if passed < 0 else passed), upto


def _held(
    log: Log,
    settings: Settings,
    press: str,
    first: int,
    timeline: Timeline,
    moulds: Sequence[int],
    decided: Sequence[Decision],
    known: Sequence[Known],
) -> list[Spell]:
    doubts, _ = said_of_parts(log, press, first, timeline=timeline, designs=settings.designs)
    by_people = [one.first for one in decided if one.decision == "held" and one.last >= first]
    if not doubts and not by_people:
        return []
    start = min([*(one.first for one in doubts), *by_people])
    stands = part_standings(log, press, settings.designs, start, timeline=timeline)
    said = by_shot(decided, {one.part.shot for one in stands})
    parts = [
        HeldPart(
            one.part.shot,
            one.state == "held",
            None if one.decision is None else one.decision.time,
            one.made.time,
            held_by_hand(one.part, one.doubts, said.get(one.part.shot, ())),
        )
        for one in stands
        if one.doubts or one.decision is not None
    ]
    return hold_spells(press, doubts, parts, moulds, known)
