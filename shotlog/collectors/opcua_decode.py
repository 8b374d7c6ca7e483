"""Values of the library as plain data. Pure.

A field whose value cannot be given holds a status code in its place, or nothing (OPC UA part 4, 7.22.3).
"""

from datetime import UTC, datetime

from asyncua import ua

from shotlog.collectors.opcua_said import Given
from shotlog.collectors.opcua_units import of_eu

__all__ = ["came_in", "came_of", "moment_in", "status_name"]


def came_of(value: ua.DataValue) -> Given:
    """Return what was read, with its status where it is not good."""
    inside = came_in(value.Value)
    code = value.StatusCode
    if code is not None and not code.is_good():
        return Given(inside.value, inside.kind, status_name(code))
    return inside


def came_in(variant: ua.Variant | None) -> Given:
    """Return one value of an event."""
    if variant is None or variant.Value is None:
        return Given(None)
    kind, value = variant.VariantType.name, variant.Value
    if isinstance(value, ua.DataValue):
        return came_of(value)
    if isinstance(value, ua.StatusCode):
        return Given(None, kind, "" if value.is_good() else status_name(value))
    return Given(_plain(value), kind)


def _plain(value: object) -> object:
    if isinstance(value, bool | str):
        return value
    if isinstance(value, int):
        return int(value)
    if isinstance(value, float):
        return float(value)
    if isinstance(value, list):
        return [_plain(one) for one in value[:100]]
    if isinstance(value, bytes):
        return value.hex()
    if isinstance(value, datetime):
        return value.isoformat()
    if isinstance(value, ua.LocalizedText):
        return value.Text or ""
    if isinstance(value, ua.QualifiedName):
        return value.Name
    if isinstance(value, ua.NodeId):
        return value.to_string()
    if isinstance(value, ua.EUInformation):
        return of_eu(int(value.UnitId), str(value.DisplayName.Text or ""))
    return repr(value)[:500]


def status_name(code: ua.StatusCode) -> str:
    """Return the name of a status code, or its number where it has none."""
    bare = int(code.value) & 0xFFFF0000  # the lower half holds flags of how a value came
    name = str(ua.StatusCode(ua.UInt32(bare)).name)
    return f"{name} 0x{bare:08X}" if name in ("Bad", "Uncertain", "Good") and bare & 0x3FFF0000 else name


def moment_in(variant: ua.Variant | None) -> datetime | None:
    """Return a time, in UTC; None where there is none that a calendar holds."""
    value = None if variant is None else variant.Value
    if not isinstance(value, datetime) or not 1971 < value.year < 9000:
        return None
    value = value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)
    return datetime.fromtimestamp(value.timestamp(), UTC)
