"""What a spell of a press is told as: the words of `shotlog.wording` for what the log knows of it."""

from dataclasses import replace
from datetime import datetime

from shotlog.entries import KINDS
from shotlog.notify.spells import Spell
from shotlog.records import Verdict
from shotlog.review.still_held import held_on
from shotlog.settings import Settings
from shotlog.store.asked.state import verdicts
from shotlog.store.log.log import Log
from shotlog.store.parts.places import where_is
from shotlog.wording.entries import half_named
from shotlog.wording.facts import limits_passed
from shotlog.wording.held import held_next, held_said
from shotlog.wording.left import Left
from shotlog.wording.messages import (
    call_message,
    hold_message,
    limit_message,
    lost_message,
    over_message,
    where_held,
)
from shotlog.wording.parts import by_hand, doubts_text

__all__ = ["left_of", "over_said", "spell_said"]

_OF_INSERTS = frozenset({"watch", "swap", "limit"})
"""The states that are over while the insert may still be in, and parts stay held."""


def spell_said(log: Log, settings: Settings, spell: Spell, now: datetime) -> str:
    """Return the message that a spell of a press has begun.

    Raises
    ------
    StoreError
        The log cannot be read.
    """
    press = spell.press or ""
    if spell.about == "lost":
        newest = log.last_shot(press)
        return lost_message(press, spell.began, spell.detail, None if newest is None else newest[0])
    if spell.about == "hold":
        held = spell.held or (spell.first,)
        known = where_is(log, press).known(press, held[0], held[-1])
        first = [shot for shot in _look_first(log, settings, press) if spell.first - 1 <= shot <= spell.last]
        why = doubts_text(spell.doubts) if spell.by is None else [by_hand(spell.by)]
        return hold_message(press, held, spell.began, "; ".join(why), where_held(known, len(held)), first, not spell.of)
    verdict = next(iter(verdicts(log, press, spell.first, spell.first)), None)
    parts = _held(log, settings, press)
    if verdict is None:
        verdict = Verdict(press, spell.first, "", 0, False, "keep")
    if spell.about == "limit":
        facts = verdict.facts
        by = "" if facts is None else limits_passed(verdict, facts)
        return limit_message(press, spell.of, by, spell.first, spell.began, parts)
    return call_message(press, verdict, spell.began, parts)


def over_said(log: Log, settings: Settings, spell: Spell, begun: str) -> str:
    """Return the message that a spell is over, with what is not over by that; `begun`: the one that it had begun.

    Raises
    ------
    StoreError
        The log cannot be read.
    """
    ended = spell.ended or spell.began
    left = None if spell.became else left_of(log, settings, spell.press or "", spell.about, spell.first)
    if left is not None and spell.swapped:
        left = replace(left, still=(), anew=None)
    return over_message(begun, spell.about, spell.press, spell.began, ended, spell.became, spell.swapped, left=left)


def left_of(log: Log, settings: Settings, press: str, about: str, first: int) -> Left | None:
    """Return what stays as it is where a call or a limit of shot `first` on is over, None of another state.

    Raises
    ------
    StoreError
        The log cannot be read.
    """
    if about not in _OF_INSERTS:
        return None
    newest, timeline = log.last_shot(press), log.timeline(press)
    upto = first if newest is None else newest[0]
    before, now = timeline.stays_at(first), timeline.stays_at(upto + 1)
    still = [
        f"{stay.mounting.insert.serial}, {half_named(half)}"
        for half, stay in sorted(now.items())
        if not stay.mounting.single_use
        and half in before
        and before[half].mounting.insert.serial == stay.mounting.insert.serial
    ]
    held = held_on(log, press, settings.designs)
    anew = [
        one.at_shot for one in timeline.events if first < one.at_shot <= upto and KINDS[one.kind].effect.new_baseline
    ]
    return Left(
        tuple(still),
        0 if held is None else held.n_parts,
        "" if held is None else held_next(held),
        anew[-1] if anew and still else None,
    )


def _held(log: Log, settings: Settings, press: str) -> str:
    held = held_on(log, press, settings.designs)
    if held is None:
        return ""
    known = where_is(log, press).known(press, held.blocks[0].first, held.blocks[-1].last)
    return f"{held_said(held)}; {held_next(held)}; {where_held(known, held.n_parts)}"


def _look_first(log: Log, settings: Settings, press: str) -> tuple[int, ...]:
    held = held_on(log, press, settings.designs)
    return () if held is None else held.look_first
