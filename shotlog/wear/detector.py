"""The detector: a likelihood ratio over onset x signature, one shot at a time, with the own level unknown.

Every channel has a Kalman filter for what is not a fault: own level, warm-up (three columns), after-pause curve (two columns),
short-term autocorrelation, slow wander; its priors come from sister inserts. A fault of shape f from onset tau adds b x f to
channel c; run through the same filter it leaves in the innovations the response nu(t; tau, shape) x b, so the innovations are
regressed on nu (Willsky & Jones 1976). Per hypothesis two sums are kept, S = sum nu * (R^-1 u) and I = sum nu nu' * R^-1 with R
the correlation of innovations between channels: the log likelihood ratio of an effect vector a*d is a d'S - a^2 d'I d / 2.
The size a has a normal prior cut at zero, which integrates in closed form. The sum over all hypotheses, weighted by their prior,
is the likelihood ratio of "something changed" against "nothing did" (a Shiryaev-type mixture; own derivation).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.baseline import N_LEVEL, Prior
from shotlog.wear.settling import N_PAUSE, PAUSE_TAUS, WARM_TAUS
from shotlog.wear.whitening import READING, SLOW_PHI

__all__ = ["SHAPE_COUNT", "SPREAD_RATES", "Filter", "shape_values"]

F = NDArray[np.float64]

SHAPE_COUNT = 4
SPREAD_RATES = np.array([0.05, 0.15])
"""Growth of the spread, in sigma per shot, tried for a spread that grows."""

_K = N_LEVEL + N_PAUSE + 2
_AR, _SLOW = _K - 2, _K - 1
_PAUSE = slice(N_LEVEL, N_LEVEL + N_PAUSE)
_RECENT, _MIDDLE, _OLD = 16, 48, 112
_CAPACITY = 64
_CLIP = 4.5


def shape_values(k: F) -> F:
    """Return the value of each shape (step, smear, ramp, accelerating) at the k-th affected shot; shape (4, len(k)).

    A step or smear reaches 1; a ramp or an accelerating course starts with a slope of 1 per shot.
    """
    return np.array([np.ones_like(k), 1.0 - np.exp(-k / 4.0), k, 16.0 * np.expm1(np.minimum(k, 90.0) / 16.0)])


@dataclass(frozen=True, slots=True)
class Sums:
    """What the evidence is computed from: onsets (T,), S (p, 4, T), I (p, p, 4, T), spread log ratios (p, rates, T)."""

    onsets: NDArray[np.int64]
    score: F
    info: F
    spread: F


class Filter:
    """The bank of one insert life. `onset` numbers are shots on the insert.

    State: O(channels^2 x onsets kept), at most `_CAPACITY` onsets: every one of the last 16 shots, every second of the
    last 48, every fourth of the last 112. Cost of a shot does not grow with the life.
    """

    def __init__(self, prior: Prior) -> None:
        p = len(prior.channels)
        self.prior = prior
        self._phi = prior.phi
        self._mean = np.zeros((p, _K))
        self._mean[:, :N_LEVEL] = prior.mean
        self._cov = np.zeros((p, _K, _K))
        self._cov[:, :N_LEVEL, :N_LEVEL] = prior.cov
        self._cov[:, _AR, _AR] = 1.0
        self._cov[:, _SLOW, _SLOW] = np.maximum(prior.wander, 1e-3)
        self._n = 0
        self._paused_at: int | None = None
        self._inverse: dict[bytes, F] = {}
        self._onset = np.full(_CAPACITY, -1, dtype=np.int64)
        self._response = np.zeros((p, _K, SHAPE_COUNT, _CAPACITY))
        self._score = np.zeros((p, SHAPE_COUNT, _CAPACITY))
        self._info = np.zeros((p, p, SHAPE_COUNT, _CAPACITY))
        self._spread = np.zeros((p, len(SPREAD_RATES), _CAPACITY))
        self._used = 0
        self.frozen = False

    def pause(self, n: int) -> None:
        """Let the level follow an after-pause curve from shot `n` on."""
        self._paused_at = n
        self._cov[:, _PAUSE, :] = 0.0
        self._cov[:, :, _PAUSE] = 0.0
        for i in range(N_PAUSE):
            self._cov[:, N_LEVEL + i, N_LEVEL + i] = self.prior.pause_sd[:, i] ** 2
        self._mean[:, _PAUSE] = self.prior.pause_mean
        self._response[:, _PAUSE] = 0.0

    def _loading(self, n: int) -> F:
        h = np.ones(_K)
        h[1:N_LEVEL] = [np.exp(-(n - 1.0) / tau) for tau in WARM_TAUS]
        since = None if self._paused_at is None else n - self._paused_at
        h[_PAUSE] = [0.0 if since is None else np.exp(-since / tau) for tau in PAUSE_TAUS]
        return h

    def surprise(self, n: int, z: F) -> F:
        """Return the standardised innovations that shot `n` would give, without taking it in; NaN where missing."""
        steps = max(n - self._n, 1)
        h = self._loading(n)
        mean, cov = self._ahead(steps)
        variance = np.einsum("i,pij,j->p", h, cov, h) + READING
        return np.asarray((z - mean @ h) / np.sqrt(variance))

    def _ahead(self, steps: int) -> tuple[F, F]:
        mean, cov = self._mean.copy(), self._cov.copy()
        decay = np.ones((len(mean), _K))
        decay[:, _AR] = self._phi**steps
        decay[:, _SLOW] = SLOW_PHI**steps
        mean *= decay
        cov *= decay[:, :, None] * decay[:, None, :]
        cov[:, _AR, _AR] += 1.0 - decay[:, _AR] ** 2
        cov[:, _SLOW, _SLOW] += self.prior.wander * (1.0 - decay[:, _SLOW] ** 2)
        return mean, cov

    def step(self, n: int, z: F) -> None:
        """Take in shot `n` of the insert; `z`: values in sigma about the reference, NaN where missing."""
        steps = max(n - self._n, 1)
        if not self.frozen:
            self._open(n)
        h = self._loading(n)
        self._mean, self._cov = self._ahead(steps)
        seen = np.isfinite(z)
        ph = self._cov @ h
        variance = ph @ h + READING
        gain = np.where(seen[:, None], ph / variance[:, None], 0.0)
        innovation = np.where(seen, z - self._mean @ h, 0.0)
        self._mean = self._mean + gain * innovation[:, None]
        self._cov = self._cov - gain[:, :, None] * ph[:, None, :]
        self._accumulate(n, steps, h, gain, innovation, variance, seen)
        self._n = n

    def _accumulate(self, n: int, steps: int, h: F, gain: F, innovation: F, variance: F, seen: NDArray[np.bool_]) -> None:
        used = self._used
        response = self._response[:, :, :, :used]
        response[:, _AR] *= (self._phi**steps)[:, None, None]
        response[:, _SLOW] *= SLOW_PHI**steps
        shapes = shape_values((n - self._onset[:used] + 1).astype(float))
        p = len(gain)
        nu = shapes - np.matmul(h, response.reshape(p, _K, -1)).reshape(p, SHAPE_COUNT, used)
        response += gain[:, :, None, None] * nu[:, None]
        root = np.sqrt(variance)
        nu *= np.where(seen, 1.0 / root, 0.0)[:, None, None]
        u = innovation / root
        inverse = self._precision(seen)
        self._score[:, :, :used] += nu * (inverse @ u)[:, None, None]
        self._info[:, :, :, :used] += inverse[:, :, None, None] * (nu[:, None] * nu[None])
        grown = 1.0 + (SPREAD_RATES[:, None] * (n - self._onset[:used] + 1)) ** 2
        squared = np.where(seen, np.minimum(np.abs(u), _CLIP) ** 2, 1.0)[:, None, None]
        ratio = -0.5 * np.log(grown) + 0.5 * squared * (1.0 - 1.0 / grown)
        self._spread[:, :, :used] += np.where(seen[:, None, None], ratio, 0.0)

    def _precision(self, seen: NDArray[np.bool_]) -> F:
        key = seen.tobytes()
        if key not in self._inverse:
            part = np.zeros_like(self.prior.correlation)
            at = np.flatnonzero(seen)
            part[np.ix_(at, at)] = np.linalg.inv(self.prior.correlation[np.ix_(at, at)])
            self._inverse[key] = part
        return self._inverse[key]

    def _open(self, n: int) -> None:
        """Start the hypothesis of an onset at `n`, thinning out old ones."""
        onset = self._onset[: self._used]
        age = n - onset
        kept = (age < _RECENT) | ((age < _MIDDLE) & (onset % 2 == 0)) | ((age < _OLD) & (onset % 4 == 0))
        if not kept.all():
            at = np.flatnonzero(kept)
            m = len(at)
            self._onset[:m] = onset[at]
            for block in (self._response, self._score, self._info, self._spread):
                block[..., :m] = block[..., at]
            self._used = m
        self._onset[self._used] = n
        for block in (self._response, self._score, self._info, self._spread):
            block[..., self._used] = 0.0
        self._used += 1

    def sums(self) -> Sums:
        """Return views of the sums over the onsets kept."""
        used = self._used
        return Sums(
            self._onset[:used], self._score[:, :, :used], self._info[..., :used], self._spread[:, :, :used]
        )

    def level(self) -> tuple[F, F]:
        """Return the own level about the reference and its variance, in sigma, shape (p,) each."""
        return self._mean[:, 0], self._cov[:, 0, 0]

    def expected_curve(self, n: int) -> F:
        """Return the warm-up and after-pause part expected at shot `n`, in sigma, shape (p,)."""
        h = self._loading(n)
        h[[0, _AR, _SLOW]] = 0.0
        return np.asarray(self._mean @ h)
