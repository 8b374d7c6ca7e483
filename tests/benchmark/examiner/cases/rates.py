"""Sound lives on presses of many kinds, as one log has them: of all lives, as many are called as was stated.

Every life counts, the first of a press and the short ones too. Kinds: normal, skewed and heavy tails as `draw_press`
has them, a walk of the melt on one press in three, a heater cycle on one in five. What is stated is a number of false
calls in 100 sound lives, for all presses of a log: the same lives are judged with none stated, with 2 and with 20.
"""

from collections.abc import Sequence
from functools import partial

import numpy as np

from tests.benchmark.examiner.cases.base import Case, Goal, Scene
from tests.benchmark.examiner.cases.healthy import false_calls
from tests.benchmark.examiner.figures import Figure, mean_of
from tests.benchmark.examiner.histories import History
from tests.benchmark.examiner.play import Played
from tests.benchmark.examiner.press import draw_press

__all__ = ["CASES", "SCENES"]

_KINDS = ("gauss", "skewed", "t4", "heater")


def _log(rng: np.random.Generator, stated: float | None) -> History:
    """One press of the log: seven sound lives, long or short as its design has them."""
    heater = rng.random() < 0.2
    history = History(draw_press(rng, int(rng.choice((3, 7))), heater=heater), rng, false_calls=stated)
    history.known["kind"] = _KINDS.index("heater" if heater else history.press.tails)
    longest = int(rng.choice((40, 90, 90, 120)))
    for _ in range(7):
        history.life(int(rng.integers(longest * 3 // 4, longest + 1)), examined=True)
    return history


SCENES = {
    stated: Scene(name, n, partial(_log, stated=stated), drawn_as="log")
    for stated, name, n in ((None, "log", 40), (2.0, "log-2", 30), (20.0, "log-20", 24))
}


def worst_kind(played: Sequence[Played]) -> Figure:
    """Return the share of lives with any call on the kind of press that has the highest, of kinds with 30 lives."""
    shares = []
    for nth in range(len(_KINDS)):
        share = false_calls([one for one in played if one.known["kind"] == nth])
        if share.n >= 30:
            shares.append(share)
    return max(shares, key=lambda share: share.value, default=Figure(float("nan"), 0, float("nan")))


def first_lives(played: Sequence[Played]) -> Figure:
    """Return the share of first lives with any call."""
    return mean_of([[float(one.said[0].called() is not None)] for one in played])


_ALL = "of all sound lives of many presses"

CASES = (
    Case("sound lives of a whole log", f"{_ALL}, one in ten is called at most", Goal(high=0.10), (SCENES[None],),
         false_calls),
    Case("sound lives of a whole log, worst kind of press", "on no kind of press one in seven", Goal(high=0.15),
         (SCENES[None],), worst_kind),
    Case("sound lives of a whole log, the first of a press", "of first inserts too", Goal(high=0.10),
         (SCENES[None],), first_lives),
    Case("sound lives of a whole log, 2 in 100 stated", f"{_ALL}, 2 in 100 are called, at most twice that",
         Goal(high=0.04), (SCENES[2.0],), false_calls),
    Case("sound lives of a whole log, 20 in 100 stated", f"{_ALL}, 20 in 100 are called, half to once and a half",
         Goal(0.10, 0.30), (SCENES[20.0],), false_calls),
)  # fmt: skip
