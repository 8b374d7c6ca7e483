"""A stretch: the shots of one insert under one set-up, the prior they are judged by, and the filter run over them.

The stretch can always be run again from its shots, so its saved state is the shots and the prior; the filter follows. One
shot far outside what the filter expects is held back until the next one has spoken: if that lies off in the same direction
both count, if not the first was an odd shot and never enters the level.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from shotlog.channels import CHANNELS
from shotlog.wear.baseline import Prior
from shotlog.wear.detector import Filter

__all__ = ["COVARIATES", "Row", "Stretch"]

F = NDArray[np.float64]

COVARIATES = ("cycle_time",)
"""Channels that measure the operator rather than the shot; they are carried, never judged."""

_ODD = 4.5
_SAME = 2.2


@dataclass(frozen=True, slots=True)
class Row:
    """One shot of a stretch: `n` on the insert, its values, whether a pause came before it."""

    n: int
    values: Mapping[str, float]
    pause: bool


@dataclass
class Stretch:
    """Shots since `first` (press's shot number of n = 1) and the filter over them, if there is a prior yet."""

    rows: list[Row] = field(default_factory=list)
    prior: Prior | None = None
    filter: Filter | None = None
    held: Row | None = None
    odd: list[int] = field(default_factory=list)

    def channels(self) -> tuple[str, ...]:
        """Return the judged channels that most of the shots have, in the order of the table."""
        counts = {name: 0 for name in CHANNELS if name not in COVARIATES}
        for row in self.rows:
            for name in row.values:
                if name in counts:
                    counts[name] += 1
        return tuple(name for name, count in counts.items() if count * 2 > len(self.rows))

    def table(self, channels: Sequence[str], until: int | None = None) -> tuple[F, F, list[int]]:
        """Return shots on the insert, values (n_shots, n_channels; NaN missing) and pauses, before shot `until`, odd shots left out."""
        rows = [r for r in self.rows if (until is None or r.n < until) and r.n not in self.odd]
        n = np.array([r.n for r in rows], dtype=np.float64)
        values = np.array([[r.values.get(c, np.nan) for c in channels] for r in rows]).reshape(len(rows), len(channels))
        return n, values, [r.n for r in rows if r.pause]

    def judge_by(self, prior: Prior) -> None:
        """Take up a prior and run the filter over the shots so far again."""
        rows, self.rows, self.held, self.odd = self.rows, [], None, []
        self.prior, self.filter = prior, Filter(prior)
        for row in rows:
            self.take(row)

    def take(self, row: Row) -> None:
        """Take in a shot."""
        self.rows.append(row)
        if self.prior is None or self.filter is None:
            return
        if row.pause:
            self._drop_held()
            self.filter.pause(row.n)
        z = self._scaled(row)
        u = self.filter.surprise(row.n, z)
        if self.held is not None:
            before = self.filter.surprise(self.held.n, self._scaled(self.held))
            lasting = (np.sign(u) == np.sign(before)) & (np.abs(u) > _SAME) & (np.abs(before) > _ODD)
            if lasting.any():
                self.filter.step(self.held.n, self._scaled(self.held))
                self.held = None
                self.filter.step(row.n, z)
                return
            self._drop_held()
        worst = np.nanmax(np.abs(u), initial=0.0)
        if worst > _ODD and sum(n > row.n - 12 for n in self.odd) < 2:
            self.held = row
            return
        self.filter.step(row.n, z)

    def _drop_held(self) -> None:
        if self.held is not None:
            self.odd = [*self.odd[-30:], self.held.n]
            self.held = None

    def _scaled(self, row: Row) -> F:
        prior = self.prior
        if prior is None:
            return np.empty(0)
        raw = np.array([row.values.get(c, np.nan) for c in prior.channels])
        return np.asarray((raw - prior.reference) / prior.sigma)
