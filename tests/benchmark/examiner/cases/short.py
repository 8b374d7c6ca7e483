"""Lives of filled high-temperature resins: 10-24 shots, and what breaks in them.

Trade notes, planning values: filled PPS 2-35 shots a half, PAEK 2-12, of which one in ten ends early.
"""

from collections.abc import Sequence
from functools import partial

import numpy as np

from tests.benchmark.examiner.best import threshold_of
from tests.benchmark.examiner.cases.base import Case, Goal, Scene
from tests.benchmark.examiner.faults import FAULTS, draw_change
from tests.benchmark.examiner.figures import Figure, mean_of
from tests.benchmark.examiner.histories import History
from tests.benchmark.examiner.play import Played
from tests.benchmark.examiner.press import draw_press

__all__ = ["CASES"]


def _short(rng: np.random.Generator, shortest: int, longest: int) -> History:
    """Ten short lives; from the 5th on every other one breaks by 6 sigma, at least five shots before its end."""
    history = History(draw_press(rng, int(rng.choice((3, 7)))), rng)
    for nth in range(10):
        n = int(rng.integers(shortest, longest + 1))
        changes = []
        if nth >= 4 and nth % 2 == 0:
            at = int(rng.integers(4, n - 5))
            changes = [draw_change(history.press, FAULTS["break"], n, at, rng, size=6.0)]
        history.life(n, changes, examined=nth >= 4)
    return history


SHORT = Scene("short-10-16", 40, partial(_short, shortest=10, longest=16), best=True)
LONGER = Scene("short-16-24", 40, partial(_short, shortest=16, longest=24), best=True)


def broken_called(played: Sequence[Played]) -> Figure:
    """Return the share of broken lives called at or after the break."""
    return mean_of(
        [
            [
                float((age := said.called()) is not None and age >= said.life.changes[0].onset)
                for said in one.said
                if said.life.changes
            ]
            for one in played
        ]
    )


def best_called(played: Sequence[Played]) -> Figure:
    """Return the same for the best possible detector."""
    threshold = threshold_of([life for one in played for life in one.best])
    return mean_of(
        [
            [
                float((age := life.called(threshold)) is not None and age >= said.life.changes[0].onset)
                for said, life in zip(one.said, one.best, strict=True)
                if said.life.changes
            ]
            for one in played
        ]
    )


def sound_called(played: Sequence[Played]) -> Figure:
    """Return the share of sound lives called at all."""
    return mean_of([[float(said.called() is not None) for said in one.said if not said.life.changes] for one in played])


_BROKEN = "a break of 6 sigma is called from the 5th life on"
_SOUND = "sound short lives are not called"

CASES = (
    Case("lives of 10-16 shots, broken", _BROKEN, Goal(low=0.8), (SHORT,), broken_called, best_called),
    Case("lives of 10-16 shots, sound", _SOUND, Goal(high=0.10), (SHORT,), sound_called),
    Case("lives of 16-24 shots, broken", _BROKEN, Goal(low=0.8), (LONGER,), broken_called, best_called),
    Case("lives of 16-24 shots, sound", _SOUND, Goal(high=0.10), (LONGER,), sound_called),
)
