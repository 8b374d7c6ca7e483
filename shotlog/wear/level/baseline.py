"""Baseline: what is known of an insert before and while it runs; the pool of its sisters.

A `Sister` is the healthy stretch of a finished life, boiled down: noise profile, level and warm-up coefficients with
their covariance, after-pause coefficients, products of innovations between channels. A `Prior` is what the next insert
of the design starts from. Sisters enter by empirical Bayes: level and warm-up are normal between inserts; means are
precision-weighted, between-insert variances are method-of-moments estimates shrunk to a default worth a few inserts.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from shotlog.channels import CHANNELS
from shotlog.wear.compiled.between import between
from shotlog.wear.constants import (
    BETWEEN_ROUNDS,
    BETWEEN_SIGMA,
    BETWEEN_WORTH,
    COARSE_BELOW,
    CORRELATION_WORTH,
    CORRELATION_WORTH_OWN,
    LEAST_DOF,
    LEAST_SIGMA,
    LEAST_STEPS,
    LEAST_STEPS_COARSE,
    MOST_LEAST_SIGMA,
    OWN_LEVEL_SIGMA,
    OWN_PAUSE_SHARE,
    OWN_PAUSE_SIGMA,
    OWN_STEP,
    OWN_TREND_FROM,
    OWN_WARM_SIGMA,
    WANDER_ELSEWHERE,
    WANDER_UPSTREAM,
    WARM_FREE,
    WARM_SHARE,
)
from shotlog.wear.level.ageing import NO_TREND, shared
from shotlog.wear.level.pauses import ANY_COOLING, Pause, cooling_of, melt_coefficients
from shotlog.wear.level.rhythm import STEADY, Paced, Response, pace_spread, pooled_response, usual_of
from shotlog.wear.level.settling import N_PAUSE
from shotlog.wear.level.sister import (
    N_LEVEL,
    Sister,
    correlation,
    least_spread,
    life_columns,
    noise_profiles,
)
from shotlog.wear.level.whitening import Profile, choose, resolution, whitened

__all__ = ["Prior", "by_channel", "first_prior", "freed", "pooled_prior", "settled_on"]

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

    @property
    def ages(self) -> bool:
        """Whether the sisters share an ageing, so that it is normal."""
        return bool(self.drift_sd.any())

    def level(self, n: int) -> tuple[F, F]:
        """Return the level expected, as aged by shot `n`, and its variance, in spreads, shape (p,) each."""
        age = n - 1.0
        return self.mean[:, 0] + age * self.drift_mean, self.cov[:, 0, 0] + age**2 * self.drift_sd**2

    def named(self, values: F) -> dict[str, float]:
        """Return values by channel, from spreads to the channel's unit."""
        return dict(zip(self.channels, (values * self.sigma).tolist(), strict=True))


def _least(name: str, sigma: float, step: float, given: Mapping[str, float]) -> float:
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
        least[c] = _least(channels[c], sigma[c], step, least_change)
        residual[rows, c], beta, _ = whitened(values[rows, c], columns[rows], chosen.at)
        residual[rows, c] /= sigma[c]
        pause_sd[c, -1] = max(pause_sd[c, -1], OWN_PAUSE_SHARE * abs(float(beta[1:N_LEVEL].sum())) / sigma[c])
        dof = max(dof, noise.dof)
    reference = np.nanmedian(values, axis=0)
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


def pooled_prior(
    sisters: Sequence[Sister],
    channels: tuple[str, ...],
    least_change: Mapping[str, float],
    own: Mapping[str, Profile] | None = None,
) -> Prior | None:
    """Make the prior of an insert from its sisters, oldest first; None where they tell the spread of none of its
    channels.

    `own`: noise of the insert's own shots so far, which counts like a sister's.
    """
    lives = [one.whole or one for one in sisters]
    noise = _noise(lives, channels, least_change, own)
    drift_mean, drift_sd = _shared_ageing(lives, noise)
    if drift_sd.any():
        sisters = lives
    elif any(one.whole for one in sisters):
        noise = _noise(sisters, channels, least_change, own)
        drift_mean, drift_sd = np.zeros((2, len(noise.known)))
    known, sigma, p = noise.known, noise.sigma, len(noise.known)
    if not known:
        return None
    mean, cov = np.zeros((p, N_LEVEL)), np.zeros((p, N_LEVEL, N_LEVEL))
    pause_mean, pause_sd = np.zeros((p, N_PAUSE)), np.zeros((p, N_PAUSE))
    reference, usual_s = np.zeros(p), usual_of([one.usual_s for one in sisters])
    pace_mean, pace_var = np.zeros(p), np.zeros(p)
    for c, name in enumerate(known):
        mine = [one for one in sisters if name in one.channels]
        responses = [one.channels[name].response for one in mine]
        default = pace_spread(name, float(np.mean([one.channels[name].beta[0] for one in mine])), sigma[c])
        pace_mean[c], pace_var[c] = pooled_response(responses, sigma[c], default)
        aged = [_as_aged(one, name, sigma[c], drift_mean[c], drift_sd[c]) for one in mine]
        ratios = [np.log(usual_s / one.usual_s) if usual_s and one.usual_s else 0.0 for one in mine]
        levels = [
            _as_paced(*one, responses[k], ratios[k], pace_mean[c] * sigma[c], pace_var[c] * sigma[c] ** 2)
            for k, one in enumerate(aged)
        ]
        level, cov[c] = between(
            np.array([beta for beta, _ in levels]),
            np.array([one for _, one in levels]),
            BETWEEN_SIGMA * sigma[c],
            WARM_FREE * sigma[c],
            WARM_SHARE,
            BETWEEN_WORTH,
            BETWEEN_ROUNDS,
        )
        reference[c] = level[0]
        mean[c, 1:] = level[1:] / sigma[c]
        cov[c] /= sigma[c] ** 2
    after = [_after_pauses(sisters, name, sigma[c], mean[c, 1:]) for c, name in enumerate(known)]
    cooling = cooling_of([one for channel in after for one in channel])
    for c, seen in enumerate(after):
        pause_mean[c, 0], pause_sd[c, 0] = melt_coefficients(seen, cooling)
    return Prior(
        known,
        sigma,
        noise.phi,
        noise.wander,
        _pooled_correlation(sisters, known),
        reference,
        mean,
        cov,
        pause_mean,
        pause_sd,
        noise.least,
        noise.dof,
        len(sisters),
        0,
        cooling,
        drift_mean,
        drift_sd,
        pace_mean,
        np.sqrt(pace_var),
        usual_s,
    )


@dataclass(frozen=True, slots=True)
class _Noise:
    """What the shots of sisters tell of the noise, and the smallest change that shows in it; see `Prior`."""

    known: tuple[str, ...]
    sigma: F
    phi: F
    wander: F
    least: F
    dof: float


def _noise(
    sisters: Sequence[Sister],
    channels: tuple[str, ...],
    least_change: Mapping[str, float],
    own: Mapping[str, Profile] | None,
) -> _Noise:
    known = tuple(name for name in channels if _freedom(sisters, name, own) >= LEAST_DOF)
    p, dofs = len(known), [0.0]
    sigma, phi, wander, least = np.ones(p), np.zeros(p), np.zeros(p), np.ones(p)
    for c, name in enumerate(known):
        mine = [s.channels[name] for s in sisters if name in s.channels]
        noise = mine[0].noise
        for one in mine[1:]:
            noise = noise + one.noise
        if own and name in own:
            noise = noise + own[name]
        step = min(one.step for one in mine)
        chosen = choose(noise, least_spread(name, step))
        sigma[c], phi[c], wander[c] = chosen.sigma, chosen.phi, chosen.wander
        least[c] = _least(name, sigma[c], step, least_change)
        dofs.append(noise.dof)
    return _Noise(known, sigma, phi, wander, least, float(np.mean(dofs[1:] or dofs)))


def _freedom(sisters: Sequence[Sister], name: str, own: Mapping[str, Profile] | None) -> float:
    """Return the degrees of freedom behind the spread of a channel."""
    seen = [s.channels[name].noise.dof for s in sisters if name in s.channels]
    return sum(seen) + (own[name].dof if seen and own and name in own else 0.0)


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


def freed(prior: Prior, level: F, sigma: F) -> Prior:
    """Return the prior with its level about `level` and wider by `sigma`, both in spreads, shape (p,)."""
    mean, cov = prior.mean.copy(), prior.cov.copy()
    mean[:, 0] = level
    cov[:, 0, 0] += sigma**2
    return replace(prior, mean=mean, cov=cov)


def _shared_ageing(sisters: Sequence[Sister], noise: _Noise) -> tuple[F, F]:
    """Return mean and spread of the ageing that the sisters share, in spreads; what lies upstream does not age."""
    known, sigma = noise.known, noise.sigma
    may = [c for c, name in enumerate(known) if not CHANNELS[name].upstream]
    mean, spread = np.zeros(len(known)), np.zeros(len(known))
    if may:
        trends = [[s.channels[known[c]].trend if known[c] in s.channels else NO_TREND for s in sisters] for c in may]
        seen = [
            (np.array([one.value for one in some]) / sigma[c], np.array([one.variance for one in some]))
            for c, some in zip(may, trends, strict=True)
        ]
        gains = np.sum([[one.gains for one in some] for some in trends], axis=0)
        mean[may], spread[may] = shared(seen, gains, noise.least[may])
    return mean, spread


def _as_aged(sister: Sister, name: str, sigma: float, mean: float, sd: float) -> tuple[F, F]:
    """Return level and warm-up of a sister, and their covariance, with the ageing taken off that is taken as normal:
    `mean` and `sd` in spreads a shot.

    Of a life that went from its first shot on, its own trend is taken off where none is normal.
    """
    one = sister.channels[name]
    value, variance = one.trend.value, one.trend.variance * sigma**2
    if sd > 0.0:
        precision = 1.0 / variance + 1.0 / (sd * sigma) ** 2
        return one.aged(sigma, (value / variance + mean / (sd**2 * sigma)) / precision, 1.0 / precision)
    return one.aged(sigma, value, variance) if sister.aged else (one.beta, one.known(sigma))


def _as_paced(beta: F, cov: F, response: Response, ratio: float, mean: float, variance: float) -> tuple[F, F]:
    """Return level and warm-up, and their covariance, at another usual rhythm, slower by the log ratio `ratio`, where a
    channel does `mean` with the rhythm, known with `variance`; in its unit.
    """
    along = response.along + np.array([ratio, *[0.0] * (N_LEVEL - 1)])
    return beta + along * mean, cov + np.outer(along, along) * variance


def _after_pauses(sisters: Sequence[Sister], name: str, sigma: float, warm: F) -> list[tuple[float | None, F, F, F]]:
    """Return wait, coefficients, covariance and warm-up of a channel for every pause of the sisters, in spreads."""
    return [
        (None if wait < 0 else wait, one.pauses[k] / sigma, one.pause_cov[k], warm)
        for sister in sisters
        if (one := sister.channels.get(name)) is not None
        for k, wait in enumerate(sister.waits)
    ]


def _pooled_correlation(sisters: Sequence[Sister], known: tuple[str, ...]) -> F:
    p = len(known)
    products, counts = np.zeros((p, p)), np.zeros((p, p))
    for sister in sisters:
        names = list(sister.channels)
        mine = [i for i, name in enumerate(names) if name in known]
        to = [known.index(names[i]) for i in mine]
        products[np.ix_(to, to)] += sister.correlation[np.ix_(mine, mine)]
        counts[np.ix_(to, to)] += sister.freedom
    return correlation(products, counts, CORRELATION_WORTH)


def by_channel(prior: Prior, values: Mapping[str, float]) -> F:
    """Return values by channel as an array in the order of a prior's channels, 0 for those it lacks."""
    return np.array([values.get(name, 0.0) for name in prior.channels])
