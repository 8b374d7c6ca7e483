"""A row of the table of `make bench`: what something costs here, and what it costs the limit or another, in one run.

Everything is a cost, so that less is better and a ratio says how many times as much: seconds and bytes, never a rate.
"""

import statistics
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

__all__ = ["Row", "by_turns", "digits", "figure", "middle", "turns"]

T = TypeVar("T")

_SCALES = {"s": ((1.0, "s"), (1e-3, "ms"), (1e-6, "us"), (1e-9, "ns")), "B": ((1e6, "MB"), (1.0, "B"))}


@dataclass(frozen=True)
class Row:
    """One line: `what` was measured, in `unit`: ``s`` or ``B``, with words behind it where it is of each: ``s a shot``.

    `ours` and `beside`: what each round took, in the same order; a single figure holds for all rounds (a limit).
    `than`: what stands beside. `why`: what the difference buys, or why it is so. `goal`: how many times as much is
    wanted at most. `missing`: why it could not be measured here; there are no figures then.
    """

    what: str
    unit: str
    ours: Sequence[float]
    beside: Sequence[float]
    than: str
    why: str
    goal: float | None = None
    missing: str = ""

    @classmethod
    def without(cls, what: str, missing: str) -> "Row":
        """Return the row of what cannot be measured here, and why not."""
        return cls(what, "s", (), (), "", "", None, missing)

    @property
    def n(self) -> int:
        """How many rounds there were."""
        return max(len(self.ours), len(self.beside)) if self.ours and self.beside else 0

    @property
    def ratios(self) -> list[float]:
        """How many times as much ours took, round by round."""
        ours, beside = ([*one] * self.n if len(one) == 1 else one for one in (self.ours, self.beside))
        return [a / b for a, b in zip(ours, beside, strict=True)] if self.n else []

    @property
    def reached(self) -> bool | None:
        """Whether it costs as little as is wanted; None where nothing is wanted, or nothing was measured."""
        return None if self.goal is None or not self.n else statistics.median(self.ratios) <= self.goal


def middle(numbers: Sequence[float]) -> tuple[float, float, float]:
    """Return the median, and the two figures between which the middle half lies."""
    if len(numbers) == 1:
        return (numbers[0],) * 3
    low, median, high = statistics.quantiles(numbers, n=4, method="inclusive")
    return median, low, high


def figure(number: float, unit: str) -> str:
    """Return a figure to three digits with a fitting unit: ``310 us a shot``."""
    kind, _, behind = unit.partition(" ")
    scales = _SCALES[kind]
    size, name = next((one for one in scales if abs(number) >= 0.9995 * one[0]), scales[-1])
    return f"{digits(number / size)} {name} {behind}".rstrip()


def digits(number: float) -> str:
    """Return a number to three digits, without an exponent."""
    return f"{number:.{2 if abs(number) < 9.995 else 1 if abs(number) < 99.95 else 0}f}"


def by_turns(
    works: Mapping[str, Callable[[], object]],
    rounds: int,
    clock: Callable[[], float] = time.perf_counter,
    per: float = 1.0,
) -> dict[str, list[float]]:
    """Do all works one after the other, `rounds` times; return by name what each took, round by round.

    `clock`: `time.process_time` where only the processor's own work is asked for, so that other work on the machine
    does not count. `per`: into how many equal things a work is divided.
    """

    def took(work: Callable[[], object]) -> float:
        began = clock()
        work()
        return (clock() - began) / per

    return turns({name: lambda work=work: took(work) for name, work in works.items()}, rounds)  # type: ignore[misc]


def turns(works: Mapping[str, Callable[[], T]], rounds: int) -> dict[str, list[T]]:
    """Do all works one after the other, `rounds` times; return by name what each said, round by round.

    A round before the first warms up and is left out.
    """
    said: dict[str, list[T]] = {name: [] for name in works}
    for nth in range(rounds + 1):
        for name, work in works.items():
            came = work()
            if nth:
                said[name].append(came)
    return said
