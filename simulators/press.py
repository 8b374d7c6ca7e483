"""The press: from states to a shot as numbers.

One shot runs like this. The screw doses; the melt's viscosity follows from its lot, its temperature and how long it
waited. At fill speed it loses pressure in nozzle, runner, gate and cavity (power law), more where the insert is cold.
Switchover happens at a position, a pressure or a time; above the limit the fill slows down instead. Under hold the
cavity takes what thermal state, viscosity and gate sealing let it; what the dose holds more than cavity, leaks and
drool is the cushion. So weight and cushion are two readings of one balance, which closes to rounding in every shot:

    dosed = shot + cushion + leak + drool + lost + head

(`head`: melt between screw tip and gate, packed less when the cavity takes less.) Relations, sources and choices
stand with the constants in `machine.py` and the functions in `flow.py` and `thermal.py`; S1 and S2 of the demo fix
their values.
"""

import zlib
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from simulators.flow import gate_scale, limited_fill_s
from simulators.machine import Machine
from simulators.noise import Array, Streams
from simulators.states import States
from simulators.story import Press
from simulators.thermal import insert_temperature, settled_temperature, tired_melt
from simulators.timeline import Timeline, timeline

__all__ = ["Balance", "Run", "mould"]


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


@dataclass(slots=True)
class Run:
    """The shots of one press. `channels` are as the press reports them; `more` what else is on its registers;
    `levels` those of its causes.
    """

    press: Press
    line: Timeline
    states: States
    channels: dict[str, Array]
    more: dict[str, Array]
    balance: Balance
    levels: list[Array] = field(default_factory=list)
    seconds: Array = field(default_factory=lambda: np.zeros(0))
    limited: NDArray[np.bool_] = field(default_factory=lambda: np.zeros(0, bool))

    def __len__(self) -> int:
        return len(self.line)


def mould(press: Press, shots: int, seed: int, quiet: bool = False) -> Run:
    """Make `shots` shots on a press. `quiet` leaves out every random part."""
    line = timeline(press, shots)
    streams = Streams(seed, press.name, quiet)
    machine = press.machine
    states = States(machine, line, streams)
    drives = [cause.drive(states, f"cause-{number}") for number, cause in enumerate(press.causes)]
    for cause, drive in zip(press.causes, drives, strict=True):
        cause.warm(states, drive)
    cycle, steady = _cadence(states)
    states.insert_degc += insert_temperature(
        machine, line, settled_temperature(machine, line, steady, states.heat_degc)
    )
    states.tired += tired_melt(machine, line)
    states.melt_degc += streams.wander("melt", shots, machine.noise.melt_phi, machine.noise.melt_degc)
    states.melt_degc += line.set["barrel_shift_degc"]
    levels = [cause.act(states, drive) for cause, drive in zip(press.causes, drives, strict=True)]
    channels, more, limited = _filling(states)
    balance, packed = _packing(states)
    channels |= packed
    channels |= _around(states, cycle)
    more |= _registers(states)
    for name, drift in states.sensor.items():
        (channels if name in channels else more)[name] += drift
    channels = {name: _rounded(name, value, machine) for name, value in channels.items()}
    seconds = np.cumsum(line.stop_min * 60.0 + cycle)
    return Run(press, line, states, channels, more, balance, levels, seconds, limited)


def _cadence(states: States) -> tuple[Array, Array]:
    """Return the cycle of each shot without stops, s, and the same with its usual excess over the planned cycle taken
    off.
    """
    machine, n = states.machine, len(states.timeline)
    plan = machine.level.cycle_s + states.timeline.set["cooling_s"] - machine.set.cooling_s + states.open_s
    jitter = np.abs(states.streams.normal("cycle", n, machine.noise.cycle_s))
    usual = 0.0 if states.streams.quiet else machine.noise.cycle_s * float(np.sqrt(2.0 / np.pi))
    return plan + jitter, np.maximum(plan + jitter - usual, 1.0)


def _viscosity(states: States) -> Array:
    """Viscosity relative to the settled melt."""
    softer = 1.0 - states.machine.resin.per_degc * states.melt_degc
    visc: Array = (1.0 + states.stiffness) * (1.0 - states.tired) * np.maximum(softer, 0.1)
    return visc


def _filling(states: States) -> tuple[dict[str, Array], dict[str, Array], NDArray[np.bool_]]:
    """Pressure, time and position of the fill."""
    machine, line, streams, n = states.machine, states.timeline, states.streams, len(states.timeline)
    level, points, noise, resin = machine.level, line.set, machine.noise, machine.resin
    speed = points["speed_mm_s"] * states.speed_scale
    path = level.nozzle_bar * states.nozzle_scale + level.runner_bar * states.runner_scale
    path = path + level.cavity_bar * states.cavity_scale
    path = path + level.gate_bar * gate_scale(states.gate_radius_mm, level.gate_radius_mm, resin.flow_index)
    flowing = (
        path * _viscosity(states) ** resin.viscosity_exponent * (speed / machine.set.speed_mm_s) ** resin.flow_index
    )
    cold = machine.response.bar_per_degc * (level.insert_degc - states.insert_degc)
    random = streams.wander("pressure", n, noise.pressure_phi, noise.pressure_bar) * states.pressure_spread
    random = random + streams.normal("piece-pressure", n, noise.piece_bar) * states.pressure_spread
    if not streams.quiet:
        random = random + noise.alternating_bar * (0.5 - (line.shot % 2))
    oil = level.oil_bar * np.exp(-np.cumsum(line.stop_min + level.cycle_s / 60.0) / level.oil_tau_min)
    need = (
        flowing
        + cold
        + states.flow_bar
        - states.relief_bar
        + 0.3 * states.vent_bar
        + oil
        + random
        + _sisters(states, "bar")
    )
    stroke = points["dose_mm"] + points["pull_back_mm"] - points["switchover_mm"]
    nominal = machine.set.dose_mm + machine.set.pull_back_mm - machine.set.switchover_mm
    early = _switchover(states, need, stroke, nominal, speed)
    reached = need - level.end_slope_bar_mm * early
    limit = points["limit_bar"]
    limited = reached > limit
    fill = (nominal - early) / speed + level.ramp_s
    fill = fill + limited_fill_s(reached, limit, level.end_slope_bar_mm, speed, resin.flow_index)
    position = points["dose_mm"] + points["pull_back_mm"] - (nominal - early)
    switchover = np.minimum(reached, limit)
    top = switchover + level.overshoot_bar + states.vent_bar + streams.normal("peak", n, noise.overshoot_bar)
    peak = np.minimum(np.maximum(top, points["hold_bar"]), limit + streams.normal("limit", n, 0.5))
    channels = {
        "peak_pressure": peak,
        "fill_time": fill + streams.normal("fill", n, noise.fill_s),
        "switchover_pressure": switchover,
        "switchover_position": position + streams.normal("position", n, noise.position_mm),
    }
    return channels, {"need_bar": need}, limited


def _switchover(states: States, need: Array, stroke: Array, nominal: float, speed: Array) -> Array:
    """How many mm before the settled switchover point the press changes over.

    By position it is the edit of the position; by pressure the change comes where the rising pressure meets its
    set-point; by time where the screw then stands.
    """
    points, level = states.timeline.set, states.machine.level
    mode = states.machine.set.switchover
    if mode == "pressure":
        early = (need - points["switchover_bar"]) / level.end_slope_bar_mm
    elif mode == "time":
        early = nominal - (points["switchover_s"] - level.ramp_s) * speed
    else:
        early = nominal - stroke
    room = nominal - 0.5
    clipped: Array = np.clip(early, -states.machine.set.switchover_mm + 0.5, room)
    return clipped


def _packing(states: States) -> tuple[Balance, dict[str, Array]]:
    """Mass balance of hold: what the cavity takes, what is left as cushion."""
    machine, line, streams, n = states.machine, states.timeline, states.streams, len(states.timeline)
    response, noise, points = machine.response, machine.noise, line.set
    g_mm, resin = machine.g_per_mm, machine.resin
    less = (
        _packs_less_mm(states)
        + _sisters(states, "mm")
        + streams.normal("piece-cushion", n, noise.piece_mm) * states.cushion_spread
    )
    shared = streams.normal("cushion", n, noise.cushion_mm) * states.cushion_spread
    hold = resin.compressibility_per_bar * (points["hold_bar"] - machine.set.hold_bar)
    take = machine.shot_g * (1.0 + hold) * (1.0 - states.cavity_loss)
    take = take * (1.0 - response.shrink_per_mould_degc * (points["mould_degc"] - machine.set.mould_degc))
    take = take - response.packed_share * g_mm * less - noise.take_share * g_mm * shared
    take = take + states.cavity_mm3 * 1e-3 * resin.hold_density + states.cavity_g - _backflow(states)
    take = take - response.take_back_g_mm * states.leak_mm
    leak = (g_mm + response.take_back_g_mm) * states.leak_mm
    area = machine.screw_area_mm2 * 1e-3
    dosed_mm = np.maximum(points["dose_mm"] - states.dose_short_mm, 0.0)
    pressed = 1.0 + resin.compressibility_per_bar * (points["back_pressure_bar"] - machine.set.back_pressure_bar)
    dosed = area * resin.dose_density * pressed * dosed_mm + (1.0 - noise.take_share) * g_mm * shared
    head = -(1.0 - response.packed_share) * g_mm * less
    cushion = dosed - take - leak - states.drool_g - states.lost_g - head
    bottomed = np.minimum(cushion, 0.0)
    take, cushion = take + bottomed, cushion - bottomed
    true_mm = cushion / (area * resin.hold_density * (1.0 + hold))
    reading = true_mm + streams.normal("cushion-reading", n, noise.reading_mm)
    if noise.flyer_share > 0.0:
        reading = reading - noise.flyer_mm * (streams.uniform("flyer", n) < noise.flyer_share)
    weight = take + streams.normal("balance", n, noise.reading_g) + _sisters(states, "g")
    weight = weight + streams.normal("piece-weight", n, noise.piece_g) * states.weight_spread
    balance = Balance(dosed, take, cushion, leak, states.drool_g, states.lost_g, head)
    return balance, {"cushion": np.maximum(reading, 0.0), "part_weight": np.maximum(weight, 0.0)}


def _packs_less_mm(states: States) -> Array:
    """How much less the cavity takes than in the settled state, as mm of cushion."""
    machine, line, response = states.machine, states.timeline, states.machine.response
    less = response.mm_per_degc * (machine.level.insert_degc - states.insert_degc)
    less = less + response.bed_mm * np.exp(-(line.bedding - 1.0) / response.bed_shots)
    less = less + response.mm_per_stiffness * states.stiffness - response.mm_per_tired * states.tired
    less = less + response.mm_per_melt_degc * states.melt_degc
    less = less + response.mm_per_seal_s * (np.minimum(_seal_s(states), line.set["hold_s"]) - machine.level.seal_s)
    less = less + states.packed_mm
    return less


def _seal_s(states: States) -> Array:
    """Time to gate sealing, s: with R^2 (cooling of a round gate); above the settled insert temperature 2 % more per
    degC (own choice).
    """
    level = states.machine.level
    hot = np.maximum(states.insert_degc - level.insert_degc - 2.0, 0.0)
    seal: Array = level.seal_s * (states.gate_radius_mm / level.gate_radius_mm) ** 2 * (1.0 + 0.02 * hot)
    return seal


def _backflow(states: States) -> Array:
    """Melt that leaves the cavity after hold, g, where the gate is still open then; it scatters as much as it is."""
    open_s = np.maximum(_seal_s(states) - states.timeline.set["hold_s"], 0.0)
    scatter = 1.0 + 0.5 * states.streams.normal("backflow", len(open_s))
    flow: Array = states.machine.response.backflow_g_s * open_s * np.maximum(scatter, 0.0)
    return flow


def _sisters(states: States, unit: str) -> Array:
    """Differences between inserts of one design (or print batches of single-use pieces): constant along each, drawn
    from its serial.
    """
    n = len(states.timeline)
    sigma = getattr(states.machine.noise, f"sister_{unit}")
    out = np.zeros(n)
    if sigma == 0.0 or states.streams.quiet:
        return out
    for half in states.timeline.halves.values():
        table = [
            np.random.Generator(
                np.random.PCG64([states.streams.seed, zlib.crc32(f"{unit}/{key}".encode())])
            ).standard_normal()
            for key in (mount.print_batch if mount.single_use else mount.serial for mount in half.mounts)
        ]
        out += sigma * np.array([*table, 0.0])[half.life] / len(states.timeline.halves) ** 0.5
    return out


def _around(states: States, cycle: Array) -> dict[str, Array]:
    """What is reported from outside fill and hold."""
    machine, line, streams, n = states.machine, states.timeline, states.streams, len(states.timeline)
    level, noise, points = machine.level, machine.noise, line.set
    recovery = level.recovery_s * (points["dose_mm"] / machine.set.dose_mm)
    recovery = recovery * (1.0 + 0.004 * (points["back_pressure_bar"] - machine.set.back_pressure_bar))
    recovery = recovery + machine.response.recovery_s_per_stiffness * states.stiffness + states.recovery_s
    zone = machine.set.zones_degc[-1] + points["barrel_shift_degc"] + states.zone_degc
    between = np.concatenate([np.zeros(min(n, 1)), line.stop_min[1:] * 60.0])
    return {
        "recovery_time": recovery + streams.wander("recovery", n, noise.recovery_phi, noise.recovery_s),
        "cycle_time": cycle + between,
        "back_pressure": points["back_pressure_bar"] + streams.normal("back-pressure", n, noise.back_pressure_bar),
        "melt_temperature": zone + streams.wander("zone-nozzle", n, noise.zone_phi, noise.zone_degc),
        "insert_temperature": states.insert_degc + streams.normal("insert", n, noise.insert_degc),
        "clamp_force": points["clamp_kn"] + states.clamp_kn + streams.normal("clamp", n, noise.clamp_kn),
    }


def _registers(states: States) -> dict[str, Array]:
    """What the demo register map holds besides the channels."""
    machine, line, streams, n = states.machine, states.timeline, states.streams, len(states.timeline)
    opened = streams.skewed("open", n, machine.level.open_s, machine.noise.open_s)
    more = {
        "hold_pressure": line.set["hold_bar"] + streams.normal("hold", n, machine.noise.hold_bar),
        "hold_time": line.set["hold_s"].copy(),
        "open_time": opened + line.stop_min * 60.0 + states.open_s,
        "dose_position": line.set["dose_mm"] - states.dose_short_mm + streams.normal("dose", n, 0.01),
        "creep": states.creep_mm,
    }
    for number, zone in enumerate(machine.set.zones_degc[:3], 1):
        shifted = zone + line.set["barrel_shift_degc"] + states.zone_degc
        more[f"zone_{number}"] = shifted + streams.wander(
            f"zone-{number}", n, machine.noise.zone_phi, machine.noise.zone_degc
        )
    return more


def _rounded(name: str, values: Array, machine: Machine) -> Array:
    """Values to the last digit the press gives, where `rounded` names one."""
    digit = machine.noise.rounded.get(name, 0.0)
    return np.round(values / digit) * digit if digit else values
