"""What goes wrong with a press. No swap of an insert cures it."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

import numpy as np

from simulators.causes.base import Drive, SimulatedCause
from simulators.noise import Array

if TYPE_CHECKING:
    from simulators.states import States

__all__ = [
    "BarrelDrift",
    "CheckRing",
    "ClampLoss",
    "ColdSlug",
    "Drool",
    "FeedBridging",
    "NozzleSeat",
    "OilWarmUp",
    "SetPointEdit",
]


@dataclass(frozen=True, slots=True)
class CheckRing(SimulatedCause):
    """Melt passes back over the check ring: each shot loses abs(N(0, s)) mm, s growing by `rate` a shot up to `cap`.

    From `flyers_after` shots on, `flyers` of the shots lose another `flyer_mm` (dirt under the ring). `pressure_bar`
    is lost over 30 shots, its spread grows. During hold the screw creeps.
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
        lost = lost + np.where(flying & drive.on, self.flyer_mm, 0.0)
        states.leak_mm += lost
        states.creep_mm += 0.5 * lost
        states.relief_bar += self.pressure_bar * np.minimum(drive.age / 30.0, 1.0)
        shaken = states.streams.normal(f"{drive.stream}/pressure", n, self.pressure_spread_bar)
        states.flow_bar += np.where(drive.on, shaken, 0.0)
        return spread


@dataclass(frozen=True, slots=True)
class BarrelDrift(SimulatedCause):
    """Barrel zones and melt drift by `rate` degC a shot up to `cap`, or swing by `cap` with a `period` in shots.

    `shown` is the share of it the zone readings show (a loose thermocouple shows none: then only the melt moves).
    """

    group: ClassVar[str] = "press"
    unit: ClassVar[str] = "degC"
    bad_level: ClassVar[float] = 10.0

    rate: float = 0.1
    cap: float = 12.0
    period: float = 0.0
    shown: float = 1.0
    recovery_s_degc: float = -0.01

    def act(self, states: "States", drive: Drive) -> Array:
        if self.period:
            drift = np.where(drive.on, self.cap * np.sin(2.0 * np.pi * drive.age / self.period), 0.0)
        else:
            drift = np.sign(self.rate) * np.minimum(abs(self.rate) * drive.age, self.cap)
        states.melt_degc += drift
        states.zone_degc += self.shown * drift
        states.recovery_s += self.recovery_s_degc * drift
        level: Array = np.abs(drift)
        return level


@dataclass(frozen=True, slots=True)
class Drool(SimulatedCause):
    """Melt drips from the nozzle between shots: about `grams` each, exponential, `after_pause` times that after a
    stop.
    """

    group: ClassVar[str] = "press"
    unit: ClassVar[str] = "g"
    bad_level: ClassVar[float] = 0.5

    grams: float = 0.06
    after_pause: float = 5.0
    short: float = 0.3
    relief_bar_g: float = 10.0

    def act(self, states: "States", drive: Drive) -> Array:
        draw = states.streams.uniform(f"{drive.stream}/drip", len(drive.age))
        waited = np.where(states.timeline.stop_min > 0.0, self.after_pause, 1.0)
        dripped: Array = np.where(drive.on, -np.log1p(-draw) * self.grams * waited, 0.0)
        states.drool_g += dripped
        states.cavity_g -= self.short * dripped
        states.relief_bar += self.relief_bar_g * dripped
        return dripped


@dataclass(frozen=True, slots=True)
class ColdSlug(SimulatedCause):
    """The nozzle half freezes: in `share` of the shots a slug gives an early `bar` spike, a longer fill and a lighter
    shot.

    After a stop it is certain. `purged` shots are spared.
    """

    group: ClassVar[str] = "press"
    unit: ClassVar[str] = "bar"
    bad_level: ClassVar[float] = 1.0

    share: float = 0.08
    bar: float = 90.0
    longer_s: float = 0.03
    mm: float = 0.05

    def act(self, states: "States", drive: Drive) -> Array:
        n = len(drive.age)
        stopped = (states.timeline.stop_min > 0.0) & ~states.timeline.purged
        hit = drive.on & ((states.streams.uniform(f"{drive.stream}/slug", n) < self.share) | stopped)
        size = np.where(hit, states.streams.skewed(f"{drive.stream}/size", n, 1.0, 0.4), 0.0)
        states.spike_bar += self.bar * size
        states.fill_s += self.longer_s * size
        states.packed_mm += self.mm * size
        level: Array = self.bar * size
        return level


@dataclass(frozen=True, slots=True)
class ClampLoss(SimulatedCause):
    """The clamp loses `rate` kN a shot (plate heating, slipping stop): below `needed` share of its set force the
    mould breathes.

    Then `mm_per_kn` of screw travel per kN missing go into flash. A new insert is up to `height_kn` taller or lower,
    so a swap may shift the reading and hide the cause.
    """

    group: ClassVar[str] = "press"
    unit: ClassVar[str] = "kN missing"
    bad_level: ClassVar[float] = 8.0

    rate: float = 0.15
    cap: float = 30.0
    needed: float = 0.97
    mm_per_kn: float = 0.03
    height_kn: float = 0.0

    def act(self, states: "States", drive: Drive) -> Array:
        lost = np.minimum(self.rate * drive.age, self.cap)
        shift = np.zeros(len(lost))
        if self.height_kn:
            for half, line in states.timeline.halves.items():
                drawn = states.streams.normal(f"{drive.stream}/height-{half}", len(line.mounts) + 1, self.height_kn)
                shift += np.where(drive.on, drawn[line.life], 0.0)
        clamp = states.timeline.set["clamp_kn"] - lost + shift
        missing = np.where(drive.on, np.maximum(self.needed * states.timeline.set["clamp_kn"] - clamp, 0.0), 0.0)
        flash = self.mm_per_kn * missing
        states.clamp_kn += shift - lost
        states.cavity_mm3 += flash * states.machine.screw_area_mm2
        states.relief_bar += states.machine.response.relief_bar_mm * flash
        return lost


@dataclass(frozen=True, slots=True)
class FeedBridging(SimulatedCause):
    """Granules bridge over the feed throat: runs of about `run` shots, in `share` of all, dose `short_mm` too little.

    Recovery takes `longer_s` more; voids in the dose leave the melt front behind, `bar_mm` at switchover; the cushion
    falls, at zero the screw bottoms, hold pressure is lost and the shot is short.
    """

    group: ClassVar[str] = "press"
    unit: ClassVar[str] = "mm of dose"
    bad_level: ClassVar[float] = 1.0

    short_mm: float = 6.5
    longer_s: float = 6.0
    bar_mm: float = 6.0
    share: float = 1.0
    run: float = 6.0

    def act(self, states: "States", drive: Drive) -> Array:
        n = len(drive.age)
        block = (np.maximum(drive.age - 1, 0) // self.run).astype(np.int64)
        hit = states.streams.uniform(f"{drive.stream}/bridge", n)[block] < self.share
        size = states.streams.skewed(f"{drive.stream}/size", n, 1.0, 0.2)
        short: Array = np.where(drive.on & hit, self.short_mm * size, 0.0)
        states.dose_short_mm += short
        states.relief_bar += self.bar_mm * short
        states.recovery_s += np.where(drive.on & hit, self.longer_s * size, 0.0)
        return short


@dataclass(frozen=True, slots=True)
class OilWarmUp(SimulatedCause):
    """Cold hydraulic oil: `bar` more and `slower` of the speed at the start, gone with a constant of `minutes`.

    A stop lets the oil cool by the same law, halved (the tank is large; own choice).
    """

    group: ClassVar[str] = "press"
    unit: ClassVar[str] = "share cold"

    bar: float = 12.0
    slower: float = 0.01
    mm: float = 0.02
    minutes: float = 40.0

    def act(self, states: "States", drive: Drive) -> Array:
        per_shot = np.exp(-states.machine.level.cycle_s / 60.0 / self.minutes)
        cold, out = 1.0, []
        for on, stop in zip(drive.on.tolist(), states.timeline.stop_min.tolist(), strict=True):
            if stop > 0.0:
                cold = 1.0 - (1.0 - cold) * float(np.exp(-0.5 * stop / self.minutes))
            out.append(cold if on else 0.0)
            cold = cold * per_shot if on else 1.0
        level = np.array(out)
        states.flow_bar += self.bar * level
        states.packed_mm += self.mm * level
        states.speed_scale *= 1.0 - self.slower * level
        return level


@dataclass(frozen=True, slots=True)
class NozzleSeat(SimulatedCause):
    """The nozzle does not seat on the sprue: melt escapes there, visibly; `size` * (exp(age/`grow`) - 1) + `step` g a
    shot.
    """

    group: ClassVar[str] = "press"
    unit: ClassVar[str] = "g"
    bad_level: ClassVar[float] = 0.3

    step: float = 0.10
    size: float = 0.02
    grow: float = 15.0
    cap: float = 3.0
    short: float = 0.25
    relief_bar_g: float = 40.0

    def act(self, states: "States", drive: Drive) -> Array:
        grown = self.step + self.size * np.expm1(np.minimum(drive.age / self.grow, 50.0))
        escaped: Array = np.where(drive.on, np.minimum(grown, self.cap), 0.0)
        states.lost_g += escaped
        states.cavity_g -= self.short * escaped
        states.relief_bar += self.relief_bar_g * escaped
        return escaped


@dataclass(frozen=True, slots=True)
class SetPointEdit(SimulatedCause):
    """Somebody changed a set-point: `key` has the value `value` from the onset on. An `edit` makes one."""

    group: ClassVar[str] = "press"
    unit: ClassVar[str] = "change"

    key: str = "hold_bar"
    value: float = 380.0

    def warm(self, states: "States", drive: Drive) -> None:
        states.timeline.set[self.key][drive.on] = self.value

    def act(self, states: "States", drive: Drive) -> Array:
        change: Array = np.where(drive.on, self.value - getattr(states.machine.set, self.key), 0.0)
        return change
