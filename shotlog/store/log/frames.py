"""The log as pandas frames, for notebooks and exports; pandas is loaded only here."""

from typing import TYPE_CHECKING

import pandas as pd
from sqlalchemy import Table, select

from shotlog import recording
from shotlog.channels import CHANNELS
from shotlog.store.log import schema
from shotlog.store.log.judgements import in_force
from shotlog.wording.parts import why_out

if TYPE_CHECKING:
    from shotlog.store.log.log import Log

__all__ = ["inserts", "shots", "signals", "verdicts"]


def shots(log: "Log", press: str | None = None) -> pd.DataFrame:
    """Return one row a shot in the recording's columns; channels nobody measured are left out."""
    names = [press] if press is not None else log.presses()
    rows = [recording.row(shot) for name in names for shot in log.logged(name)]
    frame = pd.DataFrame(rows, columns=[*recording.FIXED_COLUMNS, *recording.OPTIONAL_COLUMNS, *CHANNELS])
    optional = [name for name in recording.OPTIONAL_COLUMNS if not frame[name].astype(bool).any()]
    unused = [name for name in CHANNELS if frame[name].isna().all()]
    frame = frame.drop(columns=[*optional, *unused])
    frame["time"] = pd.to_datetime(frame["time"], format="ISO8601", utc=True)
    frame.attrs["units"] = {name: CHANNELS[name].unit for name in frame.columns if name in CHANNELS}
    return frame


def inserts(log: "Log") -> pd.DataFrame:
    """Return one row a stay: press, half, serial, design, print_batch, single_use, first, last, reason.

    `last` is empty while the insert is mounted; `shots` counts what the press counted, gaps included; `reason` is a
    person's, else it says what took the insert's place.
    """
    rows = []
    for press in log.presses():
        latest = log.last_shot(press)
        for stay in log.timeline(press).stays:
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
    frame = pd.DataFrame(rows, columns=list(_STAY_COLUMNS))
    frame.attrs["units"] = {"shots": "shots"}
    return frame


_STAY_COLUMNS = (
    "press", "half", "serial", "design", "print_batch", "single_use", "first", "last", "shots", "mounted", "reason",
)  # fmt: skip


def signals(log: "Log", press: str | None = None) -> pd.DataFrame:
    """Return the signals in force: press, shot, chart, channel, rule, value, centre, lower, upper."""
    frame = _in_force(log, schema.signals, press)
    frame.attrs["units"] = {"value": "unit of the channel"}
    return frame


def verdicts(log: "Log", press: str | None = None) -> pd.DataFrame:
    """Return the verdicts in force, in the columns of the verdict CSV and the sentence."""
    frame = _in_force(log, schema.verdicts, press)
    frame.attrs["units"] = {"left_median": "shots", "left_low": "shots", "left_high": "shots"}
    return frame


def _in_force(log: "Log", table: Table, press: str | None) -> pd.DataFrame:
    kept = [column for column in table.columns if column.name not in ("id", "judging_id", "press_id")]
    query = (
        select(schema.presses.c.name.label("press"), *kept)
        .select_from(table.join(schema.presses))
        .where(in_force(table, table.c.shot))
        .order_by(schema.presses.c.id, table.c.shot, table.c.id)
    )
    if press is not None:
        query = query.where(schema.presses.c.name == press)
    with log.reading() as connection:
        rows = connection.execute(query).mappings().all()
    return pd.DataFrame([dict(row) for row in rows], columns=["press", *(column.name for column in kept)])
