"""What can go wrong in a simulated life: directions in units of each channel's own shot-to-shot spread.

The ranges follow from which quantity leads and which lags (erosion of a gate: pressure first, cushion hardly; flash:
cushion first, weight up; ...) and are drawn anew for every fault, so that no two faults move the channels in one
proportion.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

CHANNELS = (
    "cushion",
    "peak_pressure",
    "fill_time",
    "switchover_pressure",
    "recovery_time",
    "melt_temperature",
    "insert_temperature",
    "clamp_force",
    "part_weight",
)
SCALE = np.array([0.055, 4.2, 0.005, 4.0, 0.09, 0.5, 0.8, 0.3, 0.015])
CENTRE = np.array([5.0, 540.0, 0.72, 520.0, 4.6, 288.0, 64.0, 80.0, 10.2])

Range = tuple[float, float]


@dataclass(frozen=True)
class Kind:
    """One kind of fault: group, shapes it may take, direction ranges; `sign` 0 draws the sign."""

    name: str
    group: str
    shapes: tuple[str, ...]
    effect: dict[str, Range]
    sign: int = 1
    chance: float = 1.0


KINDS = (
    Kind(
        "gate erosion",
        "insert",
        ("ramp",),
        {
            "peak_pressure": (-1, -0.9),
            "switchover_pressure": (-1, -0.9),
            "cushion": (-0.35, -0.05),
            "part_weight": (0.1, 0.5),
        },
        chance=2.0,
    ),
    Kind(
        "creep",
        "insert",
        ("ramp",),
        {
            "cushion": (-1, -1),
            "peak_pressure": (-0.45, -0.1),
            "switchover_pressure": (-0.45, -0.1),
            "part_weight": (0.5, 1.2),
            "insert_temperature": (0.0, 0.5),
        },
    ),
    Kind(
        "flash",
        "insert",
        ("ramp", "acc"),
        {
            "cushion": (-1, -1),
            "peak_pressure": (-0.4, -0.05),
            "switchover_pressure": (-0.4, -0.05),
            "part_weight": (0.6, 1.3),
        },
        chance=2.0,
    ),
    Kind(
        "break",
        "insert",
        ("step",),
        {
            "cushion": (-1, -1),
            "peak_pressure": (-0.6, -0.1),
            "switchover_pressure": (-0.6, -0.1),
            "part_weight": (0.6, 1.5),
        },
        chance=1.5,
    ),
    Kind(
        "vent clogging",
        "insert",
        ("ramp",),
        {
            "peak_pressure": (0.9, 1),
            "switchover_pressure": (0.3, 0.7),
            "cushion": (0.05, 0.4),
            "part_weight": (-0.6, -0.1),
        },
    ),
    Kind(
        "lot",
        "material",
        ("step", "smear"),
        {
            "peak_pressure": (1, 1),
            "switchover_pressure": (0.9, 1),
            "cushion": (0.03, 0.25),
            "recovery_time": (-0.9, -0.3),
            "part_weight": (-0.5, -0.1),
        },
        sign=0,
        chance=3.0,
    ),
    Kind(
        "moisture",
        "material",
        ("ramp",),
        {
            "peak_pressure": (1, 1),
            "switchover_pressure": (0.9, 1),
            "cushion": (0.03, 0.25),
            "recovery_time": (-0.6, -0.2),
            "part_weight": (-0.5, -0.1),
        },
        sign=0,
        chance=0.5,
    ),
    Kind(
        "barrel temperature",
        "press",
        ("ramp",),
        {
            "peak_pressure": (-1, -0.8),
            "switchover_pressure": (-1, -0.8),
            "cushion": (-0.2, 0),
            "melt_temperature": (0.8, 1.5),
            "recovery_time": (-0.5, 0.0),
            "part_weight": (0.0, 0.3),
        },
        sign=0,
        chance=1.5,
    ),
    Kind(
        "check ring",
        "press",
        ("ring",),
        {
            "cushion": (-1, -1),
            "peak_pressure": (-0.2, 0),
            "switchover_pressure": (-0.2, 0),
            "recovery_time": (0.0, 0.3),
            "part_weight": (-0.3, 0),
        },
        chance=1.5,
    ),
    Kind(
        "clamp",
        "press",
        ("ramp",),
        {
            "cushion": (-1, -1),
            "peak_pressure": (-0.4, 0),
            "switchover_pressure": (-0.4, 0),
            "clamp_force": (-1.5, -0.7),
            "part_weight": (0.5, 1.2),
        },
        chance=0.5,
    ),
    Kind(
        "short dosing",
        "press",
        ("step",),
        {
            "cushion": (-1, -0.8),
            "recovery_time": (0.8, 2.0),
            "peak_pressure": (-0.2, 0.1),
            "switchover_pressure": (-0.2, 0.1),
            "part_weight": (-0.8, -0.2),
        },
        chance=0.75,
    ),
)


@dataclass(frozen=True)
class Fault:
    """One fault as drawn: `direction` over CHANNELS, `size` in sigma a shot (ramps) or sigma (steps), from shot
    `onset`.
    """

    kind: Kind
    shape: str
    direction: NDArray[np.float64]
    size: float
    onset: int
    logged: bool

    def curve(self, shots: NDArray[np.int64]) -> NDArray[np.float64]:
        """The course over shots, in sigma of the leading channel."""
        k = np.maximum(shots - self.onset + 1, 0).astype(float)
        if self.shape == "step":
            return self.size * (k > 0)
        if self.shape == "smear":
            return self.size * (1 - np.exp(-k / 4.0)) * (k > 0)
        if self.shape == "acc":
            return self.size * 12.0 * (np.exp(k / 16.0) - 1)
        return self.size * k


def draw(rng: np.random.Generator, onset: int, n_channels: int) -> Fault:
    """Draw a fault; kinds that would show in no channel at hand are drawn again."""
    weights = np.array([kind.chance for kind in KINDS])
    kind = KINDS[rng.choice(len(KINDS), p=weights / weights.sum())]
    shape = str(rng.choice(kind.shapes))
    direction = np.zeros(len(CHANNELS))
    for name, (low, high) in kind.effect.items():
        direction[CHANNELS.index(name)] = rng.uniform(low, high)
    if kind.sign == 0 and rng.random() < 0.5:
        direction = -direction
    size = rng.uniform(2, 7) if shape in ("step", "smear") else rng.uniform(0.1, 0.35)
    return Fault(kind, shape, direction, float(size), onset, bool(rng.random() < 0.5))
