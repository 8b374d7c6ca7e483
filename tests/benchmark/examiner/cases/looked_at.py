"""Sound lives on presses that are not like ours, whose inserts people look at: is the call more careful for it?

Now and then, for 8 to 20 shots, every channel scatters two spreads wider, each by itself: a check valve that sticks, a
drier that pulses. Nothing of the kind is a cause the call knows. Somebody looks at the insert every 30 shots and says
that it is sound.
"""

from functools import partial

import numpy as np
from numpy.typing import NDArray

from tests.benchmark.examiner.cases.base import Case, Scene
from tests.benchmark.examiner.cases.healthy import false_calls
from tests.benchmark.examiner.histories import History
from tests.benchmark.examiner.press import draw_press

__all__ = ["CASES"]

_N_SHOTS, _EVERY, _FIRST_KNOWN = 90, 30, 4
_WIDER = 2.0


def _bursts(history: History) -> NDArray[np.float64]:
    rng, spread = history.rng, history.press.spread
    out = np.zeros((_N_SHOTS, len(spread)))
    at = int(rng.integers(0, 20))
    while at < _N_SHOTS:
        until = at + int(rng.integers(8, 21))
        out[at:until] = _WIDER * spread * rng.standard_normal(out[at:until].shape)
        at = until + int(rng.integers(15, 40))
    return out


def _looked_at(rng: np.random.Generator, looks: bool) -> History:
    history = History(draw_press(rng, 3), rng)
    said = dict.fromkeys(range(_EVERY - 1, _N_SHOTS, _EVERY), ("sound", "N. N., insert in the hand"))
    for nth in range(10):
        history.life(_N_SHOTS, examined=nth >= _FIRST_KNOWN, added=_bursts(history), events=said if looks else None)
    return history


LOOKED_AT = Scene("looked-at", 36, partial(_looked_at, looks=True), drawn_as="bursts")
UNSEEN = Scene("bursts", 36, partial(_looked_at, looks=False), drawn_as="bursts")

_NOTHING = "nothing is called on a sound insert of a press that scatters in bursts"

CASES = (
    Case("bursts of scatter, sound", _NOTHING, None, (UNSEEN,), false_calls),
    Case("bursts of scatter, found sound each time", f"{_NOTHING}, people say so", None, (LOOKED_AT,), false_calls),
)  # fmt: skip
