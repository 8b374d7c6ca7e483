"""What goes wrong, in physical terms: which way each value moves, drawn anew for every press and life.

Directions are those of the trade notes, with their sizes as the middle of a family: gate wider by 6 % takes 4 % off
the pressure and 0.06 mm off the cushion; flash takes 22 bar per mm of cushion and adds its mass to the shot; a lot 9 %
stiffer adds 0.065 mm of cushion and shortens recovery by 2 %; a leaking ring takes cushion and no weight is gained; a
sensor moves alone, with what shares it. `off_table` draws two ways of behaving that the notes do not have: vents that
slow the fill instead of raising the pressure, and recovery that follows viscosity the other way.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shotlog.channels import CHANNELS
from tests.benchmark.examiner.press import Press
from tests.benchmark.examiner.shapes import shape_of

__all__ = [
    "FAULTS",
    "GROUP_SHARES",
    "ODD",
    "Change",
    "Effect",
    "Fault",
    "draw_change",
    "draw_fault",
    "faults_of",
    "shares_of",
]

Effect = dict[str, float]


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that goes wrong: its `group`, the `shapes` it may take, and `moves`, its direction on a press.

    `spreads`: the channel whose spread grows with it, in units of the effect on that channel. `needs`: a channel
    without which it cannot be told from another. `weight`: how often it is drawn beside others of its group.
    """

    name: str
    group: str
    shapes: tuple[str, ...]
    moves: Callable[[Press, np.random.Generator], Effect]
    spreads: str = ""
    needs: str = ""
    weight: float = 1.0


def _pressure(press: Press) -> float:
    return press.mean_of("peak_pressure")


def _gate_erosion(press: Press, rng: np.random.Generator) -> Effect:
    cushion = -0.057 * rng.uniform(0.5, 1.6)
    bar = -0.04 * _pressure(press)
    return {
        "switchover_pressure": bar,
        "peak_pressure": bar * rng.uniform(0.85, 1.1),
        "cushion": cushion,
        "part_weight": -press.g_per_mm * cushion * rng.uniform(0.5, 1.0),
    }


def _taken(press: Press, rng: np.random.Generator, bar_per_mm: float) -> Effect:
    """The cavity takes more: cushion down, and the shot gains the same mass."""
    bar = -bar_per_mm * _pressure(press) / 520.0
    return {
        "cushion": -1.0,
        "switchover_pressure": bar,
        "peak_pressure": bar * rng.uniform(0.8, 1.1),
        "part_weight": press.g_per_mm * rng.uniform(0.8, 1.0),
    }


def _creep(press: Press, rng: np.random.Generator) -> Effect:
    return {**_taken(press, rng, rng.uniform(20.0, 80.0)), "insert_temperature": rng.uniform(0.0, 8.0)}


def _parting_line(press: Press, rng: np.random.Generator) -> Effect:
    return _taken(press, rng, rng.uniform(15.0, 40.0))


def _break(press: Press, rng: np.random.Generator) -> Effect:
    if rng.random() < 0.15:  # debris blocks the gate
        bar = 0.05 * _pressure(press) * rng.uniform(0.5, 1.5)
        return {
            "switchover_pressure": bar,
            "peak_pressure": bar * rng.uniform(0.9, 1.2),
            "cushion": rng.uniform(0.03, 0.2),
            "part_weight": -press.g_per_mm * rng.uniform(0.03, 0.15),
        }
    return _taken(press, rng, rng.uniform(15.0, 60.0))


def _vents(press: Press, rng: np.random.Generator) -> Effect:
    bar = 0.04 * _pressure(press)
    cushion = rng.uniform(0.01, 0.06)
    return {
        "peak_pressure": bar,
        "switchover_pressure": bar * rng.uniform(0.2, 0.7),
        "cushion": cushion,
        "part_weight": -press.g_per_mm * cushion * rng.uniform(0.5, 1.0),
    }


def _slow_vents(press: Press, rng: np.random.Generator) -> Effect:
    bar = 0.04 * _pressure(press) * rng.uniform(0.0, 0.4)
    return {
        "fill_time": press.mean_of("fill_time") * rng.uniform(0.03, 0.08),
        "peak_pressure": bar,
        "switchover_pressure": bar * rng.uniform(0.2, 0.7),
        "cushion": rng.uniform(0.0, 0.04),
    }


def _viscosity(press: Press, rng: np.random.Generator, recovery: float) -> Effect:
    """Melt 10 % stiffer or easier; `recovery`: its relative change for a melt stiffer by one."""
    stiffer = 0.1 * float(rng.choice((-1.0, 1.0)))
    bar = 0.9 * stiffer * _pressure(press)
    cushion = 0.72 * stiffer * rng.uniform(0.3, 1.5)
    return {
        "switchover_pressure": bar,
        "peak_pressure": bar * rng.uniform(0.95, 1.1),
        "cushion": cushion,
        "part_weight": -press.g_per_mm * cushion * rng.uniform(0.5, 1.0),
        "recovery_time": recovery * stiffer * press.level[press.at("recovery_time") or 0],
    }


def _lot(press: Press, rng: np.random.Generator) -> Effect:
    return _viscosity(press, rng, -rng.uniform(0.2, 0.9))


def _lot_other_way(press: Press, rng: np.random.Generator) -> Effect:
    return _viscosity(press, rng, rng.uniform(0.2, 0.9))


def _moisture(press: Press, rng: np.random.Generator) -> Effect:
    return _viscosity(press, rng, -rng.uniform(0.0, 0.5))


def _barrel(press: Press, rng: np.random.Generator) -> Effect:
    kelvin = float(rng.choice((-10.0, 10.0)))
    stiffer = -kelvin * rng.uniform(0.005, 0.012)
    bar = 0.9 * stiffer * _pressure(press)
    cushion = -0.011 * kelvin * rng.uniform(0.3, 1.5)
    return {
        "switchover_pressure": bar,
        "peak_pressure": bar * rng.uniform(0.95, 1.1),
        "cushion": cushion,
        "part_weight": rng.uniform(0.0, 0.5) * press.g_per_mm * abs(cushion) * np.sign(kelvin),
        "recovery_time": stiffer * rng.uniform(-0.5, 0.5) * press.level[press.at("recovery_time") or 0],
        "melt_temperature": kelvin,
    }


def _unseen_melt(press: Press, rng: np.random.Generator) -> Effect:
    """Melt gets hotter by itself (screw shear adds 0-20 K), and the thermocouple in the barrel does not show it."""
    effect = _barrel(press, rng)
    sign = -np.sign(effect["peak_pressure"])  # always hotter: pressure down, as a gate that wears
    return {k: sign * v for k, v in effect.items() if k not in ("melt_temperature", "recovery_time")}


def _check_ring(press: Press, rng: np.random.Generator) -> Effect:
    bar = -rng.uniform(0.0, 10.0) * _pressure(press) / 520.0
    return {
        "cushion": -0.4,
        "switchover_pressure": bar,
        "peak_pressure": bar,
        "part_weight": -0.012 * rng.uniform(0.0, 1.0),
        "fill_time": rng.uniform(0.0, 0.004),
    }


def _clamp(press: Press, rng: np.random.Generator) -> Effect:
    return {**_taken(press, rng, rng.uniform(8.0, 40.0)), "clamp_force": -rng.uniform(4.0, 20.0)}


def _nozzle(press: Press, rng: np.random.Generator) -> Effect:
    return {
        "cushion": -1.0,
        "part_weight": -press.g_per_mm * rng.uniform(0.0, 0.6),
        "peak_pressure": -rng.uniform(0.0, 25.0),
        "switchover_pressure": -rng.uniform(0.0, 25.0),
    }


def _dosing(press: Press, rng: np.random.Generator) -> Effect:
    return {
        "cushion": -1.0,
        "recovery_time": rng.uniform(0.5, 3.0),
        "fill_time": rng.uniform(0.0, 0.03),
        "part_weight": -press.g_per_mm * rng.uniform(0.0, 0.2),
        "peak_pressure": -rng.uniform(0.0, 15.0),
        "switchover_pressure": -rng.uniform(0.0, 15.0),
    }


def _pressure_sensor(press: Press, rng: np.random.Generator) -> Effect:
    bar = float(rng.choice((-1.0, 1.0)))
    return {"peak_pressure": bar, "switchover_pressure": bar}


def _position_sensor(press: Press, rng: np.random.Generator) -> Effect:
    mm = float(rng.choice((-1.0, 1.0)))
    return {"cushion": mm, "switchover_position": mm}


FAULTS: dict[str, Fault] = {
    fault.name: fault
    for fault in (
        Fault("gate erosion", "insert", ("ramp", "root", "ramp"), _gate_erosion, weight=2.0),
        Fault("creep", "insert", ("ramp", "saturating"), _creep),
        Fault("parting line", "insert", ("accelerating", "quadratic", "ramp"), _parting_line, weight=2.0),
        Fault("break", "insert", ("step",), _break, weight=2.0),
        Fault("vents", "insert", ("ramp", "accelerating"), _vents),
        Fault("lot", "material", ("smeared",), _lot, weight=4.0),
        Fault("moisture", "material", ("ramp",), _moisture, weight=0.7),
        Fault("check ring", "press", ("ramp",), _check_ring, spreads="cushion", weight=2.0),
        Fault("clamp", "press", ("ramp", "accelerating"), _clamp, needs="clamp_force"),
        Fault("barrel", "press", ("ramp", "root"), _barrel),
        Fault("nozzle", "press", ("step", "ramp"), _nozzle, spreads="cushion", needs="part_weight"),
        Fault("dosing", "press", ("step",), _dosing, weight=2.0),
        Fault("pressure sensor", "measurement", ("ramp", "step"), _pressure_sensor),
        Fault("position sensor", "measurement", ("ramp", "step"), _position_sensor),
        Fault("slow vents", "insert", ("ramp", "accelerating"), _slow_vents, needs="off table"),
        Fault("lot, recovery the other way", "material", ("smeared",), _lot_other_way, needs="off table"),
        Fault("unseen melt", "press", ("ramp",), _unseen_melt, needs="named"),
    )
}

GROUP_SHARES = {"insert": 0.5, "material": 0.2, "press": 0.2, "measurement": 0.1}
"""How often a drawn change is of each group (no source: inserts go most, and each group often enough to count)."""

_INSTEAD = {"vents": "slow vents", "lot": "lot, recovery the other way"}


def draw_fault(group: str, press: Press, rng: np.random.Generator) -> Fault:
    """Draw what goes wrong in a group, by the weights of its faults."""
    faults = faults_of(group, press)
    weight = np.array([fault.weight for fault in faults])
    return faults[int(rng.choice(len(faults), p=weight / weight.sum()))]


def faults_of(group: str, press: Press, off_table: bool = False) -> list[Fault]:
    """Return what can go wrong in a group on this press; clamp only where its force is read: else it is like flash."""
    known = [f for f in FAULTS.values() if f.group == group and (not f.needs or f.needs in press.channels)]
    return [FAULTS[_INSTEAD[f.name]] if off_table and f.name in _INSTEAD else f for f in known]


ODD = ("slow vents", "lot, recovery the other way", "unseen melt")
"""What the notes' table does not have, or no reading shows."""


def shares_of(press: Press, *, off_table: bool = False, odd: float = 0.0) -> list[tuple[Fault, float]]:
    """Return every fault that is drawn on this press and its share of all; `odd`: that of `ODD` together, alike."""
    known = []
    for group, share in GROUP_SHARES.items():
        faults = faults_of(group, press, off_table)
        total = sum(fault.weight for fault in faults)
        known += [(fault, (1.0 - odd) * share * fault.weight / total) for fault in faults]
    return known + [(FAULTS[name], odd / len(ODD)) for name in ODD if odd]


@dataclass(frozen=True, slots=True)
class Change:
    """One change in one life: what, from which shot on (the first of the life is 0), and what it adds.

    `added`: shape (n_shots, n_channels), in each channel's unit. `size_sigma`: at `over` shots, of the channel that
    moves most, in its shot-to-shot spread.
    """

    fault: Fault
    onset: int
    shape: str
    size_sigma: float
    over: float
    direction: NDArray[np.float64]
    added: NDArray[np.float64]

    @property
    def mean_course(self) -> NDArray[np.float64]:
        """What it adds without the scatter of a lossy fault, shape as `added`."""
        course = shape_of(self.shape, len(self.added), self.onset, self.over)
        return np.asarray(self.size_sigma * course[:, None] * self.direction)

    @property
    def group(self) -> str:
        """The group of its cause."""
        return self.fault.group


def draw_change(
    press: Press,
    fault: Fault,
    n_shots: int,
    onset: int,
    rng: np.random.Generator,
    *,
    size: float | None = None,
    shape: str = "",
    over: float | None = None,
) -> Change:
    """Draw one change of `fault`.

    `size`: in sigma of the channel that moves most, after `over` shots; without it 4-10 for a step and 0.1-0.4 a shot
    for what grows; never so small that no channel moves twice its smallest change of practical size.
    """
    shape = shape or str(rng.choice(fault.shapes))
    moves = press.vector(fault.moves(press, rng))
    direction = moves / np.max(np.abs(moves) / press.spread)
    if over is None:
        over = rng.uniform(3.0, 10.0) if shape == "smeared" else rng.uniform(20.0, 40.0)
    if size is None:
        size = rng.uniform(4.0, 10.0) if shape in ("step", "smeared") else over * rng.uniform(0.1, 0.4)
        least = np.array([CHANNELS[channel].least_change for channel in press.channels])
        size = max(size, 2.0 / float(np.max(np.abs(direction) / least)))
    added = size * shape_of(shape, n_shots, onset, over)[:, None] * direction
    if fault.spreads in press.channels:
        # melt lost shot by shot: a half-normal loss of the same mean has tails on the low side only
        at = press.channels.index(fault.spreads)
        added[:, at] *= np.abs(rng.standard_normal(n_shots)) * np.sqrt(np.pi / 2.0)
    return Change(fault, onset, shape, float(size), over, direction, added)
