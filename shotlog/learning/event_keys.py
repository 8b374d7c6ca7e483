"""Fields of cycle events as channels, and what is proposed of them for a configuration. Pure.

The standard names the fields, so their names say what they are; what a person read off the press's screen says whether
this press means them so, and of which of two injection units.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from shotlog.channels import CHANNELS
from shotlog.collectors.opcua_fields import ChannelField, FieldDoubt, Parts, Reader, count_in, readers_of
from shotlog.collectors.opcua_names import COUNTERS, NAMES
from shotlog.collectors.opcua_said import CycleEvent, Offer
from shotlog.collectors.opcua_units import Geometry
from shotlog.learning.config_text import ONLY_POSSIBLE, MapText, toml_value
from shotlog.learning.figures_said import unsettled_said
from shotlog.learning.learnt import Learnt, Row
from shotlog.learning.screen import Figure, ScreenShot

__all__ = ["Watched", "counter_of", "learnt_events"]

_FEWEST = 3
_UNITS = re.compile(r"InjectionUnitCycleParameters_(\d+)/")


@dataclass(frozen=True, slots=True)
class Watched:
    """What was seen of a press: what it offers, its events in order, and what turns volumes and pressures."""

    offer: Offer
    events: Sequence[CycleEvent]
    geometry: Geometry
    unit: int | None = None


@dataclass(frozen=True, slots=True)
class _Found:
    """A field for a channel: how it is read, its values shot by shot, and which figures it shows and does not."""

    reader: Reader
    values: tuple[float | None, ...]
    n_fits: int
    misses: tuple[tuple[int, Figure], ...]

    @property
    def n_values(self) -> int:
        return sum(value is not None for value in self.values)

    @property
    def moves(self) -> bool:
        return len({value for value in self.values if value is not None}) > 1

    @property
    def sure(self) -> str:
        if self.reader.scaling is None or not self.n_values or self.misses:
            return "possible"
        return "settled" if self.n_fits and self.moves else "likely" if self.moves or self.n_fits else "possible"


def counter_of(watched: Watched, seen: Sequence[ScreenShot] = ()) -> tuple[str, list[int]] | None:
    """Return the counter that went up with the events, and its counts; None where none did."""
    shown = {one.shot for one in seen if one.shot is not None}
    best: tuple[int, str, list[int]] | None = None
    for path in dict.fromkeys([*COUNTERS, *(one for one in watched.offer.fields if one.endswith("Counter"))]):
        counts = [count_in(event.fields.get(path)) for event in watched.events]
        whole = [count for count in counts if count is not None]
        steps = [b - a for a, b in pairwise(whole)]
        if len(whole) < len(counts) or not whole or sum(step == 1 for step in steps) < 0.7 * len(steps):
            continue
        agreed = len(shown & set(whole))
        if best is None or agreed > best[0]:
            best = (agreed, path, whole)
    return None if best is None else best[1:]


def learnt_events(watched: Watched, seen: Sequence[ScreenShot], there: Mapping[str, Mapping[str, object]]) -> Learnt:
    """Return what the fields are taken for, as rows, notes, keys and plain data.

    Parameters
    ----------
    there
        The channels that the configuration has already.
    """
    counter = counter_of(watched, seen)
    if counter is None or len(watched.events) < _FEWEST:
        n = len(watched.events)
        said = f"{n} cycle events came, and no field counts them" if n >= _FEWEST else f"{n} cycle events came: too few"
        return Learnt([], [said], None, {"shot_counter": None, "channels": {}, "events": n})
    path, counts = counter
    units = sorted({int(of[1]) for one in watched.offer.fields if (of := _UNITS.match(one))})
    unit = watched.unit if watched.unit is not None else _unit_of(watched, units, seen, counts)
    found = _fields(watched, Parts(unit), seen, counts)
    usable = {name: one for name, one in found.items() if one.sure != "possible"}
    numbers = {one.shot for one in seen if one.shot is not None}
    sure = "settled" if numbers & set(counts) else "likely"
    why = f"went up by one from event to event, {counts[0]} to {counts[-1]}"
    why += "; it begins again with each job" if path == COUNTERS[1] else ""
    rows = [Row("shot_counter", f"field {path}", "whole", "", " ".join(map(str, counts[-3:])), sure, why)]
    rows += [_row(one) for one in found.values()]
    keys: dict[str, object] = {"shot_counter": {"name": path}}
    if len(units) > 1 and unit is not None:
        keys["injection_unit"] = unit
    channels = {name: _keys(one.reader) for name, one in usable.items()}
    gone = [name for name, own in there.items() if name not in channels and "name" not in own]
    remarks = [
        f"{name} = {toml_value(_keys(one.reader))}  {ONLY_POSSIBLE}"
        for name, one in found.items()
        if name not in usable and name not in there
    ]
    made = MapText(keys, channels, remarks, gone) if usable else None
    notes = [*_notes(units, unit, watched), *_figures_said(found, counts, numbers)]
    notes += unsettled_said([one.sure for one in found.values()], made is not None)
    document: dict[str, object] = {
        "shot_counter": {"name": path, "sure": sure},
        "events": len(watched.events),
        "types": list(watched.offer.types),
        "shots": counts,
        "injection_unit": unit,
        "channels": {
            name: _keys(one.reader) | {"sure": one.sure, "path": one.reader.path} for name, one in found.items()
        },
    }
    return Learnt(rows, notes, made, document)


def _unit_of(watched: Watched, units: Sequence[int], seen: Sequence[ScreenShot], counts: Sequence[int]) -> int | None:
    """Return the injection unit whose fields show most of what was read off the screen; the first where none does."""
    if len(units) < 2:
        return None
    fits = {unit: sum(one.n_fits for one in _fields(watched, Parts(unit), seen, counts).values()) for unit in units}
    return max(units, key=lambda unit: (fits[unit], -unit))


def _fields(watched: Watched, parts: Parts, seen: Sequence[ScreenShot], counts: Sequence[int]) -> dict[str, _Found]:
    """Return the best field of each channel that the press has one for."""
    found: dict[str, _Found] = {}
    for name, usual in NAMES.items():
        own = [one for field in usual if (one := _field(watched, parts, name, field, seen, counts)) is not None]
        if own:
            order = ("settled", "likely", "possible")
            found[name] = min(own, key=lambda one: (order.index(one.sure), len(one.misses), -one.n_values))
    return found


def _field(
    watched: Watched, parts: Parts, name: str, field: str, seen: Sequence[ScreenShot], counts: Sequence[int]
) -> _Found | None:
    chosen = ChannelField(CHANNELS[name], field, None)
    (reader,) = readers_of([chosen], watched.offer, parts, watched.geometry)
    if reader.path not in watched.offer.fields:
        return None
    taken = [reader.value(event.fields.get(reader.path)) for event in watched.events]
    values = tuple(None if isinstance(value, FieldDoubt) else value for value in taken)
    fits, misses = 0, []
    for shot, figure in _figures(name, seen, counts):
        value = values[counts.index(shot)]
        if value is not None and figure.fits(value):
            fits += 1
        else:
            misses.append((shot, figure))
    unit = watched.offer.fields[reader.path].unit
    return _Found(replace(reader, field=replace(chosen, unit=unit or None)), values, fits, tuple(misses))


def _figures(name: str, seen: Sequence[ScreenShot], counts: Sequence[int]) -> Iterator[tuple[int, Figure]]:
    for one in seen:
        shot = one.shot if one.counted is None or one.shot is not None else counts[min(one.counted, len(counts) - 1)]
        if name in one.figures and shot is not None and shot in counts:
            yield shot, one.figures[name]


def _keys(reader: Reader) -> dict[str, object]:
    """Return the keys of a channel; a unit that the press gives is left to it."""
    return {"name": reader.field.name}


def _row(found: _Found) -> Row:
    reader = found.reader
    unit = reader.field.channel.unit
    latest = " ".join("-" if value is None else f"{value:.5g}" for value in found.values[-3:])
    said = []
    if reader.scaling is None:
        said.append(reader.remark)
    else:
        said.append("the standard calls it so")
        if found.n_fits:
            said.append(f"shows the {'figure' if found.n_fits == 1 else f'{found.n_fits} figures'} read off the screen")
        if not found.n_values:
            said.append("and no event had a value in it")
        elif not found.moves:
            said.append("it never moved")
        if reader.remark:
            said.append(reader.remark)
    scale = f"to {unit}" if reader.scaling is None else str(reader.scaling)
    return Row(reader.field.channel.name, f"field {reader.path}", "number", scale, latest, found.sure, "; ".join(said))


def _notes(units: Sequence[int], unit: int | None, watched: Watched) -> list[str]:
    notes = [f"event types: {', '.join(watched.offer.types)}", *watched.offer.remarks]
    if len(units) > 1:
        notes.append(f"the press has injection units {' and '.join(map(str, units))}: the values are those of {unit}")
    return notes


def _figures_said(found: Mapping[str, _Found], counts: Sequence[int], numbers: set[int]) -> list[str]:
    notes = []
    for name, one in found.items():
        for shot, figure in one.misses:
            value = one.values[counts.index(shot)]
            showed = "nothing" if value is None else f"{value:.5g} {CHANNELS[name].unit}"
            notes.append(
                f"{name}: {one.reader.path} showed {showed} for shot {shot}, where {figure.typed} was read: check that "
                "figure, the unit, and of which injection unit it is"
            )
    unseen = sorted(number for number in numbers if number not in counts)
    return notes + [f"shot {number} was read off the screen and no event told of it here" for number in unseen]
