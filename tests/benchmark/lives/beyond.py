"""What goes wrong otherwise than the usual kinds have it: a mixture to hold stated weights against.

Half of it are kinds the others leave out, from the trade notes: a transducer drifts in all the channels that share it;
the melt gets hotter or colder and no reading shows it; oil that warms up changes the filling; a nozzle leaks at its
seat; debris lodges in the gate; a piece lies in the mould askew. Half are usual kinds on a press where the channels
follow in other proportions, and others follow too. No source for the shares: often enough to count.
"""

from dataclasses import replace

import numpy as np

from tests.benchmark.lives.faults import CHANNELS, SCALE, Fault, Kind

__all__ = ["OTHER_KINDS", "leave_the_table"]

_SAME_BAR = float(SCALE[1] / SCALE[3])

OTHER_KINDS = (
    Kind(
        "pressure transducer",
        "measurement",
        ("ramp", "step"),
        {"peak_pressure": (1, 1), "switchover_pressure": (_SAME_BAR, _SAME_BAR)},
        sign=0,
        chance=1.5,
    ),
    Kind("position transducer", "measurement", ("ramp", "step"), {"cushion": (1, 1)}, sign=0, chance=1.5),
    Kind(
        "melt unseen",
        "press",
        ("ramp",),
        {
            "peak_pressure": (-1, -0.9),
            "switchover_pressure": (-1, -0.9),
            "cushion": (-0.3, 0),
            "recovery_time": (-0.4, 0.4),
            "part_weight": (0, 0.4),
        },
        sign=0,
        chance=1.5,
    ),
    Kind(
        "oil warming up",
        "press",
        ("ramp",),
        {"fill_time": (-1, -1), "peak_pressure": (-0.2, 0.5), "switchover_pressure": (-0.2, 0.5)},
        sign=0,
    ),
    Kind(
        "nozzle at its seat",
        "press",
        ("step", "ramp"),
        {
            "cushion": (-1, -1),
            "peak_pressure": (-0.6, 0),
            "switchover_pressure": (-0.6, 0),
            "part_weight": (-1, -0.1),
        },
    ),
    Kind(
        "debris in the gate",
        "insert",
        ("step",),
        {
            "peak_pressure": (0.7, 1),
            "switchover_pressure": (0.7, 1),
            "cushion": (0.2, 1),
            "part_weight": (-1, -0.1),
            "fill_time": (0, 0.4),
        },
        chance=1.5,
    ),
    Kind(
        "half askew",
        "insert",
        ("step", "ramp"),
        {"cushion": (-1, -0.3), "fill_time": (-1, 1), "peak_pressure": (-0.5, 0.5), "part_weight": (0, 1)},
        chance=1.5,
    ),
)


def leave_the_table(fault: Fault, rng: np.random.Generator) -> Fault:
    """Return another fault in place of a usual one: of another kind, or of its own in other proportions."""
    if rng.random() < 0.5:
        chances = np.array([kind.chance for kind in OTHER_KINDS])
        kind = OTHER_KINDS[int(rng.choice(len(OTHER_KINDS), p=chances / chances.sum()))]
        direction = np.zeros(len(CHANNELS))
        for name, (low, high) in kind.effect.items():
            direction[CHANNELS.index(name)] = rng.uniform(low, high)
        direction *= rng.choice((-1.0, 1.0)) if kind.sign == 0 else 1.0
        shape = str(rng.choice(kind.shapes))
        size = rng.uniform(2, 7) if shape == "step" else rng.uniform(0.1, 0.35)
        return Fault(kind, shape, direction, float(size), fault.onset, False)
    direction = fault.direction * np.exp(rng.normal(0.0, 0.5, len(CHANNELS)))
    direction += (fault.direction == 0.0) * rng.normal(0.0, 0.15, len(CHANNELS))
    return replace(fault, direction=direction / np.abs(direction).max())
