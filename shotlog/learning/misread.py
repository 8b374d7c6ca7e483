"""Figures off the screen that no place agrees with: one misread, or all of a neighbouring shot. Pure.

People slip, and many screens are a shot ahead of the counter or behind it. Nothing is written on such figures; what
would make them fit is said.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from shotlog.learning.guesses import ByFigure, Guess

__all__ = ["Explained", "explained"]

Guesses = Callable[[str, Sequence[ByFigure]], list[Guess]]
"""Returns what may be a channel under these figures, likeliest first."""

_BY_LUCK = 0.1


@dataclass(frozen=True, slots=True)
class Explained:
    """`shift`: the figures fit the shot so many after the one they were given for; 0 where that explains nothing.
    `odd`: by channel, the one figure that does not fit where its others do. `guesses`: of those channels, without it.
    """

    shift: int = 0
    odd: Mapping[str, ByFigure] = field(default_factory=dict)
    guesses: Mapping[str, list[Guess]] = field(default_factory=dict)

    def doubts(self, guess: Guess) -> bool:
        """Say whether a guess rests on figures that cannot be trusted as they are."""
        return guess.channel in self.odd or (self.shift != 0 and guess.n_fits > 0)


def explained(
    figures: Mapping[str, Sequence[ByFigure]],
    found: Mapping[str, Sequence[Guess]],
    guesses: Guesses,
    n_shots: int,
    n: int,
) -> Explained:
    """Return what may be wrong with the figures of the channels for which nothing was found.

    Parameters
    ----------
    n_shots
        How many shots were looked at.
    n
        How many places move: luck is held against it.
    """
    with_figures = {channel: own for channel, own in figures.items() if own}
    lost = [channel for channel in with_figures if not found[channel]]
    if not lost:
        return Explained()
    n_fit = len(with_figures) - len(lost)
    for shift in (-1, 1):
        moved = {channel: _moved(own, shift, n_shots) for channel, own in with_figures.items()}
        fits = [channel for channel, own in moved.items() if own and _surely(guesses(channel, own), n)]
        if len(fits) > 2 * n_fit:
            return Explained(shift)
    odd: dict[str, ByFigure] = {}
    better: dict[str, list[Guess]] = {}
    for channel in lost:
        own = with_figures[channel]
        tried = own if len(own) > 1 else ()
        left_out = [(one, guesses(channel, [other for other in own if other is not one])) for one in tried]
        left_out = [(one, made) for one, made in left_out if _surely(made, n)]
        if left_out:
            odd[channel], better[channel] = max(left_out, key=lambda pair: pair[1][0].score)
    return Explained(0, odd, better)


def _moved(own: Sequence[ByFigure], shift: int, n_shots: int) -> list[ByFigure]:
    return [replace(one, at=one.at + shift) for one in own if 0 <= one.at + shift < n_shots]


def _surely(made: Sequence[Guess], n: int) -> bool:
    return bool(made) and made[0].luck * n < _BY_LUCK
