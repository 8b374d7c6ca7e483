"""What each channel usually reads on presses of 6 to 50 t, and how presses usually send it. Pure; a table.

All by common practice, with no source but the trade notes: they order what fits, and settle nothing; a figure off the
screen does. Someone with large parts or very short cycles would choose other levels. Weights are natural logarithms of
how much rarer something is than the usual.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

__all__ = ["USUAL", "Usual", "rarity_of_type", "rarity_of_unit"]


@dataclass(frozen=True, slots=True)
class Usual:
    """`level`: where the middle of such values lies, in the channel's unit; `decades`: how far they scatter, as the
    standard deviation of the decimal logarithm. `scales`: rarity of each power of ten of a whole number's scale.
    `still`: rarity of a value that never moves. `live`: of one that moves between shots. `units`: of other units.
    """

    level: float
    decades: float
    scales: Mapping[int, float]
    still: float = 5.0
    live: float = 3.0
    units: Mapping[str, float] = field(default_factory=dict)


_TIME: Mapping[str, float] = {"minute": 5.0}
_LENGTH = {"inch": 2.5}
_PRESSURE = {"psi": 2.5}
_TEMPERATURE = {"degF": 2.5, "kelvin": 3.5}
_POSITION = {-2: 0.0, -1: 1.0, -3: 1.0, 0: 3.5, -4: 3.0}
_TIMES = {-3: 0.0, -2: 0.0, -1: 1.0, 0: 3.5, -4: 3.5}
_BARS = {0: 0.0, -1: 0.0, -2: 1.5, 1: 2.0, -3: 3.0}
_DEGREES = {-1: 0.0, 0: 0.5, -2: 1.5}

USUAL: Mapping[str, Usual] = {
    "cushion": Usual(5.0, 0.25, _POSITION, units=_LENGTH),
    "peak_pressure": Usual(700.0, 0.25, _BARS, units=_PRESSURE),
    "fill_time": Usual(0.8, 0.35, {-3: 0.0, -2: 0.0, -1: 2.5, -4: 2.0, 0: 5.0}, units=_TIME),
    "switchover_pressure": Usual(600.0, 0.25, _BARS, units=_PRESSURE),
    "switchover_position": Usual(11.0, 0.25, _POSITION, units=_LENGTH),
    "recovery_time": Usual(5.0, 0.3, _TIMES, units=_TIME),
    "cycle_time": Usual(35.0, 0.25, {-1: 0.0, -2: 0.0, -3: 0.0, 0: 1.5}, units=_TIME),
    "back_pressure": Usual(60.0, 0.3, _BARS, still=4.0, units=_PRESSURE),
    "melt_temperature": Usual(235.0, 0.08, _DEGREES, still=2.5, live=0.0, units=_TEMPERATURE),
    "insert_temperature": Usual(60.0, 0.2, _DEGREES, still=3.0, live=0.0, units=_TEMPERATURE),
    "clamp_force": Usual(200.0, 0.3, {-1: 0.0, 0: 0.0, -2: 1.0, 1: 2.0}, still=2.5, units={"metric_ton_force": 4.0}),
    "part_weight": Usual(10.0, 0.5, {-2: 0.0, -3: 0.0, -1: 1.5, -4: 2.0}, units={"ounce": 4.0}),
}
"""By channel; the mass balance is worked out and never read."""


_TYPES: Mapping[str, float] = {
    "uint16": 0.0, "int16": 0.0, "float32": 0.0, "uint32": 0.7, "int32": 0.7, "float64": 1.5,
    "bcd16": 3.0, "bcd32": 3.5,
}  # fmt: skip


def rarity_of_type(kind: str, swapped: bool) -> float:
    """Return how rare a register type is, with its bytes swapped or not."""
    return _TYPES.get(kind, 3.0) + (3.0 if swapped else 0.0)


def rarity_of_unit(channel: str, unit: str, on_screen: str | None) -> float:
    """Return how rare it is that a press sends this unit; the one its screen shows is the likeliest."""
    if unit == on_screen:
        return 0.0
    return USUAL[channel].units.get(unit, 0.0) + (2.0 if on_screen is not None else 0.0)
