"""Baseline: what is known of an insert before and while it runs, from its sisters (see `sisters`) or its own shots."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from shotlog.channels import CHANNELS
from shotlog.wear.constants import (
    COARSE_BELOW,
    CORRELATION_WORTH_OWN,
    LEAST_SIGMA,
    LEAST_STEPS,
    LEAST_STEPS_COARSE,
    MIDDLE_HALF,
    MOST_LEAST_SIGMA,
    ODD_FIRST,
    ODD_FROM,
    OWN_LEVEL_SIGMA,
    OWN_PAUSE_SHARE,
    OWN_PAUSE_SIGMA,
    OWN_STEP,
    OWN_TREND_FROM,
    OWN_WARM_SIGMA,
    WANDER_ELSEWHERE,
    WANDER_UPSTREAM,
)
from shotlog.wear.level.pauses import ANY_COOLING, Pause
from shotlog.wear.level.rhythm import STEADY, Paced, pace_spread
from shotlog.wear.level.settling import N_PAUSE
from shotlog.wear.level.sister import (
    N_LEVEL,
    correlation,
    least_spread,
    life_columns,
    noise_profiles,
)
from shotlog.wear.level.whitening import choose, resolution, whitened

__all__ = ["Prior", "by_channel", "first_prior", "freed", "least_of", "settled_on", "widened"]

F = NDArray[np.float64]


def _none() -> F:
    return np.zeros(1)


@dataclass(frozen=True, slots=True)
class Prior:
    """What an insert is judged by; arrays run over `channels`, everything in units of `sigma` about `reference`.

    `sigma`, `reference` are in each channel's unit. `mean`, `cov`: level and warm-up, (p, N_LEVEL) and (p, N_LEVEL,
    N_LEVEL). `pause_mean`, `pause_sd`: (p, N_PAUSE); of sisters, what a waiting melt does at full effect stands first,
    and `cooling` are the weights of the time constants of cooling (see `pauses`). `dof`: degrees of freedom behind
    sigma. `least`: smallest change of practical size, in sigma. `n_sisters`: 0 for the first insert of a design.
    `settled`: shots that are not judged; none beside sisters. `drift_mean`, `drift_sd`: ageing that sisters share, a
    shot; `pace_mean`, `pace_sd`: what a rhythm slower by a log ratio of 1 does; (p,), or a single 0 for none.
    `tails`: inverse degrees of freedom of the noise, (p,), or a single 0 for normal: an insert's own few
    shots do not tell.
    """

    channels: tuple[str, ...]
    sigma: F
    phi: F
    wander: F
    correlation: F
    reference: F
    mean: F
    cov: F
    pause_mean: F
    pause_sd: F
    least: F
    dof: float
    n_sisters: int
    settled: int
    cooling: F = field(default_factory=ANY_COOLING.copy)
    drift_mean: F = field(default_factory=_none)
    drift_sd: F = field(default_factory=_none)
    pace_mean: F = field(default_factory=_none)
    pace_sd: F = field(default_factory=_none)
    usual_s: float = 0.0
    tails: F = field(default_factory=_none)

    @property
    def ages(self) -> bool:
        """Whether the sisters share an ageing, so that it is normal."""
        return any(self.drift_sd.tolist())

    def level(self, n: int) -> tuple[F, F]:
        """Return the level expected, as aged by shot `n`, and its variance, in spreads, shape (p,) each."""
        age = n - 1.0
        return self.mean[:, 0] + age * self.drift_mean, self.cov[:, 0, 0] + age**2 * self.drift_sd**2

    def named(self, values: F) -> dict[str, float]:
        """Return values by channel, from spreads to the channel's unit."""
        return dict(zip(self.channels, (values * self.sigma).tolist(), strict=True))


def least_of(name: str, sigma: float, step: float, given: Mapping[str, float]) -> float:
    """Return the smallest change of practical size, in sigma: as given, else derived.

    Derived: what matters on such a press (channel table), but no more than one spread where an insert shows, and never
    less than can be told from the rounding of the values.
    """
    if name in given:
        return max(given[name], 0.0) / sigma
    digits = LEAST_STEPS_COARSE if sigma < COARSE_BELOW * step else LEAST_STEPS
    matters = CHANNELS[name].least_change / sigma
    return max(
        matters if CHANNELS[name].upstream else min(matters, MOST_LEAST_SIGMA), digits * step / sigma, LEAST_SIGMA
    )


def first_prior(
    channels: tuple[str, ...],
    n: F,
    values: F,
    pauses: Sequence[Pause],
    steps: Sequence[int],
    least_change: Mapping[str, float],
    settled: int,
    paced: Paced = STEADY,
) -> Prior:
    """Make the prior of a first insert from its own shots: level free, warm-up nearly free, noise from what is seen.

    `steps`: shots from which the level may differ (a new print batch of single-use halves). `paced`: the rhythm.
    """
    steps = [at for at in steps if (n < at).sum() >= OWN_STEP[0] and (n >= at).sum() >= OWN_STEP[1]]
    values = without_odd(channels, values)
    columns = life_columns(n, pauses, steps, trend=len(n) >= OWN_TREND_FROM, paced=paced)
    profiles = noise_profiles(values, columns)
    p = len(channels)
    sigma, phi, wander, least = np.ones(p), np.zeros(p), np.zeros(p), np.ones(p)
    residual, pause_sd = np.zeros((len(n), p)), np.tile(OWN_PAUSE_SIGMA, (p, 1))
    dof = 1.0
    for c, noise in enumerate(profiles):
        rows = np.isfinite(values[:, c])
        step = resolution(values[rows, c])
        chosen = choose(noise, least_spread(channels[c], step))
        sigma[c], phi[c], wander[c] = chosen.sigma, chosen.phi, chosen.wander
        least[c] = least_of(channels[c], sigma[c], step, least_change)
        residual[rows, c], beta, _, _ = whitened(values[rows, c], columns[rows], chosen.at)
        residual[rows, c] /= sigma[c]
        pause_sd[c, -1] = max(pause_sd[c, -1], OWN_PAUSE_SHARE * abs(float(beta[1:N_LEVEL].sum())) / sigma[c])
        dof = max(dof, noise.dof)
    reference = np.array([_middle(one) for one in values.T])
    variances = np.array([OWN_LEVEL_SIGMA, *OWN_WARM_SIGMA]) ** 2
    return Prior(
        channels,
        sigma,
        phi,
        np.maximum(wander, [WANDER_UPSTREAM if CHANNELS[name].upstream else WANDER_ELSEWHERE for name in channels]),
        correlation(residual.T @ residual, np.full((p, p), float(len(n))), CORRELATION_WORTH_OWN),
        reference,
        np.zeros((p, N_LEVEL)),
        np.tile(np.diag(variances), (p, 1, 1)),
        np.zeros((p, N_PAUSE)),
        pause_sd,
        least,
        dof,
        0,
        settled,
        pace_sd=np.array([pace_spread(name, reference[c], sigma[c]) for c, name in enumerate(channels)]),
        usual_s=paced.usual_s,
    )


def settled_on(prior: Prior, level: Mapping[str, tuple[float, float]]) -> Prior:
    """Return the prior of an insert whose own level has been seen before: mean and variance by channel in its unit.

    It warms up as its sisters do. Where they tell the level better than it did itself, theirs stays.
    """
    mean, cov = prior.mean.copy(), prior.cov.copy()
    for c, name in enumerate(prior.channels):
        if name in level:
            own, variance = level[name]
            variance /= prior.sigma[c] ** 2
            if variance < cov[c, 0, 0]:
                mean[c, 0] = (own - prior.reference[c]) / prior.sigma[c]
                cov[c, 0, :], cov[c, :, 0] = 0.0, 0.0
                cov[c, 0, 0] = variance
    return replace(prior, mean=mean, cov=cov)


def without_odd(channels: Sequence[str], values: F) -> F:
    """Return values with single far-out ones taken as not reported: one alone would pass for the spread of all.

    Held against the four shots about it, in spreads of the middle half of such differences, so that a warm-up and a
    step that lasts stay.
    """
    out = values.copy()
    for c, name in enumerate(channels):
        at = np.flatnonzero(np.isfinite(values[:, c]))
        if len(at) < ODD_FROM:
            continue
        x = values[at, c]
        off = x - _about(x)
        spread = max(MIDDLE_HALF * _middle(np.abs(off)), least_spread(name, resolution(x)))
        out[at[np.abs(off) > ODD_FIRST * spread], c] = np.nan
    return out


def _about(x: F) -> F:
    """Return the median of the two values before and the two after each; of those that are there at the ends."""
    near, out = np.sort([x[:-4], x[1:-3], x[3:-1], x[4:]], axis=0), np.empty(len(x))
    out[2:-2] = (near[1] + near[2]) / 2.0
    a, b, c, d, *_ = x.tolist()
    e, f, g, h = x[-4:].tolist()
    out[:2] = (b + c) / 2.0, sorted((a, c, d))[1]
    out[-2:] = sorted((e, f, h))[1], (f + g) / 2.0
    return out


def _middle(values: F) -> float:
    """Return the median of what is not missing, NaN where nothing is."""
    seen = np.sort(values[np.isfinite(values)])
    return float((seen[(len(seen) - 1) // 2] + seen[len(seen) // 2]) / 2.0) if len(seen) else np.nan


def widened(prior: Prior, times: Mapping[str, float]) -> Prior:
    """Return the prior with the spread of some channels so many times as wide, and all else in its unit as it was."""
    by = np.array([times.get(name, 1.0) for name in prior.channels])
    if (by == 1.0).all():
        return prior

    def over(values: F) -> F:
        return np.asarray(values / (by if values.ndim == 1 else by[:, None]))

    return replace(
        prior,
        sigma=prior.sigma * by,
        mean=over(prior.mean),
        cov=prior.cov / by[:, None, None] ** 2,
        pause_mean=over(prior.pause_mean),
        pause_sd=over(prior.pause_sd),
        least=over(prior.least),
        drift_mean=over(prior.drift_mean),
        drift_sd=over(prior.drift_sd),
        pace_mean=over(prior.pace_mean),
        pace_sd=over(prior.pace_sd),
    )


def freed(prior: Prior, level: F, sigma: F) -> Prior:
    """Return the prior with its level about `level` and wider by `sigma`, both in spreads, shape (p,)."""
    mean, cov = prior.mean.copy(), prior.cov.copy()
    mean[:, 0] = level
    cov[:, 0, 0] += sigma**2
    return replace(prior, mean=mean, cov=cov)


def by_channel(prior: Prior, values: Mapping[str, float]) -> F:
    """Return values by channel as an array in the order of a prior's channels, 0 for those it lacks."""
    return np.array([values.get(name, 0.0) for name in prior.channels])
