"""Lives on which nothing happens: how often something is called all the same."""

from collections.abc import Sequence
from functools import partial

import numpy as np

from tests.benchmark.examiner.cases.base import Case, Goal, Scene
from tests.benchmark.examiner.figures import Figure, mean_of, median_of
from tests.benchmark.examiner.histories import History
from tests.benchmark.examiner.play import Played
from tests.benchmark.examiner.press import draw_press

__all__ = ["CASES"]

_N_SHOTS = 90
_FIRST_KNOWN = 4
"""Lives from here on are judged with sisters known."""


def _sound(rng: np.random.Generator, n_channels: int | None = None, tails: str = "", heater: bool = False) -> History:
    history = History(draw_press(rng, n_channels or int(rng.choice((3, 7))), tails=tails, heater=heater), rng)
    for nth in range(8):
        history.life(_N_SHOTS, examined=nth >= _FIRST_KNOWN)
    return history


SOUND_3 = Scene("sound-3", 36, partial(_sound, n_channels=3))
SOUND_7 = Scene("sound-7", 36, partial(_sound, n_channels=7))
TAILS = Scene("tails", 36, partial(_sound, tails="t4"))
HEATER = Scene("heater", 36, partial(_sound, heater=True))


def false_calls(played: Sequence[Played]) -> Figure:
    """Return the share of examined lives with any call."""
    return mean_of([[float(said.called() is not None) for said in one.said] for one in played])


def charted(*played: Sequence[Played]) -> Figure:
    """Return the share of examined lives on which any chart signalled."""
    return mean_of([[float(bool(said.signalled)) for said in one.said] for some in played for one in some])


def judged_per_s(played: Sequence[Played]) -> Figure:
    """Return shots judged in a second: the middle of all histories, so that compiling before the first is no part."""
    return median_of([[one.per_s] for one in played])


_NOTHING = "nothing is called on a sound insert with sisters known, 90 shots"

CASES = (
    Case("false calls, 3 channels", _NOTHING, Goal(high=0.10), (SOUND_3,), false_calls),
    Case("false calls, 7 channels", _NOTHING, Goal(high=0.10), (SOUND_7,), false_calls),
    Case("heavy tails, sound", f"{_NOTHING}; noise Student t, 4 df", Goal(high=0.10), (TAILS,), false_calls),
    Case("heater cycle, sound", f"{_NOTHING}; a heater cycle of 40 shots", Goal(high=0.10), (HEATER,), false_calls),
    Case("chart signals, sound", "no chart signals on a sound life", Goal(high=0.10), (SOUND_3, SOUND_7), charted),
    Case("shots judged in a second", "three channels, processor time", Goal(low=5000), (SOUND_3,), judged_per_s),
)
