"""One finished cycle as an OPC UA event (asyncua).

The library finds a field by its names alone. A press goes by the whole path, each step with its namespace, and gives
null for what it does not have; so does this event.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any
from uuid import uuid4

from asyncua import ua
from asyncua.common.event_objects import BaseEvent

__all__ = ["BadField", "CycleEvent", "Path", "as_variant"]

Path = tuple[tuple[int, str], ...]
"""Steps of namespace index and name, from the event down to a field."""


@dataclass(frozen=True, slots=True)
class BadField:
    """A field that the press could not fill: its status instead of a value, by the name of the standard."""

    status: str = "BadSensorFailure"


def as_variant(type_name: str, value: Any) -> ua.Variant:
    """Return a value as the press sends it in a field of this built-in type.

    None is null; a `BadField` its status code; text, lists and truth values go out as what they are, whatever the
    field is declared to be.
    """
    if value is None:
        return ua.Variant(None)
    if isinstance(value, BadField):
        return ua.Variant(ua.StatusCode(getattr(ua.StatusCodes, value.status)), ua.VariantType.StatusCode)
    if isinstance(value, bool):
        return ua.Variant(value, ua.VariantType.Boolean)
    if isinstance(value, str):
        return ua.Variant(value, ua.VariantType.String)
    if isinstance(value, list):
        return ua.Variant(value, ua.VariantType.Double)
    if type_name == "Double" or isinstance(value, float):
        return ua.Variant(float(value), ua.VariantType.Double)
    return ua.Variant(value, ua.VariantType[type_name] if value >= 0 else ua.VariantType.Int64)


class CycleEvent(BaseEvent):  # type: ignore[misc]  # the library is not followed
    """An event of type `kind`; `fields` beside those that every event has (Time, Message, ...)."""

    def __init__(
        self, kind: ua.NodeId, source: ua.NodeId, fields: Mapping[Path, ua.Variant], time: datetime, message: str
    ) -> None:
        super().__init__(message=message, severity=1)
        self.EventType = kind
        self.SourceNode, self.SourceName = source, "IMM_MES_Interface"
        self.EventId = uuid4().hex.encode()
        self.Time, self.ReceiveTime = time, datetime.now(UTC)
        own = vars(self)
        base = ("EventId", "EventType", "SourceNode", "SourceName", "Time", "ReceiveTime", "Message", "Severity")
        self._paths = {((0, name),): ua.Variant(own[name], self.data_types[name]) for name in base} | dict(fields)

    def to_event_fields(self, select_clauses: list[ua.SimpleAttributeOperand]) -> list[ua.Variant]:
        """Return the fields a client asked for, in its order; null for each that the press does not have."""
        out = []
        for clause in select_clauses:
            path = tuple((step.NamespaceIndex, step.Name) for step in clause.BrowsePath)
            wanted = clause.AttributeId == ua.AttributeIds.Value
            out.append(self._paths.get(path, ua.Variant(None)) if wanted else ua.Variant(None))
        return out
