"""Every number that the registers may hold, shot by shot. Pure.

A register is a number by itself, with or without a sign, or half of a wider one in either order. What cannot be (a
float of 10 to the 30, a digit of BCD beyond 9) drops out here; what is left is held against the channels.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import isfinite

from shotlog.collectors.register_map import Cell
from shotlog.collectors.registers import decode
from shotlog.learning.counting import Counting
from shotlog.learning.history import History, cell_at
from shotlog.learning.timing import Looked, Timing, timing_of

__all__ = ["Series", "series_of"]

_EMPTY = (0xFFFF, 0x8000, 0x7FFF)
"""Words that presses send where nothing is measured."""

_MOST_WHOLE = 10**8
_MOST_REAL, _LEAST_REAL = 1e6, 1e-4


@dataclass(frozen=True, slots=True)
class Series:
    """A number shot by shot; None where the press said that it was not measured, by the raw number `missing`.

    `step`: the least it can move by, unscaled; 0 where that is as good as nothing.
    """

    cell: Cell
    raws: tuple[int | float | None, ...]
    timing: Timing
    missing: int | None = None
    step: float = 0.0


def series_of(history: History, counting: Counting, shots: Sequence[Looked]) -> list[Series]:
    """Return all numbers that may be values of a shot."""
    table = {address: [history.word(address, shot.at) for shot in shots] for address in history.addresses}
    found = []
    for address in table:
        for cell in _cells(address):
            if history.has(cell) and not cell.span.overlaps(counting.cell.span):
                made = _made(history, cell, counting, [table[place] for place in range(address, cell.span.last + 1)])
                if made is not None:
                    found.append(made)
    return found


def _cells(address: int) -> Iterator[Cell]:
    yield cell_at(address, "uint16")
    yield cell_at(address, "int16")
    yield cell_at(address, "bcd16")
    yield cell_at(address, "uint16", byte_order="little")
    for word_order in ("big", "little"):
        for byte_order in ("big", "little"):
            for kind in ("uint32", "int32", "float32", "float64", "bcd32"):
                yield cell_at(address, kind, word_order, byte_order)


def _made(history: History, cell: Cell, counting: Counting, columns: Sequence[Sequence[int]]) -> Series | None:
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
    return Series(cell, tuple(raws), timing_of(history, cell, counting.counts), missing, float(cell.kind.whole))


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
