"""Two halves in one mould: both reused and swapped apart, or one reused and the other new with every shot."""

from collections.abc import Sequence
from functools import partial

import numpy as np
from numpy.typing import NDArray

from shotlog.records import InForce
from tests.benchmark.examiner.cases.base import Case, Goal, Scene
from tests.benchmark.examiner.faults import FAULTS, draw_change
from tests.benchmark.examiner.figures import Figure, mean_of
from tests.benchmark.examiner.histories import History
from tests.benchmark.examiner.play import Played, Said, stands
from tests.benchmark.examiner.press import Press, draw_press

__all__ = ["CASES"]

_FIXED, _PIECE = "simple", "piece"
"""Designs of the simple half beside a reused complex one, and of a complex half that is used once."""

_SHARE = 0.4
"""How much of level difference and warm-up a fresh simple half brings: it has no gate and no cores (no source)."""


def _brings(press: Press, n_shots: int, rng: np.random.Generator) -> NDArray[np.float64]:
    """Return what a fresh simple half adds to the shots, shape (n_shots, n_channels)."""
    own = rng.standard_normal(len(press.sisters)) @ press.sisters
    curve = press.warm_up.curve(n_shots) * (1.0 + press.cold_spread * rng.standard_normal())
    return np.asarray(_SHARE * (own + curve[:, None] * press.cold))


_LIFE, _WORN_FROM, _SWAPPED_AT = 70, 30, 36
"""Shots of a moving half; where the last one starts to wear and the fixed half is swapped, as ages from 0."""


def _two_reused(rng: np.random.Generator) -> History:
    """Six moving halves; fixed ones swapped in the middle of every other; the last wears from 31, fixed new at 37."""
    history = History(draw_press(rng, int(rng.choice((3, 7)))), rng)
    press, n_fixed = history.press, 0
    added = np.empty((0, len(press.level)))
    for nth in range(6):
        last = nth == 5
        swapped = _SWAPPED_AT if last else int(rng.integers(25, 45)) if nth % 2 else _LIFE
        wear = FAULTS[str(rng.choice(("gate erosion", "parting line", "creep")))]
        changes = [draw_change(press, wear, _LIFE, _WORN_FROM, rng)] if last else []
        if not len(added):
            added = _brings(press, 4 * _LIFE, rng)
        by_half = np.empty((_LIFE, len(press.level)))
        serials = []
        for age in range(_LIFE):
            if age == swapped:
                n_fixed, added = n_fixed + 1, _brings(press, 4 * _LIFE, rng)
            by_half[age], added = added[0], added[1:]
            serials.append(f"F{n_fixed + 1:03d}")
        beside = [{"fixed": InForce(serial, _FIXED)} for serial in serials]
        history.life(_LIFE, changes, added=by_half, beside=beside, examined=last)
    return history


_PLATE = 12
"""Pieces of one print batch (trade notes: plates of 12)."""


def _single_use(rng: np.random.Generator, what: str) -> History:
    """A reused simple half and a moving half that is new each shot, printed in plates; `what` befalls the last half.

    Trade notes: pieces differ 1.5-3 times as much as shots of one insert, plates by about half of that; a plate stored
    damp raises pressure and cushion by about two of these spreads and spreads wider by half; the worn simple half
    loses cushion faster and faster.
    """
    history = History(draw_press(rng, int(rng.choice((3, 7)))), rng)
    press = history.press
    wide = rng.uniform(1.5, 3.0)
    gate = press.vector({"peak_pressure": 1.0, "switchover_pressure": 1.0})
    volume = press.vector({"cushion": 1.0, "part_weight": -0.5})
    moves = np.array([gate, volume]) * press.spread
    n_piece = 0
    for nth in range(4):
        n = 6 * _PLATE
        last = nth == 3
        worn_from = int(rng.integers(30, 40))
        changes = []
        if last and what == "worn":
            size = wide * rng.uniform(5.0, 8.0)
            changes = [draw_change(press, FAULTS["parting line"], n, worn_from, rng, size=size, over=25.0)]
        piece = np.sqrt(wide**2 - 1.0) * rng.standard_normal((n, 2))
        plate = np.repeat(wide * 0.5 * rng.standard_normal((n // _PLATE, 2)), _PLATE, axis=0)
        swollen = np.zeros((n, 2))
        if last and what == "swollen":
            swollen[2 * _PLATE : 3 * _PLATE] = rng.uniform(2.0, 3.0) * wide
            piece[2 * _PLATE : 3 * _PLATE] *= 1.5
        batches = [f"PL-{nth + 1}-{age // _PLATE + 1}" for age in range(n)]
        beside = [
            {"moving": InForce(f"S{n_piece + age + 1:05d}", _PIECE, batch, True)} for age, batch in enumerate(batches)
        ]
        n_piece += n
        added = (piece + plate + swollen) @ moves
        history.life(n, changes, added=added, beside=beside, half="fixed", examined=last)
    return history


REUSED = Scene("two-reused", 48, _two_reused)
CLEAN, SWOLLEN, WORN = (
    Scene(f"single-use-{what}", 32, partial(_single_use, what=what)) for what in ("clean", "swollen", "worn")
)


def _named(said: Said) -> bool:
    """Say whether the life ends with the wear laid to the moving half, from before the fixed one was swapped."""
    last = said.verdicts[-1]
    before = last.onset is not None and last.onset < said.life.first + _SWAPPED_AT
    return last.group == "insert" and last.insert == said.life.serial and before


def worn_half_named(played: Sequence[Played]) -> Figure:
    """Return the share of lives that end with the worn half named and an onset before the swap of the other."""
    return mean_of([[float(_named(said)) for said in one.said] for one in played])


def own_clock(played: Sequence[Played]) -> Figure:
    """Return the share of shots at which the half that a verdict is on has its own true number of shots."""
    out = []
    for one in played:
        for said in one.said:
            right = []
            for age, verdict in enumerate(said.verdicts):
                fixed = age - _SWAPPED_AT + 1
                if verdict.insert == said.life.serial:
                    right.append(float(verdict.shots_on_insert == age + 1))
                elif fixed > 0:
                    right.append(float(verdict.shots_on_insert == fixed))
            out.append(right)
    return mean_of(out)


def batch_named(played: Sequence[Played]) -> Figure:
    """Return the share of lives on which a batch is said as the cause, from the swollen one to the end of the next."""
    out = []
    for one in played:
        for said in one.said:
            during = said.verdicts[2 * _PLATE : 4 * _PLATE]
            out.append([float(any("batch" in cause for verdict in during for _, cause, _ in stands(verdict)))])
    return mean_of(out)


def worn_called(played: Sequence[Played]) -> Figure:
    """Return the share of lives that end with the worn simple half called, as the insert."""
    return mean_of(
        [
            [float(said.verdicts[-1].group == "insert" and said.verdicts[-1].insert == said.life.serial)]
            for one in played
            for said in one.said
        ]
    )


def clean_called(played: Sequence[Played]) -> Figure:
    """Return the share of clean lives with any call."""
    return mean_of([[float(said.called() is not None) for said in one.said] for one in played])


_HALVES = "moving half wears from 31, fixed one swapped at 37"

CASES = (
    Case("two halves: worn half named", f"{_HALVES}: the moving one is named, from before 37", Goal(low=0.9),
         (REUSED,), worn_half_named),
    Case("two halves: own clock", f"{_HALVES}: each half counts its own shots", Goal(low=1.0), (REUSED,), own_clock),
    Case("single use: swollen batch named", "a damp print batch is named", Goal(low=0.95), (SWOLLEN,), batch_named),
    Case("single use: worn half called", "the worn reused half is called", Goal(low=0.95), (WORN,), worn_called),
    Case("single use: clean", "no call on clean lives", Goal(high=0.05), (CLEAN,), clean_called),
)  # fmt: skip
