"""What goes wrong with a printed insert.

The balance stays closed: what the cushion loses, the shot gains; only where melt escapes beside the cavity does it
open.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

import numpy as np

from simulators.causes.base import Drive, SimulatedCause
from simulators.noise import Array

if TYPE_CHECKING:
    from simulators.states import States

__all__ = [
    "CoreLoss",
    "Flaking",
    "GateErosion",
    "HeatBuildUp",
    "PartingLine",
    "SeatDamage",
    "Softening",
    "Sticking",
    "VentClogging",
]


@dataclass(frozen=True, slots=True)
class GateErosion(SimulatedCause):
    """The gate grows by `rate` mm of radius a shot: pressure falls with R^-(3n+1), the gate seals later with R^2.

    Filled resins from 20 to 100 shots on. Once it seals later than hold ends, melt flows back and the weight scatters.
    """

    group: ClassVar[str] = "insert"
    unit: ClassVar[str] = "mm radius"
    bad_level: ClassVar[float] = 0.03

    rate: float = 0.0011

    def act(self, states: "States", drive: Drive) -> Array:
        grown: Array = self.rate * drive.factor * drive.age
        states.gate_radius_mm += grown
        return grown


@dataclass(frozen=True, slots=True)
class Softening(SimulatedCause):
    """Walls bulge under hold: the insert gives `elastic` mm3 more at the set hold pressure, and `rate` mm3 a shot stay.

    The elastic part follows the insert's temperature, the set stays: a pause brings back only part of the cushion. The
    softer skin also runs `heat` degC hotter, reached within 8 shots.
    """

    group: ClassVar[str] = "insert"
    unit: ClassVar[str] = "mm3 of set"
    bad_level: ClassVar[float] = 60.0

    rate: float = 1.2
    elastic: float = 40.0
    heat: float = 4.0
    relief: float = 0.04

    def warm(self, states: "States", drive: Drive) -> None:
        states.heat_degc += self.heat * -np.expm1(-drive.age / 8.0)

    def act(self, states: "States", drive: Drive) -> Array:
        level = states.machine.level
        warmth = (states.insert_degc - level.cold_degc) / (level.insert_degc - level.cold_degc)
        bulge = self.elastic * np.clip(warmth, 0.0, 1.5) * -np.expm1(-drive.age / 8.0)
        kept: Array = self.rate * drive.factor * drive.age
        states.compliance_mm3_bar += bulge / states.machine.set.hold_bar
        states.cavity_mm3 += kept
        states.relief_bar += self.relief * (bulge + kept)
        return kept


@dataclass(frozen=True, slots=True)
class PartingLine(SimulatedCause):
    """Flash that feeds itself: `size` * (exp(age/`grow`) - 1) mm of screw travel go into the fin, at most `cap`.

    It relieves fill pressure by the press's `relief_bar_mm`, and the clamp is felt to give `clamp_kn_mm`.
    """

    group: ClassVar[str] = "insert"
    unit: ClassVar[str] = "mm of screw"
    bad_level: ClassVar[float] = 0.10

    size: float = 0.05
    grow: float = 24.0
    cap: float = 3.0
    clamp_kn_mm: float = 0.4

    def act(self, states: "States", drive: Drive) -> Array:
        grown = self.size * drive.factor * np.expm1(np.minimum(drive.age / self.grow, 50.0))
        flash: Array = np.minimum(grown, self.cap)
        states.cavity_mm3 += flash * states.machine.screw_area_mm2
        states.relief_bar += states.machine.response.relief_bar_mm * flash
        states.clamp_kn -= self.clamp_kn_mm * flash
        return flash


@dataclass(frozen=True, slots=True)
class CoreLoss(SimulatedCause):
    """A core blade, pin or chip breaks away: the cavity gains `volume` mm3 and gives `relief` bar, for good.

    Negative values are debris that fills the cavity or blocks the gate. Far below the press's own scatter when small: a
    2.4 mm pin 7 mm long is 32 mm3.
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
class Flaking(SimulatedCause):
    """Layer lines peel, skin flakes: nearly invisible in press data.

    Weighings scatter `wider` times more, and in `share` of the shots a flake holds the melt up by `bar` once.
    """

    group: ClassVar[str] = "insert"
    unit: ClassVar[str] = "flakes a shot"
    bad_level: ClassVar[float] = 0.01

    wider: float = 1.4
    share: float = 0.03
    bar: float = 14.0

    def act(self, states: "States", drive: Drive) -> Array:
        flakes = drive.on & (states.streams.uniform(f"{drive.stream}/flake", len(drive.age)) < self.share)
        states.weight_spread[drive.on] *= self.wider
        states.flow_bar += np.where(flakes, self.bar, 0.0)
        level: Array = np.where(drive.on, self.share, 0.0)
        return level


@dataclass(frozen=True, slots=True)
class VentClogging(SimulatedCause):
    """Residue closes the vents: trapped air adds `rate` bar a shot at the very end of the fill, 3 tenths of it at
    switchover.

    The cavity packs `mm_per_bar` less; from `short_from` bar on it is not filled any more. `cleaned_every` shots wipe
    it off (0: never).
    """

    group: ClassVar[str] = "insert"
    unit: ClassVar[str] = "bar"
    bad_level: ClassVar[float] = 30.0

    rate: float = 0.6
    mm_per_bar: float = 0.0015
    short_from: float = 45.0
    short_g_bar: float = 0.01
    cleaned_every: int = 0

    def act(self, states: "States", drive: Drive) -> Array:
        age = np.mod(drive.age, self.cleaned_every) if self.cleaned_every else drive.age
        air: Array = self.rate * drive.factor * np.where(drive.on, age, 0.0)
        states.vent_bar += air
        states.packed_mm += self.mm_per_bar * air
        states.cavity_g -= self.short_g_bar * np.maximum(air - self.short_from, 0.0)
        return air


@dataclass(frozen=True, slots=True)
class HeatBuildUp(SimulatedCause):
    """The insert gets hotter than the process was set for: the rhythm is `faster_s` shorter, or it sheds `heat` degC
    less.

    A `period` in shots makes the rhythm swing. All of it goes in a pause and comes back with the insert's time
    constant.
    """

    group: ClassVar[str] = "insert"
    unit: ClassVar[str] = "degC"
    bad_level: ClassVar[float] = 15.0

    faster_s: float = 0.0
    heat: float = 0.0
    period: float = 0.0

    def warm(self, states: "States", drive: Drive) -> None:
        swing = 0.5 - 0.5 * np.cos(2.0 * np.pi * drive.age / self.period) if self.period else np.ones(len(drive.age))
        states.open_s -= np.where(drive.on, self.faster_s * swing, 0.0)
        states.heat_degc += np.where(drive.on, self.heat * swing * drive.factor, 0.0)

    def act(self, states: "States", drive: Drive) -> Array:
        over = np.maximum(states.insert_degc - states.machine.level.insert_degc, 0.0)
        level: Array = np.where(drive.on, over, 0.0)
        return level


@dataclass(frozen=True, slots=True)
class SeatDamage(SimulatedCause):
    """Sprue bush, runner or nozzle seat in the insert is damaged: melt escapes before the cavity.

    `step_g` at once and `rate_g` more each shot leave the press and never reach the cavity; the path resists less.
    """

    group: ClassVar[str] = "insert"
    unit: ClassVar[str] = "g"
    bad_level: ClassVar[float] = 0.10

    step_g: float = 0.05
    rate_g: float = 0.003
    bar_per_g: float = 60.0
    short: float = 0.15

    def act(self, states: "States", drive: Drive) -> Array:
        escaped: Array = np.where(drive.on, self.step_g + self.rate_g * drive.factor * drive.age, 0.0)
        states.lost_g += escaped
        states.cavity_g -= self.short * escaped
        states.relief_bar += self.bar_per_g * escaped
        return escaped


@dataclass(frozen=True, slots=True)
class Sticking(SimulatedCause):
    """The part sticks: the operator takes longer, and the longer the part stays in, the hotter the insert.

    In `share` of the shots, growing by `rate` a shot, the press stands open for about `longer_s` more; each such shot
    leaves `heat` degC in the insert.
    """

    group: ClassVar[str] = "insert"
    unit: ClassVar[str] = "share of shots"
    bad_level: ClassVar[float] = 0.5

    share: float = 0.15
    rate: float = 0.01
    longer_s: float = 14.0
    heat: float = 3.0

    def warm(self, states: "States", drive: Drive) -> None:
        n = len(drive.age)
        share = self._share(drive)
        stuck = states.streams.uniform(f"{drive.stream}/stuck", n) < share
        longer = states.streams.skewed(f"{drive.stream}/longer", n, self.longer_s, 0.6 * self.longer_s)
        states.stuck_s += np.where(stuck, longer, 0.0)
        states.heat_degc += self.heat * share

    def act(self, states: "States", drive: Drive) -> Array:
        return self._share(drive)

    def _share(self, drive: Drive) -> Array:
        share: Array = np.where(drive.on, np.minimum(self.share + self.rate * drive.factor * drive.age, 0.9), 0.0)
        return share
