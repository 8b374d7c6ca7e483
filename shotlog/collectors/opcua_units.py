"""From a number in the unit a press gives to one in a channel's unit: plain units, times, volumes, pressures of oil.

A volume becomes a length by the screw's area, which holds for what a screw has moved (OPC 40077 makes the volume of the
cushion mandatory and its length optional). The pressure of the oil becomes that of the melt by the ratio of the areas
of piston and screw, the intensification ratio; nothing else tells it.
"""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from math import pi

from shotlog.channels import Channel
from shotlog.collectors.opcua_names import is_hydraulic, is_volume
from shotlog.collectors.scaling import Scaling
from shotlog.errors import UsageError
from shotlog.units import converter

__all__ = ["Geometry", "known_unit", "of_eu", "scaling_of", "to_mm3"]

_SPELT = {
    "°C": "degC", "°F": "degF", "C": "degC", "K": "kelvin", "cm3": "cm**3", "cm³": "cm**3", "cm^3": "cm**3",
    "ccm": "cm**3", "mm3": "mm**3", "mm³": "mm**3", "mm^3": "mm**3", "N/mm²": "MPa", "N/mm2": "MPa", "sec": "s",
    "in": "inch",
}  # fmt: skip
"""Units as presses show them, and what the units library calls them."""

_OF_CODE = {
    "MMT": "mm", "CMT": "cm", "MTR": "m", "INH": "inch", "BAR": "bar", "MPA": "MPa", "KPA": "kPa", "PAL": "Pa",
    "PS": "psi", "SEC": "s", "C26": "ms", "MIN": "minute", "CEL": "degC", "FAH": "degF", "KEL": "kelvin",
    "B47": "kN", "NEW": "N", "GRM": "g", "MGM": "mg", "KGM": "kg", "CMQ": "cm**3", "MMQ": "mm**3", "INQ": "inch**3",
}  # fmt: skip
"""Units by the common code of UNECE recommendation 20, which the UnitId of EUInformation holds letter by letter
(OPC UA part 8, 5.6.4.3)."""


@dataclass(frozen=True, slots=True)
class Geometry:
    """What turns a volume into a length, and a pressure of oil into one of melt; None where nobody told."""

    screw_mm: float | None = None
    ratio: float | None = None

    @property
    def area_mm2(self) -> float | None:
        """The screw's area."""
        return None if self.screw_mm is None else pi / 4.0 * self.screw_mm**2


def of_eu(unit_id: int, shown: str) -> str:
    """Return the unit that EUInformation names: by its code where that is known, else as it is shown.

    Examples
    --------
    >>> of_eu(5066068, "Millimeter"), of_eu(-1, "cm³"), of_eu(0, "")
    ('mm', 'cm**3', '')
    """
    code = "".join(chr(unit_id >> shift & 0xFF) for shift in (16, 8, 0) if unit_id >> shift & 0xFF)
    return _OF_CODE.get(code) or known_unit(shown)


def known_unit(shown: str) -> str:
    """Return a unit as the units library spells it."""
    return _SPELT.get(shown.strip(), shown.strip())


def to_mm3(unit: str) -> Callable[[float], float] | None:
    """Return what turns a volume in `unit` into cubic millimetres; None where it is no unit of a volume."""
    if unit in ("cm**3", "mm**3"):
        factor = 1000.0 if unit == "cm**3" else 1.0
        return lambda value: value * factor
    try:
        return converter(unit, "mm**3")
    except UsageError:
        return None


def scaling_of(
    channel: Channel, name: str, unit: str, scale: Decimal, offset: Decimal, geometry: Geometry
) -> Scaling | str:
    """Return how a number of the field `name` in `unit` becomes one of the channel, or why it cannot.

    Examples
    --------
    >>> from shotlog.channels import CHANNELS
    >>> as_length = scaling_of(CHANNELS["cushion"], "CushionVolume", "cm3", Decimal(1), Decimal(0), Geometry(18.0))
    >>> round(as_length.value(1.272), 3)
    4.999
    >>> scaling_of(CHANNELS["fill_time"], "InjectionTime", "ms", Decimal(1), Decimal(0), Geometry()).value(721)
    0.721
    """
    unit = known_unit(unit)
    if is_hydraulic(name) and channel.unit == "bar" and geometry.ratio is None:
        return f"{name} is the pressure of the oil, and intensification_ratio is not given"
    if channel.unit == "s" and unit == "ms":
        return Scaling(channel, scale * Decimal("0.001"), offset * Decimal("0.001"), "s", _same)
    volume = to_mm3(unit) if channel.unit == "mm" else None
    if volume is not None:
        area = geometry.area_mm2
        if area is None:
            return f"{name} is a volume, and the screw's diameter is not known: give screw_diameter_mm"
        return Scaling(channel, scale, offset, unit, lambda value: volume(value) / area)
    if is_volume(name) and channel.unit == "mm":
        return f"{name} is a volume, and {unit} is no unit of one: give cm3 or mm3"
    try:
        convert = converter(unit, channel.unit)
    except UsageError:
        return f"unit {unit!r} cannot be converted to {channel.unit}"
    ratio = geometry.ratio if is_hydraulic(name) and channel.unit == "bar" else None
    return Scaling(channel, scale, offset, unit, convert if ratio is None else lambda value: convert(value) * ratio)


def _same(value: float) -> float:
    return value
