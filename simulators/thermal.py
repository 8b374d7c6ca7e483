"""Temperatures along the shots: the insert warms and cools, melt that waits gets tired."""

from math import exp

import numpy as np

from simulators.machine import Machine
from simulators.noise import Array
from simulators.timeline import StoryTimeline

__all__ = ["RESTART_MIN", "cold_barrel", "insert_temperature", "settled_temperature", "tired_melt"]

RESTART_MIN = 60.0
"""A longer stop means that the press was switched off (own choice)."""


def settled_temperature(machine: Machine, timeline: StoryTimeline, cycle_s: Array, heat_degc: Array) -> Array:
    """Temperature an insert would settle at, degC, for each shot's cadence.

    Every shot brings the same heat and what flows off in a cycle is proportional to the rise over the frame and to
    the cycle, so the rise is inversely proportional to the cycle (energy balance, own derivation). `mould_degc` moves
    it all.
    """
    level = machine.level
    rise = level.insert_degc - level.cold_degc
    target: Array = level.cold_degc + rise * level.cycle_s / cycle_s + heat_degc
    return target + (timeline.set["mould_degc"] - machine.set.mould_degc)


def insert_temperature(machine: Machine, timeline: StoryTimeline, target: Array) -> Array:
    """Insert temperature just before the press closes, degC: first order towards `target`, cooling in stops.

    T' = T + (target - T) * (1 - exp(-1/tau)); after a pause of t minutes T = cold + (T - cold) * exp(-t/cool); a
    swapped insert starts at its own temperature.
    """
    level = machine.level
    share = 1.0 - exp(-1.0 / level.insert_tau)
    value, out = level.cold_degc, []
    rows = zip(timeline.stop_min.tolist(), timeline.swapped.tolist(), target.tolist(), strict=True)
    for stop, swapped, goal in rows:
        if swapped:
            value = level.swap_degc
        elif stop > 0.0:
            value = level.cold_degc + (value - level.cold_degc) * exp(-stop / level.cool_min)
        value += (goal - value) * share
        out.append(value)
    return np.array(out)


def tired_melt(machine: Machine, timeline: StoryTimeline) -> Array:
    """Share of viscosity lost by melt that waited in a stop: share * (1 - exp(-t/min)), then fading shot by shot; a
    purge clears it.
    """
    response = machine.response
    value, out = 0.0, []
    for stop, purged in zip(timeline.stop_min.tolist(), timeline.purged.tolist(), strict=True):
        if stop > 0.0:
            value = 0.0 if purged else response.tired_share * (1.0 - exp(-stop / response.tired_min))
        out.append(value)
        value *= response.tired_keep
    return np.array(out)


def cold_barrel(machine: Machine, timeline: StoryTimeline) -> Array:
    """How much colder the melt is than it will be, degC: at the first shot and after the press was off, fading over
    some shots.
    """
    level = machine.level
    started = np.flatnonzero((timeline.shot == 1) | (timeline.stop_min > RESTART_MIN))
    since = np.arange(len(timeline)) - started[np.searchsorted(started, np.arange(len(timeline)), side="right") - 1]
    colder: Array = level.barrel_cold_degc * np.exp(-since / level.barrel_cold_shots)
    return colder
