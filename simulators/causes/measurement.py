"""What goes wrong with a measurement: one channel moves, the physics around it does not."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

import numpy as np

from simulators.causes.base import Drive, SimulatedCause
from simulators.noise import Array

if TYPE_CHECKING:
    from simulators.states import States

__all__ = ["SensorDrift", "SensorStuck"]


@dataclass(frozen=True, slots=True)
class SensorDrift(SimulatedCause):
    """One `channel` reads `step` too high at once and `rate` more each shot, in its unit, until it is plugged in
    again (`until`).
    """

    group: ClassVar[str] = "measurement"
    unit: ClassVar[str] = "of the channel"

    channel: str = "cushion"
    step: float = 0.0
    rate: float = 0.004

    def act(self, states: "States", drive: Drive) -> Array:
        off: Array = np.where(drive.on, self.step + self.rate * drive.age, 0.0)
        states.sensor[self.channel] = states.sensor.get(self.channel, np.zeros(len(off))) + off
        return np.abs(off)


@dataclass(frozen=True, slots=True)
class SensorStuck(SimulatedCause):
    """One `channel` keeps the last value it gave before the onset."""

    group: ClassVar[str] = "measurement"
    unit: ClassVar[str] = "stuck"

    channel: str = "insert_temperature"

    def act(self, states: "States", drive: Drive) -> Array:
        held = np.arange(len(drive.age))
        first = int(np.argmax(drive.on)) if drive.on.any() else 0
        held[drive.on] = max(first - 1, 0)
        states.held[self.channel] = held
        level: Array = drive.on.astype(np.float64)
        return level
