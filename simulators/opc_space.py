"""What a client finds when it browses a press on OPC UA: the types, the press itself, its set-points, its methods.

Only names and ids stand in for the standards' nodesets. Set-points can be written and methods called, as on a press;
what comes of it is counted.
"""

from collections import Counter
from dataclasses import dataclass, field
from typing import Any

from asyncua import Node, Server, ua
from asyncua.common.callback import CallbackType

from simulators.opc_event import Path
from simulators.opc_names import (
    CYCLE_EVENT,
    DEVICES,
    GENERAL,
    IMM2MES,
    INTERFACE,
    MAKER,
    SET_POINTS,
    OpcField,
    mould_object,
    top_fields,
    unit_fields,
    unit_object,
)
from simulators.opc_switches import OpcSwitches, sent_unit

__all__ = ["METHODS", "OpcSpace", "build"]

METHODS = ("StopAtCycleEnd", "FinishJob")
"""What would stop the press."""

_UN_CEFACT = {
    "mm": "MMT",
    "cm3": "CMQ",
    "mm3": "MMQ",
    "bar": "BAR",
    "MPa": "MPA",
    "s": "SEC",
    "kN": "B47",
    "mm/s": "C16",
}
_SHOWN = {"cm3": "cm\u00b3", "mm3": "mm\u00b3"}


@dataclass(slots=True)
class OpcSpace:
    """What was built. `paths` gives each field of the event, by its names joined with "/", its path and how it goes
    out; `units` what EngineeringUnits the event can tell; `screws`
    are the ScrewDiameter of each unit, where it is told; `done` counts what a client did to the press,
    `subscribed` what it began to listen to.
    """

    event_type: ua.NodeId
    interface: Node
    paths: dict[str, tuple[Path, OpcField]]
    units: dict[Path, ua.Variant]
    set_points: dict[str, Node]
    screws: list[Node]
    done: Counter[str] = field(default_factory=Counter)
    subscribed: int = 0


def engineering_unit(unit: str) -> ua.EUInformation:
    """Return a unit as the standard tells it: UN/CEFACT code as a number, and as a person reads it."""
    number = 0
    for letter in _UN_CEFACT[unit].encode("ascii"):
        number = number << 8 | letter
    shown = ua.LocalizedText(_SHOWN.get(unit, unit))
    uri = "http://www.opcfoundation.org/UA/units/un/cefact"
    return ua.EUInformation(NamespaceUri=uri, UnitId=number, DisplayName=shown, Description=shown)


async def build(server: Server, switches: OpcSwitches) -> OpcSpace:
    """Fill the address space of a server that was initialised."""
    index = {uri: await server.register_namespace(uri) for uri in (DEVICES, MAKER, IMM2MES, GENERAL)}
    general, imm, maker = index[GENERAL], index[IMM2MES], index[MAKER]
    base = server.get_node(ua.NodeId(ua.ObjectIds.BaseEventType))
    standard = await base.add_object_type(
        ua.NodeId(CYCLE_EVENT, general), ua.QualifiedName("CycleParametersEventType", general)
    )
    await standard.write_attribute(ua.AttributeIds.IsAbstract, ua.DataValue(ua.Variant(True)))
    own = standard
    for step in ("SeriesCycleEventType", "PressCycleEventType")[0 if switches.deep else 1 :]:
        own = await own.add_object_type(maker, step)
    objects = server.nodes.objects
    kind = await server.nodes.base_object_type.add_object_type(
        ua.NodeId(INTERFACE, imm), ua.QualifiedName("IMM_MES_InterfaceType", imm)
    )
    press = await objects.add_object(
        ua.NodeId("press", maker), ua.QualifiedName("IMM_MES_Interface", maker), kind.nodeid, False
    )
    await press.set_event_notifier([ua.EventNotifier.SubscribeToEvents])
    space = OpcSpace(own.nodeid, press, {}, {}, {}, [])
    builder = _Builder(space, switches, index)
    for entry in top_fields(switches.machine_counter):
        await builder.declare(standard, (), entry)
    for number in range(1, switches.injection_units + 1):
        name = unit_object(number)
        part = await own.add_object(maker, name)
        for entry in unit_fields(switches.stroke, switches.specific, switches.hydraulic):
            await builder.declare(part, ((maker, name),), entry)
    name = mould_object(1)
    await builder.declare(
        await own.add_object(maker, name), ((maker, name),), OpcField("Index", IMM2MES, type="UInt32")
    )
    if switches.set_points_in_event:
        for point in SET_POINTS:
            entry = OpcField(point.name, MAKER, point.unit, type="Double" if point.unit else "String")
            await builder.declare(own, (), entry)
    await builder.injection_units(press)
    await builder.set_points(press)
    await builder.methods(press)
    server.subscribe_server_callback(CallbackType.PreWrite, builder.written)
    server.subscribe_server_callback(CallbackType.ItemSubscriptionCreated, builder.subscribed)
    return space


class _Builder:
    def __init__(self, space: OpcSpace, switches: OpcSwitches, index: dict[str, int]) -> None:
        self.space, self.switches, self.index = space, switches, index

    async def declare(self, parent: Node, above: Path, entry: OpcField) -> None:
        """Declare a field of the event below a type or one of its objects."""
        at = self.index[entry.namespace]
        path = (*above, (at, entry.name))
        self.space.paths["/".join(name for _, name in path)] = (path, entry)
        empty: Any = {"String": "", "Double": 0.0}.get(entry.type, 0)
        kind = ua.VariantType[entry.type]
        if not entry.unit:
            await parent.add_property(at, entry.name, empty, kind)
            return
        data_type = ua.NodeId(ua.ObjectIds.Duration) if entry.unit == "ms" else None
        node = await parent.add_variable(at, entry.name, empty, kind, data_type)
        if entry.unit != "ms":
            unit = await self.give_unit(node, entry.unit)
            if unit is not None:
                self.space.units[(*path, (0, "EngineeringUnits"))] = unit

    async def give_unit(self, node: Node, unit: str) -> ua.Variant | None:
        """Give a variable its EngineeringUnits, where this press has any."""
        if not self.switches.units:
            return None
        told = ua.Variant(engineering_unit(sent_unit(self.switches, unit)), ua.VariantType.ExtensionObject)
        kind = ua.NodeId(ua.ObjectIds.EUInformation)
        await node.add_property(
            ua.NodeId(), ua.QualifiedName("EngineeringUnits", 0), told.Value, told.VariantType, kind
        )
        return told

    async def injection_units(self, press: Node) -> None:
        imm, maker = self.index[IMM2MES], self.index[MAKER]
        units = await press.add_object(imm, "InjectionUnits")
        for number in range(1, self.switches.injection_units + 1):
            unit = await units.add_object(maker, f"InjectionUnit_{number}")
            await unit.add_property(imm, "Index", number, ua.VariantType.UInt32)
            if self.switches.screw:
                screw = await unit.add_variable(imm, "ScrewDiameter", 0.0)
                await self.give_unit(screw, "mm")
                self.space.screws.append(screw)

    async def set_points(self, press: Node) -> None:
        maker = self.index[MAKER]
        folder = await press.add_object(maker, "SetPoints")
        for point in SET_POINTS:
            node = await folder.add_variable(maker, point.name, 0.0 if point.unit else "")
            await node.set_writable()
            if point.unit:
                await self.give_unit(node, point.unit)
            self.space.set_points[point.name] = node

    async def methods(self, press: Node) -> None:
        def counting(name: str) -> Any:
            def called(parent: ua.NodeId, *given: ua.Variant) -> list[ua.Variant]:
                self.space.done[name] += 1
                return []

            return called

        for name in METHODS:
            await press.add_method(self.index[MAKER], name, counting(name), [], [])

    async def subscribed(self, event: Any, service: Any) -> None:
        """Count who began to listen."""
        self.space.subscribed += len(event.request_params.ItemsToCreate)

    async def written(self, event: Any, service: Any) -> None:
        """Count what a client wrote; what the press writes itself goes another way."""
        if event.is_external:
            self.space.done["written"] += len(event.request_params.NodesToWrite)
