"""A slow heater cycle in every life of a press, and on top of it a real ramp: seen through it, laid to its group.

A ramp of 0.1-0.4 sigma a shot passes the cycle's half to one sigma within some ten shots, and goes on when the cycle
turns; who waits for the turn is late by up to half a cycle, twenty shots.
"""

from collections.abc import Sequence
from functools import partial

import numpy as np

from tests.benchmark.examiner.best import threshold_of
from tests.benchmark.examiner.cases.base import Case, Goal, Scene
from tests.benchmark.examiner.cases.one_change import best_group, delay, group_right
from tests.benchmark.examiner.faults import FAULTS, draw_change
from tests.benchmark.examiner.figures import Figure, mean_of
from tests.benchmark.examiner.histories import History
from tests.benchmark.examiner.play import Played
from tests.benchmark.examiner.press import draw_press

__all__ = ["CASES", "SCENES"]

_N_SHOTS = 90
_WITHIN = 10
_RAMPS = ("gate erosion", "parting line", "creep", "barrel")


def _ringing(rng: np.random.Generator, n_channels: int) -> History:
    history = History(draw_press(rng, n_channels, heater=True), rng)
    for _ in range(5):
        history.life(int(rng.integers(50, 80)))
    fault = FAULTS[str(rng.choice(_RAMPS))]
    change = draw_change(history.press, fault, _N_SHOTS, int(rng.integers(20, 50)), rng, shape="ramp")
    history.life(_N_SHOTS, [change], examined=True)
    return history


SCENES = {n: Scene(f"ringing-{n}", 28, partial(_ringing, n_channels=n), best=True) for n in (3, 7)}


def near_best(played: Sequence[Played]) -> Figure:
    """Return the share of ramps called at most so many shots after the best possible, of lives not called before."""
    threshold = threshold_of([life for one in played for life in one.best])
    out = []
    for one in played:
        for said, life in zip(one.said, one.best, strict=True):
            ages = said.called(), life.called(threshold)
            if all(age is None or age >= said.life.changes[0].onset for age in ages):
                out.append([float(ages[0] is not None and delay(ages[0], said) - delay(ages[1], said) <= _WITHIN)])
    return mean_of(out)


def called_before(*played: Sequence[Played]) -> Figure:
    """Return the share of lives called before the ramp."""
    return mean_of(
        [
            [float((age := said.called()) is not None and age < said.life.changes[0].onset) for said in one.said]
            for some in played
            for one in some
        ]
    )


_SOON = f"a ramp under a heater cycle is called within {_WITHIN} shots of the best possible"
_GROUP = "a ramp under a heater cycle is laid to its group, at the end of 90 shots"

CASES = (
    Case("heater cycle and a ramp, 3 channels: near best", _SOON, Goal(low=0.80), (SCENES[3],), near_best),
    Case("heater cycle and a ramp, 7 channels: near best", _SOON, Goal(low=0.80), (SCENES[7],), near_best),
    Case("heater cycle and a ramp, 3 channels: group", _GROUP, Goal(low=0.75), (SCENES[3],), group_right, best_group),
    Case("heater cycle and a ramp, 7 channels: group", _GROUP, Goal(low=0.90), (SCENES[7],), group_right, best_group),
    Case("heater cycle, called before the ramp", "and not before the ramp", Goal(high=0.10),
         (SCENES[3], SCENES[7]), called_before),
)  # fmt: skip
