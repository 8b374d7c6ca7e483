"""The detector: a likelihood ratio over onset x signature, one shot at a time, with the own level unknown.

Every channel has a Kalman filter for what is not a fault: own level, warm-up (three columns), after-pause curve (two
columns), short-term autocorrelation, slow wander; its priors come from sister inserts. A fault of shape f from onset
tau adds b x f to channel c; run through the same filter it leaves in the innovations the response nu(t; tau, shape) x
b, so the innovations are regressed on nu (Willsky & Jones 1976). Per hypothesis two sums are kept, S = sum nu * (R^-1
u) and I = sum nu nu' * R^-1 with R the correlation of innovations between channels: the log likelihood ratio of an
effect vector a*d is a d'S - a^2 d'I d / 2. The size a has a normal prior cut at zero, which integrates in closed form.
The sum over all hypotheses, weighted by their prior, is the likelihood ratio of "something changed" against "nothing
did" (a Shiryaev-type mixture; own derivation).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.baseline import N_LEVEL, Prior
from shotlog.wear.settling import N_PAUSE, PAUSE_TAUS, WARM_TAUS
from shotlog.wear.whitening import READING, SLOW_PHI

__all__ = ["SHAPE_COUNT", "SPREAD_RATES", "Filter", "Sums", "shape_values"]

F = NDArray[np.float64]
Index = NDArray[np.int64]

SHAPE_COUNT = 4
_RAMP = 2
SPREAD_RATES = np.array([0.05, 0.15])
"""Growth of the spread, in sigma per shot, tried for a spread that grows."""

_K = N_LEVEL + N_PAUSE + 2
_AR, _SLOW = _K - 2, _K - 1
_PAUSE = slice(N_LEVEL, N_LEVEL + N_PAUSE)
_RECENT, _MIDDLE, _OLD = 12, 36, 120
_MIDDLE_STEP, _OLD_STEP = 2, 6
_CAPACITY = 40
_CLIP = 4.5
_TAUS = np.array(WARM_TAUS)
_PAUSE_TAUS = np.array(PAUSE_TAUS)


def _shape_table(longest: int) -> F:
    k = np.arange(longest + 1.0)
    return np.array([np.ones_like(k), 1.0 - np.exp(-k / 4.0), k, 16.0 * np.expm1(np.minimum(k, 90.0) / 16.0)])


def _spread_table(longest: int) -> F:
    grown = 1.0 + (SPREAD_RATES[:, None] * np.arange(longest + 1.0)) ** 2
    return np.array([0.5 * np.log(grown), 0.5 * (1.0 - 1.0 / grown)])


_LONGEST = 4000
_TABLE = _shape_table(_LONGEST)
_SPREAD_TABLE = _spread_table(_LONGEST)


def shape_values(k: Index) -> F:
    """Return the value of each shape (step, smear, ramp, accelerating) at the k-th affected shot; shape (4, len(k)).

    A step or smear reaches 1; a ramp or an accelerating course starts with a slope of 1 per shot.
    """
    return np.asarray(_TABLE[:, np.minimum(k, _LONGEST)])


@dataclass(frozen=True, slots=True)
class Sums:
    """What the evidence is computed from, over the slots of onsets kept (T = 40, in no order).

    `onsets` (T,): shot on the insert, -1 for an empty slot. `span` (T,): shots each stands for. `score` S: (p, 4, T).
    `info` I: upper triangle over channel pairs, (p (p + 1) / 2, 4, T). `spread`: log ratios of a growing spread, (p,
    rates, T), and beside them `spread_score`, `spread_info`: S and I of a ramp in that channel, each shot weighted by
    one over its grown variance.
    """

    onsets: Index
    span: F
    score: F
    info: F
    spread: F
    spread_score: F
    spread_info: F


class Filter:
    """The bank of one insert life. `onset` numbers are shots on the insert.

    State: O(channels^2 x onsets kept), 40 onsets: every one of the last 12 shots, every second of the last 36, every
    sixth of the last 120. Cost of a shot does not grow with the life. While `frozen` no onset is opened or dropped.
    """

    def __init__(self, prior: Prior) -> None:
        p = len(prior.channels)
        self.prior = prior
        self.frozen = False
        self._mean = np.zeros((p, _K))
        self._mean[:, :N_LEVEL] = prior.mean
        self._cov = np.zeros((p, _K, _K))
        self._cov[:, :N_LEVEL, :N_LEVEL] = prior.cov
        self._cov[:, _AR, _AR] = 1.0
        self._wander = np.maximum(prior.wander, 1e-3)
        self._cov[:, _SLOW, _SLOW] = self._wander
        self.log_likelihood = 0.0
        self._n = 0
        self._predicted: tuple[int, tuple[F, F, F, F, F]] | None = None
        self._paused_at: int | None = None
        self._inverse: dict[bytes, tuple[F, F]] = {}
        self._upper = np.triu_indices(p)
        self._onset = np.full(_CAPACITY, -1, dtype=np.int64)
        self._response = np.zeros((p, _K, SHAPE_COUNT * _CAPACITY))
        self._score = np.zeros((p, SHAPE_COUNT, _CAPACITY))
        self._info = np.zeros((len(self._upper[0]), SHAPE_COUNT, _CAPACITY))
        self._spread = np.zeros((3, p, len(SPREAD_RATES), _CAPACITY))
        self._decays: dict[int, tuple[F, F, F]] = {}

    def pause(self, n: int) -> None:
        """Let the level follow an after-pause curve from shot `n` on."""
        self._paused_at = n
        self._predicted = None
        self._cov[:, _PAUSE, :] = 0.0
        self._cov[:, :, _PAUSE] = 0.0
        for i in range(N_PAUSE):
            self._cov[:, N_LEVEL + i, N_LEVEL + i] = self.prior.pause_sd[:, i] ** 2
        self._mean[:, _PAUSE] = self.prior.pause_mean
        self._response[:, _PAUSE] = 0.0

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

    def widen_level(self, sigma: float) -> None:
        """Let the level move once by about `sigma` spreads."""
        self._cov[:, 0, 0] += sigma**2
        self._predicted = None

    def _loading(self, n: int) -> F:
        h = np.ones(_K)
        h[1:N_LEVEL] = np.exp((1.0 - n) / _TAUS)
        h[_PAUSE] = 0.0 if self._paused_at is None else np.exp((self._paused_at - n) / _PAUSE_TAUS)
        return h

    def surprise(self, n: int, z: F) -> F:
        """Return the standardised innovations that shot `n` would give, without taking it in; NaN where missing."""
        h, mean, _, _, variance = self._predict(n)
        return np.asarray((z - mean @ h) / np.sqrt(variance))

    def _predict(self, n: int) -> tuple[F, F, F, F, F]:
        """Return loading, mean, covariance, covariance x loading and variance at shot `n`; the last answer is kept."""
        if self._predicted is None or self._predicted[0] != n:
            h = self._loading(n)
            mean, cov = self._ahead(max(n - self._n, 1))
            ph = cov @ h
            self._predicted = n, (h, mean, cov, ph, ph @ h + READING)
        return self._predicted[1]

    def _ahead(self, steps: int) -> tuple[F, F]:
        """Return mean and covariance `steps` shots on: short-term noise and wander fade, and are renewed."""
        if steps not in self._decays:
            decay = np.ones((len(self._mean), _K))
            decay[:, _AR] = self.prior.phi**steps
            decay[:, _SLOW] = SLOW_PHI**steps
            renewed = np.zeros((len(self._mean), _K, _K))
            renewed[:, _AR, _AR] = 1.0 - decay[:, _AR] ** 2
            renewed[:, _SLOW, _SLOW] = self._wander * (1.0 - decay[:, _SLOW] ** 2)
            self._decays[steps] = decay, decay[:, :, None] * decay[:, None, :], renewed
        decay, outer, renewed = self._decays[steps]
        return self._mean * decay, self._cov * outer + renewed

    def step(self, n: int, z: F) -> None:
        """Take in shot `n` of the insert; `z`: values in sigma about the reference, NaN where missing."""
        steps = max(n - self._n, 1)
        if not self.frozen:
            self._open(n)
        h, mean, cov, ph, variance = self._predict(n)
        self._predicted = None
        seen = np.isfinite(z)
        gain = ph / variance[:, None]
        innovation = z - mean @ h
        if not seen.all():
            gain[~seen] = 0.0
            innovation[~seen] = 0.0
        self._mean = mean + gain * innovation[:, None]
        self._cov = cov - gain[:, :, None] * ph[:, None, :]
        self._accumulate(n, steps, h, gain, innovation, np.sqrt(variance), seen)
        self._n = n

    def _accumulate(self, n: int, steps: int, h: F, gain: F, innovation: F, root: F, seen: NDArray[np.bool_]) -> None:
        response = self._response
        decay = self._decays[steps][0]
        response[:, _AR:] *= decay[:, _AR:, None]
        affected = n - self._onset + 1
        nu = shape_values(affected).reshape(-1) - h @ response
        response += gain[:, :, None] * nu[:, None]
        nu *= np.where(seen, 1.0 / root, 0.0)[:, None]
        nu = nu.reshape(len(gain), SHAPE_COUNT, _CAPACITY)
        u = innovation / root
        inverse, pairs = self._precision(seen)
        self.log_likelihood -= 0.5 * float(u @ inverse @ u) + float(np.log(root[seen]).sum())
        self._score += nu * (inverse @ u)[:, None, None]
        self._info += nu[self._upper[0]] * nu[self._upper[1]] * pairs
        log_grown, share = _SPREAD_TABLE[:, :, np.minimum(affected, _LONGEST)]
        clipped = np.minimum(np.maximum(u, -_CLIP), _CLIP)[:, None, None]
        kept = 1.0 - 2.0 * share
        ramp = nu[:, None, _RAMP]
        self._spread[0] += clipped * clipped * share - np.where(seen, 1.0, 0.0)[:, None, None] * log_grown
        self._spread[1] += clipped * ramp * kept
        self._spread[2] += ramp * ramp * kept

    def _precision(self, seen: NDArray[np.bool_]) -> tuple[F, F]:
        key = seen.tobytes()
        if key not in self._inverse:
            part = np.zeros_like(self.prior.correlation)
            at = np.flatnonzero(seen)
            part[np.ix_(at, at)] = np.linalg.inv(self.prior.correlation[np.ix_(at, at)])
            pairs = part[self._upper] * np.where(self._upper[0] == self._upper[1], 1.0, 2.0)
            self._inverse[key] = part, pairs[:, None, None]
        return self._inverse[key]

    def _open(self, n: int) -> None:
        """Start the hypothesis of an onset at `n`, thinning out old ones."""
        onset, age = self._onset, n - self._onset
        gone = ((age >= _RECENT) & (onset % _MIDDLE_STEP != 0)) | ((age >= _MIDDLE) & (onset % _OLD_STEP != 0))
        onset[gone | (age >= _OLD)] = -1
        slot = int(np.argmax(onset == -1))
        onset[slot] = n
        self._response.reshape(*self._response.shape[:2], SHAPE_COUNT, _CAPACITY)[..., slot] = 0.0
        for block in (self._score, self._info, self._spread):
            block[..., slot] = 0.0

    def sums(self) -> Sums:
        """Return the sums over the onsets kept (views, valid until the next shot)."""
        age = self._n - self._onset
        span = np.where(age >= _MIDDLE, float(_OLD_STEP), np.where(age >= _RECENT, float(_MIDDLE_STEP), 1.0))
        return Sums(self._onset, span, self._score, self._info, *self._spread)

    def level(self) -> tuple[F, F]:
        """Return the own level about the reference and its variance, in sigma, shape (p,) each."""
        return self._mean[:, 0], self._cov[:, 0, 0]

    def curve_unknown(self, n: int) -> bool:
        """Return whether the after-pause curve is not known to within a spread in some channel at shot `n`."""
        if self._paused_at is None:
            return False
        h = self._loading(n)[_PAUSE]
        if h.max() < 0.02:
            return False
        variance = (self._cov[:, _PAUSE, _PAUSE] @ h) @ h
        return bool((variance > 1.0).any())
