"""Which field of an event each channel is read from, and what came there. Pure.

A field is named in the configuration by its BrowseName alone, or with the object it lies in. A name alone is looked for
in the event itself, then in the injection unit chosen, then in the mould chosen: a press with two injection units has
every value twice (`InjectionUnitCycleParameters_1`, `_2`).
"""

import difflib
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from math import isfinite

from shotlog.channels import Channel
from shotlog.collectors.opcua_names import DURATIONS
from shotlog.collectors.opcua_said import DURATION, CycleEvent, FieldOffered, Given, Offer
from shotlog.collectors.opcua_units import Geometry, known_unit, scaling_of
from shotlog.collectors.scaling import Scaling

__all__ = [
    "ChannelField",
    "FieldDoubt",
    "Parts",
    "Reader",
    "count_in",
    "find",
    "readers_of",
    "unit_of",
    "units_told",
    "whole_in",
    "with_units",
]

_UNIT = "InjectionUnitCycleParameters_"
_MOULD = "MouldCycleParameters_"


@dataclass(frozen=True, slots=True)
class Parts:
    """Which injection unit and which mould values are taken of; None: the first, which is then said."""

    unit: int | None = None
    mould: int | None = None


@dataclass(frozen=True, slots=True)
class ChannelField:
    """A channel as the configuration has it; `unit` is None where the press is to tell."""

    channel: Channel
    name: str
    unit: str | None
    scale: Decimal = Decimal(1)
    offset: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True)
class FieldDoubt:
    """Why a channel has no value: `kind` begins with the channel and tells each way from others, for the first of each
    is kept in full; `raw`: what came."""

    kind: str
    detail: str
    raw: bytes = b""


@dataclass(frozen=True, slots=True)
class Reader:
    """Where a channel is read on this connection: its path, how it is scaled (None: not at all), what to say of it.

    `waits_for_unit`: it is not scaled because its unit may come with the first event.
    """

    field: ChannelField
    path: str
    scaling: Scaling | None
    remark: str = ""
    waits_for_unit: bool = False

    def value(self, came: Given | None) -> float | FieldDoubt:
        """Return the value in the channel's unit, or why there is none."""
        name = self.field.channel.name
        if self.scaling is None:
            return self._doubt("not read", self.remark, came)
        if came is None or (came.value is None and not came.status):
            return self._doubt("not given", f"{name}: the event has no value under {self.path}", came)
        if came.status:
            return self._doubt(came.status, f"{name}: the press gives {self.path} as {came.status}", came)
        if isinstance(came.value, bool) or not isinstance(came.value, int | float):
            what = came.kind if isinstance(came.value, bool | list) else "text"
            how = f"a list of {what}" if isinstance(came.value, list) else what
            return self._doubt(f"no number, {how}", f"{name}: {self.path} is {came.text[:80]!r}, no number", came)
        if not isfinite(came.value):
            return self._doubt("not finite", f"{name} reads {came.value}", came)
        value = self.scaling.value(came.value)
        if self.scaling.believable(value):
            return value
        bounds = self.field.channel
        allowed = f"allowed: {bounds.low:g} to {bounds.high:g} {bounds.unit}"
        return self._doubt("range", f"{name} is {value:g} {bounds.unit}, {allowed}, raw {came.text}", came)

    def _doubt(self, how: str, detail: str, came: Given | None) -> FieldDoubt:
        raw = f"{self.path}={'null' if came is None else came.text}".encode()
        return FieldDoubt(f"{self.field.channel.name} {how}", detail, raw)


def find(name: str, fields: Iterable[str], parts: Parts) -> tuple[str, str]:
    """Return the path that a name of the configuration means, and a remark; an empty path where there is none.

    Examples
    --------
    >>> paths = ["JobCycleCounter", "InjectionUnitCycleParameters_1/CushionStroke",
    ...          "InjectionUnitCycleParameters_2/CushionStroke"]
    >>> find("CushionStroke", paths, Parts(2))
    ('InjectionUnitCycleParameters_2/CushionStroke', '')
    >>> find("CushionStroke", paths, Parts())[1]
    'of injection unit 1: the press has it of 1 and 2 (injection_unit = 1 or 2 settles it)'
    """
    paths = list(fields)
    if name in paths:
        return name, ""
    named = [path for path in paths if path.endswith(f"/{name}")]
    for prefix, chosen, what, key in (
        (_UNIT, parts.unit, "injection unit", "injection_unit"),
        (_MOULD, parts.mould, "mould", "mould"),
    ):
        found = {n: path for path in named if (n := _number(path, prefix)) is not None}
        if not found:
            continue
        if chosen is not None:
            if chosen in found:
                return found[chosen], ""
            return "", f"{what} {chosen} has no {name}; the press has it of {_and(found)}"
        first = min(found)
        if len(found) == 1 and first == 1:
            return found[first], ""
        if len(found) == 1:
            return found[first], f"of {what} {first}, the only one that has it"
        either = " or ".join(str(n) for n in sorted(found))
        said = f"of {what} {first}: the press has it of {_and(found)} ({key} = {either} settles it)"
        return found[first], said
    if len(named) == 1:
        return named[0], ""
    if named:
        return "", f"{name} stands in several places, {', '.join(named[:4])}: give one of these as the name"
    near = difflib.get_close_matches(name, sorted({path.rpartition("/")[2] for path in paths}), n=3)
    return "", f"no event type of this press has a field {name}" + (f"; it has {', '.join(near)}" if near else "")


def _number(path: str, prefix: str) -> int | None:
    found = re.match(rf"{prefix}(\d{{1,3}})/", path)
    return None if found is None else int(found[1])


def _and(found: Mapping[int, str]) -> str:
    return " and ".join(str(n) for n in sorted(found))


def readers_of(fields: Iterable[ChannelField], offer: Offer, parts: Parts, geometry: Geometry) -> list[Reader]:
    """Return where each channel is read, on a press that offers these fields."""
    return [_reader(each, offer, parts, geometry) for each in fields]


def _reader(field: ChannelField, offer: Offer, parts: Parts, geometry: Geometry) -> Reader:
    path, remark = find(field.name, offer.fields, parts)
    if not path:
        return Reader(field, field.name, None, f"{field.channel.name} has no value: {remark}")
    unit, said = unit_of(field, offer.fields[path])
    remarks = [one for one in (remark, said) if one]
    if not unit:
        why = f"{field.channel.name} has no value: the press gives no unit for {path}; give it as unit"
        return Reader(field, path, None, why, offer.fields[path].tells_unit)
    scaling = scaling_of(field.channel, offer.fields[path].name, unit, field.scale, field.offset, geometry)
    if isinstance(scaling, str):
        return Reader(field, path, None, f"{field.channel.name} has no value: {scaling}")
    return Reader(field, path, scaling, "; ".join(remarks))


def unit_of(field: ChannelField, offered: FieldOffered) -> tuple[str, str]:
    """Return in which unit a number comes, and a remark.

    A Duration is in milliseconds by its data type, which is part of OPC UA; of other fields the configuration knows
    best, then the press, and of the times that the standard declares as Duration it is the standard.
    """
    given = None if field.unit is None else known_unit(field.unit)
    if offered.kind == DURATION:
        said = ""
        if given not in (None, "ms", "millisecond"):
            said = (
                f"a Duration is in ms by its type, {field.unit} is not used; give a scale where this press sends other"
            )
        return "ms", said
    if given is not None:
        differs = offered.unit and known_unit(offered.unit) != given
        return given, f"the press calls it {offered.unit}; {field.unit}, as configured, is taken" if differs else ""
    if offered.unit:
        return offered.unit, ""
    return ("ms", "") if offered.name in DURATIONS else ("", "")


def with_units(offer: Offer, paths: Iterable[str]) -> list[str]:
    """Return paths to ask for, with the units that events can bring along."""
    own = list(paths)
    return own + [
        offer.fields[path].unit_path for path in own if path in offer.fields and offer.fields[path].tells_unit
    ]


def units_told(offer: Offer, event: CycleEvent) -> Offer:
    """Return the offer with the units that an event brought along, which go before those of its type; the same where
    they are as before.
    """
    told: dict[str, FieldOffered] = {}
    for path, offered in offer.fields.items():
        came = event.fields.get(offered.unit_path) if offered.tells_unit else None
        unit = "" if came is None or came.status or came.value is None else str(came.value)
        if unit and unit != offered.unit:
            told[path] = replace(offered, unit=unit)
    return replace(offer, fields={**offer.fields, **told}) if told else offer


def whole_in(came: Given | None) -> int | None:
    """Return a whole number that is not negative; None where what came is none."""
    if came is None or came.status or isinstance(came.value, bool):
        return None
    value = came.value
    if isinstance(value, float) and isfinite(value) and value.is_integer():
        value = int(value)
    return value if isinstance(value, int) and value >= 0 else None


def count_in(came: Given | None) -> int | None:
    """Return the count that a shot counter shows; None where it shows none that a log could hold."""
    count = whole_in(came)
    return count if count is not None and count < 2**62 else None
