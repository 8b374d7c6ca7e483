"""The physical states of a run: what causes act on, and nothing a press would report."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from simulators.machine import Machine
from simulators.noise import Array, Streams
from simulators.timeline import StoryTimeline

__all__ = ["States"]


@dataclass(slots=True)
class States:
    """One array a state, one entry a shot. A fresh `States` is a sound press.

    Lengths mm, volumes mm3, pressures bar, masses g, temperatures degC, times s. `*_scale` multiply, `*_spread`
    multiply a noise, the rest add. Thermal inputs (`open_s`: planned, `stuck_s`: part still in, `heat_degc`) are read
    before the insert temperature is computed, all others after.
    """

    machine: Machine
    timeline: StoryTimeline
    streams: Streams
    open_s: Array = field(init=False)
    stuck_s: Array = field(init=False)
    heat_degc: Array = field(init=False)
    insert_degc: Array = field(init=False)
    tired: Array = field(init=False)
    melt_degc: Array = field(init=False)
    stiffness: Array = field(init=False)
    gate_radius_mm: Array = field(init=False)
    nozzle_scale: Array = field(init=False)
    runner_scale: Array = field(init=False)
    cavity_scale: Array = field(init=False)
    flow_bar: Array = field(init=False)
    vent_bar: Array = field(init=False)
    relief_bar: Array = field(init=False)
    spike_bar: Array = field(init=False)
    fill_s: Array = field(init=False)
    compliance_mm3_bar: Array = field(init=False)
    cavity_mm3: Array = field(init=False)
    packed_mm: Array = field(init=False)
    cavity_g: Array = field(init=False)
    leak_mm: Array = field(init=False)
    drool_g: Array = field(init=False)
    lost_g: Array = field(init=False)
    dose_short_mm: Array = field(init=False)
    clamp_kn: Array = field(init=False)
    recovery_s: Array = field(init=False)
    speed_scale: Array = field(init=False)
    zone_degc: Array = field(init=False)
    pressure_spread: Array = field(init=False)
    cushion_spread: Array = field(init=False)
    weight_spread: Array = field(init=False)
    creep_mm: Array = field(init=False)
    sensor: dict[str, Array] = field(default_factory=dict)
    held: dict[str, NDArray[np.int64]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        n = len(self.timeline)
        for name in self.__dataclass_fields__:
            if name not in ("machine", "timeline", "streams", "sensor", "held"):
                setattr(self, name, np.ones(n) if name.endswith(("_scale", "_spread")) else np.zeros(n))
        self.gate_radius_mm += self.machine.level.gate_radius_mm
        self.compliance_mm3_bar += self.machine.level.compliance_mm3_bar

    def sisters(self, unit: str) -> Array:
        """Return how each insert (or print batch of single-use pieces) differs from its sisters in bar, mm or g.

        Constant along an insert and drawn from its serial, so that it comes back when the insert does.
        """
        sigma = float(getattr(self.machine.noise, f"sister_{unit}"))
        out = np.zeros(len(self.timeline))
        if sigma == 0.0 or self.streams.quiet:
            return out
        for half in self.timeline.halves.values():
            keys = [mount.print_batch if mount.single_use else mount.serial for mount in half.mounts]
            drawn = [float(self.streams.normal(f"sister-{unit}/{key}", 1)[0]) for key in keys]
            out += sigma * np.array([*drawn, 0.0])[half.life]
        return out
