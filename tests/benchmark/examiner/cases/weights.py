"""Stated weights held to their word over a mixture of everything: all faults, those off the table and unseen melt.

A weight says how likely the group of causes is, given a change. It is read five shots after the call and at the last
shot of the life with a call: of all that is said with weight w, w has to be right. Calls before the onset are left to
the cases of sound lives. `_ODD` of the changes are odd ones, each kind alike (no source: often enough to count).
"""

from collections.abc import Iterator, Sequence
from functools import partial

import numpy as np

from tests.benchmark.examiner.cases.base import Case, Goal, Scene
from tests.benchmark.examiner.cases.one_change import judged_at
from tests.benchmark.examiner.cases.several import started
from tests.benchmark.examiner.faults import draw_change, shares_of
from tests.benchmark.examiner.figures import Figure, mean_of
from tests.benchmark.examiner.histories import History
from tests.benchmark.examiner.play import Played

__all__ = ["CASES", "SCENES"]

_N_SHOTS = 90
_ODD = 0.15
_LATER = (5, _N_SHOTS)
_ENOUGH = 50
"""Lives with a call in a tenth of weight below which it is not judged: its share right then errs by 0.07 or more."""

_SURE = 0.99


def _any(rng: np.random.Generator, n_channels: int) -> History:
    history = started(rng, n_channels, sisters=4)
    faults, shares = zip(*shares_of(history.press, odd=_ODD), strict=True)
    fault = faults[int(rng.choice(len(faults), p=np.array(shares)))]
    change = draw_change(history.press, fault, _N_SHOTS, int(rng.integers(20, 50)), rng)
    history.life(_N_SHOTS, [change], examined=True)
    return history


SCENES = (
    Scene("anything-3", 110, partial(_any, n_channels=3)),
    Scene("anything-7", 110, partial(_any, n_channels=7)),
    Scene("anything-3-best", 30, partial(_any, n_channels=3), best=True, odd=_ODD),
    Scene("anything-7-best", 30, partial(_any, n_channels=7), best=True, odd=_ODD),
)
"""The best possible takes its time and is run on a part of them."""


def _said(played: Sequence[Sequence[Played]]) -> Iterator[list[tuple[float, bool]]]:
    """Return, for each life called, the weights read and whether the group was right."""
    for one in (one for some in played for one in some):
        for said in one.said:
            verdicts = [said.verdicts[age] for later in _LATER if (age := judged_at(said, later)) is not None]
            true = said.life.changes[0].group
            yield [(verdict.weight, verdict.group == true) for verdict in verdicts if verdict.weight is not None]


def _best_said(played: Sequence[Sequence[Played]]) -> Iterator[list[tuple[float, bool]]]:
    """Return the same of the best possible classifier, at the same shots."""
    for one in (one for some in played for one in some):
        for said, life in zip(one.said, one.best, strict=False):
            ages = [age for later in _LATER if (age := judged_at(said, later)) is not None]
            yield [(float(life.weight[age]), life.group[age] == said.life.changes[0].group) for age in ages]


def worst_tenth(*played: Sequence[Played]) -> Figure:
    """Return how far the share right is from the mean weight stated, in the worst tenth with enough lives."""
    lives = list(_said(played))
    worst = Figure(float("nan"), 0, float("nan"))
    for nth in range(10):
        of = [[(w, right) for w, right in life if min(int(w * 10), 9) == nth] for life in lives]
        kept = [(np.mean([w for w, _ in some]), np.mean([right for _, right in some])) for some in of if some]
        if len(kept) < _ENOUGH:
            continue
        stated, right = np.array(kept).T
        off = abs(float(right.mean() - stated.mean()))
        if not worst.n or off > worst.value:
            worst = Figure(off, len(kept), float(right.std() / np.sqrt(len(kept))))
    return worst


def _over(said: Iterator[list[tuple[float, bool]]]) -> Figure:
    return mean_of([[w - float(right) for w, right in life] for life in said])


def _sure_wrong(said: Iterator[list[tuple[float, bool]]]) -> Figure:
    return mean_of([[float(not right) for w, right in life if w >= _SURE] for life in said])


def over_right(*played: Sequence[Played]) -> Figure:
    """Return the mean weight stated less the share right: above 0 it says more than it knows."""
    return _over(_said(played))


def best_over_right(*played: Sequence[Played]) -> Figure:
    """Return the same for the best possible classifier."""
    return _over(_best_said(played))


def unsure_over_right(*played: Sequence[Played]) -> Figure:
    """Return the mean weight stated less the share right, of what is said with less than 0.9."""
    return _over([(w, right) for w, right in life if w < 0.9] for life in _said(played))


def sure_wrong(*played: Sequence[Played]) -> Figure:
    """Return the share that is wrong of what is said with a weight of 0.99 or more."""
    return _sure_wrong(_said(played))


def best_sure_wrong(*played: Sequence[Played]) -> Figure:
    """Return the same for the best possible classifier."""
    return _sure_wrong(_best_said(played))


CASES = (
    Case("weights over anything, worst tenth", f"said with weight w, w are right, in tenths of {_ENOUGH} lives",
         Goal(high=0.10), SCENES, worst_tenth),
    Case("weights over anything, above right", "the mean weight is the share right", Goal(-0.04, 0.04), SCENES,
         over_right, best_over_right),
    Case("weights over anything, under 0.9", "and so is the mean of those under 0.9", Goal(-0.10, 0.10), SCENES,
         unsure_over_right),
    Case("weights over anything, sure and wrong", "what is said with 0.99 is seldom wrong", Goal(high=0.02), SCENES,
         sure_wrong, best_sure_wrong),
)  # fmt: skip
