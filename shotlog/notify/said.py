"""What a spell of a press is told as: the words of `shotlog.wording` for what the log knows of it."""

from datetime import datetime

from shotlog.notify.states import Spell
from shotlog.records import Verdict
from shotlog.settings import Settings
from shotlog.store.asked.state import verdicts
from shotlog.store.log.log import Log
from shotlog.store.parts.dispositions import held_on
from shotlog.store.parts.places import where_is
from shotlog.wording.facts import limits_passed
from shotlog.wording.held import held_next, held_said
from shotlog.wording.messages import (
    call_message,
    hold_message,
    limit_message,
    lost_message,
    over_message,
    where_held,
)
from shotlog.wording.parts import by_hand, doubts_text

__all__ = ["over_said", "spell_said"]


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


def over_said(spell: Spell, begun: str) -> str:
    """Return the message that a spell is over; `begun`: the one that it had begun."""
    ended = spell.ended or spell.began
    return over_message(begun, spell.about, spell.press, spell.began, ended, spell.became, spell.swapped)


def _held(log: Log, settings: Settings, press: str) -> str:
    held = held_on(log, press, settings.designs)
    if held is None:
        return ""
    known = where_is(log, press).known(press, held.blocks[0].first, held.blocks[-1].last)
    return f"{held_said(held)}; {held_next(held)}; {where_held(known, held.n_parts)}"


def _look_first(log: Log, settings: Settings, press: str) -> tuple[int, ...]:
    held = held_on(log, press, settings.designs)
    return () if held is None else held.look_first
