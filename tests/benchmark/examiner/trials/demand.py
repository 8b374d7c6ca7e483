"""What a row of the table is: something the trade notes demand, scored on one trial that was watched."""

from collections.abc import Callable
from dataclasses import dataclass

from tests.benchmark.examiner.cases.base import Goal
from tests.benchmark.examiner.trials.watched import Watched

__all__ = ["Demand", "Score", "all_keep", "held_from", "held_share"]

Score = Callable[[Watched], float | None]


@dataclass(frozen=True, slots=True)
class Demand:
    """`score` gives one number a trial, a share or 0 and 1; None where it does not apply.

    `middle`: the median is shown. `best`: the share that whoever knows all but the noise would reach, where that is
    less than nearly always.
    """

    name: str
    goal: Goal | None
    score: Score
    middle: bool = False
    best: float | None = None


def all_keep(watched: Watched, first: int, last: int) -> float:
    """Say whether nothing but keep was said over a span."""
    return float(all(verdict.verdict == "keep" for verdict in watched.span(first, last)))


def held_share(watched: Watched, first: int, last: int) -> float:
    """Return which share of the parts of a span is held at the end of the day."""
    return len(watched.held.intersection(range(first, last + 1))) / (last - first + 1)


def held_from(watched: Watched, first: int, last: int) -> float | None:
    """Return the first of the held parts that reach without a hole up to the last held one of a span; None of none."""
    at = max(watched.held.intersection(range(first, last + 1)), default=None)
    while at is not None and at - 1 in watched.held:
        at -= 1
    return at
