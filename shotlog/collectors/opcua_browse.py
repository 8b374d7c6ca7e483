"""Finding out what events a press sends: its types, their fields, data types and units. It browses and reads.

A subscription to the base type alone brings events without the values of the injection unit, because each press derives
a type of its own, in a namespace of its own, and adds them there. So the subtypes come first.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from asyncua import ua
from asyncua.client.ua_session import UaSession

from shotlog.collectors.opcua_decode import came_of
from shotlog.collectors.opcua_names import CYCLE_EVENT_ID, CYCLE_EVENT_NAME, GENERAL_TYPES
from shotlog.collectors.opcua_said import ENGINEERING_UNITS, FieldOffered, Given
from shotlog.collectors.opcua_units import of_eu
from shotlog.errors import PressRefused

__all__ = ["EventType", "Found", "cycle_event_types", "fields_of", "variables_named"]

_AT_ONCE = 25
"""Nodes in one request: small servers take few."""
_MOST_TYPES = 500
_MOST_FIELDS = 3000
_MOST_NODES = 5000
_DEEPEST = 8
_ALL = 63
_BASE = ua.NodeId(ua.ObjectIds.BaseEventType)


@dataclass(frozen=True, slots=True)
class EventType:
    """An event type of the press."""

    node: ua.NodeId
    name: str


@dataclass(slots=True)
class Found:
    """The fields of event types: as they are offered, and by which names each is asked for."""

    fields: dict[str, FieldOffered] = field(default_factory=dict)
    names: dict[str, list[ua.QualifiedName]] = field(default_factory=dict)


async def cycle_event_types(session: UaSession, url: str) -> list[EventType]:
    """Return the type of cycle events and all that are derived from it, the derived ones first.

    Raises
    ------
    PressRefused
        The server has no such type.
    """
    array = ua.NodeId(ua.ObjectIds.Server_NamespaceArray)
    (namespaces,) = await session.read_attributes([array], ua.AttributeIds.Value)
    known = list(came_texts(namespaces))
    base: EventType | None = None
    if GENERAL_TYPES in known:
        node = ua.NodeId(CYCLE_EVENT_ID, known.index(GENERAL_TYPES))
        (shown,) = await session.read_attributes([node], ua.AttributeIds.BrowseName)
        name = shown.Value.Value if shown.Value is not None else None
        if isinstance(name, ua.QualifiedName) and name.Name == CYCLE_EVENT_NAME:
            base = EventType(node, CYCLE_EVENT_NAME)
    if base is None:
        below = await _subtypes(session, _BASE)
        base = next((one for one in below if one.name == CYCLE_EVENT_NAME), None)
    if base is None:
        raise PressRefused(
            f"{url} has no {CYCLE_EVENT_NAME}: is it the press's server, and is EUROMAP 77 (OPC 40077) switched on?"
        )
    return [*await _subtypes(session, base.node), base]


def came_texts(value: ua.DataValue) -> list[str]:
    """Return a list of texts as it was read; none where it is something else."""
    shown = value.Value.Value if value.Value is not None else None
    return [str(each) for each in shown] if isinstance(shown, list) else []


async def _subtypes(session: UaSession, root: ua.NodeId) -> list[EventType]:
    found: dict[ua.NodeId, EventType] = {}
    level = [root]
    while level and len(found) < _MOST_TYPES:
        below = await _browse(session, level, ua.ObjectIds.HasSubtype)
        level = []
        for ref in (ref for refs in below for ref in refs):
            node = _local(ref.NodeId)
            if node not in found and node != root:
                found[node] = EventType(node, str(ref.BrowseName.Name))
                level.append(node)
    return list(found.values())


async def fields_of(session: UaSession, types: Sequence[EventType]) -> Found:
    """Return the fields of these types and of those they are derived from, the event's own (Time, EventId) left out."""
    nodes = [one.node for one in types]
    nodes += [node for node in await _above(session, types[-1].node) if node not in nodes]
    found = Found()
    variables: dict[str, ua.NodeId] = {}
    level: list[tuple[ua.NodeId, list[ua.QualifiedName]]] = [(node, []) for node in nodes]
    for _ in range(_DEEPEST):
        below = await _browse(session, [node for node, _ in level], ua.ObjectIds.Aggregates)
        following: list[tuple[ua.NodeId, list[ua.QualifiedName]]] = []
        for (_, names), refs in zip(level, below, strict=True):
            for ref in refs:
                if ref.NodeClass not in (ua.NodeClass.Variable, ua.NodeClass.Object) or "<" in str(ref.BrowseName.Name):
                    continue  # a placeholder stands for what a press may add, and is none of it
                own = [*names, ref.BrowseName]
                path = "/".join(str(name.Name) for name in own)
                if path in found.names or len(found.names) >= _MOST_FIELDS:
                    continue
                found.names[path] = own
                if ref.NodeClass == ua.NodeClass.Variable:
                    variables[path] = _local(ref.NodeId)
                following.append((_local(ref.NodeId), own))
                if ref.NodeClass == ua.NodeClass.Object and not ref.TypeDefinition.is_null():
                    following.append((_local(ref.TypeDefinition), own))
        level = following
        if not level:
            break
    await _describe(session, found, variables)
    return found


async def _describe(session: UaSession, found: Found, variables: dict[str, ua.NodeId]) -> None:
    """Add data types and units to the fields."""
    own = {path: node for path, node in variables.items() if not path.endswith(f"/{ENGINEERING_UNITS}")}
    kinds = await _read(session, list(own.values()), ua.AttributeIds.DataType)
    holders = [path for path in variables if path.endswith(f"/{ENGINEERING_UNITS}")]
    values = await _read(session, [variables[path] for path in holders], ua.AttributeIds.Value)
    units = {
        path.removesuffix(f"/{ENGINEERING_UNITS}"): _unit(value) for path, value in zip(holders, values, strict=True)
    }
    for path, value in zip(own, kinds, strict=True):
        found.fields[path] = FieldOffered(path, _kind(value), units.get(path, ""), path in units)


def _unit(value: ua.DataValue) -> str:
    shown = value.Value.Value if value.Value is not None else None
    if not isinstance(shown, ua.EUInformation):
        return ""
    return of_eu(int(shown.UnitId), str(shown.DisplayName.Text or ""))


def _kind(value: ua.DataValue) -> str:
    node = value.Value.Value if value.Value is not None else None
    if not isinstance(node, ua.NodeId):
        return ""
    if node.NamespaceIndex == 0 and isinstance(node.Identifier, int):
        return str(ua.ObjectIdNames.get(node.Identifier, node.to_string()))
    return str(node.to_string())


async def _above(session: UaSession, node: ua.NodeId) -> list[ua.NodeId]:
    """Return the types a type is derived from, short of the base of all events."""
    above: list[ua.NodeId] = []
    while len(above) < _DEEPEST:
        (refs,) = await _browse(session, [node], ua.ObjectIds.HasSubtype, ua.BrowseDirection.Inverse)
        if not refs or _local(refs[0].NodeId) == _BASE:
            return above
        node = _local(refs[0].NodeId)
        above.append(node)
    return above


async def variables_named(session: UaSession, wanted: Iterable[str]) -> dict[str, ua.NodeId]:
    """Return variables below Objects by their path whose last BrowseName is one of `wanted`; the Server object is left
    out, and the units of those found are among them. Ends after some thousand nodes.
    """
    names = set(wanted)
    found: dict[str, ua.NodeId] = {}
    root = ua.NodeId(ua.ObjectIds.ObjectsFolder)
    seen = {root, ua.NodeId(ua.ObjectIds.Server)}
    level: list[tuple[ua.NodeId, str]] = [(root, "")]
    for _ in range(_DEEPEST if names else 0):
        below = await _browse(session, [node for node, _ in level], ua.ObjectIds.HierarchicalReferences)
        following: list[tuple[ua.NodeId, str]] = []
        for (_, above), refs in zip(level, below, strict=True):
            for ref in refs:
                node, name = _local(ref.NodeId), str(ref.BrowseName.Name)
                if node in seen or ref.NodeClass not in (ua.NodeClass.Variable, ua.NodeClass.Object):
                    continue
                seen.add(node)
                path = f"{above}/{name}" if above else name
                if ref.NodeClass == ua.NodeClass.Variable and (
                    name in names or (name == ENGINEERING_UNITS and above in found)
                ):
                    found[path] = node
                following.append((node, path))
        level = following
        if not level or len(seen) > _MOST_NODES:
            break
    return found


async def read_values(session: UaSession, nodes: Sequence[ua.NodeId]) -> list[Given]:
    """Return what variables hold now."""
    return [came_of(value) for value in await _read(session, nodes, ua.AttributeIds.Value)]


async def _read(session: UaSession, nodes: Sequence[ua.NodeId], attribute: ua.AttributeIds) -> list[ua.DataValue]:
    values: list[ua.DataValue] = []
    for at in range(0, len(nodes), _AT_ONCE):
        values += await session.read_attributes(list(nodes[at : at + _AT_ONCE]), attribute)
    return values


async def _browse(
    session: UaSession,
    nodes: Sequence[ua.NodeId],
    reference: int,
    direction: ua.BrowseDirection = ua.BrowseDirection.Forward,
) -> list[list[ua.ReferenceDescription]]:
    """Return the references of each node; none for one that is not there."""
    found: list[list[ua.ReferenceDescription]] = []
    for at in range(0, len(nodes), _AT_ONCE):
        asked = ua.BrowseParameters()
        asked.NodesToBrowse = [
            ua.BrowseDescription(node, direction, ua.NodeId(reference), True, 0, _ALL)
            for node in nodes[at : at + _AT_ONCE]
        ]
        for result in await session.browse(asked):
            refs = list(result.References or [])
            while result.ContinuationPoint:
                more = ua.BrowseNextParameters(False, [result.ContinuationPoint])
                (result,) = await session.browse_next(more)
                refs += result.References or []
            found.append(refs)
    return found


def _local(node: ua.NodeId) -> ua.NodeId:
    """Return a plain node id of one that may name its server."""
    return ua.NodeId(node.Identifier, node.NamespaceIndex)
