"""Swaps, and what each one showed: a swap is an experiment.

A level that comes back confirms the insert that came out, one that stays refutes it. Both the level just before the
swap and the one after it are held against the level before the change. Afterwards that is done twice: early shots
against sound ones with the same shot number, so that the warm-up is in both; and settled shots against the settled
level. Where the two contradict each other, or the rest of the change is no larger than sound inserts differ, it is not
resolved.

The call asks a swap as well, on the day, with all channels and what sisters do. There is one answer all the same: what
the call found is it, unless the settled shots say the opposite: then it is not resolved.
"""

from dataclasses import dataclass, replace
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from shotlog.channels import ALWAYS_CHARTED, CHANNELS
from shotlog.entries import KINDS
from shotlog.facts import SwapFinding
from shotlog.review.episodes import Episode
from shotlog.review.source import MountedStretch, PressRecord

__all__ = ["Moved", "Swap", "swaps_of"]

F = NDArray[np.float64]

_WINDOW = 10
"""Shots taken on either side of a swap."""

_FEWEST = 4
_COLD = 5
"""Shots after a swap that are compared with nothing: how cold the insert went in decides them."""

_CHANGED = 0.5
"""A channel that kept more than half of its change stayed, one that kept less came back."""

_SISTERS_DIFFER = 1.0
"""How far the levels of two sound sisters lie apart, in spreads within an insert.

Until more is known (planning figure).
"""


_FOUND = {"confirmed": "came back", "refuted": "stayed"}
"""What a swap showed, by what the call found of it."""


@dataclass(frozen=True, slots=True)
class Moved:
    """One channel across a swap, in its unit: `level` while sound, distance from it before and after.

    And the error of each. `error` is of `after` and counts in how much sound inserts differ; `error_before` is of
    `before`, on one insert.
    """

    channel: str
    level: float
    before: float
    after: float
    error_before: float
    error: float


@dataclass(frozen=True, slots=True)
class _Spans:
    """What is compared: the stretches on either side of a swap, and the shots held sound before it.

    A change carried over an earlier swap has its sound shots in a stretch before; `numbered_from` is where that began.
    """

    sound_since: int
    sound_until: int
    numbered_from: int
    before: MountedStretch
    after: MountedStretch


@dataclass(frozen=True, slots=True)
class Swap:
    """A reused insert that came out, and what took its place (empty when nothing did).

    `reason`: why, in a person's words; `replaced_by`: the serial whose mounting took it out, where that is all that is
    known. `outcome`: ``came back``, ``stayed``, ``not resolved`` or ``nothing had moved``; `ground` says why in words.
    `called` is the episode that stood when it was made, maybe on another insert; `lag` the shots between its first call
    to swap and the swap, where it was on the one that came out. `found`: what the call itself found at it, on the day,
    with the odds it rests on.
    """

    press: str
    at_shot: int
    half: str
    out: str
    into: str
    reason: str
    called: Episode | None
    lag: int | None
    outcome: str
    ground: str
    moved: tuple[Moved, ...]
    replaced_by: str = ""
    found: SwapFinding | None = None


def swaps_of(record: PressRecord) -> tuple[Swap, ...]:
    """Return the swaps of a press in order, each with what it showed."""
    swaps = []
    for stay in record.timeline.stays:
        if stay.mounting.single_use or stay.end == float("inf") or stay.end > record.last_shot + 1:
            continue
        at, half = int(stay.end), stay.mounting.half
        before = record.stretch_at(at - 1)
        if before is None:
            continue
        last_seen = _last_seen(record, at)
        called = next((one for one in record.episodes if one.last == last_seen and one.stands), None)
        after = record.stretch_at(at)
        into = after.halves.get(half, "") if after is not None else ""
        outcome, ground, moved = _outcome(record, before, after, called)
        serial = stay.mounting.insert.serial
        acted = called is not None and called.insert == serial and called.swap_at is not None
        lag = at - called.swap_at if acted and called is not None and called.swap_at is not None else None
        found = _found(record, at, serial)
        if found is not None:
            outcome, ground = _with_the_call(outcome, ground, found)
        swaps.append(
            Swap(
                record.press,
                at,
                half,
                serial,
                into,
                stay.reason,
                called,
                lag,
                outcome,
                ground,
                moved,
                stay.replaced_by,
                found,
            )
        )
    return tuple(sorted(swaps, key=lambda swap: (swap.at_shot, swap.half)))


def _found(record: PressRecord, at: int, serial: str) -> SwapFinding | None:
    """Return what the call found at a swap of an insert; of two that came out together, of that one alone.

    A change that outlived an earlier swap goes by the name of the insert it was first seen on.
    """
    there = [one for one in record.found if one.at_shot == at]
    mine = next((one for one in there if one.insert == serial), None)
    stays = [one for one in record.timeline.stays if one.end == at and not one.mounting.single_use]
    return mine or (there[-1] if there and len(stays) == 1 else None)


def _with_the_call(outcome: str, ground: str, found: SwapFinding) -> tuple[str, str]:
    """Return what a swap showed where the call found something at it: the one answer, and its ground."""
    said = _FOUND[found.outcome]
    if outcome == said:
        return outcome, ground
    if outcome in _FOUND.values():
        return "not resolved", f"by the first shots after it the level {said}, by the settled ones it {outcome}"
    return said, "by the shots after it, in all values together"


def _last_seen(record: PressRecord, before: int) -> int:
    where = record.rows(0, before - 1)
    return int(record.shots[where.stop - 1]) if where.stop else 0


def _outcome(
    record: PressRecord, before: MountedStretch, after: MountedStretch | None, called: Episode | None
) -> tuple[str, str, tuple[Moved, ...]]:
    if after is None or not after.halves:
        return "not resolved", "nothing was moulded with another insert afterwards", ()
    sound_until = (called.early_edge if called is not None else before.last + 1 - _WINDOW) - 1
    changes = [
        entry.event.at_shot for entry in record.entries if KINDS[entry.event.kind].effect.moves and not entry.taken_back
    ]
    if any(sound_until < at <= before.last for at in changes):
        return "not resolved", "a lot or set-up changed between the onset and the swap", ()
    held = record.stretch_at(sound_until)
    if held is None:
        return "not resolved", "no sound shot before the onset", ()
    since = max([held.first, *(at for at in changes if at <= sound_until)])
    upto = min([after.last, *(at - 1 for at in changes if at > after.first)])
    spans = _Spans(since, sound_until, held.first, before, MountedStretch(after.first, upto, after.halves))
    compared = [_across(record, name, spans) for name in _judged(record)]
    known = [one for one in compared if one is not None]
    if not known:
        return "not resolved", f"fewer than {_FEWEST} shots to compare on one side of the swap", ()
    moved = tuple(
        one for one in known if abs(one.before) > max(3.0 * one.error_before, CHANNELS[one.channel].least_change)
    )
    if not moved:
        text = "no value had left its level before the swap"
        return "nothing had moved", text + (", although a change was called" if called is not None else ""), ()
    kept = {one.channel: _kept(one) for one in moved}
    told = set(kept.values()) - {"open"}
    names = ", ".join(CHANNELS[name].label.lower() for name, said in kept.items() if said != "open" or not told)
    if told == {"came back"}:
        return "came back", f"{names} came back to the level held before the change", moved
    if told == {"stayed"}:
        return "stayed", f"{names} stayed where it was before the swap", moved
    if told:
        return "not resolved", f"of {names}, some came back and some stayed", moved
    return "not resolved", f"{names}: what is left of the change is no larger than inserts differ", moved


def _judged(record: PressRecord) -> list[str]:
    return [name for name in ALWAYS_CHARTED if name in record.channels]


def _kept(one: Moved) -> str:
    """Say whether a channel's change was kept, with 95 % confidence; of no change at all, nothing can be said."""
    if one.before == 0.0:
        return "open"
    share, reach = one.after / one.before, 1.96 * one.error / abs(one.before)
    if share - reach > _CHANGED:
        return "stayed"
    return "came back" if share + reach < _CHANGED and share > -1.0 else "open"


def _across(record: PressRecord, channel: str, spans: _Spans) -> Moved | None:
    before, after = spans.before, spans.after
    _, sound = record.settled(channel, spans.sound_since, spans.sound_until)
    if len(sound) < _FEWEST:
        sound = record.column(channel, spans.sound_since + _COLD, spans.sound_until)[1][-_WINDOW:]
    since = max(spans.sound_until + 1, before.first, before.last + 1 - _WINDOW)
    _, late = record.settled(channel, since, before.last)
    if len(late) < _FEWEST:
        _, late = record.column(channel, since, before.last)
    if min(len(sound), len(late)) < _FEWEST:
        return None
    level, spread = float(np.mean(sound)), _spread(sound, CHANNELS[channel].least_change)
    error_before = spread * sqrt(1.0 / len(late) + 1.0 / len(sound))
    before_by = float(np.mean(late)) - level
    _, fresh = record.settled(channel, after.first, after.last)
    found = []
    for left, of_old in ((_at_equal_number(record, channel, spans), None), (fresh[:_WINDOW] - level, len(sound))):
        if len(left) >= _FEWEST:
            error = spread * sqrt(1.0 / len(left) + 1.0 / (of_old or len(left)) + 2.0 * _SISTERS_DIFFER**2)
            found.append(Moved(channel, level, before_by, float(np.mean(left)), error_before, error))
    return _agreed(found)


def _agreed(found: list[Moved]) -> Moved | None:
    """Return the comparison that tells; where the two contradict each other, one too uncertain to tell anything."""
    if not found:
        return None
    telling = [one for one in found if _kept(one) != "open"]
    if len({_kept(one) for one in telling}) == 2:
        return replace(found[-1], error=abs(found[-1].before))
    return telling[0] if telling else found[-1]


def _at_equal_number(record: PressRecord, channel: str, spans: _Spans) -> F:
    """Return how far early shots after the swap lie from sound shots of the same number, past the first few."""
    old_shots, old = record.column(channel, spans.sound_since, spans.sound_until)
    new_shots, new = record.column(channel, spans.after.first + _COLD, spans.after.first + _COLD + _WINDOW - 1)
    by_number = dict(zip((old_shots - spans.numbered_from).tolist(), old.tolist(), strict=True))
    pairs = [
        value - by_number[number]
        for shot, number, value in zip(
            new_shots.tolist(), (new_shots - spans.after.first).tolist(), new.tolist(), strict=True
        )
        if number in by_number and shot <= spans.after.last
    ]
    return np.array(pairs)


def _spread(values: F, least: float) -> float:
    """Return the shot-to-shot spread, blind to slow drift: mean moving range over 1.128.

    At least a third of `least`.
    """
    return max(float(np.mean(np.abs(np.diff(values)))) / 1.128379, least / 3.0)
