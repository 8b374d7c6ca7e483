"""The log as pandas frames, for notebooks and exports; pandas is loaded only here."""

from collections.abc import Iterable

import pandas as pd
from sqlalchemy import Connection, Table, select

from shotlog import recording
from shotlog.channels import CHANNELS
from shotlog.records import LoggedShot
from shotlog.store.log import schema
from shotlog.store.log.judgements import in_force
from shotlog.store.log.timeline import Timeline
from shotlog.wording.parts import why_out

__all__ = ["inserts", "shots", "signals", "verdicts"]


def shots(logged: Iterable[LoggedShot]) -> pd.DataFrame:
    """Return one row a shot in the recording's columns; channels nobody measured are left out."""
    rows = [recording.row(shot) for shot in logged]
    frame = pd.DataFrame(rows, columns=[*recording.FIXED_COLUMNS, *recording.OPTIONAL_COLUMNS, *CHANNELS])
    optional = [name for name in recording.OPTIONAL_COLUMNS if not frame[name].astype(bool).any()]
    unused = [name for name in CHANNELS if frame[name].isna().all()]
    frame = frame.drop(columns=[*optional, *unused])
    frame["time"] = pd.to_datetime(frame["time"], format="ISO8601", utc=True)
    frame.attrs["units"] = {name: CHANNELS[name].unit for name in frame.columns if name in CHANNELS}
    return frame


def inserts(presses: Iterable[tuple[str, Timeline, tuple[int, int] | None]]) -> pd.DataFrame:
    """Return one row a stay, from the name, timeline and last shot of each press.

    Columns: press, half, serial, design, print_batch, single_use, first, last, reason.

    `last` is empty while the insert is mounted; `shots` counts what the press counted, gaps included; `reason` is a
    person's, else it says what took the insert's place.
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
    frame = pd.DataFrame(rows, columns=list(_STAY_COLUMNS))
    frame.attrs["units"] = {"shots": "shots"}
    return frame


_STAY_COLUMNS = (
    "press", "half", "serial", "design", "print_batch", "single_use", "first", "last", "shots", "mounted", "reason",
)  # fmt: skip


def signals(connection: Connection, press: str | None = None) -> pd.DataFrame:
    """Return the signals in force: press, shot, chart, channel, rule, value, centre, lower, upper."""
    frame = _in_force(connection, schema.signals, press)
    frame.attrs["units"] = {"value": "unit of the channel"}
    return frame


def verdicts(connection: Connection, press: str | None = None) -> pd.DataFrame:
    """Return the verdicts in force, in the columns of the verdict CSV, the sentence and the facts (JSON)."""
    frame = _in_force(connection, schema.verdicts, press).fillna({"others": "", "limits": ""})
    frame.attrs["units"] = {"left_median": "shots", "left_low": "shots", "left_high": "shots"}
    return frame


def _in_force(connection: Connection, table: Table, press: str | None) -> pd.DataFrame:
    kept = [column for column in table.columns if column.name not in ("id", "judging_id", "press_id")]
    query = (
        select(schema.presses.c.name.label("press"), *kept)
        .select_from(table.join(schema.presses))
        .where(in_force(table, table.c.shot))
        .order_by(schema.presses.c.id, table.c.shot, table.c.id)
    )
    if press is not None:
        query = query.where(schema.presses.c.name == press)
    rows = connection.execute(query).mappings().all()
    return pd.DataFrame([dict(row) for row in rows], columns=["press", *(column.name for column in kept)])
