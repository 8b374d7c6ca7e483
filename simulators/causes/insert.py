"""What goes wrong with a printed insert. The balance stays closed: what the cushion loses, the shot gains."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

import numpy as np

from simulators.causes.base import Cause, Drive
from simulators.noise import Array

if TYPE_CHECKING:
    from simulators.states import States

__all__ = ["CoreLoss", "GateErosion", "PartingLine", "PieceCrack", "Swelling"]


@dataclass(frozen=True, slots=True)
class GateErosion(Cause):
    """The gate grows by `rate` mm of radius a shot: pressure falls with R^-(3n+1), the gate seals later with R^2."""

    group: ClassVar[str] = "insert"
    unit: ClassVar[str] = "mm radius"
    bad_level: ClassVar[float] = 0.03

    rate: float = 0.0011

    def act(self, states: "States", drive: Drive) -> Array:
        grown: Array = self.rate * drive.factor * drive.age
        states.gate_radius_mm += grown
        return grown


@dataclass(frozen=True, slots=True)
class PartingLine(Cause):
    """Flash that feeds itself: `size` * (exp(age/`grow`) - 1) mm of screw travel go into the fin, at most `cap`.

    It relieves fill pressure by the press's `relief_bar_mm` and the clamp is felt to give `clamp_kn_mm`.
    """

    group: ClassVar[str] = "insert"
    unit: ClassVar[str] = "mm of screw"
    bad_level: ClassVar[float] = 0.10

    size: float = 0.05
    grow: float = 24.0
    cap: float = 4.0
    clamp_kn_mm: float = 0.4

    def act(self, states: "States", drive: Drive) -> Array:
        flash: Array = np.minimum(
            self.size * drive.factor * np.expm1(np.minimum(drive.age / self.grow, 50.0)), self.cap
        )
        states.cavity_mm3 += flash * states.machine.screw_area_mm2
        states.relief_bar += states.machine.response.relief_bar_mm * flash
        states.clamp_kn -= self.clamp_kn_mm * flash
        return flash


@dataclass(frozen=True, slots=True)
class CoreLoss(Cause):
    """A core blade, pin or chip breaks away: the cavity gains `volume` mm3 (negative: debris fills it) and `relief`
    bar, for good.
    """

    group: ClassVar[str] = "insert"
    unit: ClassVar[str] = "mm3"
    bad_level: ClassVar[float] = 1.0

    volume: float = 173.0
    relief: float = 12.0

    def act(self, states: "States", drive: Drive) -> Array:
        lost = np.where(drive.on, self.volume, 0.0)
        states.cavity_mm3 += lost
        states.relief_bar += np.where(drive.on, self.relief, 0.0)
        return np.abs(lost)


@dataclass(frozen=True, slots=True)
class PieceCrack(Cause):
    """One piece cracks on loading: melt escapes into the crack, the shot is short. `until` ends it, one shot as a
    rule.
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


@dataclass(frozen=True, slots=True)
class Swelling(Cause):
    """Pieces stored damp: gate and cavity are smaller from the first shot, each piece differs more; `relax` shots dry
    it out (0: never).
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
        for spread in (states.pressure_spread, states.cushion_spread, states.weight_spread):
            spread[drive.on] *= self.wider
        level: Array = self.bar * share
        return level
