"""One number taken for one channel, at a scale and in a unit: whether it can be, and how rare that would be. Pure.

Every rarity is a negative logarithm: a guess that scores 3 more than another is about twenty times as likely.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from math import log, log10
from statistics import median

from shotlog.channels import CHANNELS, Channel
from shotlog.collectors.register_map import Cell
from shotlog.learning.screen import Figure
from shotlog.learning.series import Series
from shotlog.learning.usual import USUAL, rarity_of_type, rarity_of_unit
from shotlog.units import converter

__all__ = ["ByFigure", "Guess", "guesses_of", "unusual"]

_ODD_STEPS = (2.0, 5.0, 2.5)
"""Steps between powers of ten that some presses send in; looked for only where figures off the screen can settle it."""
_ODD = 4.0
_TRUNCATED = 0.7
_ON_SCREEN = 4.0
"""That the screen shows a channel speaks for its being sent at all."""
_COARSER = 12.0
"""A press may send or print a digit less than its screen shows, or another unit: so much coarser at most."""
_POWERS = range(-6, 3)
_WELL_KNOWN = 2.5
"""What a guess without a figure begins with: one at the usual level and scale is likelier than that there is none."""


@dataclass(frozen=True, slots=True)
class ByFigure:
    """A figure off the screen and the place of its shot among those looked at."""

    at: int
    figure: Figure


@dataclass(frozen=True, slots=True)
class Guess:
    """`values` in the channel's unit, shot by shot; `score` as a logarithm; `n_fits`: figures it agrees with; `luck`:
    how many such registers would agree with the figures by luck alone.
    """

    channel: str
    series: Series
    scale: float
    unit: str
    values: tuple[float | None, ...]
    score: float
    n_fits: int = 0
    luck: float = 1.0

    @property
    def cell(self) -> Cell:
        """Where it lies."""
        return self.series.cell

    @property
    def level(self) -> float:
        """Its middle value, in the channel's unit."""
        return median(self.measured)

    @property
    def measured(self) -> list[float]:
        """Its values where there are any."""
        return [value for value in self.values if value is not None]

    def same_values(self, other: "Guess") -> bool:
        """Say whether the other shows the same, whichever way it is written."""
        pairs = zip(self.values, other.values, strict=True)
        return all(
            (a is not None and b is not None and abs(a - b) <= 1e-6 * max(abs(a), abs(b), 1e-9)) or a is b is None
            for a, b in pairs
        )


def guesses_of(
    channel: str, found: Sequence[Series], seen: Sequence[ByFigure], unit: str = "", floor: float = -3.0
) -> list[Guess]:
    """Return what may be this channel, likeliest first; where there are figures, only what agrees with all of them.

    `unit`: the one it is known to be in; `floor`: the least score of a guess without a figure.
    """
    made = [
        guess for series in found for guess in _guesses(CHANNELS[channel], series, seen, unit) if guess.score > floor
    ]
    return sorted(made, key=lambda guess: (-guess.score, guess.cell.kind.words, guess.cell.span.address))


def _guesses(channel: Channel, series: Series, seen: Sequence[ByFigure], known: str) -> Iterator[Guess]:
    there = [raw for raw in series.raws if raw is not None]
    middle = median(there)
    on_screen = seen[0].figure.unit if seen else None
    units = (channel.unit, *USUAL[channel.name].units, *([on_screen] if on_screen else []))
    for unit in dict.fromkeys([known] if known else units):
        factor, shift = _linear(unit, channel.unit)
        for scale, rarity in _scales(channel.name, series, bool(seen)):
            if not channel.low <= middle * scale * factor + shift <= channel.high:
                continue
            own = [None if raw is None else raw * scale * factor + shift for raw in series.raws]
            guess = _weighed(channel, series, own, scale, unit, rarity, seen, on_screen)
            if guess is not None:
                yield guess


@cache
def _linear(unit: str, to: str) -> tuple[float, float]:
    convert = converter(unit, to)
    shift = convert(0.0)
    return convert(1.0) - shift, shift


def _scales(channel: str, series: Series, wide: bool) -> Iterable[tuple[float, float]]:
    if not series.cell.kind.whole:
        return [(1.0, 0.0), *((10.0**power, 3.0) for power in _POWERS if power)]
    usual = USUAL[channel].scales
    found = [(float(f"1e{power}"), usual.get(power, 4.5)) for power in _POWERS]
    if wide:
        found += [(float(f"{step}e{power}"), _ODD + usual.get(power, 3.0)) for power in _POWERS for step in _ODD_STEPS]
    return found


def _weighed(
    channel: Channel,
    series: Series,
    own: Sequence[float | None],
    scale: float,
    unit: str,
    rarity: float,
    seen: Sequence[ByFigure],
    on_screen: str | None,
) -> Guess | None:
    measured = [value for value in own if value is not None]
    if not all(channel.low <= value <= channel.high for value in measured):
        return None
    rarity += rarity_of_type(series.cell.kind.name, series.cell.byte_order == "little")
    rarity += rarity_of_unit(channel.name, unit, on_screen) + _restless(channel, measured)
    rarity += _moves(channel.name, series, measured) + series.timing.rarity + series.rarity
    if not seen:
        if min(measured) <= 0 and channel.name not in ("cushion", "melt_temperature", "insert_temperature"):
            return None
        level = median(measured)
        if level <= 0:
            return None
        score = _WELL_KNOWN - unusual(channel.name, level) - rarity
        return Guess(channel.name, series, scale, unit, tuple(own), score)
    fits = [one for one in seen if own[one.at] is not None]
    half_step = series.step * scale * _linear(unit, channel.unit)[0] / 2
    coarse = half_step if fits and fits[0].figure.within < half_step <= _COARSER * fits[0].figure.within else 0.0
    if not fits or not all(one.figure.fits(own[one.at] or 0.0, coarse) for one in fits):
        return None
    cut = sum(abs((own[one.at] or 0.0) - one.figure.value) > one.figure.within * (1 + 1e-6) for one in fits)
    luck = _luck(fits, coarse)
    score = _WELL_KNOWN + _ON_SCREEN + log(1 / max(luck, 1e-12)) - rarity - _TRUNCATED * cut
    return Guess(channel.name, series, scale, unit, tuple(own), score, len(fits), luck)


def unusual(channel: str, level: float) -> float:
    """Return how rare such a level of a channel is; `level` in its unit, > 0."""
    usual = USUAL[channel]
    off = (log10(level) - log10(usual.level)) / usual.decades
    return 0.5 * off * off


def _luck(fits: Sequence[ByFigure], coarse: float) -> float:
    """Return the chance that a number that means something else agrees with these figures at some power of ten."""
    first = fits[0].figure
    chance = min(1.0, (4 * first.within + 2 * coarse) / max(abs(first.value), 1e-9) / log(10))
    for one in fits[1:]:
        moved = abs(one.figure.value - first.value)
        reach = 2 * (one.figure.within + coarse)
        chance *= min(1.0, reach / (reach + moved))
    return chance


def _restless(channel: Channel, measured: Sequence[float]) -> float:
    """Return how rare it is that a value jumps so much from shot to shot."""
    steps = [abs(b - a) for a, b in pairwise(measured)]
    middle = max(abs(median(measured)), 20 * channel.least_change)
    jump = (median(steps) if steps else 0.0) / middle
    if channel.unit == "degC":
        jump *= 3
    return 6.0 if jump > 0.3 else 3.0 if jump > 0.15 else 1.0 if jump > 0.07 else 0.0


def _moves(channel: str, series: Series, measured: Sequence[float]) -> float:
    """Return how rare it is that this channel moves at such times; a round value that stands still is a set-point."""
    usual = USUAL[channel]
    if series.timing.kind == "still":
        return usual.still + (1.5 if abs(measured[0] / 5 - round(measured[0] / 5)) < 1e-9 else 0.0)
    if series.timing.kind == "live":
        return usual.live
    return 1.0 if series.timing.kind == "seldom" and usual.still > 3.0 else 0.0
