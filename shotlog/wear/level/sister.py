"""A sister: the healthy stretch of a finished life, boiled down to what the next inserts can be judged by."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from shotlog.channels import CHANNELS
from shotlog.wear.constants import (
    LEAST_OWN,
    LEAST_SISTER,
    LEAST_SPREAD_SHARE,
    MOVED_SHARE,
    OWN_WARM_SIGMA,
    ROUNDING_SPREAD,
    SISTER_PAUSES,
    SISTER_STEP,
)
from shotlog.wear.level.ageing import NO_TREND, Trend, trend_of, trend_rivals
from shotlog.wear.level.pauses import Pause
from shotlog.wear.level.rhythm import STEADY, Paced, Response, response_of
from shotlog.wear.level.settling import N_PAUSE, N_WARM, pause_columns, warm_columns
from shotlog.wear.level.tails import tail_profile
from shotlog.wear.level.whitening import Profile, choose, profile, resolution, whitened

__all__ = [
    "N_LEVEL",
    "ChannelSister",
    "Sister",
    "change_columns",
    "correlation",
    "heard_through",
    "least_spread",
    "life_columns",
    "moved",
    "noise_profiles",
    "own_noise",
    "sister_of",
    "trends_of",
]

F = NDArray[np.float64]

N_LEVEL = 1 + N_WARM


@dataclass(frozen=True, slots=True)
class ChannelSister:
    """One channel of a finished life, in the channel's unit; covariances are for a spread of 1, which the sisters tell
    together.

    `beta`, `cov`: level and warm-up (N_LEVEL). `pauses`, `pause_cov`: coefficients after each pause, (k, N_PAUSE) and
    (k, N_PAUSE, N_PAUSE). `beta` is that of a life without ageing; `trend` says how far it aged, and what that makes of
    `beta`. `tails`: see `tail_profile`. `unsure`: variance of the level beside that, in the unit squared.
    """

    noise: Profile
    step: float
    beta: F
    cov: F
    pauses: F
    pause_cov: F
    trend: Trend
    response: Response
    tails: F
    shift: float = 0.0
    unsure: float = 0.0

    def known(self, sigma: float) -> F:
        """Return the covariance of level and warm-up where the spread is `sigma`, in the channel's unit squared."""
        cov = self.cov * sigma**2
        cov[0, 0] += self.unsure
        return np.asarray(cov)

    def aged(self, sigma: float, trend: float, variance: float) -> tuple[F, F]:
        """Return `beta` and its covariance, see `known`, where the life aged by `trend` a shot, with `variance`."""
        along = self.trend.along
        return self.beta + along * trend, self.known(sigma) + np.outer(along, along) * variance


@dataclass(frozen=True, slots=True)
class Sister:
    """A finished life's healthy stretch of `n_shots`: its channels, and the products of their innovations.

    `freedom`: how many shots the products count for. `waits`: length of each pause in minutes, -1 where it is not
    known. `aged`: the stretch goes from its first shot on; that is no noise, and its own trend holds for it whether or
    not its sisters share one. `whole`: the same of all its shots, taken as ageing, where the stretch ends at a change.
    `usual_s`: its usual time from shot to shot, in seconds, at which its levels hold; 0 where it is not known.
    """

    serial: str
    channels: Mapping[str, ChannelSister]
    correlation: F
    n_shots: int
    freedom: float
    waits: tuple[float, ...] = ()
    aged: bool = False
    whole: "Sister | None" = None
    usual_s: float = 0.0


def life_columns(n: F, pauses: Sequence[Pause], steps: Sequence[int], trend: bool, paced: Paced = STEADY) -> F:
    """Return the columns of a life: level, warm-up, two for each of the last three pauses, accepted steps, three for
    each swap of another half, the pace where that varied, a trend if asked.

    A step at a swap is taken about its mean: the level is that over all the halves it was mounted with.
    """
    blocks = [np.ones((len(n), 1)), warm_columns(n)]
    blocks += [pause_columns(n - one.n) for one in waits_of(pauses)]
    blocks += [(n[:, None] >= at).astype(np.float64) for at in steps]
    for one in pauses:
        after = (n[:, None] >= one.n).astype(np.float64)
        if one.swap and 0.0 < after.mean() < 1.0:
            blocks += [pause_columns(n - one.n), after - after.mean()]
    if paced.varied:
        blocks.append(paced.pace[:, None])
    if trend:
        blocks.append((n[:, None] - n.mean()) / max(len(n), 2))
    return np.hstack(blocks)


def waits_of(pauses: Sequence[Pause]) -> list[Pause]:
    """Return the last pauses that tell of waiting alone: in a swap of another half more has changed."""
    return [one for one in pauses if not one.swap][-SISTER_PAUSES:]


def least_spread(name: str, step: float) -> float:
    """Return the least spread believed in: half a step of rounding, and a quarter of what matters in practice.

    A channel may show no spread at all, or a step that is an artefact of converting units; one flip of its last digit
    is not a change.
    """
    return max(ROUNDING_SPREAD * step, CHANNELS[name].least_change * LEAST_SPREAD_SHARE)


def noise_profiles(values: F, columns: F) -> list[Profile]:
    """Profile every channel beside the columns of a life; those seen at the same shots go together."""
    spreads = np.full(columns.shape[1], np.inf)
    spreads[1:N_LEVEL] = OWN_WARM_SIGMA
    seen = np.isfinite(values)
    out: list[Profile | None] = [None] * values.shape[1]
    for pattern in {seen[:, c].tobytes() for c in range(values.shape[1])}:
        members = [c for c in range(values.shape[1]) if seen[:, c].tobytes() == pattern]
        rows = seen[:, members[0]]
        found = profile(values[rows][:, members], columns[rows], spreads)
        for c, one in zip(members, found, strict=True):
            out[c] = one
    return [one for one in out if one is not None]


def correlation(products: F, counts: F, worth: float) -> F:
    """Return the correlation that products of innovations speak for, over `counts` shots; `worth` shots more show none.

    Channels that go together all the same leave at least LEAST_OWN of their spread for each to tell by itself.
    """
    spread = np.sqrt(np.maximum(np.diagonal(products), 1e-12))
    raw = products / np.outer(spread, spread)
    shrunk = raw * counts / (counts + worth)
    np.fill_diagonal(shrunk, 1.0)
    values, vectors = np.linalg.eigh(shrunk)
    floored = (vectors * np.maximum(values, LEAST_OWN)) @ vectors.T
    own = np.sqrt(np.diagonal(floored))
    return np.asarray(floored / np.outer(own, own))


def sister_of(
    serial: str,
    channels: tuple[str, ...],
    n: F,
    values: F,
    pauses: Sequence[Pause],
    steps: Sequence[int] = (),
    aged: bool = False,
    paced: Paced = STEADY,
) -> Sister:
    """Boil down the healthy stretch of a life; `n`: shots on the insert, `values`: (n_shots, n_channels), NaN missing.

    `steps`: shots from which an accepted material change holds; the level kept is the last one, `shift` says how far it
    came. `aged`: the stretch goes from its first shot on; that is no noise. `paced`: against its own usual rhythm.
    """
    steps = [at for at in steps if (n < at).sum() >= SISTER_STEP[0] and (n >= at).sum() >= SISTER_STEP[1]]
    columns, waits = life_columns(n, pauses, steps, trend=False), waits_of(pauses)
    noisy = life_columns(n, pauses, steps, aged, paced) if aged or paced.varied else columns
    trends = trends_of(channels, n, values, pauses, steps, paced)
    pace = paced.pace if paced.pace.size else np.zeros(len(n))
    used = [c for c in range(values.shape[1]) if np.isfinite(values[:, c]).sum() >= LEAST_SISTER]
    profiles = noise_profiles(values[:, used], noisy) if used else []
    residual = np.full((len(n), len(used)), 0.0)
    made: dict[str, ChannelSister] = {}
    for k, (c, noise) in enumerate(zip(used, profiles, strict=True)):
        rows = np.isfinite(values[:, c])
        step = resolution(values[rows, c])
        chosen = choose(noise, least_spread(channels[c], step))
        own = whitened(values[rows, c], columns[rows], chosen.at)
        _, beta, cov, _ = own
        off, _, _, free = own if noisy is columns else whitened(values[rows, c], noisy[rows], chosen.at)
        residual[rows, k] = off / chosen.sigma
        after = N_LEVEL + N_PAUSE * len(waits)
        shift = float(beta[after : after + len(steps)].sum())
        level = beta[:N_LEVEL] + np.array([shift, *[0.0] * N_WARM])
        pause = beta[N_LEVEL:after].reshape(-1, N_PAUSE)
        blocks = [slice(N_LEVEL + N_PAUSE * k, N_LEVEL + N_PAUSE * (k + 1)) for k in range(len(waits))]
        pause_cov = np.array([cov[at, at] for at in blocks])
        trend = trends.get(channels[c], NO_TREND)
        response = response_of(values[rows, c], pace[rows], columns[rows], N_LEVEL, chosen.at)
        known = cov[:N_LEVEL, :N_LEVEL]
        tails = tail_profile(residual[rows, k], free)
        made[channels[c]] = ChannelSister(noise, step, level, known, pause, pause_cov, trend, response, tails, shift)
    lengths = tuple(-1.0 if one.wait_min is None else one.wait_min for one in waits)
    freedom = float(max(len(n) - noisy.shape[1], 0))
    return Sister(serial, made, residual.T @ residual, len(n), freedom, lengths, aged, usual_s=paced.usual_s)


def trends_of(
    channels: tuple[str, ...],
    n: F,
    values: F,
    pauses: Sequence[Pause],
    steps: Sequence[int] = (),
    paced: Paced = STEADY,
) -> dict[str, Trend]:
    """Fit what a life did from its first shot on, by channel; see `sister_of`."""
    columns = life_columns(n, pauses, steps, trend=False, paced=paced)
    rivals = trend_rivals(n)
    free = np.hstack([columns, rivals[:, :2]])
    used = [c for c in range(values.shape[1]) if np.isfinite(values[:, c]).sum() > free.shape[1]]
    found = noise_profiles(values[:, used], free) if used else []
    trends = {}
    for c, noise in zip(used, found, strict=True):
        rows = np.isfinite(values[:, c])
        own = choose(noise, least_spread(channels[c], resolution(values[rows, c])))
        seen = rivals if rows.all() else trend_rivals(n[rows])
        trends[channels[c]] = trend_of(values[rows, c], seen, columns[rows], N_LEVEL, own.at, own.sigma)
    return trends


def own_noise(
    channels: tuple[str, ...], n: F, values: F, pauses: Sequence[Pause], paced: Paced = STEADY
) -> dict[str, Profile]:
    """Profile the noise of an insert's own shots so far, a trend projected out so that early wear is not noise."""
    columns = life_columns(n, pauses, (), trend=True, paced=paced)
    used = [c for c in range(values.shape[1]) if np.isfinite(values[:, c]).sum() > columns.shape[1]]
    found = noise_profiles(values[:, used], columns) if used else []
    return {channels[c]: one for c, one in zip(used, found, strict=True)}


def heard_through(
    sister: Sister,
    channels: tuple[str, ...],
    n: F,
    values: F,
    pauses: Sequence[Pause],
    onsets: Sequence[int],
    paced: Paced = STEADY,
) -> Sister:
    """Return a sister with the noise of its whole life, of which the changes called at `onsets` are taken out.

    The shots before a call tell little of what comes and goes slowly, and show less of it than there is: they were cut
    where it began to look odd. A change may have any course that a step, a slope and a bend follow; what is left beside
    them is noise, whether the call was right or not. See `sister_of`.
    """
    noisy = np.hstack([life_columns(n, pauses, (), sister.aged, paced), change_columns(n, onsets)])
    used = [c for c, name in enumerate(channels) if name in sister.channels]
    profiles = noise_profiles(values[:, used], noisy)
    residual = np.zeros((len(n), len(used)))
    made = {}
    for k, (c, noise) in enumerate(zip(used, profiles, strict=True)):
        one, rows = sister.channels[channels[c]], np.isfinite(values[:, c])
        chosen = choose(noise, least_spread(channels[c], one.step))
        off, _, _, free = whitened(values[rows, c], noisy[rows], chosen.at)
        residual[rows, k] = off / chosen.sigma
        made[channels[c]] = replace(one, noise=noise, tails=tail_profile(residual[rows, k], free))
    freedom = float(max(len(n) - noisy.shape[1], 0))
    return replace(sister, channels=made, correlation=residual.T @ residual, freedom=freedom)


def change_columns(n: F, onsets: Sequence[int]) -> F:
    """Return a step, a slope and a bend from each onset on, (n_shots, 3 x onsets)."""
    blocks = [np.zeros((len(n), 0))]
    for at in onsets:
        since = np.maximum(n - at, 0.0) / max(n[-1] - at, 1.0)
        blocks.append(np.column_stack([n >= at, since, since**2]))
    return np.hstack(blocks)


def moved(sister: Sister, by: Mapping[str, float]) -> Sister:
    """Return a sister whose levels are moved, by channel in its unit: a new lot holds for the inserts to come.

    How far they moved is not known exactly, so a moved level counts for less than one measured since.
    """
    channels = {}
    for name, one in sister.channels.items():
        shift = by.get(name, 0.0)
        unsure = one.unsure + (MOVED_SHARE * shift) ** 2
        channels[name] = replace(one, beta=one.beta + np.array([shift, *[0.0] * N_WARM]), unsure=unsure)
    return replace(sister, channels=channels, whole=None if sister.whole is None else moved(sister.whole, by))
