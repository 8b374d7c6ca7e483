"""The log as pandas frames, for notebooks and exports; pandas is loaded only here and in `columns`."""

from collections.abc import Iterable, Mapping
from typing import Any

import pandas as pd
from sqlalchemy import Boolean, Column, Connection, Float, Integer, Table, select

from shotlog import recording
from shotlog.channels import CHANNELS
from shotlog.records import LoggedShot
from shotlog.store.log import schema
from shotlog.store.log.columns import COUNT, NUMBER, TEXT, TIME, WHOLE, YES_NO, column, frame_of
from shotlog.store.log.judgements import in_force
from shotlog.store.log.timeline import Timeline
from shotlog.wording.parts import why_out

__all__ = ["counted", "inserts", "set_points", "shots", "signals", "verdicts"]


def shots(logged: Iterable[LoggedShot]) -> pd.DataFrame:
    """Return one row a shot in the recording's columns; channels nobody measured are left out."""
    rows = [recording.row(shot) for shot in logged]
    frame = pd.DataFrame(rows, columns=[*recording.FIXED_COLUMNS, *recording.OPTIONAL_COLUMNS, *CHANNELS])
    optional = [name for name in recording.OPTIONAL_COLUMNS if not frame[name].astype(bool).any()]
    unused = [name for name in CHANNELS if frame[name].isna().all()]
    frame = frame.drop(columns=[*optional, *unused])
    frame["time"] = pd.to_datetime(frame["time"], format="ISO8601", utc=True)
    frame["shot"] = column(frame["shot"], COUNT)
    measured = [name for name in frame.columns if name in CHANNELS]
    for name in measured:
        frame[name] = column(frame[name], NUMBER)
    frame.attrs["units"] = {name: CHANNELS[name].unit for name in measured}
    return frame


def counted(connection: Connection) -> pd.DataFrame:
    """Return the press, the shot, the count that the press showed and the trial of each shot."""
    query = (
        select(schema.presses.c.name, schema.shots.c.shot, schema.shots.c.counter, schema.trials.c.name)
        .select_from(schema.shots.join(schema.presses).outerjoin(schema.trials))
        .order_by(schema.shots.c.press_id, schema.shots.c.shot)
    )
    rows = (dict(zip(_COUNTED, row, strict=True)) for row in connection.execute(query))
    return frame_of(rows, _COUNTED)


_COUNTED = {"press": TEXT, "shot": COUNT, "counter": COUNT, "trial": TEXT}


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
