"""What a cause is: one small object that changes physical states from an onset on, and knows from which level parts
are bad.

A cause follows one of two clocks. With `half` (and, to single one out, `serial` or `print_batch`) it belongs to an
insert and is active only while that insert is mounted; `onset_on_insert` counts shots on it, over all its mounts.
Without, it belongs to the press, and `onset` is the press's shot number; with `half` and `onset` an insert's cause
starts at a shot of the press. A pair `[low, high]` as onset is drawn for each insert anew; `spread` lets the rate
differ between inserts (lognormal). `until` ends a press cause.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

import numpy as np
from numpy.typing import NDArray

from simulators.noise import Array

if TYPE_CHECKING:
    from simulators.states import States

__all__ = ["Drive", "SimulatedCause"]


@dataclass(slots=True)
class Drive:
    """How a cause stands at each shot: `age` 1, 2, 3... from the onset on and 0 before, `factor` this insert's rate
    over the usual one.
    """

    age: Array
    factor: Array
    life: NDArray[np.int64]
    stream: str

    @property
    def on(self) -> NDArray[np.bool_]:
        """Where it acts."""
        return self.age > 0


@dataclass(frozen=True, slots=True)
class SimulatedCause:
    """A cause. Subclasses give `group`, the `unit` of their level, the `bad_level` parts are bad from, and `act`."""

    group: ClassVar[str] = ""
    unit: ClassVar[str] = ""
    bad_level: ClassVar[float] = float("inf")

    half: str = ""
    serial: str = ""
    print_batch: str = ""
    onset: int = 0
    onset_on_insert: tuple[float, ...] = ()
    until: int = 0
    spread: float = 0.0

    def warm(self, states: "States", drive: Drive) -> None:
        """Change what heats the insert; called before its temperature is computed."""

    def act(self, states: "States", drive: Drive) -> Array:
        """Change the states and return the level of the cause at each shot, in its unit (0 where it does not act)."""
        raise NotImplementedError

    def drive(self, states: "States") -> Drive:
        """Work out where along the timeline this cause acts."""
        line = states.timeline
        stream = f"{type(self).__name__}-{self.half}-{self.serial}-{self.print_batch}-{self.onset}"
        n = len(line)
        if not self.half:
            age = np.maximum(line.shot - (max(self.onset, 1) - 1), 0).astype(np.float64)
            if self.until:
                age[line.shot > self.until] = 0.0
            return Drive(age, np.ones(n), np.zeros(n, np.int64), stream)
        half = line.halves.get(self.half)
        if half is None:
            return Drive(np.zeros(n), np.ones(n), np.full(n, -1, np.int64), stream)
        chosen = np.array([self._is_mine(mount.serial, mount.print_batch) for mount in half.mounts] + [False])
        mine = chosen[half.life]
        count: NDArray[np.int64]
        if self.onset:
            count = np.cumsum(mine & (line.shot >= self.onset), dtype=np.int64)
        else:
            count = half.used - (self._onsets(states, stream, half.insert) - 1)
        age = np.where(mine, np.maximum(count, 0), 0).astype(np.float64)
        if self.until:
            age[line.shot > self.until] = 0.0
        return Drive(age, self._factors(states, stream, half.insert), half.insert, stream)

    def _is_mine(self, serial: str, print_batch: str) -> bool:
        return (not self.serial or serial == self.serial) and (not self.print_batch or print_batch == self.print_batch)

    def _onsets(self, states: "States", stream: str, life: NDArray[np.int64]) -> NDArray[np.int64]:
        low, high = (*self.onset_on_insert, *self.onset_on_insert, 1.0, 1.0)[:2] if self.onset_on_insert else (1.0, 1.0)
        if low == high:
            return np.full(len(life), int(low))
        drawn = states.streams.uniform(f"{stream}/onset", int(life.max(initial=0)) + 2)
        return np.floor(low + (high - low + 1.0) * drawn[np.maximum(life, 0)]).astype(np.int64)

    def _factors(self, states: "States", stream: str, life: NDArray[np.int64]) -> Array:
        if self.spread == 0.0:
            return np.ones(len(life))
        drawn = states.streams.normal(f"{stream}/rate", int(life.max(initial=0)) + 2, self.spread)
        factors: Array = np.exp(drawn[np.maximum(life, 0)])
        return factors
