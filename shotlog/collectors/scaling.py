"""From a number as the press sends it to a value in the channel's unit.

Presses send decimals as whole numbers and a scale. Multiplied in binary, 497 x 0.01 is 4.97 by luck, and 57 x 0.01 is
0.57 and a bit; so the sum is done in decimal and rounded once.
"""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Context, Decimal

from shotlog.channels import CHANNELS, Channel
from shotlog.errors import UsageError
from shotlog.settings import Section
from shotlog.units import converter

__all__ = ["Scaling", "read_factors", "read_scaling"]

# 20 digits of a 64-bit number times 17 of a scale, plus an offset: nothing is rounded before the last step.
_EXACT = Context(prec=120)


@dataclass(frozen=True, slots=True)
class Scaling:
    """Value of `channel` = (raw x `scale` + `offset`) in `unit`, converted to the channel's own unit."""

    channel: Channel
    scale: Decimal
    offset: Decimal
    unit: str
    convert: Callable[[float], float]

    def value(self, raw: int | float | Decimal) -> float:
        """Return the value in the channel's unit, correctly rounded; `raw` is finite.

        Examples
        --------
        >>> from shotlog.channels import CHANNELS
        >>> Scaling(CHANNELS["cushion"], Decimal("0.01"), Decimal(0), "mm", lambda value: value).value(497)
        4.97
        """
        return self.convert(float(_EXACT.add(_EXACT.multiply(Decimal(raw), self.scale), self.offset)))

    def believable(self, value: float) -> bool:
        """Say whether `value`, in the channel's unit, lies in the channel's physical range."""
        return self.channel.low <= value <= self.channel.high

    def __str__(self) -> str:
        factor = "" if self.scale == 1 else f"x {self.scale.normalize():f} "
        shift = "" if self.offset == 0 else f"{'+' if self.offset > 0 else '-'} {abs(self.offset).normalize():f} "
        target = "" if self.unit == self.channel.unit else f", converted to {self.channel.unit}"
        return f"{factor}{shift}{self.unit}{target}"


def read_scaling(parent: Section, name: str, section: Section) -> Scaling:
    """Read ``scale``, ``offset`` and ``unit`` of the channel `name`, whose table is `section` of `parent`.

    Raises
    ------
    SettingsError
        The channel is not known, a number is out of range, or the unit does not measure the channel's quantity.
    """
    if name not in CHANNELS:
        raise parent.unknown(name, CHANNELS)
    channel = CHANNELS[name]
    unit = section.text("unit")
    try:
        convert = converter(unit, channel.unit)
    except UsageError as error:
        raise section.wrong("unit", f"{channel.unit}, or a unit that can be converted to it") from error
    return Scaling(channel, *read_factors(section), unit, convert)


def read_factors(section: Section) -> tuple[Decimal, Decimal]:
    """Read ``scale`` and ``offset`` alone, of a channel whose unit the press tells."""
    scale = section.number("scale", -1e9, 1e9, 1.0, nonzero=True)
    offset = section.number("offset", -1e9, 1e9, 0.0)
    return Decimal(str(scale)), Decimal(str(offset))
