"""The fill: pressure, time and position until switchover.

At fill speed the melt loses pressure in nozzle, runner, gate and cavity (power law), more where the insert is cold.
Switchover happens at a position, a pressure or a time. Where the pressure needed passes the press's limit, the fill
slows down instead.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from simulators.flow import gate_scale, limited_fill_s
from simulators.noise import Array
from simulators.states import States

__all__ = ["Filling", "fill", "viscosity"]

_VENT_AT_SWITCHOVER = 0.3
"""Share of the trapped air's pressure that is there at switchover already (own choice)."""


@dataclass(frozen=True, slots=True)
class Filling:
    """The fill of each shot. `early_mm`: how far before the settled point it changed over; `need_bar`: pressure at
    full speed there.
    """

    switchover_bar: Array
    peak_bar: Array
    fill_s: Array
    position_mm: Array
    early_mm: Array
    need_bar: Array
    limited: NDArray[np.bool_]


def viscosity(states: States) -> Array:
    """Viscosity relative to the settled melt: lot and moisture, time it waited, temperature."""
    softer = 1.0 - states.machine.resin.per_degc * states.melt_degc
    relative: Array = (1.0 + states.stiffness) * (1.0 - states.tired) * np.maximum(softer, 0.1)
    return relative


def fill(states: States) -> Filling:
    """Compute the fill of every shot."""
    machine, points, n = states.machine, states.timeline.set, len(states.timeline)
    level, noise, streams = machine.level, machine.noise, states.streams
    speed = points["speed_mm_s"] * states.speed_scale
    need = _flow_bar(states, speed) + _random_bar(states)
    nominal = machine.set.dose_mm + machine.set.pull_back_mm - machine.set.switchover_mm
    early = _early_mm(states, need, nominal, speed)
    reached = need - level.end_slope_bar_mm * early
    limit = points["limit_bar"]
    taken = (nominal - early) / speed + level.ramp_s + states.fill_s
    taken += limited_fill_s(reached, limit, level.end_slope_bar_mm, speed, machine.resin.flow_index)
    top = np.minimum(reached, limit) + level.overshoot_bar + states.vent_bar + states.spike_bar
    top += streams.normal("peak", n, noise.overshoot_bar)
    return Filling(
        np.minimum(reached, limit),
        np.minimum(np.maximum(top, points["hold_bar"]), limit + streams.normal("limit", n, 0.5)),
        taken + streams.normal("fill", n, noise.fill_s),
        machine.set.switchover_mm + early + streams.normal("position", n, noise.position_mm),
        early,
        reached,
        reached > limit,
    )


def _flow_bar(states: States, speed: Array) -> Array:
    """Pressure the flow path takes at full speed up to the settled switchover point, bar."""
    machine = states.machine
    level, resin = machine.level, machine.resin
    path = level.nozzle_bar * states.nozzle_scale + level.runner_bar * states.runner_scale
    path += level.cavity_bar * states.cavity_scale
    path += level.gate_bar * gate_scale(states.gate_radius_mm, level.gate_radius_mm, resin.flow_index)
    path *= viscosity(states) ** resin.viscosity_exponent
    path *= (speed / machine.set.speed_mm_s) ** resin.flow_index
    path += machine.response.bar_per_degc * (level.insert_degc - states.insert_degc)
    flow: Array = path + states.flow_bar - states.relief_bar + _VENT_AT_SWITCHOVER * states.vent_bar
    return flow


def _random_bar(states: States) -> Array:
    noise, streams, n = states.machine.noise, states.streams, len(states.timeline)
    random = streams.wander("pressure", n, noise.pressure_phi, noise.pressure_bar)
    random += streams.normal("piece-pressure", n, noise.piece_bar)
    random *= states.pressure_spread
    random += noise.alternating_bar * streams.alternating(n)
    return random + states.sisters("bar")


def _early_mm(states: States, need: Array, nominal: float, speed: Array) -> Array:
    """How many mm before the settled switchover point the press changes over.

    By position it is the edit of the position; by pressure the change comes where the rising pressure meets its
    set-point; by time where the screw then stands.
    """
    points, level, mode = states.timeline.set, states.machine.level, states.machine.set.switchover
    if mode == "pressure":
        early = (need - points["switchover_bar"]) / level.end_slope_bar_mm
    elif mode == "time":
        early = nominal - (points["switchover_s"] - level.ramp_s) * speed
    else:
        early = nominal - (points["dose_mm"] + points["pull_back_mm"] - points["switchover_mm"])
    clipped: Array = np.clip(early, 0.5 - states.machine.set.switchover_mm, nominal - 0.5)
    return clipped
