"""A press on OPC UA in memory: what `opcua_client` would bring of one, without the library and the wire."""

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime, timedelta
from typing import Any

from shotlog.collectors.opcua_said import CycleEvent, FieldOffered, Given, Offer
from shotlog.errors import PressUnreachable

__all__ = ["UNIT", "PlayedPress", "offered"]

UNIT = "InjectionUnitCycleParameters_1/"
NOON = datetime(2026, 3, 2, 12, tzinfo=UTC)


def offered(*fields: tuple[str, str, str]) -> dict[str, FieldOffered]:
    """Return fields by path, of (path, data type, unit)."""
    return {path: FieldOffered(path, kind, unit) for path, kind, unit in fields}


STANDARD = offered(
    ("JobCycleCounter", "UInt64", ""),
    ("MachineCycleCounter", "UInt64", ""),
    ("CycleTime", "Duration", ""),
    ("CycleQuality", "Int32", ""),
    ("ProductionStatus", "Int32", ""),
    (f"{UNIT}InjectionTime", "Duration", ""),
    (f"{UNIT}SpecificPressureMaximum", "Double", "bar"),
    (f"{UNIT}HydraulicPressureMaximum", "Double", "bar"),
    (f"{UNIT}CushionVolume", "Double", "cm**3"),
    (f"{UNIT}CushionStroke", "Double", "mm"),
)


class PlayedPress:
    """A press and the link to it; `variables` are what stands in its address space, by path or by a node's id."""

    def __init__(
        self, fields: Mapping[str, FieldOffered] = STANDARD, variables: Mapping[str, Any] | None = None
    ) -> None:
        self.fields, self.variables = dict(fields), dict(variables or {})
        self.waiting: list[CycleEvent] = []
        self.subscribed: list[str] = []
        self.is_open = self.gone = False
        self.has_clock = True
        self.heard_ago_s = 0.0
        self.n_overflows = self.n_made = 0
        self.remarks: tuple[str, ...] = ()
        self.reads: list[list[str]] = []

    def make(self, values: Mapping[str, Any], *, id: bytes = b"", after_s: float | None = None) -> CycleEvent:
        """Send a cycle; its time goes on by a minute, or is `after_s` from noon."""
        self.n_made += 1
        time = NOON + timedelta(seconds=60.0 * self.n_made if after_s is None else after_s)
        came = {path: one if isinstance(one, Given) else Given(one, "Double") for path, one in values.items()}
        own = time if self.has_clock else None
        event = CycleEvent(id or b"%d" % self.n_made, "PressCycleEventType", own, came)
        self.waiting.append(event)
        return event

    def open(self, wanted: Sequence[str]) -> Offer:
        if self.gone:
            raise PressUnreachable("opc.tcp://played cannot be reached: Connection refused")
        self.is_open = True
        named = {path: Given(value) for path, value in self.variables.items() if path.rpartition("/")[2] in wanted}
        units = {path: Given(value) for path, value in self.variables.items() if path.endswith("/EngineeringUnits")}
        return Offer(("PressCycleEventType (ns=2;i=1)",), self.fields, self.remarks, named | units)

    def subscribe(self, paths: Sequence[str]) -> None:
        self.subscribed = list(paths)

    def turn(self) -> list[CycleEvent]:
        events, self.waiting = self.waiting, []
        if not events and self.gone:
            raise PressUnreachable("opc.tcp://played was lost: the press closed the connection")
        return events

    def overflowed(self) -> int:
        n, self.n_overflows = self.n_overflows, 0
        return n

    def read(self, nodes: Sequence[str]) -> dict[str, Given]:
        self.reads.append(list(nodes))
        if self.gone:
            raise PressUnreachable("opc.tcp://played was lost")
        return {node: Given(self.variables.get(node), "Double") for node in nodes}

    def close(self) -> None:
        self.is_open = False
