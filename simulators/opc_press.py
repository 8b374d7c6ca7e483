"""A press on OPC UA, served by asyncua: one event a finished cycle, nothing to read the values from in between.

It is told each cycle as names and values and knows no story; `opc_face.py` tells it one. An event that nobody
subscribed to, or that did not fit a client's queue, is gone, as on a press.
"""

import asyncio
import contextlib
import gc
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any

from asyncua import Server, ua
from asyncua.common.event_objects import BaseEvent

from simulators.opc_event import CycleEvent, as_variant
from simulators.opc_security import APPLICATION, Gate, guard, new_identity
from simulators.opc_space import METHODS, OpcSpace, build
from simulators.opc_switches import OpcSwitches

__all__ = ["Cycle", "OpcPress"]


@contextlib.contextmanager
def _not_collecting() -> Iterator[None]:
    """Let the garbage be: among six thousand nodes of the standard there is none, and looking takes half the time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


@dataclass(frozen=True, slots=True)
class Cycle:
    """One finished cycle: values by name ("CycleTime", "InjectionUnitCycleParameters_1/CushionStroke"), in the units in
    which they go out. A name that is left out is null; one the press does not declare is not sent.
    """

    values: Mapping[str, Any]
    time: datetime = field(default_factory=lambda: datetime.now(UTC))


class OpcPress:
    """The server and what is on it; `port` 0 takes a free one, which is kept when it is opened again."""

    def __init__(self, switches: OpcSwitches | None = None, port: int = 0, host: str = "127.0.0.1") -> None:
        self.switches, self.host, self.port = switches or OpcSwitches(), host, port
        self.sent = 0
        self._before = dict.fromkeys(("written", *METHODS), 0)
        self._identity: tuple[Any, Any] | None = None
        self._server: Server | None = None
        self._space: OpcSpace | None = None

    @property
    def url(self) -> str:
        """Where it is."""
        return f"opc.tcp://{self.host}:{self.port}"

    @property
    def serving(self) -> bool:
        """Whether it can be reached."""
        return self._server is not None

    async def open(self) -> None:
        """Start serving; who it is stays the same, of what was before it knows nothing."""
        server = Server(iserver=Gate(self.switches))
        server._application_uri = APPLICATION
        with _not_collecting():
            await server.init()
        server.set_server_name("simulated press")
        server.set_endpoint(self.url)
        if self._identity is None and (self.switches.security or self.switches.user):
            self._identity = new_identity()
        guard(server, self.switches, self._identity)
        self._space = await build(server, self.switches)
        await server.start()
        self.port = server.bserver.port
        self._server = server

    async def close(self) -> None:
        """Stop serving; connections are cut."""
        if self._server is None:
            return
        server, self._server = self._server, None
        self._before, self._space = self.done(), None
        with contextlib.suppress(TimeoutError):  # it may wait for clients that are gone without a word
            await asyncio.wait_for(server.stop(), 5.0)

    def done(self) -> dict[str, int]:
        """Return how often somebody wrote, and called each method, since it was first opened."""
        now = self._space.done if self._space is not None else {}
        return {what: before + now.get(what, 0) for what, before in self._before.items()}

    @property
    def subscribed(self) -> int:
        """How often somebody began to listen since it was opened."""
        return self._space.subscribed if self._space is not None else 0

    async def set_point(self, name: str, value: float | str) -> None:
        """Set a set-point, as a person does at the press."""
        if self._server is not None and self._space is not None:
            await self._server.write_attribute_value(
                self._space.set_points[name].nodeid, ua.DataValue(ua.Variant(value))
            )

    async def screw(self, diameter: float) -> None:
        """Put a screw of this diameter, mm, in; nothing where the press does not tell it."""
        if self._server is not None and self._space is not None:
            for node in self._space.screws:
                await self._server.write_attribute_value(node.nodeid, ua.DataValue(ua.Variant(diameter)))

    async def send(self, *cycles: Cycle) -> None:
        """Send cycles that ended, all in one step."""
        for cycle in cycles:
            space = self._space
            if space is None:
                continue
            fields = dict(space.units)
            for name, (path, entry) in space.paths.items():
                fields[path] = as_variant(entry.type, cycle.values.get(name))
            time = cycle.time + timedelta(seconds=self.switches.clock_s)
            event = CycleEvent(space.event_type, space.interface.nodeid, fields, time, "cycle finished")
            self.sent += 1
            await self._trigger(event)

    async def tell(self, message: str) -> None:
        """Send an event that is no cycle."""
        if self._space is None:
            return
        event = BaseEvent(message=message, severity=500)
        event.EventId, event.Time = message.encode(), datetime.now(UTC)
        event.ReceiveTime = event.Time
        event.SourceNode, event.SourceName = self._space.interface.nodeid, "IMM_MES_Interface"
        await self._trigger(event)

    async def _trigger(self, event: BaseEvent) -> None:
        """Hand an event to those who listen at the press itself, and at the Server object, which sees every event."""
        if self._server is None or self._space is None:
            return
        for node in (self._space.interface.nodeid, ua.NodeId(ua.ObjectIds.Server)):
            event.emitting_node = node
            await self._server.iserver.subscription_service.trigger_event(event)
