"""What a case is: scenes that are played, a figure read from them, and what it has to be."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from tests.benchmark.examiner.figures import Figure
from tests.benchmark.examiner.histories import History

__all__ = ["Case", "Goal", "Scene"]


@dataclass(frozen=True, slots=True)
class Scene:
    """Histories of one kind: `n` of them unless told, each from a generator of its own.

    `drawn_as`: scenes of the same word draw the same presses and inserts, so that they can be compared life by life.
    `best`: the best possible detector is run on its examined lives too; `off_table`: it knows of such changes; `odd`:
    and of this share of odd ones; `strange`: it has seen no insert of the design.
    """

    name: str
    n: int
    make: Callable[[np.random.Generator], History]
    drawn_as: str = ""
    best: bool = False
    off_table: bool = False
    odd: float = 0.0
    strange: bool = False


@dataclass(frozen=True, slots=True)
class Goal:
    """A figure has to lie between `low` and `high`; None where one side is open."""

    low: float | None = None
    high: float | None = None

    def __str__(self) -> str:
        if self.low is not None and self.high is not None:
            return f"{self.low:g}-{self.high:g}"
        return f">= {self.low:g}" if self.low is not None else f"<= {self.high:g}"

    def met(self, figure: Figure) -> bool:
        """Say whether the figure as it stands is within."""
        return (self.low is None or figure.value >= self.low) and (self.high is None or figure.value <= self.high)


@dataclass(frozen=True, slots=True)
class Case:
    """One row of the table. `must`: what has to be true, in a sentence; `goal`: None where a row is for reading only.

    `score` and `best`, the same figure for whoever knows the press, are given the played histories of each scene.
    """

    name: str
    must: str
    goal: Goal | None
    scenes: tuple[Scene, ...]
    score: Callable[..., Figure]
    best: Callable[..., Figure] | None = None
