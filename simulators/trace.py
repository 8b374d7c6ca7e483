"""The sampled pressure and screw position of one shot, consistent with the values the press reports for it.

Phases: 0 fill, 1 hold, 2 wait, 3 dosing, 4 pull-back; time starts with the injection. Fill: after a constant
acceleration the screw runs at one speed, so that it is at the reported switchover position at the reported fill time;
pressure grows as P (a s + b s^6) of the filled share s, with b such that it ends with the press's own slope. Then it
overshoots to the reported peak within `_OVERSHOOT_S` and sinks to hold pressure, while the screw comes to rest at the
reported cushion when hold ends; what leaks past the check ring shows as a creep without end. A cold slug is an early
bump, and then that is the peak. All shapes are own choices; the real traces of two open shots have the same order of
events (see tests).
"""

from dataclasses import dataclass
from typing import TextIO

import numpy as np
from numpy.typing import NDArray

from simulators.noise import Array, Streams
from simulators.press import PressRun

__all__ = ["PHASES", "Trace", "trace", "write_trace"]

PHASES = ("fill", "hold", "wait", "dosing", "pull-back")
_OVERSHOOT_S = 0.03
_TO_HOLD_S = 0.08
_WAIT_S = 0.5
_PULL_BACK_S = 0.3
_POWER = 6.0
_SUCTION_BAR = -15.0
_SLUG_AT = 0.3


@dataclass(frozen=True, slots=True)
class Trace:
    """One shot: time s, pressure bar (specific), screw position mm, phase (index into `PHASES`)."""

    time_s: Array
    pressure_bar: Array
    position_mm: Array
    phase: NDArray[np.int64]


def trace(run: PressRun, index: int, rate_hz: float = 500.0, noise_bar: float = 0.5, noise_mm: float = 0.002) -> Trace:
    """Sample shot `index` (from 0) of a run, from the start of injection to the end of pull-back, at 100 to 1000 Hz."""
    points, channels = run.line.set, run.channels
    fill_s = float(channels["fill_time"][index])
    hold_s = float(points["hold_s"][index])
    dosing_s = float(channels["recovery_time"][index])
    ends = np.cumsum([fill_s, hold_s, _WAIT_S, dosing_s, _PULL_BACK_S])
    time = np.arange(0.0, ends[-1], 1.0 / rate_hz)
    phase = np.searchsorted(ends, time, side="right")
    position = _position(run, index, time, phase, ends)
    pressure = _pressure(run, index, time, phase, ends, position)
    streams = Streams(run.states.streams.seed, f"{run.press.name}/trace-{index}", run.states.streams.quiet)
    pressure += streams.normal("pressure", len(time), noise_bar)
    position += streams.normal("position", len(time), noise_mm)
    return Trace(time, pressure, position, phase.astype(np.int64))


def _position(run: PressRun, index: int, time: Array, phase: NDArray[np.intp], ends: Array) -> Array:
    points, channels, level = run.line.set, run.channels, run.press.machine.level
    start = float(points["dose_mm"][index] + points["pull_back_mm"][index])
    switch, cushion = float(channels["switchover_position"][index]), float(channels["cushion"][index])
    creep = float(run.states.creep_mm[index])
    dose = start - float(points["pull_back_mm"][index])
    speed = (start - switch) / max(ends[0] - level.ramp_s, 1e-3)
    rise = max(2.0 * level.ramp_s, 1e-6)
    out = np.where(time < rise, start - speed * time**2 / (2.0 * rise), start - speed * (time - rise / 2.0))
    held = (time - ends[0]) / (ends[1] - ends[0])
    rest = np.exp(-np.clip(held, 0.0, 1.0) * 6.0)
    rest = (rest - np.exp(-6.0)) / (1.0 - np.exp(-6.0))
    hold = cushion + creep * (1.0 - held) + (switch - cushion - creep) * rest
    out[phase == 1] = hold[phase == 1]
    out[phase == 2] = cushion + 0.02
    turned = (time - ends[2]) / (ends[3] - ends[2])
    out[phase == 3] = (cushion + 0.02 + (dose - cushion - 0.02) * turned)[phase == 3]
    out[phase >= 4] = (dose + (start - dose) * (time - ends[3]) / _PULL_BACK_S)[phase >= 4]
    position: Array = out
    return position


def _pressure(run: PressRun, index: int, time: Array, phase: NDArray[np.intp], ends: Array, position: Array) -> Array:
    points, channels, level = run.line.set, run.channels, run.press.machine.level
    switch_bar, peak = float(channels["switchover_pressure"][index]), float(channels["peak_pressure"][index])
    hold_bar, spike = float(run.more["hold_pressure"][index]), float(run.states.spike_bar[index])
    start = float(points["dose_mm"][index] + points["pull_back_mm"][index])
    stroke = start - float(channels["switchover_position"][index])
    filled = np.clip((start - position) / stroke, 0.0, 1.0)
    steep = np.clip((level.end_slope_bar_mm * stroke / max(switch_bar, 1.0) - 1.0) / (_POWER - 1.0), 0.0, 1.0)
    out = switch_bar * ((1.0 - steep) * filled + steep * filled**_POWER)
    top = peak if spike < 1.0 else min(peak, switch_bar + level.overshoot_bar)
    if spike >= 1.0:
        base = switch_bar * float((1.0 - steep) * _SLUG_AT + steep * _SLUG_AT**_POWER)
        bump = (peak - base) * np.exp(-(((filled - _SLUG_AT) / 0.08) ** 2))
        out = np.minimum(out + np.where(filled < 0.6, bump, 0.0), peak)
    after = time - ends[0]
    over = switch_bar + (top - switch_bar) * np.sin(np.clip(after / _OVERSHOOT_S, 0.0, 1.0) * np.pi / 2.0)
    sinking = hold_bar + (top - hold_bar) * np.exp(-np.maximum(after - _OVERSHOOT_S, 0.0) / _TO_HOLD_S)
    hold = np.where(after < _OVERSHOOT_S, over, sinking)
    out = np.where(phase == 1, hold, out)
    out = np.where(phase == 2, hold_bar * np.exp(-(time - ends[1]) / 0.05), out)
    out = np.where(phase == 3, float(channels["back_pressure"][index]), out)
    whole: Array = np.where(phase >= 4, _SUCTION_BAR, out)
    return whole


def write_trace(sampled: Trace, out: TextIO) -> None:
    """Write one trace as CSV: time_s, pressure_bar, position_mm, phase."""
    out.write("time_s,pressure_bar,position_mm,phase\n")
    columns = (sampled.time_s, sampled.pressure_bar, sampled.position_mm, sampled.phase)
    rows = zip(*(column.tolist() for column in columns), strict=True)
    out.writelines(f"{time:.4f},{bar:.1f},{mm:.3f},{phase}\n" for time, bar, mm, phase in rows)
