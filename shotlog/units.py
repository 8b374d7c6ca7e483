"""Conversion of units, by the units library; called only where values enter or leave.

The library takes a third of a second to import, so it is loaded only when a unit differs from the channel's own.
"""

import re
from collections.abc import Callable
from functools import cache
from tokenize import TokenError
from typing import Any

from shotlog.errors import UsageError

__all__ = ["converter"]

_UNIT = re.compile(r"[\w°²³ /*^()-]+")
"""The library reads a unit as a line of Python: what is none stops here, or with one of `_NO_UNIT`."""

_NO_UNIT = (ArithmeticError, AssertionError, AttributeError, LookupError, TokenError, TypeError, ValueError)


@cache
def _registry() -> Any:
    import pint

    return pint.UnitRegistry(autoconvert_offset_to_baseunit=True)


def converter(unit: str, to: str) -> Callable[[float], float]:
    """Return a function that turns a value in `unit` into one in `to`.

    Parameters
    ----------
    unit, to
        Unit names as the units library knows them, e.g. ``psi``, ``bar``, ``inch``, ``mm``, ``degF``, ``degC``.

    Raises
    ------
    UsageError
        A unit is not known, or the two do not measure the same kind of quantity.

    Examples
    --------
    >>> round(converter("MPa", "bar")(50.0), 9)
    500.0
    >>> round(converter("degF", "degC")(212.0), 9)
    100.0
    """
    if unit == to:
        return _same
    import pint

    registry = _registry()
    try:
        if not _UNIT.fullmatch(unit):
            raise ValueError(unit)
        registry.Quantity(1.0, unit).to(to)
    except (pint.PintError, *_NO_UNIT) as error:
        raise UsageError(f"unit {unit!r} cannot be converted to {to}") from error
    return lambda value: float(registry.Quantity(value, unit).to(to).magnitude)


def _same(value: float) -> float:
    return value
