"""A stretch: the shots of one insert under one set-up, the prior they are judged by, and the filter run over them.

The stretch can always be run again from its shots, so its saved state is the shots, the prior and a few marks; the
filter follows, bit for bit. One shot far outside what the filter expects is held back until the next one has spoken: if
that lies off in the same direction both count, if not the first was an odd shot and never enters the level.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from shotlog.channels import CHANNELS
from shotlog.wear.change.detector import Filter
from shotlog.wear.constants import (
    BAR_FEW,
    BATCH_SIGMA,
    BESIDE_SIGMA,
    FREED_SIGMA,
    MOST_ODD,
    MOST_SETTLING,
    ODD,
    SAME_SHARE,
    SAME_WAY,
)
from shotlog.wear.level.baseline import Prior, widened
from shotlog.wear.level.pauses import Pause
from shotlog.wear.level.rhythm import Paced, follow, usual_of
from shotlog.wear.level.settling import N_WARM
from shotlog.wear.life.marks import Beside, Beyond, Drifting, StretchShot

__all__ = ["COVARIATES", "Stretch"]

F = NDArray[np.float64]

COVARIATES = ("cycle_time",)
"""Channels that measure the operator rather than the shot; they are carried, never judged."""


@dataclass
class Stretch:
    """Shots and the filter over them, once there is a prior.

    `skipped`: ranges of n that are not looked at (an accepted change settling in, a bad print batch). `freed`: from
    these n on the level is free again. `drifting`: what may drift, and from which n on. `beside`: other halves that
    came in and have sisters. `frozen_at`: n of the call in force, from which no new onset is opened. `odd`: odd shots.
    `marked`: n of the last row whose marks were heeded. `pace`: of the shots so far, by n, against the usual rhythm of
    the prior; `pace_before`: before the first row.
    """

    rows: list[StretchShot] = field(default_factory=list)
    skipped: list[tuple[int, int]] = field(default_factory=list)
    freed: list[int] = field(default_factory=list)
    drifting: list[Drifting] = field(default_factory=list)
    beside: list[Beside] = field(default_factory=list)
    frozen_at: int | None = None
    pace_before: float = 0.0
    prior: Prior | None = None
    filter: Filter | None = field(default=None, metadata={"saved": False})
    held: StretchShot | None = field(default=None, metadata={"saved": False})
    odd: list[int] = field(default_factory=list, metadata={"saved": False})
    marked: int = field(default=0, metadata={"saved": False})
    pace: dict[int, float] = field(default_factory=dict, metadata={"saved": False})

    def channels(self) -> tuple[str, ...]:
        """Return the judged channels that most of the shots have, in the order of the table."""
        counts = {name: 0 for name in CHANNELS if name not in COVARIATES}
        rows = [row for row in self.rows if row.values]
        for row in rows:
            for name in row.values:
                if name in counts:
                    counts[name] += 1
        return tuple(name for name, count in counts.items() if count * 2 > len(rows))

    def table(self, channels: Sequence[str], until: int | None = None) -> tuple[F, F, list[Pause]]:
        """Return shots on the insert, values (n_shots, n_channels; NaN missing) and pauses, before shot `until`.

        Odd shots, the one held back, skipped ones and those without values are left out.
        """
        aside = self.aside()
        before = [r for r in self.rows if (until is None or r.n < until) and not self._skips(r.n)]
        rows = [r for r in before if r.values and r.n not in aside]
        n = np.array([r.n for r in rows], dtype=np.float64)
        values = np.array([[r.values.get(c, np.nan) for c in channels] for r in rows]).reshape(len(rows), len(channels))
        return n, values, [Pause(r.n, r.wait_min, r.mark == "swap") for r in before if r.mark in ("pause", "swap")]

    def paced(self, n: F, usual_s: float = 0.0) -> Paced:
        """Return the pace of shots `n` against a usual rhythm, by default that of the shots up to the last of them."""
        rows = [row for row in self.rows if len(n) and row.n <= n[-1]]
        usual = usual_s or usual_of([row.took_s for row in rows])
        pace, by_shot = self.pace_before, {}
        for row in rows:
            pace = by_shot[row.n] = follow(pace, row.took_s, usual)
        return Paced(usual, np.array([by_shot[int(one)] for one in n]))

    def aside(self) -> list[int]:
        """Return the odd shots and the one held back."""
        return [*self.odd, *([self.held.n] if self.held else [])]

    def farthest(self) -> tuple[str, float] | None:
        """Return the channel in which the shot held back lies farthest from what was expected, and how many spreads."""
        if self.held is None or self.filter is None or self.prior is None:
            return None
        off = np.nan_to_num(self.filter.surprise(self.held.n, self.scaled(self.held), self.pace[self.held.n]))
        at = int(np.abs(off).argmax())
        return self.prior.channels[at], float(off[at])

    def steps(self) -> list[int]:
        """Return the shots from which the level may differ: a new batch of single-use halves, an accepted change."""
        return sorted({*(row.n for row in self.rows if row.batch), *self.freed})

    def judge_by(self, prior: Prior) -> None:
        """Take up a prior and run the filter over the shots so far again."""
        self.prior = prior
        self.run_again()

    def run_again(self) -> None:
        """Run the filter over the shots so far from the start."""
        if self.prior is None:
            return
        self.filter, self.held, self.odd, self.marked = Filter(self.prior), None, [], 0
        self.pace = {}
        for row in self.rows:
            self._filter_in(row)

    def freeze(self, n: int) -> None:
        """Open no new onset after shot `n`."""
        self.frozen_at = n

    def thaw(self) -> None:
        """Open onsets again, from the start."""
        self.frozen_at = None
        self.run_again()

    def meet(self, n: int, prior: Prior) -> None:
        """Take note of another half that comes in new before shot `n`, by the `prior` of its sisters."""
        warming = prior.mean[:, 1:] * prior.sigma[:, None]
        by_channel = dict(zip(prior.channels, map(tuple, warming.tolist()), strict=True))
        told = prior.n_sisters >= BAR_FEW  # of fewer the level itself is hardly known
        spread = np.sqrt(prior.cov[:, 0, 0]) if told else np.full(len(prior.channels), BESIDE_SIGMA)
        self.beside.append(Beside(n, prior.named(spread), by_channel))

    def skip(self, low: int, high: int) -> None:
        """Look at the shots `low` to `high` no longer, and open onsets again; heeded when the stretch is run again."""
        self.skipped.append((low, high))
        self.frozen_at = None

    def without(self, low: int, high: int, until: int | None = None) -> "Stretch":
        """Return the stretch as if the shots `low` to `high`, and what was made of them, had not been; not yet run.

        `until`: and without the shots from there on.
        """
        return replace(
            self,
            rows=[row for row in self.rows if until is None or row.n < until],
            skipped=[*(one for one in self.skipped if one[1] < low or one[0] > high), (low, high)],
            freed=[n for n in self.freed if not low <= n <= high],
            drifting=[one for one in self.drifting if not low <= one.n <= high],
            beside=list(self.beside),
            frozen_at=None,
        )

    def free(self, n: int) -> None:
        """Let the level be another from shot `n` on; heeded when the stretch is run again."""
        self.freed.append(n)

    def going_on(self, beyond: Beyond) -> "Stretch":
        """Return the same shots looked at from the level that a change leaves."""
        at = beyond.high + 1
        skipped = [*self.skipped, (beyond.low, beyond.high)]
        drifting = [*self.drifting, Drifting(at, beyond.mean, beyond.sd)]
        made = replace(
            self,
            rows=list(self.rows),
            skipped=skipped,
            freed=[*self.freed, at],
            drifting=drifting,
            beside=list(self.beside),
            frozen_at=None,
            prior=None if self.prior is None else widened(self.prior, beyond.wider),
        )
        made.run_again()
        return made

    def shortened(self, keep: int) -> "Stretch":
        """Return the last `keep` shots and the marks that concern them, without a prior.

        Where the first of them still settles after a wait or a swap, the shots since that are kept too: warming up of
        which nobody knows looks like a change.
        """
        cut = len(self.rows) - keep
        settling = range(max(cut - MOST_SETTLING, 0), cut)
        rows = self.rows[max((at for at in settling if self.rows[at].mark in ("pause", "swap")), default=cut) :]
        first = rows[0].n
        skipped = [one for one in self.skipped if one[1] >= first]
        return Stretch(
            rows,
            skipped,
            [n for n in self.freed if n >= first],
            _together(self.drifting, first),
            [one for one in self.beside if one.n >= first],
            pace_before=self.pace.get(first - 1, self.pace_before),
        )

    def leave_out(self, channels: Mapping[str, int]) -> None:
        """Forget what channels showed, each from a shot on."""

        def kept(row: StretchShot) -> StretchShot:
            return replace(row, values={c: v for c, v in row.values.items() if row.n < channels.get(c, row.n + 1)})

        self.rows = [kept(row) for row in self.rows]
        self.run_again()

    def take(self, row: StretchShot) -> None:
        """Take in a shot."""
        self.rows.append(row)
        self._filter_in(row)

    def _skips(self, n: int) -> bool:
        return any(low <= n <= high for low, high in self.skipped)

    def _filter_in(self, row: StretchShot) -> None:
        if self.filter is None or self.prior is None:
            return
        before = next(reversed(self.pace.values()), self.pace_before)
        self.pace[row.n] = follow(before, row.took_s, self.prior.usual_s)
        if self._skips(row.n):
            return
        self._mark(self.filter, row)
        if not row.values:
            return
        z = self.scaled(row)
        if self._settle_held(self.filter, row, z):
            return
        u = self.filter.surprise(row.n, z, self.pace[row.n])
        if any(abs(one) > ODD for one in u.tolist()) and sum(n > row.n - MOST_ODD[1] for n in self.odd) < MOST_ODD[0]:
            self.held = row
            return
        self._step(self.filter, row.n, z)

    def _mark(self, filt: Filter, row: StretchShot) -> None:
        if any(filt.last < n <= row.n for n in self.freed):
            filt.free_level(FREED_SIGMA)
        for one in self.drifting:
            if self.marked < one.n <= row.n:
                filt.let_drift(row.n, self._spreads(one.mean), self._spreads(one.sd))
        self.marked = row.n
        if row.mark or row.batch:
            self._drop_held()
        if row.mark == "pause":
            filt.pause(Pause(row.n, row.wait_min))
        elif row.mark == "swap":
            self._swap(filt, row)
        if row.batch:
            filt.widen_level(BATCH_SIGMA)

    def _swap(self, filt: Filter, row: StretchShot) -> None:
        """Allow for another half that came in: it differs from the one before, and warms up."""
        names, sigma, none = filt.prior.channels, filt.prior.sigma, (0.0,) * N_WARM
        came = next((one for one in self.beside if one.n == row.n), None)
        warming = None if came is None else np.array([came.warming.get(c, none) for c in names]) / sigma[:, None]
        spread = {} if came is None else came.spread
        filt.pause(Pause(row.n, row.wait_min), warming)
        filt.swap_beside(np.array([spread.get(c, BESIDE_SIGMA * s) for c, s in zip(names, sigma, strict=True)]) / sigma)

    def _settle_held(self, filt: Filter, row: StretchShot, z: F) -> bool:
        """Decide about the shot held back; return whether this row has been taken in with it."""
        if self.held is None:
            return False
        u = filt.surprise(row.n, z, self.pace[row.n])
        held = self.scaled(self.held)
        before = filt.surprise(self.held.n, held, self.pace[self.held.n])
        if not _lasting(before, u - filt.carried_over(before)):
            self._drop_held()
            return False
        self._step(filt, self.held.n, held)
        self.held = None
        self._step(filt, row.n, z)
        return True

    def _step(self, filt: Filter, n: int, z: F) -> None:
        filt.step(n, z, self.pace[n], frozen=self.frozen_at is not None and n > self.frozen_at)

    def _drop_held(self) -> None:
        if self.held is not None:
            self.odd = [*self.odd[-30:], self.held.n]
            self.held = None

    def _spreads(self, by_channel: Mapping[str, float]) -> F:
        """Return amounts by channel in its unit as spreads, 0 for what is not given."""
        prior = self.prior
        if prior is None:
            return np.empty(0)
        return np.array([by_channel.get(name, 0.0) for name in prior.channels]) / prior.sigma

    def scaled(self, row: StretchShot) -> F:
        """Return the values of a shot in spreads about the reference, NaN where missing; empty before a prior."""
        prior = self.prior
        if prior is None:
            return np.empty(0)
        raw = np.array([row.values.get(c, np.nan) for c in prior.channels])
        return np.asarray((raw - prior.reference) / prior.sigma)


def _lasting(before: F, after: F) -> bool:
    """Return whether what was odd in a shot goes on in the next one, the same way and at least by a third."""
    least = np.maximum(SAME_WAY, SAME_SHARE * np.abs(before))
    return bool(((np.abs(before) > ODD) & (np.sign(before) * after > least)).any())


def _together(drifting: Sequence[Drifting], first: int) -> list[Drifting]:
    """Return what may drift from shot `first` on as one, and what follows as it is."""
    before = [one for one in drifting if one.n <= first]
    mean: dict[str, float] = {}
    variance: dict[str, float] = {}
    for one in before:
        for name in one.mean:
            mean[name] = mean.get(name, 0.0) + one.mean[name]
            variance[name] = variance.get(name, 0.0) + one.sd[name] ** 2
    sd = {name: value**0.5 for name, value in variance.items()}
    return [*([Drifting(first, mean, sd)] if before else []), *(one for one in drifting if one.n > first)]
