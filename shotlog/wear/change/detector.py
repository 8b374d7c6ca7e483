"""The detector: a likelihood ratio over onset x signature, one shot at a time, with the own level unknown.

Every channel has a Kalman filter for what is not a fault: own level, warm-up (three columns), after-pause curve (two
columns), ageing per shot, the rhythm's effect, short-term autocorrelation, slow wander; its priors come from sister
inserts. A fault of shape f from onset tau adds b x f to channel c; run through the same filter it leaves in the
innovations the response nu(t; tau, shape) x b, so the innovations are regressed on nu (Willsky & Jones 1976). Per
hypothesis two sums are kept, S = sum nu * (R^-1 u) and I = sum nu nu' * R^-1 with R the correlation of innovations
between channels: the log likelihood ratio of an effect vector a*d is a d'S - a^2 d'I d / 2. The size a has a normal
prior cut at zero, which integrates in closed form. The sum over all hypotheses, weighted by their prior, is the
likelihood ratio of "something changed" against "nothing did" (a Shiryaev-type mixture; own derivation).
"""

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.change.courses import SHAPE_COUNT, SHAPE_TABLE, SPREAD_CHANNELS, SPREAD_TABLE
from shotlog.wear.change.past import Past
from shotlog.wear.compiled.filtering import (
    Ages,
    Ahead,
    Bank,
    Curves,
    Fade,
    Known,
    Looks,
    load,
    open_onset,
    predict,
    student_weight,
    take_in,
    unknown,
)
from shotlog.wear.compiled.foreseeing import step_information
from shotlog.wear.compiled.weighing import Sums
from shotlog.wear.constants import (
    COOLED_UNKNOWN,
    LEAST_WANDER,
    LONGEST,
    ONSET_AGES,
    ONSET_SLOTS,
    ONSET_STEPS,
    PAUSE_OVER,
    PAUSE_UNKNOWN_VARIANCE,
    RAMP_SIZE,
    RAMP_WIDTH,
    READING,
    SLOW_PHI,
    SPREAD_CLIP,
    SPREAD_RATES,
)
from shotlog.wear.level.baseline import Prior
from shotlog.wear.level.pauses import Pause, cooled_share, melt_share
from shotlog.wear.level.settling import N_PAUSE, pause_columns, warm_columns
from shotlog.wear.level.sister import N_LEVEL

__all__ = ["Filter"]

F = NDArray[np.float64]

_K = N_LEVEL + N_PAUSE + 4
_DRIFT, _PACE, _AR, _SLOW = _K - 4, _K - 3, _K - 2, _K - 1
_PAUSE = slice(N_LEVEL, N_LEVEL + N_PAUSE)
_AGES: Ages = (*ONSET_AGES, *ONSET_STEPS)


_WARM_TABLE = warm_columns(np.arange(1.0, LONGEST + 1))
_PAUSE_TABLE = pause_columns(np.arange(LONGEST + 1.0))
_LOOKS: Looks = (SHAPE_TABLE, SPREAD_TABLE, RAMP_SIZE, RAMP_WIDTH, SPREAD_CLIP)


class Filter:
    """The bank of one insert life. `onset` numbers are shots on the insert.

    State: O(channels^2 x onsets kept), 40 onsets: every one of the last 12 shots, every second of the last 36, every
    sixth of the last 120. Cost of a shot does not grow with the life.
    """

    def __init__(self, prior: Prior) -> None:
        p = len(prior.channels)
        self.prior = prior
        self._mean, self._cov, wander = np.zeros((p, _K)), np.zeros((p, _K, _K)), np.maximum(prior.wander, LEAST_WANDER)
        self._mean[:, :N_LEVEL] = prior.mean
        self._cov[:, :N_LEVEL, :N_LEVEL] = prior.cov
        self._mean[:, _DRIFT], self._cov[:, _DRIFT, _DRIFT] = prior.drift_mean, prior.drift_sd**2
        self._mean[:, _PACE], self._cov[:, _PACE, _PACE] = prior.pace_mean, prior.pace_sd**2
        self._cov[:, _AR, _AR] = 1.0
        self._cov[:, _SLOW, _SLOW] = wander
        tails = np.zeros(p) + prior.tails
        self._tails: list[float] = tails.tolist()
        self._known: Known = (self._mean, self._cov, wander, tails)
        self.log_likelihood = 0.0
        self.past = Past(p, _K, 0, _DRIFT)
        self._n = 0
        self._predicted, self._paced = 0, 0.0
        self._loading, self._expected, self._variance = np.empty((p, _K)), np.empty(p), np.empty(p)
        self._ahead: Ahead = (
            self._loading, np.empty((p, _K, _K)), np.empty((p, _K)), self._expected, self._variance,
        )  # fmt: skip
        self._rewarming = np.ascontiguousarray(prior.mean[:, 1:N_LEVEL])
        self._fade: Fade = (prior.phi, 1.0)
        self._paused_at: int | None = None
        self._sisterly = prior.n_sisters > 0
        self._inverse: dict[bytes, F] = {}
        watched = [c for c, name in enumerate(prior.channels) if name in SPREAD_CHANNELS]
        self._onset = np.full(ONSET_SLOTS, -1, dtype=np.int64)
        self._response = np.zeros((p, _K, SHAPE_COUNT, ONSET_SLOTS))
        self._bank: Bank = (
            self._onset,
            np.ones(ONSET_SLOTS),
            self._response,
            np.zeros((p, SHAPE_COUNT, ONSET_SLOTS)),
            np.zeros((p * (p + 1) // 2, SHAPE_COUNT, ONSET_SLOTS)),
            np.array(watched, dtype=np.int64),
            np.zeros((2, len(watched), ONSET_SLOTS)),
            np.zeros((2, len(watched), len(SPREAD_RATES), ONSET_SLOTS)),
        )

    def pause(self, pause: Pause, warming: F | None = None) -> None:
        """Let the level follow an after-pause curve from the shot after a pause on.

        Where sisters have shown how they warm up, along that curve; else along two plain exponentials. What is left of
        an earlier pause stays. `warming`: warm-up of another half that came in new, in spreads, shape (p, N_WARM); it
        is then the curve, with what the wait has cooled.
        """
        prior, p = self.prior, len(self._mean)
        kept = self._left_of_pause(pause.n)
        mean, sd = np.zeros((p, N_PAUSE)), prior.pause_sd
        if prior.n_sisters:
            share = melt_share(pause.wait_min)
            cooled, off = cooled_share(prior.cooling, pause.wait_min)
            if warming is not None:
                self._rewarming = cooled * prior.mean[:, 1:N_LEVEL] + warming
                cooled, off = 1.0, COOLED_UNKNOWN[1]
            elif (kept[:, 1] < PAUSE_OVER).all():
                self._rewarming = np.ascontiguousarray(prior.mean[:, 1:N_LEVEL])
            mean = np.column_stack([prior.pause_mean[:, 0] * share, np.full(p, cooled)])
            sd = np.column_stack([prior.pause_sd[:, 0] * share, np.full(p, off)])
            kept[:, 1] *= 1.0 - cooled
        self._paused_at, self._predicted = pause.n, 0
        self._mean[:, _PAUSE] = kept * self._mean[:, _PAUSE] + mean
        self._cov[:, _PAUSE, :] *= kept[:, :, None]
        self._cov[:, :, _PAUSE] *= kept[:, None, :]
        for i in range(N_PAUSE):
            self._cov[:, N_LEVEL + i, N_LEVEL + i] += sd[:, i] ** 2
        self._response[:, _PAUSE] *= kept[:, :, None, None]
        self.past.keep(_PAUSE.start, _PAUSE.stop, kept)

    def _left_of_pause(self, n: int) -> F:
        """Return what shares of an earlier pause's two curves are left at shot `n`, shape (p, N_PAUSE)."""
        p = len(self._mean)
        if self._paused_at is None:
            return np.zeros((p, N_PAUSE))
        since = min(n - self._paused_at, LONGEST - 1)
        left = np.tile(_PAUSE_TABLE[since], (p, 1))
        if self.prior.n_sisters:
            start = self._rewarming @ _WARM_TABLE[0]
            now = self._rewarming @ _WARM_TABLE[since]
            left[:, 1] = np.clip(now / np.where(np.abs(start) > 1e-6, start, 1.0), 0.0, 1.0)
        return left

    @property
    def last(self) -> int:
        """The last shot taken in, 0 before the first."""
        return self._n

    def free_level(self, sigma: float) -> None:
        """Forget the level (an accepted change, a new set-up) and every onset before now."""
        self._cov[:, 0, :] = 0.0
        self._cov[:, :, 0] = 0.0
        self.widen_level(sigma)
        self._response[:, 0] = 0.0
        self._onset[:] = -1
        self.past.forget()
        self._sisterly = False

    def swap_beside(self, spread: F) -> None:
        """Let the level move as it does when another half of the mould is changed.

        `spread`: how halves of that design differ, in spreads, shape (p,). What the level owes to its own half stays,
        what it owed to the other one goes: as far as it is still one of its sisters' it goes back to their mean by that
        share, of which halves in the mould are taken to have no more than their part.
        """
        mean, wide = self.prior.mean[:, 0], self.prior.cov[:, 0, 0]
        other = np.minimum(spread**2, wide / 2.0)
        kept = 1.0 - other / wide if self._sisterly else np.ones(len(mean))
        self._mean[:, 0] = mean + kept * (self._mean[:, 0] - mean)
        self._cov[:, 0, :] *= kept[:, None]
        self._cov[:, :, 0] *= kept[:, None]
        self._cov[:, 0, 0] += other * (1.0 + kept)
        self._response[:, 0] *= kept[:, None, None]
        self.past.keep(0, 1, kept[:, None])
        self._predicted = 0

    def widen_level(self, sigma: float) -> None:
        """Let the level move once by about `sigma` spreads."""
        self._cov[:, 0, 0] += sigma**2
        self._predicted = 0

    def let_drift(self, n: int, mean: F, sd: F) -> None:
        """Let every channel drift from shot `n` on by `mean` a shot, known to within `sd`; in spreads, shape (p,).

        What lies before shot `n` is as certain as it was: the level, which is that of the first shot, takes up what
        such a drift would have done until then.
        """
        before = n - 2.0  # shot n is the first that has drifted
        self._mean[:, 0] -= before * mean
        self._mean[:, _DRIFT] += mean
        self._cov[:, 0, 0] += before**2 * sd**2
        self._cov[:, _DRIFT, _DRIFT] += sd**2
        self._cov[:, 0, _DRIFT] -= before * sd**2
        self._cov[:, _DRIFT, 0] -= before * sd**2
        self._predicted = 0

    def _curves(self, n: int, pace: float) -> Curves:
        """Return what the loading of shot `n` is made from."""
        waited = self._paused_at is not None
        since = min(n - self._paused_at, LONGEST - 1) if self._paused_at is not None else 0
        warm, now = _WARM_TABLE[min(n, LONGEST) - 1], _WARM_TABLE[since]
        return warm, _PAUSE_TABLE[since], self._rewarming, now, self.prior.n_sisters > 0, waited, n - 1.0, pace

    def surprise(self, n: int, z: F, pace: float = 0.0) -> F:
        """Return the standardised innovations that shot `n` would give, without taking it in; NaN where missing."""
        self._predict(n, pace)
        return np.asarray((z - self._expected) / np.sqrt(self._variance))

    def carried_over(self, u: F) -> F:
        """Return what the shot after innovations `u` shows of them where they were its noise's own far values."""
        seen = np.nan_to_num(u)
        weights = [student_weight(one * one, tails) for one, tails in zip(seen.tolist(), self._tails, strict=True)]
        return np.asarray(self.prior.phi * seen * (1.0 - np.array(weights)))

    def _predict(self, n: int, pace: float) -> None:
        """Work out what shot `n` is expected to be, unless that is known already."""
        if self._predicted == n:
            return
        steps = max(n - self._n, 1)
        self._fade = (self.prior.phi, SLOW_PHI) if steps == 1 else (self.prior.phi**steps, SLOW_PHI**steps)
        predict(self._curves(n, pace), self._fade, self._known, self._ahead, READING)
        self._predicted = n

    def step(self, n: int, z: F, pace: float = 0.0, frozen: bool = False) -> None:
        """Take in shot `n` of the insert; `z`: values in sigma about the reference, NaN where missing.

        `pace`: how far the rhythm is from the usual one, as a log ratio. While `frozen` no onset is opened or dropped.
        """
        if not frozen:
            open_onset(n, self._bank, _AGES)
        self._predict(n, pace)
        self._predicted, self._paced = 0, pace
        seen = np.isfinite(z)
        inverse = self._precision(seen)
        self.log_likelihood += take_in(n, z, seen, inverse, self._fade, self._known, self._ahead, _LOOKS, self._bank)
        loading, _, gained, expected, variance = self._ahead
        self.past.take(n, z, seen, inverse, self._fade, loading, gained, expected, variance)
        self._n = n

    def _precision(self, seen: NDArray[np.bool_]) -> F:
        """Return the inverse correlation of the channels seen, zero for the others."""
        key = seen.tobytes()
        if key not in self._inverse:
            part = np.zeros_like(self.prior.correlation)
            at = np.flatnonzero(seen)
            part[np.ix_(at, at)] = np.linalg.inv(self.prior.correlation[np.ix_(at, at)])
            self._inverse[key] = part
        return self._inverse[key]

    def sums(self) -> Sums:
        """Return the sums over the onsets kept (views, valid until the next shot)."""
        onset, span, _, score, info, watched, falling, spread = self._bank
        return onset, span, score, info, watched, falling, spread

    def answer(self) -> F:
        """Return by how much a change of size 1 has moved the level, (p, shapes, slots), a view as `sums`."""
        return self._response[:, 0]

    def step_seen_in(self, shots: int) -> F:
        """Return the information, per squared spread, that the next shots will have of a step in one channel, (p,).

        1 / the variance of its size, with what the other channels tell of the noise.
        """
        ahead = np.empty((shots, *self._mean.shape))
        for k in range(shots):
            load(self._curves(self._n + 1 + k, self._paced), ahead[k])
        seen = self._precision(np.ones(len(self._mean), dtype=np.bool_))
        info = step_information(ahead, self.prior.phi, SLOW_PHI, self._cov, self._known[2], READING)
        return np.asarray(info * np.diagonal(seen))

    def level(self, n: int | F = 1) -> tuple[F, F]:
        """Return the own level about the reference, as aged by shot `n`, and its variance, in sigma, shape (p,) each.

        At the first shot nothing has aged. Warm-up, pauses and rhythm are left out. Shots (k, 1) give shape (k, p).
        """
        age = n - 1.0
        variance = self._cov[:, 0, 0] + age * (2.0 * self._cov[:, 0, _DRIFT] + age * self._cov[:, _DRIFT, _DRIFT])
        return self._mean[:, 0] + age * self._mean[:, _DRIFT], variance

    def drift(self) -> tuple[F, F]:
        """Return the ageing per shot and its variance, in sigma, shape (p,) each."""
        return self._mean[:, _DRIFT], self._cov[:, _DRIFT, _DRIFT]

    def pace(self) -> tuple[F, F]:
        """Return what a rhythm slower by a log ratio of 1 does, and its variance, in sigma, shape (p,) each."""
        return self._mean[:, _PACE], self._cov[:, _PACE, _PACE]

    def fitted(self, n: int) -> F:
        """Return what shot `n` is in the rhythm of the last one, without its short-term noise, in sigma, shape (p,)."""
        self._predicted = 0
        load(self._curves(n, self._paced), self._loading)
        lasting = self._mean.copy()
        lasting[:, _AR] = 0.0
        return np.asarray((self._loading * lasting).sum(axis=1))

    def curve_unknown(self, n: int) -> bool:
        """Return whether the after-pause curve is not known to within a spread in some channel at shot `n`."""
        if self._paused_at is None:
            return False
        self._predicted = 0
        load(self._curves(n, 0.0), self._loading)
        left = np.abs(self._loading[:, _PAUSE]).max() >= PAUSE_OVER
        return bool(left and unknown(self._loading, self._cov, _PAUSE.start, _PAUSE.stop, PAUSE_UNKNOWN_VARIANCE))

    def known_again(self, n: int) -> tuple[int, int]:
        """Return the shot that came after the last wait, and the first one after `n` at which `curve_unknown` has ended
        at the latest: what the shots until then show of the curve may end it sooner, another wait later.
        """
        after = n + 1
        while self.curve_unknown(after):
            after += 1
        return self._paused_at or n, after
