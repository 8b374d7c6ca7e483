"""Every number that the registers may hold, shot by shot. Pure.

A register is a number by itself, with or without a sign, or half of a wider one in either order. What cannot be (a
float of 10 to the 30, a digit of BCD beyond 9) drops out here; what is left is held against the channels.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import isfinite

from shotlog.collectors.register_map import Cell
from shotlog.collectors.registers import decode
from shotlog.learning.counting import Counting
from shotlog.learning.history import WordHistory, cell_at
from shotlog.learning.timing import Timing, looks, seen_at, shares, timing_of

__all__ = ["Series", "series_of"]

_EMPTY = (0xFFFF, 0x8000, 0x7FFF)
"""Words that presses send where nothing is measured."""

_MOST_WHOLE = 10**8
_MOST_REAL, _LEAST_REAL = 1e6, 1e-4


@dataclass(frozen=True, slots=True)
class Series:
    """A number shot by shot; None where the press said that it was not measured, by the raw number `missing`.

    `step`: the least it can move by, unscaled; 0 where that is as good as nothing. `rarity`: how rare it is that such
    a number moves as its registers do.
    """

    cell: Cell
    raws: tuple[int | float | None, ...]
    timing: Timing
    missing: int | None = None
    step: float = 0.0
    rarity: float = 0.0


def series_of(history: WordHistory, counting: Counting) -> list[Series]:
    """Return all numbers that may be values of a shot; what reads otherwise later in the cycle comes once for each."""
    places = shares(counting.counts)
    tables = []
    for share in places:
        shots = looks(history, counting, share)
        tables.append({address: [history.word(address, shot.at) for shot in shots] for address in history.addresses})
    found = []
    for address in history.addresses:
        for cell in _cells(address):
            if history.has(cell) and not cell.span.overlaps(counting.cell.span):
                found += _at_each(history, cell, counting, tables, places)
    return found


def _at_each(
    history: WordHistory,
    cell: Cell,
    counting: Counting,
    tables: Sequence[Mapping[int, Sequence[int]]],
    places: Sequence[float],
) -> list[Series]:
    """Return a number as it reads at each place in the cycle, likeliest first, each way of reading once."""
    made: list[Series] = []
    timing: Timing | None = None
    for table, share in zip(tables, places, strict=True):
        if timing is not None and timing.kind in ("still", "live"):
            break
        read = _read(cell, [table[address] for address in range(cell.span.address, cell.span.last + 1)])
        if read is None:
            break
        timing = timing_of(history, cell, counting.counts) if timing is None else timing
        here = seen_at(timing, share, counting.counts)
        if here is not None:
            made.append(_as_timed(read, here, history, counting))
    made.sort(key=lambda one: (one.timing.rarity, one.raws.count(None)))
    return [one for n, one in enumerate(made) if not any(_reads_as(one, other) for other in made[:n])]


def _reads_as(one: Series, other: Series) -> bool:
    return all(a == b or a is None or b is None for a, b in zip(one.raws, other.raws, strict=True))


def _cells(address: int) -> Iterator[Cell]:
    yield cell_at(address, "uint16")
    yield cell_at(address, "int16")
    yield cell_at(address, "bcd16")
    yield cell_at(address, "uint16", byte_order="little")
    for word_order in ("big", "little"):
        for byte_order in ("big", "little"):
            for kind in ("uint32", "int32", "float32", "float64", "bcd32"):
                yield cell_at(address, kind, word_order, byte_order)


def _read(cell: Cell, columns: Sequence[Sequence[int]]) -> Series | None:
    """Return the numbers of a cell as they read, still without their timing; None where it can be none."""
    still = all(len(set(column)) == 1 for column in columns)
    if not any(any(column) for column in columns) or (still and _odd(cell)):
        return None
    words = list(zip(*columns, strict=True))
    read = {own: decode(own, cell.kind, cell.word_order, cell.byte_order) for own in set(words)}
    raws: list[int | float | None] = [read[own] for own in words]
    missing = None
    for n, own in enumerate(words):
        raw = read[own]
        if cell.kind.empty(raw) or (own[0] in _EMPTY if cell.kind.words == 1 else set(own) == {0xFFFF}):
            missing = raw if isinstance(raw, int) else missing
            raws[n] = None
    there = [raw for raw in raws if raw is not None]
    if len(there) < 0.5 * len(words) or not _can_be(cell, there, words):
        return None
    return Series(cell, tuple(raws), Timing("still"), missing, float(cell.kind.whole), _stiff(cell, words))


def _as_timed(read: Series, timing: Timing, history: WordHistory, counting: Counting) -> Series:
    raws = read.raws
    if timing.early and counting.counts[0].middle + timing.lag_s < (history.began or 0.0):
        raws = (None, *raws[1:])  # the next shot's was written before anybody read
    return replace(read, raws=raws, timing=timing)


def _stiff(cell: Cell, words: Sequence[Sequence[int]]) -> float:
    """Return how rare it is that the last words of a real number stand still while it moves: mostly they are others."""
    if cell.kind.whole or len(set(words)) < 3:
        return 0.0
    last = -1 if cell.word_order == "big" else 0
    return 2.0 if len({own[last] for own in words}) == 1 else 0.0


def _odd(cell: Cell) -> bool:
    """Say whether a number is written in a way that only a value which moves can prove."""
    return cell.byte_order == "little" or cell.kind.digits or cell.kind.words > 2


def _can_be(cell: Cell, raws: Sequence[int | float], words: Sequence[tuple[int, ...]]) -> bool:
    """Say whether these numbers can be meant; of two types that read the same, the narrower and plainer one stays."""
    kind = cell.kind
    if not any(raws):
        return False
    if not kind.whole:
        return all(isfinite(raw) and (raw == 0 or _LEAST_REAL <= abs(raw) <= _MOST_REAL) for raw in raws)
    if max(abs(raw) for raw in raws) > _MOST_WHOLE:
        return False
    if kind.digits:
        return min(raws) >= 0 and max(raws) > 9 and _wider(kind.words, words, cell.word_order)
    if kind.code.islower():
        return min(raws) < 0 and (kind.words == 1 or _small_negative(raws))
    return _wider(kind.words, words, cell.word_order)


def _wider(n_words: int, words: Sequence[tuple[int, ...]], word_order: str) -> bool:
    """Say whether the high word of a wide number ever holds anything; where not, it reads as its low word does."""
    return n_words == 1 or any(own[0 if word_order == "big" else -1] for own in words)


def _small_negative(raws: Sequence[int | float]) -> bool:
    return any(-(1 << 15) <= raw < 0 for raw in raws)
