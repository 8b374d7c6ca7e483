"""Swaps, and what each one showed: a swap is an experiment.

A level that comes back confirms the insert that came out, one that stays refutes it. Both the level just before the
swap and the one after it are held against the level before the change. Afterwards that is done twice: early shots
against sound ones with the same shot number, so that the warm-up is in both; and settled shots against the settled
level. Where the two contradict each other, or the rest of the change is no larger than sound inserts differ, it is not
resolved.

The call asks a swap as well, on the day, with all channels and what sisters do. There is one answer all the same: what
the call found is it, unless the settled shots say the opposite: then it is not resolved.
"""

from bisect import bisect_right
from collections import Counter
from dataclasses import dataclass, replace
from math import sqrt
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from shotlog.channels import ALWAYS_CHARTED, CHANNELS
from shotlog.entries import KINDS
from shotlog.facts import SwapFinding
from shotlog.review.episodes import Call
from shotlog.review.source import MountedStretch, Seen

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


class _Rows(NamedTuple):
    """Where the shots that are compared stand in a record: sound ones (and those past the cold ones), the last ones
    before the swap, all after it, and early ones after it; `apart`: how much their numbers differ from sound ones'.
    """

    sound: slice
    past_cold: slice
    late: slice
    after: slice
    early: slice
    apart: int


class _Before(NamedTuple):
    """A channel before a swap: its level and spread while sound, in its unit, how far it lay off then and the error of
    that, and how many sound shots tell.
    """

    level: float
    spread: float
    by: float
    error: float
    n_sound: int


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
    called: Call | None
    lag: int | None
    outcome: str
    ground: str
    moved: tuple[Moved, ...]
    replaced_by: str = ""
    found: SwapFinding | None = None


class _Press:
    """A press with what its swaps ask of it found by shot: in years there are thousands of each."""

    def __init__(self, record: Seen) -> None:
        self.record = record
        self.channels = [name for name in ALWAYS_CHARTED if name in record.channels]
        self.values = {
            name: np.ascontiguousarray(record.values[:, record.channels.index(name)]) for name in self.channels
        }
        self.seen = {name: np.isfinite(values) for name, values in self.values.items()}
        settling = np.fromiter(record.settling, dtype=np.int64, count=len(record.settling))
        self.charted = ~np.isin(record.shots, settling)
        moves = (
            row.event.at_shot for row in record.entries if KINDS[row.event.kind].effect.moves and not row.taken_back
        )
        self.changes = sorted(moves)
        self.stays = [stay for stay in record.timeline.stays if not stay.mounting.single_use]
        self.n_out = Counter(stay.end for stay in self.stays)
        self.found: dict[int, list[SwapFinding]] = {}
        for finding in record.found:
            self.found.setdefault(finding.at_shot, []).append(finding)
        self.standing: dict[int, Call] = {}
        for call in record.episodes:
            if call.stands:
                self.standing.setdefault(call.last, call)

    def column(self, channel: str, where: slice) -> F:
        """Return the values of a channel in some rows, missing ones left out."""
        return self.values[channel][where][self.seen[channel][where]]

    def settled(self, channel: str, where: slice) -> F:
        """Return the values of a channel in some rows, settling shots and missing ones left out."""
        return self.values[channel][where][self.seen[channel][where] & self.charted[where]]


def swaps_of(record: Seen) -> tuple[Swap, ...]:
    """Return the swaps of a press in order, each with what it showed."""
    press, swaps = _Press(record), []
    for stay in press.stays:
        if stay.end == float("inf") or stay.end > record.last_shot + 1:
            continue
        at, half = int(stay.end), stay.mounting.half
        before = record.stretch_at(at - 1)
        if before is None:
            continue
        called = press.standing.get(_last_seen(record, at))
        after = record.stretch_at(at)
        into = after.halves.get(half, "") if after is not None else ""
        outcome, ground, moved = _outcome(press, before, after, called)
        serial = stay.mounting.insert.serial
        acted = called is not None and called.insert == serial and called.swap_at is not None
        lag = at - called.swap_at if acted and called is not None and called.swap_at is not None else None
        found = _found(press, at, serial)
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


def _found(press: _Press, at: int, serial: str) -> SwapFinding | None:
    """Return what the call found at a swap of an insert; of two that came out together, of that one alone.

    A change that outlived an earlier swap goes by the name of the insert it was first seen on.
    """
    there = press.found.get(at, [])
    mine = next((one for one in there if one.insert == serial), None)
    return mine or (there[-1] if there and press.n_out[at] == 1 else None)


def _with_the_call(outcome: str, ground: str, found: SwapFinding) -> tuple[str, str]:
    """Return what a swap showed where the call found something at it: the one answer, and its ground."""
    said = _FOUND[found.outcome]
    if outcome == said:
        return outcome, ground
    if outcome in _FOUND.values():
        return "not resolved", f"by the first shots after it the level {said}, by the settled ones it {outcome}"
    return said, "by the shots after it, in all values together"


def _last_seen(record: Seen, before: int) -> int:
    where = record.rows(0, before - 1)
    return int(record.shots[where.stop - 1]) if where.stop else 0


def _outcome(
    press: _Press, before: MountedStretch, after: MountedStretch | None, called: Call | None
) -> tuple[str, str, tuple[Moved, ...]]:
    if after is None or not after.halves:
        return "not resolved", "nothing was moulded with another insert afterwards", ()
    sound_until = (called.early_edge if called is not None else before.last + 1 - _WINDOW) - 1
    changes = press.changes
    since_sound = bisect_right(changes, sound_until)
    if since_sound < len(changes) and changes[since_sound] <= before.last:
        return "not resolved", "a lot or set-up changed between the onset and the swap", ()
    held = press.record.stretch_at(sound_until)
    if held is None:
        return "not resolved", "no sound shot before the onset", ()
    since = max(held.first, changes[since_sound - 1]) if since_sound else held.first
    next_change = bisect_right(changes, after.first)
    upto = min(after.last, changes[next_change] - 1) if next_change < len(changes) else after.last
    spans = _Spans(since, sound_until, held.first, before, MountedStretch(after.first, upto, after.halves))
    compared, moved = _across(press, spans)
    if not compared:
        return "not resolved", f"fewer than {_FEWEST} shots to compare on one side of the swap", ()
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


def _kept(one: Moved) -> str:
    """Say whether a channel's change was kept, with 95 % confidence; of no change at all, nothing can be said."""
    if one.before == 0.0:
        return "open"
    share, reach = one.after / one.before, 1.96 * one.error / abs(one.before)
    if share - reach > _CHANGED:
        return "stayed"
    return "came back" if share + reach < _CHANGED and share > -1.0 else "open"


def _across(press: _Press, spans: _Spans) -> tuple[bool, tuple[Moved, ...]]:
    """Return whether any channel can be compared across a swap, and those that had moved before it."""
    before, after, rows = spans.before, spans.after, press.record.rows
    since = max(spans.sound_until + 1, before.first, before.last + 1 - _WINDOW)
    where = _Rows(
        rows(spans.sound_since, spans.sound_until),
        rows(spans.sound_since + _COLD, spans.sound_until),
        rows(since, before.last),
        rows(after.first, after.last),
        rows(after.first + _COLD, min(after.first + _COLD + _WINDOW - 1, after.last)),
        after.first - spans.numbered_from,
    )
    compared, moved = False, list[Moved]()
    for channel in press.channels:
        known = _before(press, channel, where)
        if known is None:
            continue
        if abs(known.by) > max(3.0 * known.error, CHANNELS[channel].least_change):
            moved += filter(None, [_agreed(_after(press, channel, where, known))])
        else:
            # of a channel that had not moved it is not asked where it came to
            compared = compared or _is_compared(press, channel, where)
    return compared or bool(moved), tuple(moved)


def _before(press: _Press, channel: str, where: _Rows) -> _Before | None:
    """Return how a channel stood before a swap, None where too few shots tell."""
    sound = press.settled(channel, where.sound)
    if len(sound) < _FEWEST:
        sound = press.column(channel, where.past_cold)[-_WINDOW:]
    late = press.settled(channel, where.late)
    if len(late) < _FEWEST:
        late = press.column(channel, where.late)
    if min(len(sound), len(late)) < _FEWEST:
        return None
    level, spread = _mean(sound), _spread(sound, CHANNELS[channel].least_change)
    return _Before(level, spread, _mean(late) - level, spread * sqrt(1.0 / len(late) + 1.0 / len(sound)), len(sound))


def _is_compared(press: _Press, channel: str, where: _Rows) -> bool:
    settled = np.count_nonzero(press.seen[channel][where.after] & press.charted[where.after])
    return bool(settled >= _FEWEST or len(_at_equal_number(press, channel, where)) >= _FEWEST)


def _after(press: _Press, channel: str, where: _Rows, known: _Before) -> list[Moved]:
    """Return how a channel stood after a swap: at equal numbers of shots, and settled."""
    fresh = press.settled(channel, where.after)[:_WINDOW] - known.level
    found = []
    for left, of_old in ((_at_equal_number(press, channel, where), None), (fresh, known.n_sound)):
        if len(left) >= _FEWEST:
            error = known.spread * sqrt(1.0 / len(left) + 1.0 / (of_old or len(left)) + 2.0 * _SISTERS_DIFFER**2)
            found.append(Moved(channel, known.level, known.by, _mean(left), known.error, error))
    return found


def _agreed(found: list[Moved]) -> Moved | None:
    """Return the comparison that tells; where the two contradict each other, one too uncertain to tell anything."""
    if not found:
        return None
    telling = [one for one in found if _kept(one) != "open"]
    if len({_kept(one) for one in telling}) == 2:
        return replace(found[-1], error=abs(found[-1].before))
    return telling[0] if telling else found[-1]


def _at_equal_number(press: _Press, channel: str, where: _Rows) -> F:
    """Return how far early shots after the swap lie from sound shots of the same number, past the first few."""
    shots, values, seen = press.record.shots, press.values[channel], press.seen[channel]
    of_old = shots[where.early] - where.apart
    at = where.sound.start + np.searchsorted(shots[where.sound], of_old)
    there = at < where.sound.stop
    at = np.where(there, at, 0)
    there &= (shots[at] == of_old) & seen[at] & seen[where.early]
    return np.asarray((values[where.early] - values[at])[there])


def _mean(values: F) -> float:
    """Return what `np.mean` does of some values, to the bit, for half of what it costs."""
    return float(np.add.reduce(values)) / len(values)


def _spread(values: F, least: float) -> float:
    """Return the shot-to-shot spread, blind to slow drift: mean moving range over 1.128.

    At least a third of `least`.
    """
    return max(_mean(np.abs(values[1:] - values[:-1])) / 1.128379, least / 3.0)
