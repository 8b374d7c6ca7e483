"""Hold: what the cavity takes and what is left as cushion, from one mass balance.

    dosed = shot + cushion + leak + drool + lost + head

closes to rounding in every shot. `head` is melt between screw tip and gate, packed less when the cavity takes less.
Weight and cushion are two readings of this balance, each with its own error. A screw that bottoms leaves the cavity
short; one whose switchover point lies below the cushion it would have left pushes the rest into the cavity.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from simulators.filling import Filling
from simulators.noise import Array
from simulators.states import States

__all__ = ["Balance", "Packing", "pack", "seal_time"]


@dataclass(frozen=True, slots=True)
class Balance:
    """Where the dosed melt of each shot went, g."""

    dosed: Array
    shot: Array
    cushion: Array
    leak: Array
    drool: Array
    lost: Array
    head: Array

    def residual(self) -> Array:
        """Return what is unaccounted for, g: rounding only."""
        rest: Array = self.dosed - self.shot - self.cushion - self.leak - self.drool - self.lost - self.head
        return rest


@dataclass(frozen=True, slots=True)
class Packing:
    """The hold of each shot: the balance, the two readings, and whether the screw bottomed."""

    balance: Balance
    cushion_mm: Array
    weight_g: Array
    bottomed: NDArray[np.bool_]


def pack(states: States, filling: Filling) -> Packing:
    """Compute the hold of every shot."""
    machine, streams, n = states.machine, states.streams, len(states.timeline)
    response, noise, g_mm = machine.response, machine.noise, machine.g_per_mm
    points, squeeze = states.timeline.set, machine.resin.compressibility_per_bar
    hold = squeeze * (points["hold_bar"] - machine.set.hold_bar)
    less = _packs_less_mm(states, filling)
    shared = streams.wander("cushion", n, noise.cushion_phi, noise.cushion_mm) * states.cushion_spread
    shared += noise.alternating_mm * streams.alternating(n)
    dosed = _dosed_g(states) + (1.0 - noise.take_share) * g_mm * shared
    take = machine.shot_g * (1.0 + hold)
    take *= 1.0 - response.shrink_per_mould_degc * (points["mould_degc"] - machine.set.mould_degc)
    take *= 1.0 - response.lighter_per_speed * np.log(points["speed_mm_s"] / machine.set.speed_mm_s)
    take -= response.packed_share * g_mm * less + noise.take_share * g_mm * shared
    take += _cavity_mm3(states) * 1e-3 * machine.resin.hold_density + states.cavity_g - _backflow_g(states)
    take -= response.take_back_g_mm * states.leak_mm
    leak = (g_mm + response.take_back_g_mm) * states.leak_mm
    head = -(1.0 - response.packed_share) * g_mm * less
    cushion = dosed - take - leak - states.drool_g - states.lost_g - head
    forced = np.maximum(cushion - g_mm * np.maximum(machine.set.switchover_mm + filling.early_mm, 0.0), 0.0)
    kept, bottomed = response.forced_share * forced, np.minimum(cushion, 0.0)
    take, cushion = take + bottomed + kept, cushion - bottomed - kept
    foremost = (cushion - forced + kept) / (g_mm * (1.0 + hold))
    reading = foremost + streams.normal("cushion-reading", n, noise.reading_mm)
    if noise.flyer_share > 0.0 and not streams.quiet:
        reading -= noise.flyer_mm * (streams.uniform("flyer", n) < noise.flyer_share)
    weight = take + streams.normal("balance", n, noise.reading_g) * states.weight_spread + states.sisters("g")
    weight += streams.wander("weight", n, noise.weight_phi, noise.weight_g)
    weight += streams.normal("piece-weight", n, noise.piece_g) * states.weight_spread
    balance = Balance(dosed, take, cushion, leak, states.drool_g, states.lost_g, head)
    return Packing(balance, np.maximum(reading, 0.0), np.maximum(weight, 0.0), bottomed < 0.0)


def seal_time(states: States) -> Array:
    """Time to gate sealing, s: with the gate's R^2 (cooling of a round bar); 2 % more per degC above the settled
    insert (own).
    """
    level = states.machine.level
    hot = np.maximum(states.insert_degc - level.insert_degc - 2.0, 0.0)
    seal: Array = level.seal_s * (states.gate_radius_mm / level.gate_radius_mm) ** 2 * (1.0 + 0.02 * hot)
    return seal


def _cavity_mm3(states: States) -> Array:
    """Volume of the cavity over the settled one, mm3: wear, and how far the insert gives under hold pressure."""
    machine = states.machine
    gives = states.compliance_mm3_bar * states.timeline.set["hold_bar"]
    volume: Array = states.cavity_mm3 + gives - machine.level.compliance_mm3_bar * machine.set.hold_bar
    return volume


def _dosed_g(states: States) -> Array:
    machine, points = states.machine, states.timeline.set
    pressed = 1.0 + machine.resin.compressibility_per_bar * (
        points["back_pressure_bar"] - machine.set.back_pressure_bar
    )
    dosed: Array = np.maximum(points["dose_mm"] - states.dose_short_mm, 0.0) * pressed
    return dosed * machine.screw_area_mm2 * 1e-3 * machine.resin.dose_density


def _packs_less_mm(states: States, filling: Filling) -> Array:
    """How much less the cavity takes than in the settled state, as mm of cushion."""
    machine, line, response = states.machine, states.timeline, states.machine.response
    less = response.mm_per_degc * (machine.level.insert_degc - states.insert_degc)
    less += response.bed_mm * np.exp(-(line.bedding - 1.0) / response.bed_shots)
    less += response.mm_per_stiffness * states.stiffness - response.mm_per_tired * states.tired
    less += response.mm_per_melt_degc * states.melt_degc
    less += response.mm_per_seal_s * (np.minimum(seal_time(states), line.set["hold_s"]) - machine.level.seal_s)
    less += response.mm_per_mm_early * np.maximum(filling.early_mm, 0.0)
    less += states.packed_mm + states.sisters("mm")
    piece = states.streams.normal("piece-cushion", len(line), machine.noise.piece_mm)
    total: Array = less + piece * states.cushion_spread
    return total


def _backflow_g(states: States) -> Array:
    """Melt that leaves the cavity after hold, g, where the gate is still open then; it scatters half as much as it
    is.
    """
    open_s = np.maximum(seal_time(states) - states.timeline.set["hold_s"], 0.0)
    scatter = 1.0 + 0.5 * states.streams.normal("backflow", len(open_s))
    flow: Array = states.machine.response.backflow_g_s * open_s * np.maximum(scatter, 0.0)
    return flow
