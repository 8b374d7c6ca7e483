"""What sister inserts teach together: the prior of the next insert of their design.

A `Sister` is the healthy stretch of a finished life, boiled down: noise profile, level and warm-up coefficients with
their covariance, trend, what the rhythm did, after-pause coefficients, products of innovations between channels. They
enter by empirical Bayes: level and warm-up are normal between inserts; means are precision-weighted, between-insert
variances are method-of-moments estimates shrunk to a default worth a few inserts.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shotlog.channels import CHANNELS
from shotlog.wear.compiled.between import between
from shotlog.wear.constants import (
    BETWEEN_ROUNDS,
    BETWEEN_SIGMA,
    BETWEEN_WORTH,
    CORRELATION_WORTH,
    LEAST_DOF,
    WARM_FREE,
    WARM_SHARE,
)
from shotlog.wear.level.ageing import NO_TREND, shared
from shotlog.wear.level.baseline import Prior, least_of
from shotlog.wear.level.pauses import cooling_of, melt_coefficients
from shotlog.wear.level.rhythm import Response, pace_spread, pooled_response, usual_of
from shotlog.wear.level.settling import N_PAUSE
from shotlog.wear.level.sister import N_LEVEL, Sister, correlation, least_spread
from shotlog.wear.level.tails import heaviness
from shotlog.wear.level.whitening import Profile, choose

__all__ = ["pooled_prior"]

F = NDArray[np.float64]


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
        noise.tails,
    )


@dataclass(frozen=True, slots=True)
class _Noise:
    """What the shots of sisters tell of the noise, and the smallest change that shows in it; see `Prior`."""

    known: tuple[str, ...]
    sigma: F
    phi: F
    wander: F
    tails: F
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
    sigma, phi, wander, tails, least = np.ones(p), np.zeros(p), np.zeros(p), np.zeros(p), np.ones(p)
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
        tails[c] = heaviness(np.sum([one.tails for one in mine], axis=0))
        least[c] = least_of(name, sigma[c], step, least_change)
        dofs.append(noise.dof)
    return _Noise(known, sigma, phi, wander, tails, least, float(np.mean(dofs[1:] or dofs)))


def _freedom(sisters: Sequence[Sister], name: str, own: Mapping[str, Profile] | None) -> float:
    """Return the degrees of freedom behind the spread of a channel."""
    seen = [s.channels[name].noise.dof for s in sisters if name in s.channels]
    return sum(seen) + (own[name].dof if seen and own and name in own else 0.0)


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
    for sister in (one for one in sisters if one.channels):
        names = list(sister.channels)
        mine = [i for i, name in enumerate(names) if name in known]
        to = [known.index(names[i]) for i in mine]
        products[np.ix_(to, to)] += sister.correlation[np.ix_(mine, mine)]
        counts[np.ix_(to, to)] += sister.freedom
    return correlation(products, counts, CORRELATION_WORTH)
