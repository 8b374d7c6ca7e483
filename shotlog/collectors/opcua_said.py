"""What a press says over OPC UA, as plain data: nothing here knows the library that speaks it.

A path is the BrowseNames from the event type down to a field, joined by ``/``:
``InjectionUnitCycleParameters_1/CushionStroke``.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

__all__ = ["DURATION", "ENGINEERING_UNITS", "CycleEvent", "FieldOffered", "Given", "Offer"]

ENGINEERING_UNITS = "EngineeringUnits"

DURATION = "Duration"
"""The data type of a time in milliseconds (OPC UA part 3, 8.13)."""


@dataclass(frozen=True, slots=True)
class Given:
    """One value as it came: number, text, truth, a list, or None; `kind`: its type; `status`: "" where good."""

    value: object
    kind: str = ""
    status: str = ""

    @property
    def text(self) -> str:
        """What is kept of it in a fault."""
        shown = "null" if self.value is None else str(self.value)
        return f"{shown} ({self.status})" if self.status else shown


@dataclass(frozen=True, slots=True)
class CycleEvent:
    """One event of a finished cycle. `id`: by which it is known again; `time`: the press's own clock, None where it
    says none; `fields`: by path, those that were asked for.
    """

    id: bytes
    type: str
    time: datetime | None
    fields: Mapping[str, Given]

    @property
    def text(self) -> str:
        """All of it in one line: what is kept of one that cannot be taken."""
        said = [f"{path}={came.text}" for path, came in self.fields.items() if came.value is not None or came.status]
        return " ".join([f"Time={self.time.isoformat() if self.time else 'null'}", *said])


@dataclass(frozen=True, slots=True)
class FieldOffered:
    """A field that an event type has: its data type by name, and the unit the press gives for it, empty for none.

    `tells_unit`: each event can bring the unit along, under `unit_path`; a type often declares it and leaves it empty.
    """

    path: str
    kind: str
    unit: str = ""
    tells_unit: bool = False

    @property
    def unit_path(self) -> str:
        """The path of its EngineeringUnits."""
        return f"{self.path}/{ENGINEERING_UNITS}"

    @property
    def name(self) -> str:
        """The last BrowseName."""
        return self.path.rpartition("/")[2]


@dataclass(frozen=True, slots=True)
class Offer:
    """What was found by browsing. `types`: the event types, by name, those of the press first; `remarks`: what else
    there is to say of this connection, a sentence each.
    """

    types: tuple[str, ...]
    fields: Mapping[str, FieldOffered]
    remarks: tuple[str, ...] = ()
    read: Mapping[str, Given] = field(default_factory=dict)
    """Variables that were looked for by name in the address space, and read."""
