"""Which register counts the shots. Pure.

What goes up by one is not a shot counter yet: seconds, minutes, alarms, rejects, movements of the mould do so too. A
shot counter is what goes up by one *when the values of a shot change*, each time they do. So each candidate is held
against all other registers: of its counts, how many came with a change of theirs (coverage), and how many of their
changes came once a count and at its own place in the cycle (precision). Seconds have many counts without a change,
alarms miss counts, a sum goes up by more than one.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from statistics import median

from shotlog.collectors.register_map import Cell
from shotlog.learning.history import Moment, WordHistory, cell_at
from shotlog.learning.pace import nearest_count, pace_of, usual_lag
from shotlog.learning.places import place_said

__all__ = ["Counting", "Refusal", "counted_otherwise", "counters", "refused_counters"]

_FEWEST = 3
"""Counts before anything is said: two can be chance. Someone with a very slow press would choose two."""

_STANDS = 10
"""Readings between two changes, at least, of what counts something made."""

_SUPPORT = 0.4
"""Share of counts and changes that must go together; a true counter has 0.8 and more, a clock 0.1 (own simulations)."""

_RECENT = 60
"""Changes that are looked at; more say the same again."""

_TOPS = frozenset([10**n - 1 for n in range(1, 10)] + [2**n - 1 for n in (8, 15, 16, 31, 32)])
"""Where counters roll over: at their width, or at the digits of a display."""


@dataclass(frozen=True, slots=True)
class Counting:
    """A number that counts: its place, its counts as they came, how well the values go with it (0 to 1).

    `last_count`: where it was seen to begin again; None where it was not. `first`: what stood there at first.
    `resets`: how often it began again elsewhere. `missed`: counts that were skipped.
    """

    cell: Cell
    first: int
    counts: tuple[Moment, ...]
    support: float
    last_count: int | None = None
    resets: int = 0
    missed: int = 0

    @property
    def shown(self) -> tuple[int, ...]:
        """Every number it has shown, in order."""
        return (self.first, *(int(moment.raw) for moment in self.counts))


@dataclass(frozen=True, slots=True)
class Refusal:
    """A number that changed in the manner of a counter and is none: where, and why."""

    cell: Cell
    why: str


def counters(history: WordHistory) -> list[Counting]:
    """Return what may count the shots, best first; those that fit equally well stand side by side."""
    found = [counting for counting, _ in _candidates(history) if counting is not None and counting.support >= _SUPPORT]
    found = [one for one in found if not any(_carries(other, one) for other in found)]
    return sorted(found, key=lambda one: (-round(one.support, 1), one.cell.kind.words, one.shown[-1]))


def _carries(wide: Counting, narrow: Counting) -> bool:
    """Say whether the wider number went on where the narrow one, its low word, began again."""
    began_again = narrow.last_count is not None or narrow.resets > 0
    return (
        wide.cell.kind.words > narrow.cell.kind.words
        and wide.cell.span.overlaps(narrow.cell.span)
        and began_again
        and wide.last_count is None
        and wide.resets == 0
    )


def refused_counters(history: WordHistory, chosen: Iterable[Counting]) -> list[Refusal]:
    """Return what looked like a counter and was none, with the reason."""
    taken = {address for one in chosen for address in range(one.cell.span.address, one.cell.span.last + 1)}
    refusals = []
    for counting, refusal in _candidates(history, wide=False):
        if counting is not None and counting.support < _SUPPORT:
            refusal = Refusal(counting.cell, _no_company(counting))
        if refusal is not None and refusal.cell.span.address not in taken:
            refusals.append(refusal)
    return refusals


def counted_otherwise(history: WordHistory) -> tuple[int, Refusal] | None:
    """Return what goes with the shots and is no shot counter, and how many shots it went with; None where nothing does.

    A press may count the parts of its cavities, or what is left of an order, and nothing else.
    """
    moving = [address for address in history.addresses if len(history.changed(address)) >= _FEWEST]
    for refusal in refused_counters(history, []):
        cell = refusal.cell
        moments = history.moments(cell)
        others = [a for a in moving if a != cell.span.address and not _even(history.changed(a))]
        regular = len({b.raw - a.raw for a, b in pairwise(moments)}) == 1
        # what runs on all the time changes at each reading, and by as much where they come evenly
        if pace_of(moments) < _STANDS * median(moment.by - moment.after for moment in moments):
            continue
        counted = Counting(cell, int(history.first(cell)), tuple(moments), 0.0)
        if regular and _support(history, counted, others) >= _SUPPORT:
            return len(moments), refusal
    return None


def _even(changes: Sequence[Moment]) -> bool:
    """Say whether a register mostly moves by one and the same step: another clock or count, and no value of a shot."""
    steps = [b.raw - a.raw for a, b in pairwise(changes)]
    return bool(steps) and max(steps.count(step) for step in set(steps)) >= 0.8 * len(steps)


def _no_company(counting: Counting) -> str:
    pace = pace_of(counting.counts)
    return f"goes up by one, every {pace:.2g} s, and not when the values change: a clock, or a count of something else"


def _candidates(history: WordHistory, wide: bool = True) -> Iterator[tuple[Counting | None, Refusal | None]]:
    moving = [address for address in history.addresses if len(history.changed(address)) >= _FEWEST]
    counting_cells = []
    for address in moving:
        readings = _readings(history, address) if wide else [cell_at(address, "uint16")]
        cells = [cell for cell in readings if not wide or _may_count(history, address, cell)]
        refusal = None
        for cell in cells:
            counted = _counted(history, cell)
            if isinstance(counted, Counting):
                counting_cells.append(counted)
            elif counted is not None and refusal is None:
                refusal = counted
        if refusal is not None:
            yield None, refusal
    own = {one.cell.span.address for one in counting_cells} | {one.cell.span.last for one in counting_cells}
    for one in counting_cells:
        yield replace(one, support=_support(history, one, [a for a in moving if a not in own])), None


def _may_count(history: WordHistory, address: int, cell: Cell) -> bool:
    """Say, without much ado, whether the part of a number that moves goes up by one more often than not."""
    one = cell_at(address, "bcd16" if cell.kind.digits else "uint16", byte_order=cell.byte_order)
    words = [
        history.first(one),
        *(one.raw({address: int(moment.raw)}) for moment in history.changed(address)[-_RECENT:]),
    ]
    ones = sum(b - a == 1 for a, b in pairwise(words))
    return ones >= 0.5 * (len(words) - 1)


def _readings(history: WordHistory, address: int) -> Iterator[Cell]:
    """Yield the numbers that a register which changes may be the moving part of."""
    yield cell_at(address, "uint16")
    yield cell_at(address, "uint16", byte_order="little")
    yield cell_at(address, "bcd16")
    yield cell_at(address, "bcd16", byte_order="little")
    for kind, first, order in (
        ("uint32", address - 1, "big"),
        ("uint32", address, "little"),
        ("bcd32", address - 1, "big"),
        ("bcd32", address, "little"),
    ):
        for byte_order in ("big", "little"):
            cell = cell_at(first, kind, order, byte_order) if first >= 0 else None
            if cell is None or not history.has(cell):
                continue
            high = first if order == "big" else first + 1
            if history.word(high, history.ended) or history.changed(high):
                yield cell


def _counted(history: WordHistory, cell: Cell) -> Counting | Refusal | None:
    """Return the counts of a number; why it is no counter where it looks like one; None where it does not."""
    moments = history.moments(cell)
    first = history.first(cell)
    numbers = [int(first), *(int(moment.raw) for moment in moments)]
    if len(moments) < _FEWEST or min(numbers) < 0:
        return None
    steps = [b - a for a, b in pairwise(numbers)]
    # what counted on while a request went unanswered says nothing of how it counts
    whole = [history.whole(moment.after, moment.by) for moment in moments]
    told = [step for step, seen in zip(steps, whole, strict=True) if seen]
    ones = sum(step == 1 for step in told)
    missed = sum(step in (2, 3) or (step > 3 and not seen) for step, seen in zip(steps, whole, strict=True))
    falls = [a for a, b in pairwise(numbers) if b in (0, 1) and a > b]
    n_ones = steps.count(1)
    if ones >= max(2, 0.7 * len(told)) and n_ones + missed + len(falls) == len(steps) and len(falls) <= 2:
        tops = [top for top in falls if top in _TOPS and top > 1]
        last_count = max(tops) if tops else None
        return Counting(cell, int(first), tuple(moments), 0.0, last_count, len(falls) - len(tops), missed)
    why = _steps_said(told) if len(told) >= _FEWEST else ""
    return Refusal(cell, why) if why else None


def _steps_said(steps: Sequence[int]) -> str:
    if set(steps) == {-1}:
        return "counts down by one: what is left of an order, not shots"
    if len(set(steps)) == 1 and steps[0] > 1:
        return f"goes up by {steps[0]} each time: parts of {steps[0]} cavities, not shots"
    if min(steps) > 0:
        return f"goes up by {min(steps)} to {max(steps)} each time: a sum of time or work, not shots"
    return ""


def _support(history: WordHistory, counting: Counting, others: Sequence[int]) -> float:
    """Return how well the best three of the other registers go with the counts, 0 to 1."""
    shares = sorted((_together(counting.counts, history.changed(address)) for address in others), reverse=True)[:3]
    return sum(shares) / 3 if len(shares) >= 3 else sum(shares) / max(1, len(shares)) * 0.8


def _together(counts: Sequence[Moment], changes: Sequence[Moment]) -> float:
    pace = pace_of(counts)
    counts = counts[-_RECENT:]
    changes = [change for change in changes if change.middle > counts[0].middle - pace / 2]
    usual = usual_lag(counts, changes)
    by_count: dict[int, list[float]] = {}
    outside = 0
    for change in changes:
        nearest = nearest_count(counts, change.middle - usual)
        off = change.middle - usual - counts[nearest].middle
        if abs(off) > pace:
            outside += 1
        else:
            by_count.setdefault(nearest, []).append(off)
    slack = max(0.15 * pace, 2 * max(moment.by - moment.after for moment in counts))
    single = [offs[0] for offs in by_count.values() if len(offs) == 1]
    n_changes = outside + sum(map(len, by_count.values()))
    steady = sum(abs(off) <= slack for off in single)
    return len(by_count) / len(counts) * steady / n_changes if n_changes else 0.0


def said(counting: Counting) -> str:
    """Say in plain words why it is taken for the shot counter."""
    shown = counting.shown
    parts = [f"went up by one at {len(counting.counts)} shots, {shown[0]} to {shown[-1]}, when the values changed"]
    if counting.last_count is not None:
        parts.append(f"began again after {counting.last_count}")
    if counting.resets:
        parts.append("was set to a new count once" if counting.resets == 1 else "was set to a new count twice")
    if counting.missed:
        parts.append(f"{counting.missed} counts went by between two readings")
    return f"{place_said(counting.cell)} {', '.join(parts)}"
