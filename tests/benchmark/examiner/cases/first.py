"""The first insert of a design, judged by its own shots alone: false calls, and a change after shot 30.

The best possible does not know the insert's level either, nor how much it warms up by; noise and time of warm-up it
knows, which no first insert tells, so that it is a bound and no rival.
"""

from collections.abc import Sequence
from functools import partial

import numpy as np

from tests.benchmark.examiner.cases.base import Case, Goal, Scene
from tests.benchmark.examiner.cases.healthy import false_calls
from tests.benchmark.examiner.cases.one_change import best_delay, delay_over_best, mean_delay
from tests.benchmark.examiner.faults import FAULTS, draw_change
from tests.benchmark.examiner.figures import Figure, mean_of
from tests.benchmark.examiner.histories import History
from tests.benchmark.examiner.play import Played
from tests.benchmark.examiner.press import draw_press

__all__ = ["CASES", "RAMP", "STEP"]

_N_SHOTS = 90

_FAULTS = {
    "step": ("break", "parting line", "lot", "dosing"),
    "ramp": ("gate erosion", "parting line", "creep", "barrel"),
}


def _sound(rng: np.random.Generator, tails: str = "", heater: bool = False) -> History:
    history = History(draw_press(rng, int(rng.choice((3, 7))), tails=tails, heater=heater), rng)
    history.life(_N_SHOTS, examined=True)
    return history


def _changed(rng: np.random.Generator, shape: str) -> History:
    history = History(draw_press(rng, int(rng.choice((3, 7)))), rng)
    fault = FAULTS[str(rng.choice(_FAULTS[shape]))]
    # a lot comes smeared as ever; a step of 4-10 sigma, a ramp of 0.1-0.4 sigma a shot
    as_ever = "smeared" in fault.shapes
    change = draw_change(
        history.press, fault, _N_SHOTS, int(rng.integers(31, 50)), rng, shape="smeared" if as_ever else shape
    )
    history.life(_N_SHOTS, [change], examined=True)
    return history


GAUSS = Scene("first-sound", 72, partial(_sound, tails="gauss"))
TAILS = Scene("first-tails", 72, partial(_sound, tails="t4"))
HEATER = Scene("first-heater", 72, partial(_sound, heater=True))
STEP, RAMP = (
    Scene(f"first-{shape}", 32, partial(_changed, shape=shape), best=True, strange=True) for shape in ("step", "ramp")
)


def called(played: Sequence[Played]) -> Figure:
    """Return the share of changes called before the life is over, of lives not called before them."""
    out = []
    for one in played:
        for said in one.said:
            age, onset = said.called(), said.life.changes[0].onset
            if age is None or age >= onset:
                out.append([float(age is not None)])
    return mean_of(out)


_NOTHING = "nothing is called on a sound first insert, 90 shots"
_STEP, _RAMP = (f"a {shape} from shot 32-50 of a first insert of 90 shots is called" for shape in ("step", "ramp"))

CASES = (
    Case("first insert, sound", f"{_NOTHING}; noise normal", Goal(high=0.10), (GAUSS,), false_calls),
    Case("first insert, heavy tails", f"{_NOTHING}; noise Student t, 4 df", Goal(high=0.10), (TAILS,), false_calls),
    Case("first insert, heater cycle", f"{_NOTHING}; a heater cycle of 40 shots", Goal(high=0.10), (HEATER,),
         false_calls),
    Case("first insert, step called", _STEP, Goal(low=0.90), (STEP,), called),
    Case("first insert, ramp called", _RAMP, Goal(low=0.85), (RAMP,), called),
    Case("first insert, step: delay", "a few shots from onset to call", Goal(high=5.0), (STEP,), mean_delay,
         best_delay),
    Case("first insert, ramp: delay", "shots from onset to call", None, (RAMP,), mean_delay, best_delay),
    Case("first insert, ramp: delay over best", "it is called soon", Goal(high=1.5), (RAMP,), delay_over_best),
)  # fmt: skip
