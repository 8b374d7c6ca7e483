"""Stated weights against the share that was right, by tenth of weight: a reliability table.

References
----------
Guo, Pleiss, Sun & Weinberger 2017, On calibration of modern neural networks, ICML (from memory).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import sqrt

from tests.benchmark.lives.score import Row

__all__ = ["BEYOND", "Tenth", "by_tenth", "reliability_table", "said_of", "surplus"]

BEYOND = 0.3
"""Share of faults that leave the usual kinds where weights are held to their word: no source, often enough to count."""

Said = Sequence[tuple[float, bool]]
"""Weights as stated of a group, each with whether it was that group."""


@dataclass(frozen=True, slots=True)
class Tenth:
    """What was `stated` on average from `low` to a tenth above it, in `n` calls, and the share that was `right`."""

    low: float
    n: int
    stated: float
    right: float

    @property
    def off(self) -> float:
        """How far the share right is above what was stated."""
        return self.right - self.stated

    @property
    def error(self) -> float:
        """Standard error of the share right, were it as stated."""
        return sqrt(max(self.stated * (1.0 - self.stated), 0.01) / self.n)


def said_of(rows: Iterable[Row], when: str = "_end") -> list[tuple[float, bool]]:
    """Return what was said of true calls; `when`: empty at the call, ``_end`` at the last shot called."""
    return [
        (row["weight" + when], row["group" + when]) for row in rows if "weight" + when in row and not row["carried"]
    ]


def by_tenth(said: Said) -> list[Tenth]:
    """Return every tenth in which something was said."""
    found = []
    for nth in range(10):
        of = [(weight, right) for weight, right in said if min(int(weight * 10), 9) == nth]
        if of:
            n = len(of)
            found.append(Tenth(nth / 10, n, sum(weight for weight, _ in of) / n, sum(right for _, right in of) / n))
    return found


def surplus(said: Said) -> float:
    """Return the mean weight stated less the share right: above 0 more is said than is known."""
    return sum(weight - float(right) for weight, right in said) / len(said)


def reliability_table(rows: Iterable[Row]) -> str:
    """Return the table in markdown, at the call and at the last shot called."""
    rows = list(rows)
    lines = ["| said | when | n | stated | right | off |", "|---|---|---|---|---|---|"]
    for when, name in (("", "at the call"), ("_end", "at the end")):
        said = said_of(rows, when)
        lines += [
            f"| {one.low:.1f} to {one.low + 0.1:.1f} | {name} | {one.n} | {one.stated:.2f} | {one.right:.2f} "
            f"| {one.off:+.2f} +- {one.error:.2f} |"
            for one in by_tenth(said)
        ]
        if said:
            right = sum(right for _, right in said) / len(said)
            lines.append(
                f"| all | {name} | {len(said)} | {right + surplus(said):.2f} | {right:.2f} | {-surplus(said):+.2f} |"
            )
    return "\n".join(lines)
