"""From what was read to a proposed map: counter, channels, how sure, why. Pure.

How sure is said in three words: ``settled`` by figures off the press's own screen, ``likely`` where nothing else fits
nearly as well, ``possible`` where something else does, or where luck could have made it.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from shotlog.channels import CHANNELS
from shotlog.learning.assignment import Assigned, assigned
from shotlog.learning.counting import Counting, Refusal, counters, refused_counters
from shotlog.learning.guesses import ByFigure, Guess, guesses_of, unusual
from shotlog.learning.history import WordHistory
from shotlog.learning.misread import Explained, explained
from shotlog.learning.pace import pace_of
from shotlog.learning.screen import ScreenShot, figures_of
from shotlog.learning.series import Series, series_of
from shotlog.learning.timing import Looked, looks, settle_s

__all__ = ["CounterFound", "RegisterFound", "RegisterProposal", "chosen_counter", "propose"]

_SETTLED, _LIKELY, _WORTH, _SURE_BY_CLOCK = 0.9, 0.8, 0.15, 0.97
_BY_LUCK = 0.1
_LEAST = -3.0
_SHUT_OUT = 3
"""Cycles unlike the middle one, at least, before a value that follows them is taken for their length."""


@dataclass(frozen=True, slots=True)
class CounterFound:
    """The shot counter, how sure, and what counts as well as it."""

    counting: Counting
    sure: str
    rivals: tuple[Counting, ...]


@dataclass(frozen=True, slots=True)
class RegisterFound:
    """A channel's place, how sure, and what else fits. `share`: against all others, 0 to 1. `timed`: it is the time
    between counts.
    """

    channel: str
    guess: Guess
    sure: str
    share: float
    same: tuple[Guess, ...]
    rivals: tuple[Guess, ...]
    timed: bool = False


@dataclass(frozen=True, slots=True)
class RegisterProposal:
    """The whole map. `unmatched`: channels whose figures no register agrees with; `unseen`: shots that were named and
    not looked at; `settle_s`: how long after the count the values come, in seconds; `doubt`: what may be wrong with
    figures that nothing agrees with.
    """

    counter: CounterFound | None
    shots: tuple[Looked, ...]
    channels: tuple[RegisterFound, ...]
    unmatched: tuple[str, ...]
    unseen: tuple[int, ...]
    refused: tuple[Refusal, ...]
    settle_s: float
    doubt: Explained


def propose(history: WordHistory, seen: Sequence[ScreenShot], sweep_s: float) -> RegisterProposal:
    """Return what the registers are taken for.

    Parameters
    ----------
    seen
        What was read off the screen.
    sweep_s
        Time between two readings of a register, in seconds.
    """
    all_counting = counters(history)
    counter = chosen_counter(all_counting, seen)
    refused = tuple(refused_counters(history, all_counting))
    numbers = [one.shot for one in seen if one.shot is not None]
    if counter is None:
        return RegisterProposal(None, (), (), (), tuple(numbers), refused, 0.0, Explained())
    shots = looks(history, counter.counting)
    at = {shot.number: n for n, shot in enumerate(shots)}
    figures = {channel: _tied(channel, seen, at) for channel in CHANNELS if channel != "mass_balance"}
    counted = [*(one.cell.span for one in all_counting), *(one.cell.span for one in refused)]
    series = [
        one
        for one in series_of(history, counter.counting)
        if not any(one.cell.span.overlaps(span) for span in counted) and not _only_grows(one)
    ]
    n_moving = len({one.cell.span.address for one in series if one.timing.kind != "still"})
    gaps = _gaps(counter.counting)

    def guess(channel: str, own: Sequence[ByFigure]) -> list[Guess]:
        floor = -math.inf if channel == "cycle_time" else _LEAST  # what the clock confirms may have any level
        weighed = [_weighed(one, gaps, series) for one in guesses_of(channel, series, own, floor=floor)]
        return sorted((one for one in weighed if one.n_fits or one.score > _LEAST), key=lambda one: -one.score)

    guesses = {channel: guess(channel, own) for channel, own in figures.items()}
    unmatched = tuple(channel for channel, own in figures.items() if own and not guesses[channel])
    doubt = explained(figures, guesses, guess, len(shots), n_moving)
    channels = tuple(
        _found(channel, one, n_moving, _timed(one.guess, gaps), doubt.doubts(one.guess))
        for channel, one in assigned({**guesses, **doubt.guesses}).items()
        if one.share >= _WORTH or one.guess.n_fits
    )
    unseen = tuple(number for number in numbers if number not in at)
    timings = [found.guess.series.timing for found in channels if found.sure != "possible"]
    late = settle_s(timings, sweep_s, pace_of(counter.counting.counts))
    return RegisterProposal(counter, tuple(shots), channels, unmatched, unseen, refused, late, doubt)


def chosen_counter(found: Sequence[Counting], seen: Sequence[ScreenShot]) -> CounterFound | None:
    if not found:
        return None
    numbers = {one.shot for one in seen if one.shot is not None}
    agreed = max((len(numbers & set(one.shown)) for one in found), default=0)
    fits = [one for one in found if len(numbers & set(one.shown)) == agreed]
    best = max(one.support for one in fits)
    fits = [one for one in fits if one.support >= best - 0.25]
    # the plainest; among copies the one that counts last, for the values are there by then
    fits.sort(
        key=lambda one: (
            one.cell.byte_order != "big",
            one.cell.kind.digits,
            one.cell.kind.words,
            -round(one.support, 1),
            one.shown[-1],
            -one.counts[-1].by,
        )
    )
    sure = "settled" if agreed and _one_series(fits) else "likely" if _one_series(fits) else "possible"
    return CounterFound(fits[0], sure, tuple(fits[1:]))


def _one_series(fits: Sequence[Counting]) -> bool:
    return all(one.shown == fits[0].shown for one in fits)


def _only_grows(series: Series) -> bool:
    """Say whether it went up at every shot: a sum, not a measurement."""
    raws = [raw for raw in series.raws if raw is not None]
    return len(raws) >= 8 and all(b > a for a, b in pairwise(raws))


def _tied(channel: str, seen: Sequence[ScreenShot], at: Mapping[int, int]) -> list[ByFigure]:
    """Return the figures of a channel with the place of their shot; those of a shot nobody looked at are left out."""
    tied = []
    for one, figure in figures_of(seen, channel):
        place = at.get(one.shot) if one.shot is not None else one.counted
        if place is not None and place < len(at):
            tied.append(ByFigure(place, figure))
    return tied


def _found(channel: str, placed: Assigned, n_moving: int, timed: bool, doubted: bool) -> RegisterFound:
    sure = "possible" if doubted else _how_sure(placed, n_moving, timed)
    return RegisterFound(channel, placed.guess, sure, placed.share, placed.same, placed.rivals, timed)


def _gaps(counting: Counting) -> list[tuple[float, float]]:
    """Return the least and most time that can lie between each two counts, in seconds."""
    return [(b.after - a.by, b.by - a.after) for a, b in zip(counting.counts, counting.counts[1:], strict=False)]


def _timed(guess: Guess, gaps: Sequence[tuple[float, float]]) -> bool:
    return guess.channel == "cycle_time" and _is_the_gap(guess, gaps)


def _weighed(guess: Guess, gaps: Sequence[tuple[float, float]], series: Sequence[Series]) -> Guess:
    """Weigh a guess against what only time tells: a cycle against the counts, a copy against what it copies."""
    if guess.channel == "cycle_time":
        if not _timed(guess, gaps):
            return replace(guess, score=guess.score - 1.0)
        return replace(guess, score=guess.score + 6.0 + (0.0 if guess.n_fits else unusual("cycle_time", guess.level)))
    return _not_a_copy(guess, series)


def _is_the_gap(guess: Guess, gaps: Sequence[tuple[float, float]]) -> bool:
    """Say whether these values follow the times between counts, each known to lie between two; in seconds.

    Being about as long is no evidence: a value that stands at their mean must be shut out by some of them.
    """
    for first in (1, 2):  # of the cycle that began with the count, or of the one that ended with it
        pairs = [(value, gap) for value, gap in zip(guess.values[first:], gaps, strict=False) if value is not None]
        if not pairs:
            continue
        middle = sorted(value for value, _ in pairs)[len(pairs) // 2]
        near = sum(_within(value, gap) for value, gap in pairs)
        if near >= 0.9 * len(pairs) and sum(not _within(middle, gap) for _, gap in pairs) >= _SHUT_OUT:
            return True
    return False


def _within(value: float, gap: tuple[float, float]) -> bool:
    return gap[0] * 0.995 - 0.02 <= value <= gap[1] * 1.005 + 0.02


def _not_a_copy(guess: Guess, series: Sequence[Series]) -> Guess:
    """Lower the score of what shows the shot before: another number had just its values one shot earlier."""
    own = guess.series
    if own.timing.kind != "shot" or len(set(own.raws)) < 4:
        return guess
    earlier = any(
        one.cell.kind == own.cell.kind and one.raws[:-1] == own.raws[1:] and one.raws != own.raws for one in series
    )
    return replace(guess, score=guess.score - 5.0) if earlier and not guess.n_fits else guess


def _how_sure(placed: Assigned, n_moving: int, timed: bool) -> str:
    """Say how sure a channel is; without a figure off the screen nothing is likely but a cycle that the clock confirms.

    Of 40 made-up maps, the best guess without a figure was right once in four.
    """
    guess, moves = placed.guess, placed.guess.series.timing.kind != "still"
    if not guess.n_fits:
        return "likely" if timed and moves and placed.share >= _SURE_BY_CLOCK else "possible"
    if placed.share >= _SETTLED and guess.luck * n_moving < _BY_LUCK:
        return "settled" if moves else "likely"
    return "likely" if placed.share >= _LIKELY and guess.luck * n_moving <= 1.0 else "possible"
