"""How each kind of damage or disturbance moves the channels: direction and shape, as a table.

A direction is a family, not a vector: the ratio between channels depends on press, part and resin, so each channel has
a range, in units of its own within-insert spread, the leading channel being 1. Ranges follow from the mass balance and
the flow relations of a shot (a wider gate lowers pressure and hardly the cushion; a cavity that takes more lowers the
cushion and raises the weight of the shot; melt lost behind the check ring lowers the cushion and not the pressure),
their widths are judgement. A signature with `either_way` may run in the opposite direction as a whole.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

__all__ = ["MODES", "SHAPES", "SIGNATURES", "Range", "Signature", "under"]

Range = tuple[float, float]

SHAPES = ("step", "smear", "ramp", "accelerating")
"""Courses over the shots since onset; growing spread is kept apart, see `Signature.spread`."""


@dataclass(frozen=True, slots=True)
class Signature:
    """One way in which channels move together.

    `effect`: range by channel, in within-insert spreads per unit of the leading one; a channel left out does not move.
    `shapes`: share of each shape. `spread`: the channel whose shot-to-shot spread grows, if one does. All of it as
    under switchover by position, see `under`.
    """

    effect: Mapping[str, Range]
    shapes: Mapping[str, float]
    either_way: bool = False
    spread: str = ""


_GRADUAL = {"ramp": 0.8, "accelerating": 0.2}

MODES: dict[str, dict[str, dict[str, Range]]] = {
    "position": {},
    "time": {},
    "pressure": {
        "switchover_pressure": {"switchover_position": (0.5, 1.0), "fill_time": (-1.0, -0.6)},
        "peak_pressure": {"peak_pressure": (0.0, 0.3)},
    },
    "limited": {"peak_pressure": {"fill_time": (0.6, 1.0)}, "switchover_pressure": {}},
}
"""By what the press changes over, or ``limited`` where the fill runs at the pressure limit: what takes the place of a
channel that is held still, as shares of its move. By pressure an easier flow shows as a later position and a longer
fill, at the limit as a shorter one (own, from the flow relations of a shot; the widths are judgement).
"""

SIGNATURES: dict[str, Signature] = {
    "restriction opens": Signature(
        {
            "peak_pressure": (-1.0, -0.85),
            "switchover_pressure": (-1.0, -0.85),
            "cushion": (-0.4, 0.0),
            "part_weight": (0.0, 0.6),
        },
        {"ramp": 1.0},
    ),
    "cavity grows": Signature(
        {
            "cushion": (-1.0, -0.9),
            "peak_pressure": (-0.5, -0.05),
            "switchover_pressure": (-0.5, -0.05),
            "part_weight": (0.4, 1.3),
            "insert_temperature": (0.0, 0.4),
        },
        {"ramp": 0.85, "smear": 0.15},
    ),
    "parting line opens": Signature(
        {
            "cushion": (-1.0, -0.9),
            "peak_pressure": (-0.4, 0.0),
            "switchover_pressure": (-0.4, 0.0),
            "part_weight": (0.5, 1.4),
        },
        {"accelerating": 0.5, "ramp": 0.5},
    ),
    "volume gained at once": Signature(
        {
            "cushion": (-1.0, -0.9),
            "peak_pressure": (-0.6, 0.0),
            "switchover_pressure": (-0.6, 0.0),
            "part_weight": (0.5, 1.6),
        },
        {"step": 1.0},
    ),
    "opening blocked": Signature(
        {
            "cushion": (0.3, 1.0),
            "peak_pressure": (0.6, 1.0),
            "switchover_pressure": (0.6, 1.0),
            "part_weight": (-1.0, -0.1),
        },
        {"step": 1.0},
    ),
    "vents close": Signature(
        {
            "peak_pressure": (0.9, 1.0),
            "switchover_pressure": (0.2, 0.75),
            "cushion": (0.0, 0.4),
            "part_weight": (-0.7, 0.0),
        },
        {"ramp": 1.0},
    ),
    "insert heats up": Signature(
        {
            "insert_temperature": (0.8, 1.5),
            "cushion": (-0.7, -0.1),
            "peak_pressure": (-0.7, -0.1),
            "switchover_pressure": (-0.7, -0.1),
            "part_weight": (0.0, 0.6),
        },
        {"smear": 0.6, "ramp": 0.4},
    ),
    "viscosity steps": Signature(
        {
            "peak_pressure": (0.9, 1.0),
            "switchover_pressure": (0.9, 1.0),
            "cushion": (0.0, 0.3),
            "recovery_time": (-1.0, -0.1),
            "part_weight": (-0.6, 0.0),
        },
        {"step": 0.5, "smear": 0.5},
        either_way=True,
    ),
    "viscosity drifts": Signature(
        {
            "peak_pressure": (0.9, 1.0),
            "switchover_pressure": (0.9, 1.0),
            "cushion": (0.0, 0.3),
            "recovery_time": (-0.8, -0.1),
            "part_weight": (-0.6, 0.0),
        },
        {"ramp": 1.0},
        either_way=True,
    ),
    "melt temperature drifts": Signature(
        {
            "peak_pressure": (-1.0, -0.7),
            "switchover_pressure": (-1.0, -0.7),
            "melt_temperature": (0.6, 1.6),
            "cushion": (-0.25, 0.0),
            "recovery_time": (-0.5, 0.1),
            "part_weight": (0.0, 0.4),
        },
        {"ramp": 1.0},
        either_way=True,
    ),
    "melt passes back": Signature(
        {
            "cushion": (-1.0, -0.9),
            "peak_pressure": (-0.2, 0.0),
            "switchover_pressure": (-0.2, 0.0),
            "recovery_time": (0.0, 0.3),
            "part_weight": (-0.4, 0.0),
            "mass_balance": (0.6, 1.8),
        },
        _GRADUAL,
        spread="cushion",
    ),
    "clamp gives way": Signature(
        {
            "cushion": (-1.0, -0.9),
            "peak_pressure": (-0.4, 0.0),
            "switchover_pressure": (-0.4, 0.0),
            "clamp_force": (-1.8, -0.5),
            "part_weight": (0.4, 1.3),
        },
        {"ramp": 1.0},
    ),
    "dose runs short": Signature(
        {
            "cushion": (-1.0, -0.7),
            "recovery_time": (0.7, 2.0),
            "peak_pressure": (-0.2, 0.1),
            "switchover_pressure": (-0.2, 0.1),
            "part_weight": (-1.0, -0.1),
            "mass_balance": (0.6, 2.0),
        },
        {"step": 1.0},
    ),
    "melt lost outside": Signature(
        {
            "cushion": (-1.0, -0.9),
            "peak_pressure": (-0.6, 0.0),
            "switchover_pressure": (-0.6, 0.0),
            "part_weight": (-1.0, -0.2),
            "mass_balance": (0.6, 2.0),
        },
        {"step": 0.5, "ramp": 0.5},
    ),
    "filling speed moves": Signature(
        {
            "fill_time": (1.0, 1.0),
            "peak_pressure": (-0.6, 0.2),
            "switchover_pressure": (-0.6, 0.2),
            "cushion": (-0.2, 0.2),
        },
        {"ramp": 0.4, "step": 0.6},
        either_way=True,
    ),
    "pieces differ": Signature(
        {
            "peak_pressure": (0.6, 1.0),
            "switchover_pressure": (0.6, 1.0),
            "cushion": (0.3, 1.0),
            "part_weight": (-0.6, 0.0),
        },
        {"step": 1.0},
        either_way=True,
    ),
}


def under(signature: Signature, mode: str) -> Signature:
    """Return a signature as it shows in a mode of `MODES`, its leading channel 1 again."""
    turned: dict[str, Range] = {}
    for name, (low, high) in signature.effect.items():
        for place, shares in MODES[mode].get(name, {name: (1.0, 1.0)}).items():
            products = [end * share for end in (low, high) for share in shares]
            before = turned.get(place, (0.0, 0.0))
            turned[place] = (before[0] + min(products), before[1] + max(products))
    leading = max((max(abs(low), abs(high)) for low, high in turned.values()), default=1.0)
    grown = 1.0 / leading if 0.0 < leading < 1.0 else 1.0
    return replace(signature, effect={name: (low * grown, high * grown) for name, (low, high) in turned.items()})
