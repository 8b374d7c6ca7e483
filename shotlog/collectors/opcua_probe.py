"""What a press on OPC UA offers, as rows for commissioning, and the channel map that its fields suggest. Pure."""

import re
from collections.abc import Collection, Iterator, Mapping, Sequence

from shotlog.channels import CHANNELS
from shotlog.collectors.base import Reading
from shotlog.collectors.opcua_fields import ChannelField, FieldDoubt, Parts, Reader, find, unit_of
from shotlog.collectors.opcua_names import COUNTERS, NAMES, is_hydraulic
from shotlog.collectors.opcua_said import CycleEvent, FieldOffered, Given, Offer
from shotlog.collectors.opcua_units import Geometry, known_unit, scaling_of

__all__ = ["probe_rows", "proposed_channels", "proposed_counter", "set_point_key"]

_TEXTS = ("String", "LocalizedText")


def proposed_counter(offer: Offer) -> str:
    """Return the counter that a press should be read by; empty where it has none of the standard."""
    return next((name for name in COUNTERS if find(name, offer.fields, Parts())[0]), "")


def proposed_channels(offer: Offer, parts: Parts, geometry: Geometry) -> Iterator[tuple[str, ChannelField, str, str]]:
    """Yield each channel that the press has a field for: its name, the field, the path, and what is lacking for it."""
    for name, usual in NAMES.items():
        best: tuple[str, ChannelField, str, str] | None = None
        for field_name in usual:
            path, _ = find(field_name, offer.fields, parts)
            if not path:
                continue
            field = ChannelField(CHANNELS[name], field_name, None)
            unit, _ = unit_of(field, offer.fields[path])
            lacking = f"the press gives no unit: give unit = {CHANNELS[name].unit!r} or as its screen shows it"
            if unit:
                scaling = scaling_of(field.channel, field_name, unit, field.scale, field.offset, geometry)
                lacking = scaling if isinstance(scaling, str) else ""
                field = ChannelField(field.channel, field_name, unit)
            if best is None or (best[3] and not lacking):
                best = (name, field, path, lacking)
        if best is not None:
            yield best


def as_key(field: ChannelField, path: str) -> str:
    """Return a channel as a line of the configuration.

    Examples
    --------
    >>> as_key(ChannelField(CHANNELS["cushion"], "CushionStroke", "mm"), "InjectionUnitCycleParameters_1/CushionStroke")
    'cushion = { name = "CushionStroke", unit = "mm" }'
    """
    unit = f', unit = "{field.unit}"' if field.unit else ""
    return f'{field.channel.name} = {{ name = "{field.name}"{unit} }}'


def set_point_key(offered: FieldOffered, path: str) -> str:
    """Return a set-point as a line of the configuration, where a field is one by its name; else empty.

    Examples
    --------
    >>> set_point_key(FieldOffered("InjectionUnit_1/SetHoldPressure", "Double", "bar"), "SetHoldPressure")
    'hold_pressure = { name = "SetHoldPressure" }'
    >>> set_point_key(FieldOffered("Settings/Dose", "Double"), "Dose")
    ''
    """
    found = re.fullmatch(r"Set([A-Z][A-Za-z0-9_]*)", offered.name)
    if found is None:
        return ""
    name = re.sub(r"(?<=[a-z0-9])(?=[A-Z])", "_", found[1]).lower()[:40]
    text = ", text = true" if offered.kind in _TEXTS else ""
    return f'{name} = {{ name = "{path}"{text} }}'


def probe_rows(
    offer: Offer,
    event: CycleEvent | None,
    counter: str,
    readers: Sequence[Reader],
    parts: Parts,
    geometry: Geometry,
    waited_s: float,
    set_paths: Collection[str] = (),
) -> list[Reading]:
    """Return what was found: the event types, the counter, the channels, then every other field with what it may be
    taken for; raw values where an event came. Those of `set_paths` are set-points, which have rows of their own.
    """
    rows = [Reading("event type", name, "", None, "", "") for name in offer.types]
    rows += [Reading("connection", "", "", None, "", remark) for remark in offer.remarks]
    if event is None:
        why = f"none came in {waited_s:g} s: is the press in automatic, and may this user see its events?"
        rows.append(Reading("event", "", "", None, "", why))
    else:
        rows.append(
            Reading("event", event.type, f"Time {event.time.isoformat() if event.time else 'null'}", None, "", "")
        )
    fields: Mapping[str, Given] = {} if event is None else event.fields
    shown = fields.get(counter)
    count = float(shown.value) if shown is not None and isinstance(shown.value, int) else None
    rows.append(
        Reading("shot_counter", counter, shown.text if shown is not None else "", count, "", _kind(offer, counter))
    )
    rows += [_row(reader, offer, fields, event is not None) for reader in readers]
    used = {counter, *(reader.path for reader in readers), *set_paths}
    fitting = {path: (field, lacking) for _, field, path, lacking in proposed_channels(offer, parts, geometry)}
    for path in offer.fields:
        if path in used:
            continue
        came = fields.get(path)
        remark = f"{_kind(offer, path)}; not used"
        if path in fitting and fitting[path][0].channel.name not in {one.field.channel.name for one in readers}:
            field, lacking = fitting[path]
            remark = f"{_kind(offer, path)}; proposed: {as_key(field, path)}{f' ({lacking})' if lacking else ''}"
        elif key := set_point_key(offer.fields[path], _found_by(offer, path, parts)):
            remark = f"{_kind(offer, path)}; proposed under setpoints: {key}"
        value = came.value if came is not None and isinstance(came.value, int | float) else None
        number = None if value is None or isinstance(value, bool) else float(value)
        rows.append(
            Reading("", path, came.text[:200] if came is not None else "", number, offer.fields[path].unit, remark)
        )
    return rows


def _found_by(offer: Offer, path: str, parts: Parts) -> str:
    """Return the shortest name by which a field is found again."""
    name = path.rpartition("/")[2]
    return name if find(name, offer.fields, parts)[0] == path else path


def _row(reader: Reader, offer: Offer, fields: Mapping[str, Given], has_event: bool) -> Reading:
    name, unit = reader.field.channel.name, reader.field.channel.unit
    came = fields.get(reader.path)
    remarks = [_kind(offer, reader.path), reader.remark]
    value: float | None = None
    if has_event:
        taken = reader.value(came)
        if isinstance(taken, FieldDoubt):
            remarks.append("" if taken.detail == reader.remark else taken.detail)
        else:
            value = taken
    if is_hydraulic(reader.path):
        remarks.append("pressure of the oil, times intensification_ratio")
    raw = came.text if came is not None else ""
    return Reading(name, reader.path, raw, value, unit, "; ".join(one for one in remarks if one))


def _kind(offer: Offer, path: str) -> str:
    offered = offer.fields.get(path)
    if offered is None:
        return ""
    unit = known_unit(offered.unit)
    return (offered.kind or "type not told") + (f", {unit}" if unit else "")
