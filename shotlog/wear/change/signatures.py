"""How each kind of damage or disturbance moves the channels: direction and shape, as a table.

A direction is a family, not a vector, since the ratio between channels depends on press, part and resin: each channel
has a range, for a change of a typical size. Ranges are in physical terms, as the trade notes have them, so that they
carry over from press to press: pressures, times and forces as a share of their level, positions in mm, weights in g,
temperatures in K. A press with its own noise then sees them in its own spreads (`in_spreads`). They follow from the
mass balance and the flow relations of a shot (a gate wider by 6 % takes 4 % off the pressure and some hundredths of a
mm off the cushion; a cavity that takes more lowers the cushion and raises the weight of the shot by the same mass; melt
lost behind the check ring lowers the cushion and not the pressure); where the notes give one figure, the range is half
to double of it (judgement). A screw is chosen by the shot, so a cushion in mm carries over without its diameter; the
mass of a millimetre of melt is 0.11 to 1.05 g on screws of 14 to 30 mm. A signature with `either_way` may run in the
opposite direction as a whole.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

__all__ = ["MODES", "SHAPES", "SIGNATURES", "Range", "Signature", "in_spreads", "placed"]

Range = tuple[float, float]

SHAPES = ("step", "smear", "ramp", "accelerating")
"""Courses over the shots since onset; growing spread is kept apart, see `Signature.spread`."""


@dataclass(frozen=True, slots=True)
class Signature:
    """One way in which channels move together.

    `effect`: range by channel, for a change of a typical size: a share of the level where the channel table calls the
    channel `relative`, else in its unit; a channel left out does not move. `shapes`: share of each shape. `spread`: the
    channel whose shot-to-shot spread grows, if one does. All of it as under switchover by position, see `MODES`.
    """

    effect: Mapping[str, Range]
    shapes: Mapping[str, float]
    either_way: bool = False
    spread: str = ""


def _pressure(low: float, high: float) -> dict[str, Range]:
    """Return the range of both pressures: they are read within milliseconds of each other."""
    return {"peak_pressure": (low, high), "switchover_pressure": (low, high)}


_GRADUAL = {"ramp": 0.8, "accelerating": 0.2}

MODES: dict[str, dict[str, dict[str, Range]]] = {
    "position": {},
    "time": {},
    "pressure": {
        "switchover_pressure": {"switchover_position": (3.0, 16.0), "fill_time": (-0.9, -0.2)},
        "peak_pressure": {"peak_pressure": (0.0, 0.3)},
    },
    "limited": {"peak_pressure": {"fill_time": (0.5, 3.0)}, "switchover_pressure": {}},
}
"""By what the press changes over, or ``limited`` where the fill runs at the pressure limit: what takes the place of a
channel that is held still, for each of its share of the level. By pressure an easier flow shows as a later position and
a longer fill: pressure rises by 30 to 150 bar a mm at the end of a stroke of about 18 mm. At the limit it shows as a
shorter fill: flow goes with up to the third power of what is left to drive it (own, from the flow relations of a shot;
the widths are judgement).
"""

SIGNATURES: dict[str, Signature] = {
    "restriction opens": Signature(
        {**_pressure(-0.044, -0.036), "cushion": (-0.11, -0.02), "part_weight": (0.0, 0.06)},
        {"ramp": 1.0},
    ),
    "cavity grows": Signature(
        {
            "cushion": (-1.0, -1.0),
            **_pressure(-0.14, -0.02),
            "part_weight": (0.11, 1.05),
            "insert_temperature": (0.0, 8.0),
        },
        {"ramp": 0.85, "smear": 0.15},
    ),
    "parting line opens": Signature(
        {"cushion": (-1.0, -1.0), **_pressure(-0.085, -0.015), "part_weight": (0.11, 1.05)},
        {"accelerating": 0.5, "ramp": 0.5},
    ),
    "volume gained at once": Signature(
        {"cushion": (-1.0, -1.0), **_pressure(-0.1, -0.02), "part_weight": (0.11, 1.05)},
        {"step": 1.0},
    ),
    "opening blocked": Signature(
        {**_pressure(0.025, 0.075), "cushion": (0.02, 0.2), "part_weight": (-0.2, 0.0)},
        {"step": 1.0},
    ),
    "vents close": Signature(
        {
            "peak_pressure": (0.036, 0.044),
            "switchover_pressure": (0.004, 0.032),
            "cushion": (0.0, 0.06),
            "part_weight": (-0.06, 0.0),
        },
        _GRADUAL,
    ),
    "fill meets resistance": Signature(
        {"fill_time": (0.05, 0.05), **_pressure(0.0, 0.025), "cushion": (0.0, 0.05), "part_weight": (-0.05, 0.0)},
        _GRADUAL,
    ),
    "insert heats up": Signature(
        {
            "insert_temperature": (8.0, 12.0),
            **_pressure(-0.035, -0.01),
            "cushion": (-0.12, -0.03),
            "part_weight": (0.0, 0.12),
        },
        {"smear": 0.6, "ramp": 0.4},
    ),
    "viscosity steps": Signature(
        {
            **_pressure(0.075, 0.09),
            "cushion": (0.02, 0.12),
            "recovery_time": (-0.08, 0.06),
            "part_weight": (-0.1, 0.0),
        },
        {"step": 0.5, "smear": 0.5},
        either_way=True,
    ),
    "viscosity drifts": Signature(
        {
            **_pressure(0.075, 0.09),
            "cushion": (0.02, 0.12),
            "recovery_time": (-0.06, 0.06),
            "part_weight": (-0.1, 0.0),
        },
        {"ramp": 1.0},
        either_way=True,
    ),
    "melt temperature drifts": Signature(
        {
            **_pressure(-0.15, -0.045),
            "melt_temperature": (10.0, 10.0),
            "cushion": (-0.2, -0.03),
            "recovery_time": (-0.05, 0.05),
            "part_weight": (0.0, 0.1),
        },
        {"ramp": 1.0},
        either_way=True,
    ),
    "melt passes back": Signature(
        {
            "cushion": (-0.4, -0.4),
            **_pressure(-0.016, 0.0),
            "recovery_time": (0.0, 0.02),
            "part_weight": (-0.02, 0.0),
            "mass_balance": (0.04, 0.42),
        },
        _GRADUAL,
        spread="cushion",
    ),
    "clamp gives way": Signature(
        {
            "cushion": (-1.0, -1.0),
            **_pressure(-0.085, -0.015),
            "clamp_force": (-0.25, -0.03),
            "part_weight": (0.11, 1.05),
        },
        {"ramp": 1.0},
    ),
    "dose runs short": Signature(
        {
            "cushion": (-1.0, -1.0),
            "recovery_time": (0.1, 0.6),
            **_pressure(-0.04, 0.0),
            "fill_time": (0.0, 0.03),
            "part_weight": (-0.3, 0.0),
            "mass_balance": (0.11, 1.05),
        },
        {"step": 1.0},
    ),
    "melt lost outside": Signature(
        {
            "cushion": (-1.0, -1.0),
            **_pressure(-0.08, 0.0),
            "part_weight": (-0.6, 0.0),
            "mass_balance": (0.11, 1.05),
        },
        {"step": 0.5, "ramp": 0.5},
    ),
    "filling speed moves": Signature(
        {"fill_time": (0.05, 0.05), **_pressure(-0.025, 0.0), "cushion": (-0.03, 0.03)},
        {"ramp": 0.4, "step": 0.6},
        either_way=True,
    ),
    "pieces differ": Signature(
        {**_pressure(0.03, 0.09), "cushion": (0.08, 0.3), "part_weight": (-0.06, 0.0)},
        {"step": 1.0},
        either_way=True,
    ),
}


def placed(signature: Signature, channels: Iterable[str], mode: str) -> dict[str, Range]:
    """Return the ranges of a signature by the channel at hand in which a press shows them, in a mode of `MODES`."""
    at_hand = set(channels)
    turned: dict[str, Range] = {}
    for name, (low, high) in signature.effect.items():
        for place, shares in MODES[mode].get(name, {name: (1.0, 1.0)}).items():
            if place in at_hand:
                products = [end * share for end in (low, high) for share in shares]
                before = turned.get(place, (0.0, 0.0))
                turned[place] = (before[0] + min(products), before[1] + max(products))
    return turned


def in_spreads(ranges: Mapping[str, Range], scale: Mapping[str, float]) -> dict[str, Range]:
    """Return ranges (`placed`) in the spreads of a press.

    `scale`: by channel at hand, how many spreads a share of the level, or the unit, is; the largest middle is 1.
    Nothing where no channel at hand moves.
    """
    turned = {name: (low * scale[name], high * scale[name]) for name, (low, high) in ranges.items()}
    leading = max((abs(low + high) / 2.0 for low, high in turned.values()), default=0.0)
    return {name: (low / leading, high / leading) for name, (low, high) in turned.items()} if leading > 0.0 else {}
