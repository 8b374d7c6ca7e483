"""More than one change in a life, changes carried over a swap, and damage that nobody mends."""

from collections.abc import Sequence
from functools import partial

import numpy as np

from tests.benchmark.examiner.cases.base import Case, Goal, Scene
from tests.benchmark.examiner.faults import FAULTS, Change, draw_change
from tests.benchmark.examiner.figures import Figure, mean_of, ratio_of
from tests.benchmark.examiner.histories import History
from tests.benchmark.examiner.play import Played, Said, stands
from tests.benchmark.examiner.press import draw_press

__all__ = ["CASES", "started"]

_NEAR = 8
"""An onset this close to the true one, in shots, is taken as said of that change."""


def started(rng: np.random.Generator, n_channels: int | None = None, sisters: int = 5) -> History:
    """Return a history with some sound sisters behind it."""
    history = History(draw_press(rng, n_channels or int(rng.choice((3, 7)))), rng)
    for _ in range(sisters):
        history.life(int(rng.integers(50, 80)))
    return history


def _second(rng: np.random.Generator, alone: bool) -> History:
    """Material or press first, the insert wears 20-30 shots later; `alone`: without the first."""
    history = started(rng, 7)
    press, n = history.press, 120
    at = int(rng.integers(25, 35))
    earlier = draw_change(press, FAULTS[str(rng.choice(("lot", "barrel", "dosing")))], n, at, rng)
    wear = FAULTS[str(rng.choice(("gate erosion", "parting line", "creep")))]
    later = draw_change(press, wear, n, at + int(rng.integers(20, 31)), rng)
    history.life(n, [later] if alone else [earlier, later], examined=True)
    return history


def _under_open_call(rng: np.random.Generator) -> History:
    """A press fault carried over a swap, its call open, and then a step of 30 sigma that is the insert's."""
    history = started(rng)
    press = history.press
    fault = draw_change(press, FAULTS["dosing"], 60, 30, rng, size=6.0)
    history.life(60, [fault])
    carried = np.tile(fault.added[-1], (60, 1))
    broken = draw_change(press, FAULTS["parting line"], 60, int(rng.integers(20, 35)), rng, size=30.0, shape="step")
    history.life(60, [broken], added=carried, examined=True)
    return history


def _unswapped(rng: np.random.Generator) -> History:
    history = started(rng)
    broken = draw_change(history.press, FAULTS["break"], 250, 40, rng, size=rng.uniform(5.0, 10.0))
    history.life(250, [broken], examined=True)
    return history


SECOND = Scene("second", 60, partial(_second, alone=False), drawn_as="second")
ALONE = Scene("second-alone", 60, partial(_second, alone=True), drawn_as="second")
UNDER_OPEN = Scene("under-open-call", 40, _under_open_call)
UNSWAPPED = Scene("unswapped", 40, _unswapped)


def _said_of(said: Said, change: Change) -> int | None:
    """Return the first age at which the insert is blamed, by the deciding call or another, from near the onset on."""
    for age in range(change.onset, said.life.n_shots):
        for group, _, onset in stands(said.verdicts[age]):
            if group == "insert" and abs(onset - said.life.first - change.onset) <= _NEAR:
                return age
    return None


def second_said(played: Sequence[Played]) -> Figure:
    """Return the share of lives on which the last change is said as the insert's, with an onset near its own."""
    return mean_of([[float(_said_of(said, said.life.changes[-1]) is not None) for said in one.said] for one in played])


def second_delay(played: Sequence[Played], alone: Sequence[Played]) -> Figure:
    """Return the delay of the second change over that of the same change alone, over lives with it said in both."""
    pairs = []
    for both, single in zip(played, alone, strict=True):
        change = single.said[0].life.changes[-1]
        ages = _said_of(both.said[0], change), _said_of(single.said[0], change)
        if ages[0] is not None and ages[1] is not None:
            pairs.append((ages[0] - change.onset + 1.0, ages[1] - change.onset + 1.0))
    return ratio_of([pair[0] for pair in pairs], [pair[1] for pair in pairs])


def _from(said: Said, age: int) -> Sequence[str]:
    return [verdict.verdict for verdict in said.verdicts[age:]]


def kept_again(played: Sequence[Played]) -> Figure:
    """Return the share of broken inserts that are kept at any shot after the break was first called."""
    out = []
    for one in played:
        for said in one.said:
            age = said.called(said.life.changes[0].onset)
            out.append([float(age is None or "keep" in _from(said, age))])
    return mean_of(out)


def swapped(played: Sequence[Played]) -> Figure:
    """Return the share of breaks that are said to be a swap within fifteen shots."""
    out = []
    for one in played:
        for said in one.said:
            onset = said.life.changes[0].onset
            out.append([float("swap" in _from(said, onset)[:15])])
    return mean_of(out)


CASES = (
    Case("second change said", "an insert that wears 20-30 shots after a press or material change is said so",
         Goal(low=0.85), (SECOND,), second_said),
    Case("the same change alone", "for comparison: the same lives without the first change", None, (ALONE,),
         second_said),
    Case("second change, delay over alone", "it takes at most 1.5 times as long as alone", Goal(high=1.5),
         (SECOND, ALONE), second_delay),
    Case("30 sigma under an open call", "a carried press call hides no break of 30 sigma", Goal(low=0.85),
         (UNDER_OPEN,), second_said),
    Case("break nobody swaps: kept again", "after a break is called, never keep on that insert", Goal(high=0.0),
         (UNSWAPPED,), kept_again),
    Case("break: swap said", "a break is a swap, within fifteen shots", Goal(low=0.95), (UNSWAPPED,), swapped),
)  # fmt: skip
