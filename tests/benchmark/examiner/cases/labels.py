"""A fault that shows on this press in a way of its own, and what people said it was when its inserts came out.

Three ways, one a press. A gate that opens where the pressure ends the fill: the fill gets longer and the screw further
forward, the pressure stays (degradation.md, section 2); nobody configured it so. A parting line whose flash freezes
before the hold: pressure lost, the fill a little longer, cushion hardly lower. A nozzle that leaks at its seat, more
with each shot, until it is seated again with the next insert: cushion and pressure as with flash, and the swap mends
it, which is no proof against an insert that was never at fault; only a person can know.

Three sound lives, four with the fault, each taken out some 30 shots after it began, then the examined one. Said are
words as people have them; with a wrong one, one of the four is another's. How the fault moves all values is drawn once
a press, and differs by a tenth from life to life.
"""

from dataclasses import dataclass
from functools import partial

import numpy as np

from tests.benchmark.examiner.cases.base import Case, Goal, Scene
from tests.benchmark.examiner.cases.one_change import group_right
from tests.benchmark.examiner.cases.several import started
from tests.benchmark.examiner.faults import FAULTS, Effect, Fault, draw_change
from tests.benchmark.examiner.histories import History
from tests.benchmark.examiner.press import Press

__all__ = ["BARE", "CASES", "LABELLED", "ONE_WRONG", "OTHER", "OTHER_BARE"]


@dataclass(frozen=True, slots=True)
class _Way:
    """A fault's own way: its `group`, what people say of it, what is said wrongly, and faults that look otherwise."""

    name: str
    group: str
    said: tuple[str, ...]
    wrongly: str
    unlike: tuple[str, ...]
    share: float


_WAYS = (
    _Way(
        "gate that slows the fill",
        "insert",
        ("gate worn", "gate washed out, vestige too wide", "gate erosion"),
        "nozzle leaking at the sprue, insert fine",
        ("lot", "dosing", "barrel", "check ring"),
        0.4,
    ),
    _Way(
        "flash before the hold",
        "insert",
        ("flash", "flash at the parting line", "parting line worn, flash all round"),
        "new lot runs differently, insert fine",
        ("lot", "dosing", "check ring"),
        0.3,
    ),
    _Way(
        "nozzle at its seat",
        "press",
        ("nozzle leaking at the sprue, insert fine", "melt lost at the nozzle seat, insert sound", "nozzle leak"),
        "gate worn",
        ("gate erosion", "vents", "lot"),
        0.3,
    ),
)


def _moves_of(way: _Way, press: Press, rng: np.random.Generator) -> Effect:
    """Draw how the fault moves this press, in physical terms."""
    pressure = press.mean_of("peak_pressure")
    if way.name == "gate that slows the fill":
        cushion = -rng.uniform(0.02, 0.07)
        return {
            "fill_time": press.mean_of("fill_time") * rng.uniform(0.03, 0.08),
            "switchover_position": -rng.uniform(0.02, 0.1),
            "peak_pressure": -pressure * rng.uniform(0.0, 0.004),
            "cushion": cushion,
            "part_weight": -press.g_per_mm * cushion,
        }
    if way.name == "flash before the hold":
        cushion = -rng.uniform(0.0, 0.03)
        return {
            "fill_time": press.mean_of("fill_time") * rng.uniform(0.005, 0.02),
            "switchover_pressure": -pressure * rng.uniform(0.03, 0.05),
            "peak_pressure": -pressure * rng.uniform(0.02, 0.05),
            "cushion": cushion,
            "part_weight": press.g_per_mm * rng.uniform(0.05, 0.2),
        }
    bar = -pressure * rng.uniform(0.02, 0.06)
    return {
        "cushion": -1.0,
        "switchover_pressure": bar * rng.uniform(0.6, 1.0),
        "peak_pressure": bar,
        "part_weight": -press.g_per_mm * rng.uniform(0.0, 0.3),
    }


def _about(moves: Effect, press: Press, rng: np.random.Generator) -> Effect:
    """Return how this life's fault moves all: each value within some tenth of the press's own way."""
    return {channel: by * (1.0 + 0.1 * float(rng.standard_normal())) for channel, by in moves.items()}


def _labelled(
    rng: np.random.Generator, n_channels: int = 0, said: bool = True, wrong: bool = False, other: bool = False
) -> History:
    """`said`: people say why they took the inserts out; `wrong`: once wrongly. `other`: the last has another fault."""
    history = started(rng, n_channels or None, sisters=3)
    press = history.press
    way = _WAYS[int(rng.choice(len(_WAYS), p=[one.share for one in _WAYS]))]
    fault = Fault(way.name, way.group, ("ramp",), partial(_about, _moves_of(way, press, rng)))
    wrong_one = int(rng.integers(4))
    for nth in range(5):
        at, size = int(rng.integers(20, 36)), rng.uniform(5.0, 9.0)
        word, unlike = str(rng.choice(way.said)), str(rng.choice(way.unlike))
        word = way.wrongly if wrong and nth == wrong_one else word
        n = at + (45 if nth == 4 else int(rng.integers(25, 36)))
        if nth == 4 and other:
            change = draw_change(press, FAULTS[unlike], n, at, rng)
        else:
            change = draw_change(press, fault, n, at, rng, size=size, over=30.0)
        history.life(n, [change], examined=nth == 4, ended=word if said and nth < 4 else "")
    return history


LABELLED, BARE, ONE_WRONG = (
    Scene(f"labels-{name}", 36, partial(_labelled, said=said, wrong=wrong), drawn_as="labels")
    for name, said, wrong in (("said", True, False), ("bare", False, False), ("one-wrong", True, True))
)
OTHER, OTHER_BARE = (
    Scene(f"labels-other-{name}", 24, partial(_labelled, n_channels=7, said=said, other=True), drawn_as="labels-other")
    for name, said in (("said", True), ("bare", False))
)

_OWN = "a fault in a way of its own is laid to its group"

CASES = (
    Case("labels: four said what it was", f"{_OWN} after four ends with a word for it", Goal(low=0.85), (LABELLED,),
         group_right),
    Case("labels: one of four wrong", f"{_OWN}, one of the four words wrong", Goal(low=0.75), (ONE_WRONG,),
         group_right),
    Case("labels: nobody said", "for comparison: the same lives without a word", None, (BARE,), group_right),
    Case("labels: then another fault", "what was said of one fault does not claim another", Goal(low=0.75), (OTHER,),
         group_right),
    Case("labels: another fault, nobody said", "for comparison: the same lives without a word", None, (OTHER_BARE,),
         group_right),
)  # fmt: skip
