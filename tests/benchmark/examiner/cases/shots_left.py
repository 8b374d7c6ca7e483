"""Shots left to a configured limit: sisters that ended at the same limit, and a life that wears towards it."""

from collections.abc import Callable, Iterator, Sequence
from functools import partial

import numpy as np

from tests.benchmark.examiner.cases.base import Case, Goal, Scene
from tests.benchmark.examiner.cases.limits import limited
from tests.benchmark.examiner.faults import FAULTS, Change
from tests.benchmark.examiner.figures import Figure, mean_of, median_of
from tests.benchmark.examiner.histories import History
from tests.benchmark.examiner.play import Played, Said
from tests.benchmark.examiner.press import draw_press
from tests.benchmark.examiner.shapes import shape_of

__all__ = ["CASES"]

_DEEP = 10.0
"""How far below the settled cushion the limit lies, in sigma."""


def _wearing(rng: np.random.Generator, shape: str) -> History:
    """Six inserts that wear by the same shape at rates of their own (25 % apart) and come out at the limit."""
    history = History(draw_press(rng, int(rng.choice((3, 7)))), rng)
    limited(history, _DEEP)
    typical = rng.uniform(25.0, 60.0)
    at = history.press.channels.index("cushion")
    along = history.press.vector(FAULTS["parting line"].moves(history.press, rng))
    along *= history.press.spread[at] / abs(along[at])
    for nth in range(6):
        onset = int(rng.integers(20, 40))
        over = typical * float(np.exp(0.25 * rng.standard_normal()))
        n = onset + int(np.ceil(2.0 * over)) + 2
        added = _DEEP * shape_of(shape, n, onset, over)[:, None] * along
        change = Change(FAULTS["parting line"], onset, shape, _DEEP, over, along, added)
        history.life(n, [change], until=("cushion", history.known["limit"]), examined=nth == 5)
    return history


SCENES = {shape: Scene(f"left-{shape}", 48, partial(_wearing, shape=shape)) for shape in ("ramp", "root", "quadratic")}


def _truth(one: Played, said: Said) -> int | None:
    """Return the age of the first shot whose level, without noise, is beyond the limit."""
    passed = np.flatnonzero(said.life.means[:, int(one.known["cushion at"])] < one.known["limit"])
    return int(passed[0]) if passed.size else None


def _stated(later: int, played: Sequence[Played]) -> Iterator[tuple[float, float, float, float]]:
    """Return low, median and high of shots left, and the truth, so many shots after a true call."""
    for one in played:
        for said in one.said:
            age, truth = said.called(), _truth(one, said)
            if age is None or truth is None or age < said.life.changes[0].onset or age + later >= truth:
                continue
            verdict = said.verdicts[age + later]
            if verdict.left_low is not None and verdict.left_median is not None and verdict.left_high is not None:
                yield verdict.left_low, verdict.left_median, verdict.left_high, float(truth - age - later)


def coverage(later: int, played: Sequence[Played]) -> Figure:
    """Return the share of stated 80 % intervals that hold the shots that were left."""
    return mean_of([[float(low <= truth <= high)] for low, _, high, truth in _stated(later, played)])


def median_over_truth(later: int, played: Sequence[Played]) -> Figure:
    """Return the middle ratio of the stated median to the shots that were left."""
    return median_of([[median / truth] for _, median, _, truth in _stated(later, played)])


def _cases() -> Iterator[Case]:
    for shape, scene in SCENES.items():
        for later, when in ((0, "at the call"), (5, "5 shots on")):
            must = f"{when}, {shape}: 80 % of the intervals hold the truth"
            of: Callable[..., Figure] = partial(coverage, later)
            yield Case(f"shots left, {shape}, {when}: cover", must, Goal(0.75, 0.85), (scene,), of)
            of = partial(median_over_truth, later)
            yield Case(f"shots left, {shape}, {when}: median/truth", "within 10 %", Goal(0.9, 1.1), (scene,), of)


CASES = tuple(_cases())
