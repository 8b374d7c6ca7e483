"""One press across a swap: how far each value lay off before it, and how far after it, with the error of both.

Both are held against the level before the change. After the swap that is done twice: early shots against sound ones
with the same shot number, so that the warm-up is in both; and settled shots against the settled level.
"""

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

__all__ = ["FEWEST", "WINDOW", "Moved", "PressAtSwaps", "Spans", "across", "kept"]

F = NDArray[np.float64]

WINDOW = 10
"""Shots taken on either side of a swap."""

FEWEST = 4
_COLD = 5
"""Shots after a swap that are compared with nothing: how cold the insert went in decides them."""

_CHANGED = 0.5
"""A channel that kept more than half of its change stayed, one that kept less came back."""

_SISTERS_DIFFER = 1.0
"""How far the levels of two sound sisters lie apart, in spreads within an insert.

Until more is known (planning figure).
"""


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
class Spans:
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


class PressAtSwaps:
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


def kept(one: Moved) -> str:
    """Say whether a channel's change was kept, with 95 % confidence; of no change at all, nothing can be said."""
    if one.before == 0.0:
        return "open"
    share, reach = one.after / one.before, 1.96 * one.error / abs(one.before)
    if share - reach > _CHANGED:
        return "stayed"
    return "came back" if share + reach < _CHANGED and share > -1.0 else "open"


def across(press: PressAtSwaps, spans: Spans) -> tuple[bool, tuple[Moved, ...]]:
    """Return whether any channel can be compared across a swap, and those that had moved before it."""
    before, after, rows = spans.before, spans.after, press.record.rows
    since = max(spans.sound_until + 1, before.first, before.last + 1 - WINDOW)
    where = _Rows(
        rows(spans.sound_since, spans.sound_until),
        rows(spans.sound_since + _COLD, spans.sound_until),
        rows(since, before.last),
        rows(after.first, after.last),
        rows(after.first + _COLD, min(after.first + _COLD + WINDOW - 1, after.last)),
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


def _before(press: PressAtSwaps, channel: str, where: _Rows) -> _Before | None:
    """Return how a channel stood before a swap, None where too few shots tell."""
    sound = press.settled(channel, where.sound)
    if len(sound) < FEWEST:
        sound = press.column(channel, where.past_cold)[-WINDOW:]
    late = press.settled(channel, where.late)
    if len(late) < FEWEST:
        late = press.column(channel, where.late)
    if min(len(sound), len(late)) < FEWEST:
        return None
    level, spread = _mean(sound), _spread(sound, CHANNELS[channel].least_change)
    return _Before(level, spread, _mean(late) - level, spread * sqrt(1.0 / len(late) + 1.0 / len(sound)), len(sound))


def _is_compared(press: PressAtSwaps, channel: str, where: _Rows) -> bool:
    settled = np.count_nonzero(press.seen[channel][where.after] & press.charted[where.after])
    return bool(settled >= FEWEST or len(_at_equal_number(press, channel, where)) >= FEWEST)


def _after(press: PressAtSwaps, channel: str, where: _Rows, known: _Before) -> list[Moved]:
    """Return how a channel stood after a swap: at equal numbers of shots, and settled."""
    fresh = press.settled(channel, where.after)[:WINDOW] - known.level
    found = []
    for left, of_old in ((_at_equal_number(press, channel, where), None), (fresh, known.n_sound)):
        if len(left) >= FEWEST:
            error = known.spread * sqrt(1.0 / len(left) + 1.0 / (of_old or len(left)) + 2.0 * _SISTERS_DIFFER**2)
            found.append(Moved(channel, known.level, known.by, _mean(left), known.error, error))
    return found


def _agreed(found: list[Moved]) -> Moved | None:
    """Return the comparison that tells; where the two contradict each other, one too uncertain to tell anything."""
    if not found:
        return None
    telling = [one for one in found if kept(one) != "open"]
    if len({kept(one) for one in telling}) == 2:
        return replace(found[-1], error=abs(found[-1].before))
    return telling[0] if telling else found[-1]


def _at_equal_number(press: PressAtSwaps, channel: str, where: _Rows) -> F:
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
