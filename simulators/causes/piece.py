"""What is wrong with a print before its first shot: storage, print batch, loading. For a single-use half each shot is
a new piece.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

import numpy as np
from numpy.typing import NDArray

from simulators.causes.base import Drive, SimulatedCause
from simulators.noise import Array

if TYPE_CHECKING:
    from simulators.states import States

__all__ = ["EarlySoftening", "PieceCrack", "Swelling"]


@dataclass(frozen=True, slots=True)
class Swelling(SimulatedCause):
    """Stored damp, or with monomer left: gate and cavity are smaller from the first shot, and each piece differs more.

    `bar` and `volume` (mm3) are the offset, `wider` the spread; `relax` shots dry a reused half out again (0: never).
    """

    group: ClassVar[str] = "insert"
    unit: ClassVar[str] = "bar"
    bad_level: ClassVar[float] = 10.0

    bar: float = 18.0
    volume: float = 40.0
    wider: float = 1.5
    relax: float = 0.0

    def act(self, states: "States", drive: Drive) -> Array:
        share = np.where(drive.on, drive.factor, 0.0)
        if self.relax > 0.0:
            share = share * np.exp(-(drive.age - 1.0) / self.relax)
        states.flow_bar += self.bar * share
        states.cavity_mm3 -= self.volume * share
        _widen(states, drive.on, self.wider)
        level: Array = self.bar * share
        return level


@dataclass(frozen=True, slots=True)
class EarlySoftening(SimulatedCause):
    """A soluble piece has begun to soften (humidity, stray caustic): it gives way under pressure, each piece by its
    own amount.

    The cavity gains about `volume` mm3, lognormal with a spread of half that, more by a factor 1 + wait/30 min where
    the piece waited in a stop; `relief` bar go with it.
    """

    group: ClassVar[str] = "insert"
    unit: ClassVar[str] = "mm3"
    bad_level: ClassVar[float] = 40.0

    volume: float = 60.0
    relief: float = 15.0
    wider: float = 1.6

    def act(self, states: "States", drive: Drive) -> Array:
        drawn = states.streams.skewed(f"{drive.stream}/piece", len(drive.age), 1.0, 0.5)
        waited = 1.0 + states.timeline.stop_min / 30.0
        share = np.where(drive.on, drawn * drive.factor * waited, 0.0)
        states.cavity_mm3 += self.volume * share
        states.relief_bar += self.relief * share
        _widen(states, drive.on, self.wider)
        level: Array = self.volume * share
        return level


@dataclass(frozen=True, slots=True)
class PieceCrack(SimulatedCause):
    """One piece cracks on loading: melt escapes into the crack, the shot is short. `until` ends it, after one shot as
    a rule.
    """

    group: ClassVar[str] = "insert"
    unit: ClassVar[str] = "mm of screw"
    bad_level: ClassVar[float] = 0.1

    escaped_mm: float = 0.9
    short_g: float = 0.10
    relief: float = 35.0

    def act(self, states: "States", drive: Drive) -> Array:
        escaped = np.where(drive.on, self.escaped_mm, 0.0)
        short = np.where(drive.on, self.short_g, 0.0)
        states.cavity_g -= short
        states.lost_g += escaped * states.machine.g_per_mm + short
        states.relief_bar += np.where(drive.on, self.relief, 0.0)
        return escaped


def _widen(states: "States", on: NDArray[np.bool_], factor: float) -> None:
    """Let every reading that a piece shapes scatter more on some shots."""
    for spread in (states.pressure_spread, states.cushion_spread, states.weight_spread):
        spread[on] *= factor
