"""The log as pandas frames, for notebooks and exports; pandas is loaded only here and in `columns`."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from math import inf
from types import MappingProxyType
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray
from sqlalchemy import Boolean, Column, Connection, Float, Integer, Table, select

from shotlog import recording
from shotlog.channels import CHANNELS
from shotlog.records import EVER, HALVES
from shotlog.store.log import schema
from shotlog.store.log.columns import COUNT, NUMBER, TEXT, TIME, WHOLE, YES_NO, Columns, column, frame_of
from shotlog.store.log.judgements import in_force
from shotlog.store.log.timeline import Timeline
from shotlog.wording.parts import why_out

__all__ = ["COUNTED", "add_made", "inserts", "set_points", "shots", "signals", "verdicts"]


def shots(
    blocks: Iterable[recording.Columns], channels: Sequence[str], also: Columns = MappingProxyType({})
) -> pd.DataFrame:
    """Return one row a shot in the recording's columns and `also` others; channels nobody measured are left out."""
    texts = (*recording.FIXED_COLUMNS, *recording.OPTIONAL_COLUMNS, *also)
    held: dict[str, list[object]] = {name: [] for name in texts}
    values: dict[str, list[NDArray[np.float64]]] = {name: [] for name in channels}
    for block in blocks:
        for name in texts:
            held[name] += block[name]
        for name in channels:
            values[name].append(np.array(block[name], dtype=np.float64))
    for name in recording.OPTIONAL_COLUMNS:
        if not any(held[name]):
            del held[name]
    measured = {name: np.concatenate(parts) for name, parts in values.items() if not all(map(_is_empty, parts))}
    frame = pd.DataFrame({name: pd.Series(held[name], dtype=TEXT) for name in held if name not in also})
    frame["time"] = pd.to_datetime(frame["time"], format="ISO8601", utc=True)
    frame["shot"] = column(held["shot"], COUNT)
    frame = frame.assign(**measured)
    for name, kind in also.items():
        frame[name] = column(held[name], kind)
    frame.attrs["units"] = {name: CHANNELS[name].unit for name in measured}
    return frame


def _is_empty(values: NDArray[np.float64]) -> bool:
    return bool(np.isnan(values).all())


COUNTED: Columns = {"counter": COUNT, "trial": TEXT}
"""What the press showed at each shot, and its trial: columns beside those of a recording."""


def add_made(frame: pd.DataFrame, timelines: Mapping[str, Timeline]) -> None:
    """Add to a frame of shots which were dry, and how many each insert had made then; `timelines`: by press."""
    presses, numbers = frame["press"].to_numpy(), frame["shot"].to_numpy()
    dry, made = np.zeros(len(frame), dtype=bool), {half: np.zeros(len(frame), dtype=np.int64) for half in HALVES}
    for name, timeline in timelines.items():
        rows = np.flatnonzero(presses == name)
        dry[rows] = np.isin(numbers[rows], timeline.dry_shots)
        for half, counts in _made(timeline, numbers[rows]):
            made[half][rows] = counts
    frame["dry"] = dry
    for half, counts in made.items():
        frame[f"{half}_shots"] = pd.arrays.IntegerArray(counts, counts == 0)


def _made(timeline: Timeline, shots: NDArray[np.int64]) -> Iterator[tuple[str, NDArray[np.int64]]]:
    """Yield by half how many shots its insert had made at each shot, earlier stays included; 0 where none was there."""
    so_far: dict[str, int] = {}
    stays: dict[str, list[tuple[int, int, int, bool]]] = {}
    for stay in timeline.stays:
        serial, end = stay.mounting.insert.serial, EVER if stay.end == inf else int(stay.end)
        earlier = so_far.get(serial, 0)
        stays.setdefault(stay.mounting.half, []).append((stay.first, end, earlier, stay.mounting.single_use))
        so_far[serial] = earlier + (0 if end == EVER else end - stay.first)
    for half, held in stays.items():
        first, past, before, single_use = map(np.array, zip(*held, strict=True))
        at = np.searchsorted(first, shots, side="right") - 1
        count = np.where(single_use[at], 1, before[at] + shots - first[at] + 1)
        yield half, np.where((at >= 0) & (shots < past[at]), count, 0)


def inserts(presses: Iterable[tuple[str, Timeline, tuple[int, int] | None]]) -> pd.DataFrame:
    """Return one row a stay, from the name, timeline and last shot of each press.

    Columns: press, half, serial, design, print_batch, single_use, first, last (its last shot so far while it is
    mounted), shots (that the press counted, gaps included), mounted, reason (a person's, else what took its place).
    """
    rows = []
    for press, timeline, latest in presses:
        for stay in timeline.stays:
            mounted = stay.end == float("inf")
            newest = latest[0] if latest is not None else stay.first - 1
            last = newest if mounted else min(int(stay.end) - 1, newest)
            insert = stay.mounting.insert
            rows.append(
                {
                    "press": press,
                    "half": stay.mounting.half,
                    "serial": insert.serial,
                    "design": insert.design,
                    "print_batch": insert.print_batch,
                    "single_use": stay.mounting.single_use,
                    "first": stay.first,
                    "last": last,
                    "shots": max(0, last - stay.first + 1),
                    "mounted": mounted,
                    "reason": why_out(stay.reason, stay.replaced_by),
                }
            )
    return frame_of(rows, _STAYS, {"shots": "shots"})


_STAYS = {
    **dict.fromkeys(("press", "half", "serial", "design", "print_batch"), TEXT),
    "single_use": YES_NO,
    **dict.fromkeys(("first", "last", "shots"), COUNT),
    "mounted": YES_NO,
    "reason": TEXT,
}


def set_points(connection: Connection, press: str | None = None) -> pd.DataFrame:
    """Return one row where something of a press was set otherwise, or was first read, in shot order; see `Log`."""
    table = schema.set_points
    query = (
        select(schema.presses.c.name.label("press"), table)
        .select_from(table.join(schema.presses))
        .order_by(schema.presses.c.id, table.c.shot, table.c.id)
    )
    if press is not None:
        query = query.where(schema.presses.c.name == press)
    rows = [{**row, "number": _number(row["value"])} for row in connection.execute(query).mappings()]
    return frame_of(rows, _SET_POINTS)


_SET_POINTS = {
    "press": TEXT, "shot": COUNT, "name": TEXT, "value": TEXT, "number": NUMBER, "unit": TEXT, "old": TEXT, "by": TEXT,
    "time": TIME,
}  # fmt: skip


def _number(value: str) -> float | None:
    try:
        return float(value)
    except ValueError:
        return None


def signals(connection: Connection, press: str | None = None) -> pd.DataFrame:
    """Return the signals in force, in shot order.

    Columns: press, shot, chart, channel, rule, value, centre, lower, upper (in the unit of the channel, or without one
    where the chart has a scale of its own).
    """
    units = dict.fromkeys(("value", "centre", "lower", "upper"), "unit of the channel")
    return frame_of(_in_force(connection, schema.signals, press), _columns(schema.signals), units)


def verdicts(connection: Connection, press: str | None = None) -> pd.DataFrame:
    """Return the verdicts in force, one row a shot.

    Columns: those of the verdict CSV, the sentence, and the facts it rests on (JSON).
    """
    units = dict.fromkeys(("shots_on_insert", "left_median", "left_low", "left_high"), "shots")
    return frame_of(_in_force(connection, schema.verdicts, press), _columns(schema.verdicts), units)


def _columns(table: Table) -> dict[str, str]:
    """Return the columns of a table as those of a frame, the press by its name."""
    return {"press": TEXT, **{each.name: _kind(each) for each in _kept(table)}}


def _kept(table: Table) -> list[Column[Any]]:
    return [each for each in table.columns if each.name not in ("id", "judging_id", "press_id")]


def _kind(of: Column[Any]) -> str:
    if isinstance(of.type, Boolean):
        return YES_NO
    if isinstance(of.type, Integer):
        return WHOLE if of.nullable else COUNT
    return NUMBER if isinstance(of.type, Float) else TEXT


def _in_force(connection: Connection, table: Table, press: str | None) -> list[Mapping[str, Any]]:
    query = (
        select(schema.presses.c.name.label("press"), *_kept(table))
        .select_from(table.join(schema.presses))
        .where(in_force(table, table.c.shot))
        .order_by(schema.presses.c.id, table.c.shot, table.c.id)
    )
    if press is not None:
        query = query.where(schema.presses.c.name == press)
    return [dict(row) for row in connection.execute(query).mappings()]
