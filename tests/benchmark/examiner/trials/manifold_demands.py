"""What the rinse manifold demands: the sheet's "truth to recover" and suspect parts, and what must never be said.

The last two faults are small beside the spread of pieces and plates, so the best possible stands beside them: the share
found at five false calls in a hundred by whoever knows course, onset, spreads and the level before.
"""

from collections.abc import Sequence
from statistics import NormalDist

import numpy as np

from tests.benchmark.examiner.cases.base import Goal
from tests.benchmark.examiner.trials import manifold
from tests.benchmark.examiner.trials.demand import Demand, all_keep, held_share
from tests.benchmark.examiner.trials.watched import Watched

__all__ = ["DEMANDS", "best_share"]

_OFTEN, _NEARLY_ALWAYS = Goal(low=0.9), Goal(low=0.95)
_SUSPECT = (*range(25, 37), *range(39, 49), 19)


def best_share(shots: Sequence[int], wide: float = 1.0) -> float:
    """Return the share found by whoever knows all but the noise; `shots` are of one plate, `wide` widens its pieces."""
    squares = 0.0
    for channel, between in manifold.BETWEEN.items():
        course = np.array([manifold.moves(n)[channel] for n in shots])
        spread = between**2 * np.ones((len(shots), len(shots)))
        spread += (manifold.WITHIN[channel] * wide) ** 2 * np.eye(len(shots))
        squares += float(course @ np.linalg.solve(spread, course))
    return NormalDist().cdf(np.sqrt(squares) - NormalDist().inv_cdf(0.95))


def _batch(w: Watched, first: int, last: int, since: int, until: int) -> int | None:
    """Return the first shot of a span at which a batch stands open as the cause, dated `since` to `until`."""
    for shot in range(first, last + 1):
        if any("batch" in cause and since <= onset <= until for _, cause, onset in w.open_at(shot)):
            return shot
    return None


def _nothing_before_plate_3(w: Watched) -> float:
    return float(all_keep(w, 1, 18) and all_keep(w, 22, 24))


def _odd(w: Watched) -> float:
    marked = (verdict.facts.odd_shot for verdict in w.span(19, 20) if verdict.facts is not None)
    return float(w.before + 19 in marked)


def _batch_delay(w: Watched) -> float:
    found = _batch(w, 25, 40, 23, 28)
    return (41 if found is None else found) - 25


def _simple_half_blamed(w: Watched) -> float:
    return float(w.first_open(25, 37, "insert", 22) is not None)


def _ramp_called(w: Watched) -> float:
    return float(w.first_open(38, 48, "insert", 34) is not None)


def _sound_held(w: Watched) -> float:
    sound = set(range(1, 49)) - set(_SUSPECT)
    return len(w.held & sound) / len(sound)


DEMANDS: tuple[Demand, ...] = (
    Demand("1-24: nothing but keep beside S-19", _NEARLY_ALWAYS, _nothing_before_plate_3),
    Demand("19: held back as an odd single shot", _OFTEN, _odd),
    Demand("19: no change dated 17-21 stands at 24", _NEARLY_ALWAYS,
           lambda w: float(not any(17 <= onset <= 21 for _, _, onset in w.open_at(24)))),
    Demand("25-36 swollen: batch said by 40", _OFTEN, lambda w: float(_batch(w, 25, 40, 23, 28) is not None),
           best=best_share(range(25, 37), 1.5)),
    Demand("25-36 swollen: shots after 25", Goal(high=12), _batch_delay, middle=True),
    Demand("25-37: simple half blamed", Goal(high=0.05), _simple_half_blamed),
    Demand("37-48: the damp plate is over at 48", _OFTEN,
           lambda w: float(not any(22 <= onset <= 28 for _, _, onset in w.open_at(48)))),
    Demand("38 ramp: laid to SH-02 by 48", None, _ramp_called, best=best_share(range(37, 49))),
    Demand("38 ramp: said as a batch", Goal(high=0.1), lambda w: float(_batch(w, 38, 48, 36, 48) is not None)),
    Demand("19: part held", _OFTEN, lambda w: held_share(w, 19, 19)),
    Demand("25-36: share of parts held", _OFTEN, lambda w: held_share(w, 25, 36)),
    Demand("39-48: share of parts held", None, lambda w: held_share(w, 39, 48)),
    Demand("share of sound parts held", Goal(high=0.1), _sound_held),
)  # fmt: skip
