"""What goes wrong with a press. No swap of an insert cures it."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

import numpy as np

from simulators.causes.base import Cause, Drive
from simulators.noise import Array

if TYPE_CHECKING:
    from simulators.states import States

__all__ = ["CheckRing"]


@dataclass(frozen=True, slots=True)
class CheckRing(Cause):
    """Melt passes back over the check ring: each shot loses abs(N(0, s)) mm, s growing by `rate` a shot up to `cap`.

    From `flyers_after` shots on, `flyers` of the shots lose another `flyer_mm` (dirt under the ring). `pressure_bar`
    is lost over 30 shots, its spread grows.
    """

    group: ClassVar[str] = "press"
    unit: ClassVar[str] = "mm spread"
    bad_level: ClassVar[float] = 0.2

    rate: float = 0.02
    cap: float = 0.45
    flyers_after: int = 10
    flyers: float = 0.06
    flyer_mm: float = 1.0
    pressure_bar: float = 4.0
    pressure_spread_bar: float = 2.5

    def act(self, states: "States", drive: Drive) -> Array:
        n = len(drive.age)
        spread: Array = np.minimum(self.rate * drive.age, self.cap)
        lost = np.abs(states.streams.normal(f"{drive.stream}/leak", n)) * spread
        flying = (states.streams.uniform(f"{drive.stream}/fly", n) < self.flyers) & (drive.age >= self.flyers_after)
        lost = lost + np.where(flying, self.flyer_mm, 0.0)
        states.leak_mm += lost
        states.creep_mm += 0.5 * lost
        states.relief_bar += self.pressure_bar * np.minimum(drive.age / 30.0, 1.0)
        shaken = states.streams.normal(f"{drive.stream}/pressure", n, self.pressure_spread_bar)
        states.flow_bar += np.where(drive.on, shaken, 0.0)
        return spread
