"""Spells in which parts are held. Pure.

Parts held for calls that touch are one spell: it grows with every shot that joins it, and is over when people have
decided on every part of it. Parts made before those that were told, which a call holds by a date further back, are a
spell of their own, for they may have left the press by then. So are those that a person holds that nothing held.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from shotlog.notify.spells import QUIET_SHOTS, Known, Spell
from shotlog.parts.doubt import Doubt
from shotlog.parts.standing import Decision

__all__ = ["HeldPart", "hold_spells"]


@dataclass(frozen=True, slots=True)
class HeldPart:
    """A part that somebody or something speaks against, and whether it is held now.

    `decided`: when people last did; `made`: when it was moulded, None where nobody saw. `by`: the decision by which a
    person holds it that nothing held before, None where there is none.
    """

    shot: int
    is_held: bool
    decided: datetime | None = None
    made: datetime | None = None
    by: Decision | None = None


def hold_spells(
    press: str, doubts: Sequence[Doubt], parts: Sequence[HeldPart], moulds: Sequence[int], known: Sequence[Known] = ()
) -> list[Spell]:
    """Return the spells in which parts are held: doubts that touch, or that nothing but a few shots parts, are one.

    Parameters
    ----------
    parts
        Those spoken against or held, in order of shot.
    moulds
        The shots at which reused halves came in: a few shots across one of them part two spells.
    known
        The spells that the log knows: they tell from which shot on parts were told.
    """
    rest = [one for one in parts if one.by is None]
    made = {one.shot: one.made for one in parts if one.made is not None}
    spans: list[tuple[int, int, list[Doubt]]] = []
    for one in sorted((one for one in doubts if one.since), key=lambda one: (one.first, one.last)):
        if spans and _touches(spans[-1][1], one.first, moulds):
            spans[-1] = spans[-1][0], max(spans[-1][1], one.last), [*spans[-1][2], one]
        else:
            spans.append((one.first, one.last, [one]))
    found = _by_hand(press, parts)
    for first, last, spoken in spans:
        spell = _held_for(press, first, last, spoken, rest, made)
        found += [] if spell is None else [spell, *_further_back(spell, rest, known)]
    return found


def _held_for(
    press: str,
    first: int,
    last: int,
    doubts: Sequence[Doubt],
    parts: Sequence[HeldPart],
    made: Mapping[int, datetime],
) -> Spell | None:
    inside = [one for one in parts if first <= one.shot <= last]
    if not inside:
        return None
    held = tuple(dict.fromkeys(one.shot for one in inside if one.is_held))
    start = min(_known_since(one, made) for one in doubts)
    over = None if held else max((one.decided for one in inside if one.decided is not None), default=start)
    return Spell(press, "hold", first, last, start, ended=over, held=held, doubts=tuple(doubts))


def _further_back(spell: Spell, parts: Sequence[HeldPart], known: Sequence[Known]) -> list[Spell]:
    """Return what a spell holds before the shot that it was told from, a spell for each date further back."""
    found = []
    upto = max((one.anchor for one in known if not one.is_over and spell.holds(one)), default=spell.first)
    while spell.first < upto:
        of = f"before {upto}"
        told = next((one.anchor for one in known if one.of == f"{spell.key} {of}" and one.anchor < upto), None)
        first = spell.first if told is None else told
        inside = [one for one in parts if first <= one.shot < upto]
        held = tuple(dict.fromkeys(one.shot for one in inside if one.is_held))
        since = [one.since[shot].time for one in spell.doubts for shot in range(first, upto) if shot in one.since]
        began = min(since, default=spell.began)
        over = None if held else max((one.decided for one in inside if one.decided is not None), default=began)
        if inside:
            one = replace(spell, of=of, first=first, last=upto - 1, began=began, ended=over, held=held)
            found.append(one)
        upto = first
    return found


def _by_hand(press: str, parts: Sequence[HeldPart]) -> list[Spell]:
    """Return the parts that people hold which nothing held before, those of one entry as one; it has that time."""
    entries: dict[str, list[HeldPart]] = {}
    for one in parts:
        if one.by is not None and one.is_held:
            entries.setdefault(f"by hand {one.by.time.isoformat()}", []).append(one)
    return [
        Spell(
            press,
            "hold",
            held[0].shot,
            held[-1].shot,
            held[0].by.time,
            of,
            held=tuple(dict.fromkeys(one.shot for one in held)),
            by=held[0].by,
        )
        for of, held in entries.items()
        if held[0].by is not None
    ]


def _known_since(doubt: Doubt, made: Mapping[int, datetime]) -> datetime:
    """Return when something first spoke against parts; that a shot lay far out, not before it was made."""
    since = min(one.time for one in doubt.since.values())
    return max(since, made.get(doubt.first, since))


def _touches(last: int, first: int, moulds: Sequence[int]) -> bool:
    if first <= last + 1:
        return first <= last or first not in moulds
    return first - last <= QUIET_SHOTS and not any(last < one <= first for one in moulds)
