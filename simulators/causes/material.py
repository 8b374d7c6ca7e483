"""What changes with the material."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

import numpy as np

from simulators.causes.base import Drive, SimulatedCause
from simulators.noise import Array

if TYPE_CHECKING:
    from simulators.states import States

__all__ = ["Moisture", "NewLot", "PotLife"]


@dataclass(frozen=True, slots=True)
class NewLot(SimulatedCause):
    """Another lot, `stiffness` stiffer (relative viscosity - 1), smeared over barrel and hopper with a constant of
    `smear` shots.

    A `lot` of a scenario makes one.
    """

    group: ClassVar[str] = "material"
    unit: ClassVar[str] = "relative viscosity"

    stiffness: float = 0.09
    smear: float = 3.0

    def act(self, states: "States", drive: Drive) -> Array:
        change: Array = self.stiffness * -np.expm1(-drive.age / self.smear)
        states.stiffness += change
        return change


@dataclass(frozen=True, slots=True)
class Moisture(SimulatedCause):
    """The resin gets wetter by `rate` a shot (relative loss of viscosity) up to `cap`, or swings with the hopper's
    `period`.

    Wet melt drools and splays: about `drool_g` at full `cap`, and the weight scatters `wider` times more. Worse after
    a stop, as the hopper stood. Negative `rate`: dried too long, stiffer.
    """

    group: ClassVar[str] = "material"
    unit: ClassVar[str] = "relative viscosity"
    bad_level: ClassVar[float] = 0.08

    rate: float = 0.002
    cap: float = 0.10
    period: float = 0.0
    drool_g: float = 0.02
    wider: float = 1.5

    def act(self, states: "States", drive: Drive) -> Array:
        if self.period:
            wet = np.where(drive.on, self.cap * (0.5 - 0.5 * np.cos(2.0 * np.pi * drive.age / self.period)), 0.0)
        else:
            wet = np.sign(self.rate) * np.minimum(abs(self.rate) * drive.age, self.cap)
        wet = wet * (1.0 + np.where(states.timeline.stop_min > 0.0, 0.5, 0.0))
        share = np.clip(wet / self.cap, 0.0, 1.0)
        drip = states.streams.uniform(f"{drive.stream}/drip", len(wet))
        states.stiffness -= wet
        states.drool_g += self.drool_g * share * 2.0 * drip
        states.weight_spread *= 1.0 + (self.wider - 1.0) * share
        states.recovery_s += 0.1 * share * states.streams.normal(f"{drive.stream}/feed", len(wet))
        level: Array = np.abs(wet)
        return level


@dataclass(frozen=True, slots=True)
class PotLife(SimulatedCause):
    """A two-part rubber thickens in the dosing line: `per_hour` of its viscosity an hour, back to the start at every
    purge.
    """

    group: ClassVar[str] = "material"
    unit: ClassVar[str] = "relative viscosity"
    bad_level: ClassVar[float] = 0.06

    per_hour: float = 0.005

    def act(self, states: "States", drive: Drive) -> Array:
        line = states.timeline
        minutes = np.cumsum(np.where(drive.on, line.stop_min + states.machine.level.cycle_s / 60.0, 0.0))
        fresh = np.maximum.accumulate(np.where(line.purged, minutes, 0.0))
        thicker: Array = self.per_hour * (minutes - fresh) / 60.0
        states.stiffness += thicker
        return thicker
