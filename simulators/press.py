"""The press: a run of shots as numbers.

One shot runs like this. What is mounted, the cadence and the stops set the insert's temperature; lot, waiting and
barrel set the melt's viscosity; causes change physical states. From these follow the fill (`filling.py`) and, by mass
balance, the hold (`packing.py`). What the press reports is read off at the end. Relations, sources and choices stand
with the constants in `machine.py` and the functions in `flow.py` and `thermal.py`.
"""

from dataclasses import dataclass

import numpy as np

from simulators.filling import Filling, fill
from simulators.machine import Machine
from simulators.noise import Array, Streams
from simulators.packing import Balance, Packing, pack
from simulators.states import States
from simulators.story import Press
from simulators.thermal import RESTART_MIN, cold_barrel, insert_temperature, settled_temperature, tired_melt
from simulators.timeline import StoryTimeline, timeline

__all__ = ["PressRun", "mould", "set_point"]


@dataclass(frozen=True, slots=True)
class PressRun:
    """The shots of one press.

    `channels` are as the press reports them; `more` what else its registers hold; `levels` one array for each cause
    of the press; `seconds` the end of each shot since the start.
    """

    press: Press
    line: StoryTimeline
    states: States
    filling: Filling
    packing: Packing
    channels: dict[str, Array]
    more: dict[str, Array]
    levels: list[Array]
    seconds: Array

    def __len__(self) -> int:
        return len(self.line)

    @property
    def balance(self) -> Balance:
        """The mass balance of each shot."""
        return self.packing.balance


def mould(press: Press, shots: int, seed: int, quiet: bool = False) -> PressRun:
    """Make `shots` shots on a press. `quiet` leaves out every random part."""
    line = timeline(press.mounts_until(shots), press.stops, press.machine.set, shots)
    streams = Streams(seed, press.name, quiet)
    machine = press.machine
    states = States(machine, line, streams)
    drives = [cause.drive(states) for cause in press.causes]
    for cause, drive in zip(press.causes, drives, strict=True):
        cause.warm(states, drive)
    cycle, steady = _cadence(states)
    settled = settled_temperature(machine, line, steady, states.heat_degc)
    states.insert_degc += insert_temperature(machine, line, settled)
    states.tired += tired_melt(machine, line)
    states.melt_degc += streams.wander("melt", shots, machine.noise.melt_phi, machine.noise.melt_degc)
    states.melt_degc += line.set["barrel_shift_degc"] - cold_barrel(machine, line)
    levels = [cause.act(states, drive) for cause, drive in zip(press.causes, drives, strict=True)]
    filling = fill(states)
    packing = pack(states, filling)
    channels = _reported(states, filling, packing, cycle)
    more = _registers(states, packing)
    seconds = np.cumsum(line.stop_min * 60.0 + cycle)
    return PressRun(press, line, states, filling, packing, channels, more, levels, seconds)


def set_point(run: PressRun, index: int, key: str) -> float:
    """Return what the press was set to at shot `index` (from 0) of a run; the shift of the barrel as its last zone."""
    value = float(run.line.set[key][index])
    return run.press.machine.set.zones_degc[-1] + value if key == "barrel_shift_degc" else value


def _cadence(states: States) -> tuple[Array, Array]:
    """Return the cycle of each shot without stops, s, and the cycle the insert's heat follows.

    The latter leaves out the usual excess over the planned cycle, and a part that sticks: it heats, though the press
    waits.
    """
    machine, n = states.machine, len(states.timeline)
    plan = machine.level.cycle_s + states.timeline.set["cooling_s"] - machine.set.cooling_s + states.open_s
    jitter = np.abs(states.streams.normal("cycle", n, machine.noise.cycle_s))
    usual = 0.0 if states.streams.quiet else machine.noise.cycle_s * float(np.sqrt(2.0 / np.pi))
    hand_s = machine.noise.cycle_hand_s
    jitter += states.streams.skewed("hand", n, 3.0 * hand_s, hand_s) - 3.0 * hand_s
    return plan + jitter + states.stuck_s, np.maximum(plan + jitter - usual, 1.0)


def _reported(states: States, filling: Filling, packing: Packing, cycle: Array) -> dict[str, Array]:
    """Every channel as the press reports it: sensors that drift or hang, and the last digit it gives."""
    machine, line, streams, n = states.machine, states.timeline, states.streams, len(states.timeline)
    level, noise, points = machine.level, machine.noise, line.set
    recovery = level.recovery_s * (points["dose_mm"] / machine.set.dose_mm)
    recovery *= 1.0 + 0.004 * (points["back_pressure_bar"] - machine.set.back_pressure_bar)
    recovery += machine.response.recovery_s_per_stiffness * states.stiffness + states.recovery_s
    recovery += streams.wander("recovery-slow", n, noise.recovery_phi, noise.recovery_slow_s)
    zone = machine.set.zones_degc[-1] + points["barrel_shift_degc"] + states.zone_degc
    # a stop is part of the cycle it falls into, unless the press was off and began a new one
    between = np.where((line.shot > 1) & (line.stop_min <= RESTART_MIN), line.stop_min * 60.0, 0.0)
    channels = {
        "cushion": packing.cushion_mm,
        "peak_pressure": filling.peak_bar,
        "fill_time": filling.fill_s,
        "switchover_pressure": filling.switchover_bar,
        "switchover_position": filling.position_mm,
        "recovery_time": recovery + streams.normal("recovery", n, noise.recovery_s),
        "cycle_time": cycle + between,
        "back_pressure": points["back_pressure_bar"] + streams.normal("back-pressure", n, noise.back_pressure_bar),
        "melt_temperature": zone + streams.wander("zone-nozzle", n, noise.zone_phi, noise.zone_degc),
        "insert_temperature": states.insert_degc + streams.normal("insert", n, noise.insert_degc),
        "clamp_force": points["clamp_kn"] + states.clamp_kn + streams.normal("clamp", n, noise.clamp_kn),
        "part_weight": packing.weight_g,
    }
    for name, drift in states.sensor.items():
        channels[name] = channels[name] + drift
    for name, held in states.held.items():
        channels[name] = channels[name][held]
    return {name: _rounded(name, values, machine) for name, values in channels.items()}


def _registers(states: States, packing: Packing) -> dict[str, Array]:
    """What the demo register map holds besides the channels."""
    machine, line, streams, n = states.machine, states.timeline, states.streams, len(states.timeline)
    opened = streams.skewed("open", n, machine.level.open_s, machine.noise.open_s)
    hold = np.where(packing.bottomed, 0.3, 1.0) * line.set["hold_bar"]
    more = {
        "hold_pressure": hold + streams.normal("hold", n, machine.noise.hold_bar),
        "hold_time": line.set["hold_s"].copy(),
        "open_time": opened + line.stop_min * 60.0 + states.open_s + states.stuck_s,
        "dose_position": line.set["dose_mm"] - states.dose_short_mm + streams.normal("dose", n, 0.01),
        "creep": states.creep_mm,
    }
    for number, zone in enumerate(machine.set.zones_degc[:3], 1):
        wander = streams.wander(f"zone-{number}", n, machine.noise.zone_phi, machine.noise.zone_degc)
        more[f"zone_{number}"] = zone + line.set["barrel_shift_degc"] + states.zone_degc + wander
    return more


def _rounded(name: str, values: Array, machine: Machine) -> Array:
    """Values to the last digit the press gives, where `rounded` names one."""
    digit = machine.noise.rounded.get(name, 0.0)
    return np.round(values / digit) * digit if digit else values
