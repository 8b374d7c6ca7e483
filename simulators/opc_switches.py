"""How one press on OPC UA differs from the next: the switches of the simulated one, read from a text.

``no-units+two-units+sessions=2`` are switches joined by ``+``; `SWITCHES` says what each does.
"""

from dataclasses import dataclass, replace
from typing import Any

from simulators.faces import FaceError

__all__ = ["SWITCHES", "OpcSwitches", "read_switches", "sent_unit"]

SWITCHES = {
    "no-units": "no EngineeringUnits anywhere",
    "mpa": "pressures in MPa, volumes in mm3",
    "volume-only": "cushion and switchover only as volumes",
    "no-screw": "no ScrewDiameter",
    "hydraulic-only": "pressures only hydraulic; the mandatory specific one is never filled",
    "specific-only": "no hydraulic pressures",
    "job-counter": "no MachineCycleCounter",
    "two-units": "two injection units; the second fills another cavity",
    "deep": "the press's event type is two steps below the one of the standard",
    "set-points": "set-points stand in the event too",
    "sign": "only signed connections (Basic256Sha256)",
    "encrypt": "only signed and encrypted connections (Basic256Sha256)",
    "user": "no one without user name and password (operator, let-me-see)",
    "untrusted": "no certificate of a client is trusted",
    "sessions": "=N: no more than N sessions",
    "queue": "=N: no more than N events kept for a client",
    "clock": "=S: the clock of the press is S seconds off",
}
"""What may be switched, by name."""

_FLAGS: dict[str, dict[str, Any]] = {
    "no-units": {"units": False},
    "mpa": {"mpa": True},
    "volume-only": {"stroke": False},
    "no-screw": {"screw": False},
    "hydraulic-only": {"specific": False},
    "specific-only": {"hydraulic": False},
    "job-counter": {"machine_counter": False},
    "two-units": {"injection_units": 2},
    "deep": {"deep": True},
    "set-points": {"set_points_in_event": True},
    "sign": {"security": "sign"},
    "encrypt": {"security": "encrypt"},
    "user": {"user": "operator", "password": "let-me-see"},
    "untrusted": {"trusting": False},
}


@dataclass(frozen=True, slots=True)
class OpcSwitches:
    """One press; the defaults give all that the trade notes know of. `security` is "", "sign" or "encrypt";
    `sessions` and `queue` 0: no limit.
    """

    units: bool = True
    mpa: bool = False
    stroke: bool = True
    screw: bool = True
    specific: bool = True
    hydraulic: bool = True
    machine_counter: bool = True
    injection_units: int = 1
    deep: bool = False
    set_points_in_event: bool = False
    security: str = ""
    user: str = ""
    password: str = ""
    trusting: bool = True
    sessions: int = 0
    queue: int = 0
    clock_s: float = 0.0


def sent_unit(switches: OpcSwitches, unit: str) -> str:
    """Return the unit in which a field goes out."""
    return {"bar": "MPa", "cm3": "mm3"}.get(unit, unit) if switches.mpa else unit


def read_switches(text: str) -> OpcSwitches:
    """Return the switches of a text; an empty one gives the defaults.

    Raises
    ------
    FaceError
        There is no such switch, or its number is none.
    """
    switches = OpcSwitches()
    for word in filter(None, text.split("+")):
        name, _, number = word.partition("=")
        try:
            if name in _FLAGS and not number:
                switches = replace(switches, **_FLAGS[name])
            elif name == "clock":
                switches = replace(switches, clock_s=float(number))
            elif name == "sessions":
                switches = replace(switches, sessions=int(number))
            elif name == "queue":
                switches = replace(switches, queue=int(number))
            else:
                raise ValueError(word)
        except ValueError as error:
            raise FaceError(f"opcua-40077: given {word!r}, allowed: {', '.join(SWITCHES)}") from error
    return switches
