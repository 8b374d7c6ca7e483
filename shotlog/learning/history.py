"""What was read of each register, and when it changed. Pure: readings are handed in.

Registers are read again and again, so a change is known to lie between two readings: `after` the last one that showed
the old word, `by` the first that showed the new one. All that is worked out later rests on these two times.
"""

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from shotlog.collectors.register_map import Cell
from shotlog.collectors.registers import TYPES, RegisterSpan

__all__ = ["Moment", "WordHistory", "cell_at"]


@dataclass(frozen=True, slots=True)
class Moment:
    """A change: seen to be over `by` a time, and not yet there `after` another, in seconds; `raw` is the new number."""

    after: float
    by: float
    raw: int | float

    @property
    def middle(self) -> float:
        """The likeliest time of it, in seconds."""
        return (self.after + self.by) / 2


def cell_at(address: int, kind: str, word_order: str = "big", byte_order: str = "big") -> Cell:
    """Return the place of one number of the type `kind`."""
    found = TYPES[kind]
    return Cell("", RegisterSpan(address, found.words), found, word_order, byte_order)


class WordHistory:
    """The words of a press over time.

    State: the first word of each register and its changes; registers that stand still cost nothing.
    """

    def __init__(self) -> None:
        self._first: dict[int, int] = {}
        self._last: dict[int, int] = {}
        self._read: dict[int, float] = {}
        self._changes: dict[int, list[Moment]] = defaultdict(list)
        self.began: float | None = None
        self.ended = 0.0
        self.n_changes = 0
        self._failed: list[float] = []

    def note(self, address: int, words: Sequence[int], at: float) -> None:
        """Take in one answer: the registers from `address` on, read at time `at` in seconds."""
        self.began = at if self.began is None else self.began
        self.ended = at
        for place, word in enumerate(words, address):
            if place not in self._first:
                self._first[place] = word
            elif word != self._last[place]:
                self._changes[place].append(Moment(self._read[place], at, word))
                self.n_changes += 1
            self._last[place], self._read[place] = word, at

    def failed(self, at: float) -> None:
        """Note that the press was asked and gave no values, at time `at` in seconds."""
        self._failed.append(at)

    def whole(self, after: float, by: float) -> bool:
        """Say whether every request between two times was answered."""
        return bisect_right(self._failed, after) == bisect_right(self._failed, by)

    @property
    def addresses(self) -> list[int]:
        """The registers that were read, in order."""
        return sorted(self._first)

    def has(self, cell: Cell) -> bool:
        """Say whether every register of it was read."""
        return all(address in self._first for address in _addresses(cell))

    def changed(self, address: int) -> list[Moment]:
        """Return the changes of one register, in order."""
        return self._changes.get(address, [])

    def word(self, address: int, at: float) -> int:
        """Return what a register showed at a time, as far as it was read by then."""
        changes = self.changed(address)
        n = bisect_right(changes, at, key=lambda moment: moment.by)
        return int(changes[n - 1].raw) if n else self._first[address]

    def raw(self, cell: Cell, at: float) -> int | float:
        """Return the number of a cell at a time."""
        return cell.raw({address: self.word(address, at) for address in _addresses(cell)})

    def moments(self, cell: Cell) -> list[Moment]:
        """Return the changes of a number: words that changed at one reading are one change."""
        found: dict[float, float] = {}
        for address in _addresses(cell):
            for moment in self.changed(address):
                found[moment.by] = max(moment.after, found.get(moment.by, moment.after))
        return [Moment(after, by, self.raw(cell, by)) for by, after in sorted(found.items())]

    def first(self, cell: Cell) -> int | float:
        """Return the number that stood there at first."""
        return cell.raw({address: self._first[address] for address in _addresses(cell)})


def _addresses(cell: Cell) -> Iterable[int]:
    return range(cell.span.address, cell.span.last + 1)
