"""Everything the log knows of one press, read once: what the rest of the review works on."""

from bisect import bisect_left, bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from math import inf

import numpy as np
from numpy.typing import NDArray

from shotlog.channels import CHANNELS
from shotlog.clock import parse_utc
from shotlog.records import Baseline, Fault, Gap, Link, Signal, Stay, Verdict
from shotlog.review.rejudged import Rejudged, rejudged
from shotlog.store.asked import state
from shotlog.store.asked.history import judgings
from shotlog.store.asked.links import links
from shotlog.store.asked.missed import filled, unseen
from shotlog.store.asked.state import EntryRow
from shotlog.store.log.log import Log
from shotlog.store.log.shots import channels_present, columns
from shotlog.store.log.timeline import Timeline
from shotlog.store.parts.weights import Weighed, weighings

__all__ = ["MountedStretch", "PressRecord", "read_press", "stretches_of"]

_EVERY_FAULT = 2**31 - 1


@dataclass(frozen=True, slots=True)
class MountedStretch:
    """Shots made with the same reused inserts: `halves` names them, `last` is included."""

    first: int
    last: int
    halves: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class PressRecord:
    """A press's whole history. `values` has shape (n_shots, n_channels), NaN where missing; `shots` is in order.

    `gaps`: shots still missing; `filled`: spans that were missed and taken in later.
    """

    press: str
    shots: NDArray[np.int64]
    times: tuple[datetime, ...]
    channels: tuple[str, ...]
    values: NDArray[np.float64]
    timeline: Timeline
    stretches: tuple[MountedStretch, ...]
    verdicts: tuple[Verdict, ...]
    signals: tuple[Signal, ...]
    baselines: tuple[Baseline, ...]
    entries: tuple[EntryRow, ...]
    gaps: tuple[Gap, ...]
    filled: tuple[tuple[int, int], ...]
    faults: tuple[Fault, ...]
    settling: frozenset[int]
    links: tuple[Link, ...] = ()
    rejudged: tuple[Rejudged, ...] = ()
    weighings: tuple[Weighed, ...] = ()

    @property
    def last_shot(self) -> int:
        """The newest shot, 0 before the first."""
        return int(self.shots[-1]) if len(self.shots) else 0

    def rows(self, first: float, last: float) -> slice:
        """Return where shots `first` to `last`, both included, stand in `shots`."""
        # Not searchsorted: given a float, it would make one of every shot first.
        return slice(bisect_left(self.shots, first), bisect_right(self.shots, last))

    def column(self, channel: str, first: float, last: float) -> tuple[NDArray[np.int64], NDArray[np.float64]]:
        """Return shots and values of a channel over shots `first` to `last`, missing values left out."""
        where = self.rows(first, last)
        values = self.values[where, self.channels.index(channel)]
        seen = np.isfinite(values)
        return self.shots[where][seen], values[seen]

    def settled(self, channel: str, first: float, last: float) -> tuple[NDArray[np.int64], NDArray[np.float64]]:
        """Return shots and values of a channel, settling shots and missing values left out."""
        shots, values = self.column(channel, first, last)
        kept = np.array([int(shot) not in self.settling for shot in shots], dtype=bool)
        return shots[kept], values[kept]

    def time_of(self, shot: int) -> datetime | None:
        """Return when a shot was made, or None if it was not seen."""
        where = self.rows(shot, shot)
        return self.times[where.start] if where.stop > where.start else None

    def stretch_at(self, shot: int) -> MountedStretch | None:
        """Return the stretch a shot belongs to."""
        return next((one for one in self.stretches if one.first <= shot <= one.last), None)


def read_press(log: Log, press: str) -> PressRecord:
    """Read what the log knows of a press."""
    with log.reading() as connection:
        present = channels_present(connection, [press])
        channels = tuple(name for name in CHANNELS if name in present)
        shots, times, values = columns(connection, press, channels)
    verdicts = tuple(state.verdicts(log, press))
    timeline = log.timeline(press)
    last = int(shots[-1]) if len(shots) else 0
    return PressRecord(
        press,
        shots,
        tuple(parse_utc(time) for time in times),
        channels,
        values,
        timeline,
        stretches_of(timeline.stays, int(shots[0]) if len(shots) else 1, last),
        verdicts,
        tuple(state.signals(log, press)),
        tuple(state.baselines(log, press)),
        tuple(state.entries(log, press)),
        tuple(unseen(log, press)),
        tuple(filled(log, press)),
        tuple(reversed(state.faults(log, press, limit=_EVERY_FAULT))),
        frozenset(verdict.shot for verdict in verdicts if verdict.settling),
        tuple(links(log, press)),
        rejudged(press, judgings(log, press)),
        tuple(weighings(log, press)),
    )


def stretches_of(stays: Sequence[Stay], first: int, last: int) -> tuple[MountedStretch, ...]:
    """Split shots `first` to `last` where a reused insert came or went; single-use halves make no stretch."""
    reused = [stay for stay in stays if not stay.mounting.single_use]
    cuts = {first}
    for stay in reused:
        cuts.update(int(at) for at in (stay.first, stay.end) if at != inf and first < at <= last)
    starts = sorted(cuts)
    found = []
    for start, following in zip(starts, [*starts[1:], last + 1], strict=True):
        if following > start:
            halves = {s.mounting.half: s.mounting.insert.serial for s in reused if s.first <= start < s.end}
            found.append(MountedStretch(start, following - 1, halves))
    return tuple(found)
