"""Shots as the columns of a recording, made of an object a shot: the plain way, for tests that begin with shots."""

from collections.abc import Iterable

from shotlog.channels import CHANNELS
from shotlog.clock import iso_utc
from shotlog.recording import OF_HALVES, Columns, event_cell, halves_cells
from shotlog.records import LoggedShot

__all__ = ["columns_of"]


def columns_of(shots: Iterable[LoggedShot]) -> Columns:
    """Return shots as columns."""
    given = list(shots)
    of_halves = [dict(zip(OF_HALVES, halves_cells(shot.halves), strict=True)) for shot in given]
    return {
        "press": [shot.press for shot in given],
        "shot": [shot.shot for shot in given],
        "time": [iso_utc(shot.time) for shot in given],
        **{name: [cells[name] for cells in of_halves] for name in OF_HALVES},
        "event": [event_cell(shot.removed, shot.noted) for shot in given],
        **{name: [shot.values.get(name) for shot in given] for name in CHANNELS},
    }
