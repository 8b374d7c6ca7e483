"""The screw's diameter as the press tells it, for volumes that become lengths. Pure but for the reading.

`ScrewDiameter` is optional in OPC 40077, and a variable of the injection unit. It is read again with each shot where
it is used: a press is given another screw while nobody watches, and its volumes go on.
"""

import re
from collections.abc import Mapping
from math import isfinite

from shotlog.collectors.opcua_said import Given
from shotlog.collectors.opcua_units import known_unit
from shotlog.errors import UsageError
from shotlog.units import converter

__all__ = ["SCREW", "diameter_in", "screw_path"]

SCREW = "ScrewDiameter"
_LEAST, _MOST = 5.0, 200.0
"""In mm: what is outside is none of a press of 6 to 50 t, and mostly a variable that nobody filled."""


def screw_path(variables: Mapping[str, Given], unit: int) -> str:
    """Return where the screw of an injection unit is told; empty where it is not, or where several may be it.

    Examples
    --------
    >>> both = {"Press/Units/Unit_1/ScrewDiameter": Given(18.0), "Press/Units/Unit_2/ScrewDiameter": Given(22.0)}
    >>> screw_path(both, 2)
    'Press/Units/Unit_2/ScrewDiameter'
    """
    paths = [path for path in variables if path.rpartition("/")[2] == SCREW]
    if len(paths) == 1:
        return paths[0]
    own = [path for path in paths if re.search(rf"_0*{unit}/", f"{path}/")]
    return own[0] if len(own) == 1 else ""


def diameter_in(came: Given | None, unit: str) -> float | None:
    """Return a diameter in mm; None where what came is none that a screw has."""
    if came is None or came.status or isinstance(came.value, bool) or not isinstance(came.value, int | float):
        return None
    try:
        value = converter(known_unit(unit) or "mm", "mm")(float(came.value))
    except UsageError:
        return None
    return value if isfinite(value) and _LEAST <= value <= _MOST else None
