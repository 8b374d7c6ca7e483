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
from shotlog.wear.pauses import ANY_COOLING, Pause, cooling_of, melt_coefficients
from shotlog.wear.settling import N_PAUSE, N_WARM, pause_columns, settled_at, warm_columns
from shotlog.wear.whitening import Profile, choose, profile, resolution, whitened

__all__ = [
    "MOST_SISTERS",
    "ChannelSister",
    "Prior",
    "Sister",
    "first_prior",
    "freed",
    "moved",
    "own_noise",
    "pooled_prior",
    "sister_of",
]

F = NDArray[np.float64]

MOST_SISTERS = 8
"""Sisters kept: more would hold on to levels and resin lots of long ago."""

N_LEVEL = 1 + N_WARM
_BETWEEN_WORTH = 3.0
_BETWEEN_SIGMA = 1.5
_WARM_SHARE = 0.15
_PAUSE_SIGMA = (4.0, 5.0)
_FREE_WARM_SIGMA = (8.0, 8.0, 8.0)
_UPSTREAM_WANDER = 1.0
"""Wander assumed upstream of the mould on a first insert, where a few shots cannot tell a slow swing of a zone from a
step.
"""

_MOVED_SHARE = 0.3

_FREE_LEVEL_SIGMA = 1e3
_LEAST_SPREAD = 0.45


@dataclass(frozen=True, slots=True)
class ChannelSister:
    """One channel of a finished life, in the channel's unit.

    `beta`, `cov`: level and warm-up (N_LEVEL). `pauses`, `pause_cov`: coefficients after each pause, (k, N_PAUSE) and
    (k, N_PAUSE, N_PAUSE).
    """

    noise: Profile
    step: float
    beta: F
    cov: F
    pauses: F
    pause_cov: F
    shift: float = 0.0


@dataclass(frozen=True, slots=True)
class Sister:
    """A finished life's healthy stretch: its channels, and the correlation of innovations over `n_shots`.

    `waits`: length of each pause in minutes, -1 where it is not known.
    """

    serial: str
    channels: Mapping[str, ChannelSister]
    correlation: F
    n_shots: int
    waits: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Prior:
    """What an insert is judged by; arrays run over `channels`, everything in units of `sigma` about `reference`.

    `sigma`, `reference` are in each channel's unit. `mean`, `cov`: level and warm-up, (p, N_LEVEL) and (p, N_LEVEL,
    N_LEVEL). `pause_mean`, `pause_sd`: (p, N_PAUSE); of sisters, what a waiting melt does at full effect stands first,
    and `cooling` are the weights of the time constants of cooling (see `pauses`). `dof`: degrees of freedom behind
    sigma. `least`: smallest change of practical size, in sigma. `n_sisters`: 0 for the first insert of a design.
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


def life_columns(n: F, pauses: Sequence[Pause], steps: Sequence[int], trend: bool) -> F:
    """Return the columns of a life: level, warm-up, two for each of the last three pauses, accepted steps, a trend if
    asked.
    """
    blocks = [np.ones((len(n), 1)), warm_columns(n)]
    blocks += [pause_columns(n - one.n) for one in list(pauses)[-3:]]
    blocks += [(n[:, None] >= at).astype(np.float64) for at in steps]
    if trend:
        blocks.append((n[:, None] - n.mean()) / max(len(n), 2))
    return np.hstack(blocks)


def _floor(name: str, step: float) -> float:
    """Return the least spread believed in: half a step of rounding, and a quarter of what matters in practice.

    A channel may show no spread at all, or a step that is an artefact of converting units; one flip of its last digit
    is not a change.
    """
    return max(_LEAST_SPREAD * step, CHANNELS[name].least_change / 4.0)


def _profiles(values: F, columns: F) -> list[Profile]:
    """Profile every channel; those seen at the same shots go together."""
    seen = np.isfinite(values)
    out: list[Profile | None] = [None] * values.shape[1]
    for pattern in {seen[:, c].tobytes() for c in range(values.shape[1])}:
        members = [c for c in range(values.shape[1]) if seen[:, c].tobytes() == pattern]
        rows = seen[:, members[0]]
        found = profile(values[rows][:, members], columns[rows])
        for c, one in zip(members, found, strict=True):
            out[c] = one
    return [one for one in out if one is not None]


def _correlation(products: F, counts: F, worth: float) -> F:
    spread = np.sqrt(np.maximum(np.diagonal(products), 1e-12))
    raw = products / np.outer(spread, spread)
    shrunk = raw * counts / (counts + worth)
    np.fill_diagonal(shrunk, 1.0)
    return np.asarray(np.clip(shrunk, -0.95, 0.95) + np.eye(len(shrunk)) * 0.05)


def sister_of(
    serial: str, channels: tuple[str, ...], n: F, values: F, pauses: Sequence[Pause], steps: Sequence[int] = ()
) -> Sister:
    """Boil down the healthy stretch of a life; `n`: shots on the insert, `values`: (n_shots, n_channels), NaN missing.

    `steps`: shots from which an accepted material change holds; the level kept is the last one, `shift` says how far it
    came.
    """
    pauses, steps = list(pauses)[-3:], [at for at in steps if (n < at).sum() >= 5 and (n >= at).sum() >= 3]
    columns = life_columns(n, pauses, steps, trend=False)
    used = [c for c in range(values.shape[1]) if np.isfinite(values[:, c]).sum() >= columns.shape[1] + 4]
    profiles = _profiles(values[:, used], columns) if used else []
    residual = np.full((len(n), len(used)), 0.0)
    made: dict[str, ChannelSister] = {}
    for k, (c, noise) in enumerate(zip(used, profiles, strict=True)):
        rows = np.isfinite(values[:, c])
        step = resolution(values[rows, c])
        chosen = choose(noise, _floor(channels[c], step))
        sigma = chosen.sigma
        innovations, beta, cov = whitened(values[rows, c], columns[rows], chosen.at)
        residual[rows, k] = innovations / sigma
        after = N_LEVEL + N_PAUSE * len(pauses)
        shift = float(beta[after:].sum())
        level = beta[:N_LEVEL] + np.array([shift, *[0.0] * N_WARM])
        pause = beta[N_LEVEL:after].reshape(-1, N_PAUSE)
        blocks = [slice(N_LEVEL + N_PAUSE * k, N_LEVEL + N_PAUSE * (k + 1)) for k in range(len(pauses))]
        pause_cov = np.array([cov[at, at] * sigma**2 for at in blocks])
        made[channels[c]] = ChannelSister(
            noise, step, level, cov[:N_LEVEL, :N_LEVEL] * sigma**2, pause, pause_cov, shift
        )
    waits = tuple(-1.0 if one.wait_min is None else one.wait_min for one in pauses)
    return Sister(serial, made, residual.T @ residual, len(n), waits)


def _least(name: str, sigma: float, step: float, given: Mapping[str, float]) -> float:
    """Return the smallest change of practical size, in sigma: as given, else derived.

    Derived: what matters on such a press (channel table), but no more than one spread where an insert shows, and never
    less than can be told from the rounding of the values.
    """
    if name in given:
        return max(given[name], 0.0) / sigma
    digits = 1.2 if sigma < 0.5 * step else 0.6
    matters = CHANNELS[name].least_change / sigma
    return max(matters if CHANNELS[name].upstream else min(matters, 1.0), digits * step / sigma, 0.5)


def first_prior(
    channels: tuple[str, ...],
    n: F,
    values: F,
    pauses: Sequence[Pause],
    steps: Sequence[int],
    least_change: Mapping[str, float],
    settled: int,
) -> Prior:
    """Make the prior of a first insert from its own shots: level free, warm-up nearly free, noise from what is seen.

    `steps`: shots from which the level may differ (a new print batch of single-use halves).
    """
    steps = [at for at in steps if (n < at).sum() >= 3 and (n >= at).sum() >= 2]
    columns = life_columns(n, pauses, steps, trend=len(n) >= 14)
    profiles = _profiles(values, columns)
    p = len(channels)
    sigma, phi, wander, least = np.ones(p), np.zeros(p), np.zeros(p), np.ones(p)
    residual, pause_sd = np.zeros((len(n), p)), np.tile(_PAUSE_SIGMA, (p, 1))
    dof = 1.0
    for c, noise in enumerate(profiles):
        rows = np.isfinite(values[:, c])
        step = resolution(values[rows, c])
        chosen = choose(noise, _floor(channels[c], step))
        sigma[c], phi[c], wander[c] = chosen.sigma, chosen.phi, chosen.wander
        least[c] = _least(channels[c], sigma[c], step, least_change)
        residual[rows, c], beta, _ = whitened(values[rows, c], columns[rows], chosen.at)
        residual[rows, c] /= sigma[c]
        pause_sd[c, -1] = max(pause_sd[c, -1], 0.8 * abs(float(beta[1:N_LEVEL].sum())) / sigma[c])
        dof = max(dof, noise.dof)
    reference = np.nanmedian(values, axis=0)
    variances = np.array([_FREE_LEVEL_SIGMA, *_FREE_WARM_SIGMA]) ** 2
    return Prior(
        channels,
        sigma,
        phi,
        np.maximum(wander, [_UPSTREAM_WANDER if CHANNELS[name].upstream else 0.1 for name in channels]),
        _correlation(residual.T @ residual, np.full((p, p), float(len(n))), 12.0),
        reference,
        np.zeros((p, N_LEVEL)),
        np.tile(np.diag(variances), (p, 1, 1)),
        np.zeros((p, N_PAUSE)),
        pause_sd,
        least,
        dof,
        0,
        settled,
    )


def own_noise(channels: tuple[str, ...], n: F, values: F, pauses: Sequence[Pause]) -> dict[str, Profile]:
    """Profile the noise of an insert's own shots so far, a trend projected out so that early wear is not noise."""
    columns = life_columns(n, pauses, (), trend=True)
    used = [c for c in range(values.shape[1]) if np.isfinite(values[:, c]).sum() >= columns.shape[1] + 4]
    found = _profiles(values[:, used], columns) if used else []
    return {channels[c]: one for c, one in zip(used, found, strict=True)}


def pooled_prior(
    sisters: Sequence[Sister],
    channels: tuple[str, ...],
    least_change: Mapping[str, float],
    most_settling: int,
    own: Mapping[str, Profile] | None = None,
) -> Prior | None:
    """Make the prior of an insert from its sisters, oldest first; None where they share none of its channels.

    `own`: noise of the insert's own shots so far, which counts like a sister's.
    """
    known = tuple(name for name in channels if any(name in s.channels for s in sisters))
    if not known:
        return None
    p = len(known)
    sigma, phi, wander, least = np.ones(p), np.zeros(p), np.zeros(p), np.ones(p)
    mean, cov = np.zeros((p, N_LEVEL)), np.zeros((p, N_LEVEL, N_LEVEL))
    pause_mean, pause_sd = np.zeros((p, N_PAUSE)), np.zeros((p, N_PAUSE))
    reference, dofs = np.zeros(p), []
    for c, name in enumerate(known):
        mine = [s.channels[name] for s in sisters if name in s.channels]
        noise = mine[0].noise
        for one in mine[1:]:
            noise = noise + one.noise
        if own and name in own:
            noise = noise + own[name]
        step = min(one.step for one in mine)
        chosen = choose(noise, _floor(name, step))
        sigma[c], phi[c], wander[c] = chosen.sigma, chosen.phi, chosen.wander
        least[c] = _least(name, sigma[c], step, least_change)
        level, cov[c] = _between(mine, sigma[c])
        reference[c] = level[0]
        mean[c, 1:] = level[1:] / sigma[c]
        cov[c] /= sigma[c] ** 2
        dofs.append(noise.dof)
    after = [_after_pauses(sisters, name, sigma[c], mean[c, 1:]) for c, name in enumerate(known)]
    cooling = cooling_of([one for channel in after for one in channel])
    for c, seen in enumerate(after):
        pause_mean[c, 0], pause_sd[c, 0] = melt_coefficients(seen, cooling)
    return Prior(
        known,
        sigma,
        phi,
        wander,
        _pooled_correlation(sisters, known),
        reference,
        mean,
        cov,
        pause_mean,
        pause_sd,
        least,
        float(np.mean(dofs)),
        len(sisters),
        settled_at(cov[:, 1:, 1:], most_settling),
        cooling,
    )


def moved(sister: Sister, by: Mapping[str, float]) -> Sister:
    """Return a sister whose levels are moved, by channel in its unit: a new lot holds for the inserts to come.

    How far they moved is not known exactly, so a moved level counts for less than one measured since.
    """
    channels = {}
    for name, one in sister.channels.items():
        shift, cov = by.get(name, 0.0), one.cov.copy()
        cov[0, 0] += (_MOVED_SHARE * shift) ** 2
        channels[name] = replace(one, beta=one.beta + np.array([shift, *[0.0] * N_WARM]), cov=cov)
    return replace(sister, channels=channels)


def freed(prior: Prior, level: F, sigma: F) -> Prior:
    """Return the prior with its level about `level` and wider by `sigma`, both in spreads, shape (p,)."""
    mean, cov = prior.mean.copy(), prior.cov.copy()
    mean[:, 0] = level
    cov[:, 0, 0] += sigma**2
    return replace(prior, mean=mean, cov=cov)


def _between(sisters: Sequence[ChannelSister], sigma: float) -> tuple[F, F]:
    """Return mean and covariance of (level, warm-up) for the next insert, in the channel's unit.

    The level spread is a method-of-moments estimate shrunk to `_BETWEEN_SIGMA`; the warm-up curve varies as a whole, by
    a share of itself that is learnt too, and a little freely.
    """
    betas = np.array([s.beta for s in sisters])
    covs = np.array([s.cov for s in sisters])
    level_var = (_BETWEEN_SIGMA * sigma) ** 2
    share_var = _WARM_SHARE**2
    free = np.diag([0.0, *[(0.3 * sigma) ** 2] * N_WARM])
    mean, mean_cov = betas[-1], covs[-1]
    for _ in range(3):
        curve = np.concatenate([[0.0], mean[1:]])
        spread = free + share_var * np.outer(curve, curve)
        spread[0, 0] += level_var
        weights = np.linalg.inv(covs + spread)
        mean_cov = np.linalg.inv(weights.sum(axis=0))
        mean = mean_cov @ np.einsum("kij,kj->i", weights, betas)
        off = betas - mean
        moments = np.sum(off[:, 0] ** 2) - np.sum(covs[:, 0, 0]) * (1 - 1 / len(betas))
        level_var = (_BETWEEN_WORTH * (_BETWEEN_SIGMA * sigma) ** 2 + max(moments, 0.0)) / (
            _BETWEEN_WORTH + len(betas) - 1
        )
        share_var = _share_variance(betas, covs, mean)
    curve = np.concatenate([[0.0], mean[1:]])
    spread = free + share_var * np.outer(curve, curve)
    spread[0, 0] += level_var
    return mean, spread + mean_cov


def _share_variance(betas: F, covs: F, mean: F) -> float:
    curve = mean[1:]
    info = np.linalg.inv(covs[:, 1:, 1:])
    power = np.einsum("i,kij,j->k", curve, info, curve)
    if power.min() < 4.0:
        return _WARM_SHARE**2
    share = np.einsum("i,kij,kj->k", curve, info, betas[:, 1:]) / power
    excess = np.sum((share - 1) ** 2 - (1 / power) * (1 - 1 / len(betas)))
    return float((_BETWEEN_WORTH * _WARM_SHARE**2 + max(excess, 0.0)) / (_BETWEEN_WORTH + len(betas) - 1))


def _after_pauses(sisters: Sequence[Sister], name: str, sigma: float, warm: F) -> list[tuple[float | None, F, F, F]]:
    """Return wait, coefficients, covariance and warm-up of a channel for every pause of the sisters, in spreads."""
    return [
        (None if wait < 0 else wait, one.pauses[k] / sigma, one.pause_cov[k] / sigma**2, warm)
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
        counts[np.ix_(to, to)] += sister.n_shots
    return _correlation(products, counts, 8.0)
