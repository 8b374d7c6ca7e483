"""Which printed column is which channel: by its heading, its unit, its figures, its level. Pure."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from shotlog.channels import CHANNELS
from shotlog.collectors.lines import number
from shotlog.collectors.register_map import Cell
from shotlog.collectors.registers import TYPES, RegisterSpan
from shotlog.errors import UsageError
from shotlog.learning.assignment import Assigned, assigned
from shotlog.learning.guesses import ByFigure, Guess, guesses_of
from shotlog.learning.layout import Layout, LineColumn, columns_counting
from shotlog.learning.misread import Explained, explained
from shotlog.learning.screen import ScreenShot, figures_of
from shotlog.learning.series import Series
from shotlog.learning.timing import Timing
from shotlog.learning.words import channels_named, unit_in
from shotlog.units import converter

__all__ = ["LineFound", "LineProposal", "propose_lines"]

_NAMED = 6.0
_NAMED_OTHERWISE = 4.0
_BY_LUCK = 0.1


@dataclass(frozen=True, slots=True)
class LineFound:
    """A channel's column, how sure, and what else fits. `named`: its heading says so; `unit`: printed, or ''."""

    channel: str
    column: LineColumn
    guess: Guess
    sure: str
    named: bool
    unit: str
    share: float
    rivals: tuple[LineColumn, ...]


@dataclass(frozen=True, slots=True)
class LineProposal:
    """The layout, the column that counts and how sure, the channels; as for registers (`learning.proposal`)."""

    layout: Layout
    counter: LineColumn
    counter_sure: str
    counter_rivals: tuple[LineColumn, ...]
    counts: tuple[int, ...]
    channels: tuple[LineFound, ...]
    unmatched: tuple[str, ...]
    unseen: tuple[int, ...]
    doubt: Explained


def propose_lines(layout: Layout, seen: Sequence[ScreenShot]) -> LineProposal:
    """Return what the columns are taken for."""
    numbers = {one.shot for one in seen if one.shot is not None}
    ranked = sorted(
        layout.counting, key=lambda one: (-len(numbers & set(columns_counting(layout, one))), _named_count(one), one.at)
    )
    counter = ranked[0]
    counts = columns_counting(layout, counter)
    agreed = bool(numbers & set(counts))
    rivals = [one for one in ranked[1:] if not agreed or numbers & set(columns_counting(layout, one))]
    sure = "settled" if agreed and not rivals else "likely" if not rivals or not _named_count(counter) else "possible"
    at = {count: n for n, count in enumerate(counts)}
    columns = {one.at: one for one in layout.columns if one not in layout.counting}
    figures = {channel: _tied(channel, seen, at) for channel in CHANNELS if channel != "mass_balance"}

    def guess(channel: str, own: Sequence[ByFigure]) -> list[Guess]:
        return _guesses(channel, columns, layout.decimal, own)

    guesses = {channel: guess(channel, own) for channel, own in figures.items()}
    doubt = explained(figures, guesses, guess, len(counts), len(columns))
    placed = assigned({**guesses, **doubt.guesses})
    channels = tuple(
        _found(channel, one, columns, doubt.doubts(one.guess))
        for channel, one in placed.items()
        if one.share > 0.15 or one.guess.n_fits
    )
    unmatched = tuple(channel for channel, own in figures.items() if own and not guesses[channel])
    unseen = tuple(sorted(numbers - set(counts)))
    return LineProposal(layout, counter, sure, tuple(rivals), tuple(counts), channels, unmatched, unseen, doubt)


def _named_count(column: LineColumn) -> int:
    words = f"{column.heading} {column.before}".lower()
    return 0 if any(name in words for name in ("nr", "no", "shot", "count", "schuss", "#", "zähl")) else 1


def _tied(channel: str, seen: Sequence[ScreenShot], at: Mapping[int, int]) -> list[ByFigure]:
    tied = []
    for one, figure in figures_of(seen, channel):
        place = at.get(one.shot) if one.shot is not None else one.counted
        if place is not None and 0 <= place < len(at):
            tied.append(ByFigure(place, figure))
    return tied


def printed_unit(column: LineColumn) -> str:
    """Return the unit that is printed with a column: behind its number, below or in its heading; '' where none is."""
    return unit_in(column.after) or unit_in(column.unit_line) or unit_in(column.heading)


def _guesses(channel: str, columns: Mapping[int, LineColumn], decimal: str, seen: Sequence[ByFigure]) -> list[Guess]:
    found = []
    for column in columns.values():
        unit = printed_unit(column)
        if unit and not _measures(unit, channel):
            continue
        named = channels_named(f"{column.before} {column.heading}")
        bonus = _NAMED if channel in named else -_NAMED_OTHERWISE if named else 0.0
        for guess in guesses_of(channel, [_series(column, decimal)], seen, unit, floor=-12.0):
            found.append(replace(guess, score=guess.score + bonus))
    return sorted((one for one in found if one.score > -3.0), key=lambda one: -one.score)


def _measures(unit: str, channel: str) -> bool:
    try:
        converter(unit, CHANNELS[channel].unit)
    except UsageError:
        return False
    return True


def _series(column: LineColumn, decimal: str) -> Series:
    raws = [number(token, decimal) if token else None for token in column.tokens]
    values = tuple(None if raw is None else float(raw) for raw in raws)
    kind = "still" if len(set(values)) == 1 else "shot"
    step = 10.0 ** -max((len(token.rpartition(decimal)[2]) for token in column.tokens if decimal in token), default=0)
    cell = Cell("", RegisterSpan(column.at, 1), TYPES["float32"], "big", "big")
    return Series(cell, values, Timing(kind), None, step)


def _found(channel: str, placed: Assigned, columns: Mapping[int, LineColumn], doubted: bool) -> LineFound:
    column = columns[placed.guess.cell.span.address]
    unit = printed_unit(column)
    named = channel in channels_named(f"{column.before} {column.heading}")
    by_figures = placed.guess.n_fits and placed.guess.luck * len(columns) < _BY_LUCK and placed.share >= 0.9
    likely = placed.share >= 0.8 and (placed.guess.n_fits or (named and unit and placed.guess.scale == 1.0))
    moves = placed.guess.series.timing.kind != "still"
    sure = "settled" if by_figures and moves else "likely" if by_figures or likely else "possible"
    sure = "possible" if doubted else sure
    rivals = tuple(dict.fromkeys(columns[one.cell.span.address] for one in placed.rivals))
    others = tuple(one for one in rivals if one is not column)
    return LineFound(channel, column, placed.guess, sure, named, unit, placed.share, others)
