"""Which number is which channel, all of them together. Pure.

Channels are not guessed one by one: no register is two of them, the peak is not below the pressure at switchover, the
cushion lies before the switchover position, a cycle is longer than what happens in it. So the best of all is
sought together, and how sure each is comes from how much worse all would be with another in its place.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import exp
from statistics import correlation, median

from shotlog.learning.guesses import Guess

__all__ = ["Assigned", "assigned"]

_MOST = 10
"""Guesses a channel that are weighed together; the others are too unlikely to matter."""

_KEPT = 600
"""Ways to place the channels so far that are followed further; ten times as many change no share by a hundredth."""

_NEVER = 100.0
_TOGETHER, _AT_ONCE = 0.7, 0.1
_NEAR, _ALIKE_SHARE = 0.08, 0.3


@dataclass(frozen=True, slots=True)
class Assigned:
    """The likeliest guess of a channel and its share against all others, 0 to 1. `same`: others that show the same
    values; `rivals`: others that fit about as well, likeliest first.
    """

    guess: Guess
    share: float
    same: tuple[Guess, ...]
    rivals: tuple[Guess, ...]


def assigned(guesses: Mapping[str, Sequence[Guess]]) -> dict[str, Assigned]:
    """Return the likeliest of all ways to place the channels; one that it leaves out is likelier not to be there.

    Notes
    -----
    Channels are placed one after another, those with figures first; of all ways to place them the likeliest are kept
    (a beam search). The share of a guess is the weight of the ways that hold it.
    """
    lists = {channel: _distinct(found)[:_MOST] for channel, found in guesses.items() if found}
    order = sorted(lists, key=lambda channel: (-lists[channel][0].n_fits, -lists[channel][0].score))
    ways = _ways([lists[channel] for channel in order])
    top = max(score for score, _ in ways)
    weights = [exp(score - top) for score, _ in ways]
    total = sum(weights)
    placed = {}
    for at, channel in enumerate(order):
        shares = [0.0] * (len(lists[channel]) + 1)
        for weight, (_, way) in zip(weights, ways, strict=True):
            shares[way[at]] += weight / total
        ranked = sorted(range(1, len(shares)), key=lambda n: -shares[n])
        taken = ways[0][1][at]
        if not taken:
            continue
        one_place = [n for n in ranked if _one_place(lists[channel][n - 1], lists[channel][taken - 1])]
        alike = [n for n in one_place if shares[n] >= _ALIKE_SHARE * shares[taken]]
        # of two readings of one place that only differ in when it is written, the later waits for both
        chosen = max((lists[channel][n - 1] for n in alike), key=lambda one: one.series.timing.late_s)
        share = sum(shares[n] for n in one_place)
        near = tuple(lists[channel][n - 1] for n in ranked if n not in one_place and shares[n] >= _NEAR * share)
        same = [one for one in guesses[channel] if not _one_place(one, chosen) and one.same_values(chosen)]
        placed[channel] = Assigned(chosen, share, _other_places(chosen, same), near[:5])
    return placed


def _one_place(a: Guess, b: Guess) -> bool:
    """Say whether two are read from one place in one way."""
    return (a.cell, a.scale, a.unit) == (b.cell, b.scale, b.unit)


def _ways(lists: Sequence[Sequence[Guess]]) -> list[tuple[float, tuple[int, ...]]]:
    """Return the likeliest ways to place all channels: score, and for each channel its guess from 1, 0 for none."""
    ways: list[tuple[float, tuple[int, ...]]] = [(0.0, ())]
    for at, found in enumerate(lists):
        further = [(score, (*way, 0)) for score, way in ways]
        for n, guess in enumerate(found, 1):
            # by channel before it: 0 for none placed, then what goes with each of its guesses
            beside = [[0.0, *(_together(other, guess) for other in others)] for others in lists[:at]]
            for score, way in ways:
                more = guess.score + sum(scores[taken] for scores, taken in zip(beside, way, strict=True))
                if more > -_NEVER / 2:
                    further.append((score + more, (*way, n)))
        ways = sorted(further, reverse=True)[:_KEPT]
    return ways


def _distinct(found: Sequence[Guess]) -> list[Guess]:
    """Return the guesses less those that show the same values as a likelier one."""
    kept: list[Guess] = []
    for guess in found[: 4 * _MOST]:
        if not any(guess.same_values(one) for one in kept):
            kept.append(guess)
    return kept


def _other_places(chosen: Guess, same: Sequence[Guess]) -> tuple[Guess, ...]:
    places: dict[int, Guess] = {}
    for one in same:
        if not one.cell.span.overlaps(chosen.cell.span):
            places.setdefault(one.cell.span.address, one)
    return tuple(places.values())


_BELOW = {
    ("switchover_pressure", "peak_pressure"): 4.0,
    ("cushion", "switchover_position"): 5.0,
    ("fill_time", "recovery_time"): 1.5,
    ("fill_time", "cycle_time"): 8.0,
    ("recovery_time", "cycle_time"): 8.0,
    ("back_pressure", "switchover_pressure"): 3.0,
    ("insert_temperature", "melt_temperature"): 5.0,
}
"""What lies below what in one shot, and how rare it is that it does not."""

_ALIKE = (("peak_pressure", "switchover_pressure", "back_pressure"), ("cushion", "switchover_position"))
"""Channels that a press sends in one unit."""


def _together(a: Guess, b: Guess) -> float:
    if a.cell.span.overlaps(b.cell.span):
        return -_NEVER
    score = 0.0
    for low, high in ((a, b), (b, a)):
        rarity = _BELOW.get((low.channel, high.channel))
        if rarity is not None and not _below(low, high):
            score -= rarity
    if {a.channel, b.channel} == {"peak_pressure", "switchover_pressure"} and _move_together(a, b):
        score += 1.5
    if _laid_apart(a, b):
        score -= 3.0
    for group in _ALIKE:
        if a.channel in group and b.channel in group and a.unit != b.unit:
            score -= 2.0
    if a.cell.kind.words > 1 and b.cell.kind.words > 1 and a.cell.word_order != b.cell.word_order:
        score -= 2.0
    if a.cell.byte_order != b.cell.byte_order:
        score -= 1.5
    return score


def _laid_apart(a: Guess, b: Guess) -> bool:
    """Say whether two that change at one time would be values of two shots."""
    one, other = a.series.timing, b.series.timing
    moving = all(timing.kind in ("shot", "seldom") for timing in (one, other))
    return moving and abs(one.place - other.place) < _AT_ONCE and one.laid != other.laid


def _move_together(a: Guess, b: Guess) -> bool:
    """Say whether two are driven by the same: what the melt resists shows in both pressures of a shot."""
    pairs = [(x, y) for x, y in zip(a.values, b.values, strict=True) if x is not None and y is not None]
    columns = list(zip(*pairs, strict=True))
    if len(pairs) < 6 or any(len(set(column)) == 1 for column in columns):
        return False
    return correlation(*columns) > _TOGETHER


def _below(low: Guess, high: Guess) -> bool:
    pairs = [(a, b) for a, b in zip(low.values, high.values, strict=True) if a is not None and b is not None]
    return not pairs or (median(b - a for a, b in pairs) >= 0 and sum(b >= a for a, b in pairs) >= 0.8 * len(pairs))
