"""When a new lot reached the mould: as noted, and as the values show it, if they do.

A lot is noted when it is loaded. What lies in hopper, barrel and runner is used first, and mixes, so the first parts
after the note may be of either lot. How much that is nobody told the tool; a step in what lies upstream of the mould
says it, where the lots differ enough. Where they do not, nothing is said.
"""

from dataclasses import dataclass, replace
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from shotlog.channels import CHANNELS
from shotlog.entries import KINDS, LOT, PURGE
from shotlog.parts.standing import PartStanding
from shotlog.review.quantiles import student
from shotlog.review.source import PressRecord

__all__ = ["LotChange", "LotRun", "LotRuns", "lot_changes"]

_LOOKED_AT = ("recovery_time", "switchover_pressure", "peak_pressure")
"""Screw first: an insert cannot move its time. The pressures carry the most of a change in viscosity."""

_BEFORE = 20
_AFTER = 30
"""Shots looked at on either side of the note: more than a barrel on such presses holds (judgement)."""
_FEWEST = 6
_ALPHA = 0.01


@dataclass(frozen=True, slots=True)
class LotChange:
    """A lot noted from shot `noted` on. `purged`: the first purge noted within the next shots, None if none.

    `told_from`: the shot its values moved at, by `moved` of `channel`, in its unit; None where no value tells, with the
    ground in `why_not`. Parts from `noted` to just before `told_from` may be of either lot.
    """

    press: str
    lot: str
    noted: int
    purged: int | None
    channel: str = ""
    moved: float | None = None
    told_from: int | None = None
    why_not: str = ""


@dataclass(frozen=True, slots=True)
class LotRun:
    """Parts of shots `first` to `last` were made of `lot`, as noted; empty where none was."""

    first: int
    last: int
    lot: str


class LotRuns:
    """Which lots made which parts of one press, its parts taken one by one in order of shot, from `first` on."""

    def __init__(self, first: int = 0) -> None:
        self._first = first
        self._runs: list[LotRun] = []

    def take(self, one: PartStanding) -> None:
        """Take the next part; one from before the first shot is passed over."""
        shot, lot = one.part.shot, one.made.lot
        if shot < self._first:
            return
        if self._runs and self._runs[-1].lot == lot:
            self._runs[-1] = replace(self._runs[-1], last=shot)
        else:
            self._runs.append(LotRun(shot, shot, lot))

    @property
    def found(self) -> tuple[LotRun, ...]:
        """The runs, in order."""
        return tuple(self._runs)


def lot_changes(record: PressRecord) -> tuple[LotChange, ...]:
    """Return the lots of a press in order, but for the first: it came before anything that could tell."""
    notes = [e.event for e in record.entries if not e.taken_back]
    lots = sorted((e for e in notes if e.kind == LOT), key=lambda event: event.at_shot)
    purges = sorted(e.at_shot for e in notes if e.kind == PURGE)
    others = [e.at_shot for e in notes if KINDS[e.kind].effect.moves]
    others += [stretch.first for stretch in record.stretches]
    found = []
    for lot in lots:
        if lot.at_shot <= (int(record.shots[0]) if len(record.shots) else 0):
            continue
        since = max([lot.at_shot - _BEFORE, *(at for at in others if at < lot.at_shot)])
        until = min([lot.at_shot + _AFTER, *(at for at in others if at > lot.at_shot)]) - 1
        purged = next((at for at in purges if lot.at_shot - 1 <= at <= until), None)
        found.append(_change(record, LotChange(record.press, lot.text, lot.at_shot, purged), since, until))
    return tuple(found)


def _change(record: PressRecord, noted: LotChange, since: int, until: int) -> LotChange:
    """Return a lot with the first channel that tells, of shots `since` to `until`.

    What lies upstream does not wait for the mould to settle, so settling shots count there.
    """
    why_not = "no value shows where it began"
    for channel in (name for name in _LOOKED_AT if name in record.channels):
        read = record.column if CHANNELS[channel].upstream else record.settled
        shots, values = read(channel, since, until)
        first = int(np.searchsorted(shots, noted.noted))
        if min(first, len(values) - first) < _FEWEST:
            why_not = "too few shots beside it to tell"
            continue
        at, moved = _best_split(values, first, CHANNELS[channel].least_change)
        if at is not None:
            return replace(noted, channel=channel, moved=moved, told_from=int(shots[at]), why_not="")
        why_not = "no value shows where it began"
    return replace(noted, why_not=why_not)


def _best_split(values: NDArray[np.float64], first: int, least: float) -> tuple[int | None, float | None]:
    """Return where a step of unknown size fits best, no earlier than place `first`, and its size; None where none does.

    References
    ----------
    Own: the two-sample t of each split with the spread about it, held to Bonferroni over the splits tried.
    """
    n = len(values)
    splits = range(first, n - _FEWEST + 1)
    best: tuple[float, int, float] | None = None
    for at in splits:
        before, after = values[:at], values[at:]
        squares = float(((before - before.mean()) ** 2).sum() + ((after - after.mean()) ** 2).sum())
        moved = float(after.mean() - before.mean())
        spread = max(sqrt(squares / (n - 2)), least / 3.0)
        size = abs(moved) / (spread * sqrt(1.0 / at + 1.0 / (n - at)))
        if best is None or size > best[0]:
            best = (size, at, moved)
    if best is None or abs(best[2]) < least / 2.0:
        return None, None
    limit = student(1.0 - _ALPHA / (2.0 * len(splits)), n - 2)
    return (best[1], best[2]) if best[0] > limit else (None, None)
