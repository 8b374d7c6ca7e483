"""The timeline of a press: for every shot, what is mounted, for how long, what stopped before it, and the set-points
in force.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from simulators.machine import SetPoints
from simulators.noise import Array
from simulators.planned import Mount, PlannedStop, next_serial

__all__ = ["HalfLine", "StoryTimeline", "timeline"]

Ints = NDArray[np.int64]


@dataclass(slots=True)
class HalfLine:
    """One half along the shots.

    `life` numbers its mounts from 0 (-1: nothing mounted) and `on` counts shots on the mount from 1. `insert` is the
    first mount of the same piece, so that one put back is known again, and `used` counts the shots on it over all its
    mounts.
    """

    mounts: list[Mount]
    life: Ints
    on: Ints
    insert: Ints
    used: Ints

    def serials(self) -> list[str]:
        """Return the serial in force at each shot, empty where there is none; a single-use half takes a new one each
        shot.
        """
        return [
            ""
            if life < 0
            else next_serial(self.mounts[life].serial, on - 1)
            if self.mounts[life].single_use
            else self.mounts[life].serial
            for life, on in zip(self.life.tolist(), self.on.tolist(), strict=True)
        ]


@dataclass(slots=True)
class StoryTimeline:
    """Everything about a run that is known before the first shot. Arrays have one entry a shot; `shot` starts at 1."""

    shot: Ints
    halves: dict[str, HalfLine]
    stop_min: Array
    swapped: NDArray[np.bool_]
    purged: NDArray[np.bool_]
    bedding: Ints
    set: dict[str, Array]
    mounts: tuple[Mount, ...] = field(default=())

    def __len__(self) -> int:
        return len(self.shot)


def timeline(
    mounts: tuple[Mount, ...], stops: Iterable[PlannedStop], set_points: SetPoints, shots: int
) -> StoryTimeline:
    """Lay out `shots` shots of a press."""
    shot = np.arange(1, shots + 1, dtype=np.int64)
    stop_min, swapped, purged = np.zeros(shots), np.zeros(shots, bool), np.zeros(shots, bool)
    for mount in mounts:
        if mount.stop_minutes > 0.0:
            stop_min[mount.at_shot - 1] += mount.stop_minutes
            swapped[mount.at_shot - 1] = True
    for stop in stops:
        if stop.at_shot <= shots:
            stop_min[stop.at_shot - 1] += stop.minutes
            purged[stop.at_shot - 1] |= stop.purge
    halves = {
        half: _half_line([mount for mount in mounts if mount.half == half], shot)
        for half in dict.fromkeys(mount.half for mount in mounts)
    }
    reused = [line.on for line in halves.values() if line.mounts and not line.mounts[0].single_use]
    bedding = np.min(reused, axis=0) if reused else shot
    return StoryTimeline(shot, halves, stop_min, swapped, purged, bedding, _set_points(set_points, shots), mounts)


def _half_line(mounts: list[Mount], shot: Ints) -> HalfLine:
    starts = np.array([mount.at_shot for mount in mounts], dtype=np.int64)
    life = (np.searchsorted(starts, shot, side="right") - 1).astype(np.int64)
    on = np.where(life >= 0, shot - starts[np.maximum(life, 0)] + 1, 0)
    known: dict[str, int] = {}
    total: dict[str, int] = {}
    insert, before = [], []
    for number, mount in enumerate(mounts):
        key = f"{mount.serial}/{number}" if mount.single_use else mount.serial
        insert.append(known.setdefault(key, number))
        before.append(total.get(key, 0))
        last = mounts[number + 1].at_shot if number + 1 < len(mounts) else mount.at_shot
        total[key] = total.get(key, 0) + last - mount.at_shot
    piece = np.array([*insert, -1], dtype=np.int64)[life]
    used = on + np.array([*before, 0], dtype=np.int64)[life]
    return HalfLine(mounts, life, on, piece, used)


def _set_points(values: SetPoints, shots: int) -> dict[str, Array]:
    names = [name for name in SetPoints.__dataclass_fields__ if isinstance(getattr(values, name), float)]
    return {name: np.full(shots, getattr(values, name)) for name in names}
