"""Whether the charts see what plain practice sees: faults large enough that a chart on the wall would show them.

Plain practice is a chart of single values on each of the three main channels: an insert's first ten shots are left out,
the next twelve give level and spread, and later shots are held against limits so wide that one sound life in ten has a
signal on any of the three. Limits for that chance by the book (Hahn & Meeker 1991, from memory) have one on 28 in 100:
presses warm up for longer, wander and have tails. It stands where other rows have the best possible. Charts that may
signal on one sound life in ten have to see as much; the goals are what it saw on 400 lives of each scene, 0.81 and
0.88, less what 60 lives err by.
"""

from collections.abc import Iterator, Sequence
from functools import partial

import numpy as np

from tests.benchmark.examiner.cases.base import Case, Goal, Scene
from tests.benchmark.examiner.cases.several import started
from tests.benchmark.examiner.faults import FAULTS, draw_change
from tests.benchmark.examiner.figures import Figure, mean_of
from tests.benchmark.examiner.histories import History, Life
from tests.benchmark.examiner.play import Played

__all__ = ["CASES", "RAMP", "STEP", "plain_signal"]

_N_SHOTS = 90
_SETTLED, _KNOWN = 10, 22
_WIDTH = 6.6
"""Of the limits, in standard deviations of the twelve shots: one in ten of 600 sound lives of 90 shots passed it."""

_FAULTS = {
    "step": ("break", "parting line", "dosing", "pressure sensor", "position sensor"),
    "ramp": ("gate erosion", "parting line", "creep", "barrel", "moisture"),
}


def _changed(rng: np.random.Generator, shape: str) -> History:
    history = started(rng, 3, sisters=3)
    fault = FAULTS[str(rng.choice(_FAULTS[shape]))]
    size = rng.uniform(4.0, 8.0) if shape == "step" else None  # a ramp grows by 0.1-0.4 sigma a shot
    onset = int(rng.integers(28, 46))
    change = draw_change(history.press, fault, _N_SHOTS, onset, rng, size=size, shape=shape)
    history.life(_N_SHOTS, [change], examined=True)
    return history


STEP, RAMP = (Scene(f"charted-{shape}", 60, partial(_changed, shape=shape)) for shape in ("step", "ramp"))


def plain_signal(life: Life) -> int | None:
    """Return the age at which plain practice signals first, None where it does not."""
    known = life.values[_SETTLED:_KNOWN]
    later = life.values[_KNOWN:]
    width = _WIDTH * known.std(axis=0, ddof=1)
    beyond = np.flatnonzero((np.abs(later - known.mean(axis=0)) > width).any(axis=1))
    return int(beyond[0]) + _KNOWN if beyond.size else None


def _seen(first: Iterator[tuple[int | None, Life]], within: int) -> Figure:
    """Return the share of changes seen within so many shots, of lives without a signal before them."""
    outcomes = []
    for age, life in first:
        onset = life.changes[0].onset
        if age is None or age >= onset:
            outcomes.append([float(age is not None and age < onset + within)])
    return mean_of(outcomes)


def signalled(within: int, played: Sequence[Played]) -> Figure:
    """Return that share for the charts of the tool."""
    said = (said for one in played for said in one.said)
    return _seen(
        ((said.signalled[0] - said.life.first if said.signalled else None, said.life) for said in said), within
    )


def plainly(within: int, played: Sequence[Played]) -> Figure:
    """Return that share for plain practice."""
    return _seen(((plain_signal(said.life), said.life) for one in played for said in one.said), within)


CASES = (
    Case("chart signals, step", "a step of 4-8 sigma is on a chart within 15 shots, as plain practice has it",
         Goal(low=0.75), (STEP,), partial(signalled, 15), partial(plainly, 15)),
    Case("chart signals, ramp", "a ramp of 0.1-0.4 sigma a shot is on a chart within 40 shots, likewise",
         Goal(low=0.80), (RAMP,), partial(signalled, 40), partial(plainly, 40)),
)  # fmt: skip
