"""The best possible detector and classifier: they know the press, and nothing of the fault.

Known are noise, wander, warm-up, how sisters differ and the families that faults are drawn from; not known are fault,
direction, shape, size and onset. The detector is a mixture of likelihood ratios over all of them, each with the share
it is drawn with; the change itself, a vector over channels, is normal with the mean and covariance that the family
of its fault has. In control such a ratio has mean 1, so it passes 1/a in at most a of all lives (Ville 1939); what it
takes for a stated false rate is found by simulation on healthy lives of the same presses. The classifier adds up what
each group of causes gets.

Noise is taken as normal with the known covariance; on presses whose noise is not, whitened readings count for no more
than `_MOST` sigma each, and a threshold is set for each kind of tails. A still better detector exists there. A loss
whose scatter grows is a family of its own: all shots from the onset on spread wider in that channel, by `_WIDER`.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import solve_triangular

from tests.benchmark.examiner.faults import GROUP_SHARES, Fault, draw_change, shares_of
from tests.benchmark.examiner.press import Press
from tests.benchmark.examiner.shapes import shape_of

__all__ = ["FALSE_RATE", "BestDetector", "BestLife", "threshold_of"]

FALSE_RATE = 0.05
"""False calls per healthy life that the threshold is set for."""

_GROUPS = tuple(GROUP_SHARES)

_OVER = 30
"""Shots after which what grows has the size that its family is described by; a lot is through after `_SMEARED`."""
_SMEARED = 6

_AT_ONCE = ("step", "smeared")

_N_DRAWN = 80
"""Changes that the mean and covariance of each family are taken from."""

_WIDER = (0.7, 1.5, 3.0)
"""Standard deviations, in sigma, of what a scattering loss adds to each shot."""

_MOST = 3.0
"""The most sigma that one whitened reading counts for where tails are not normal (Huber 1964 clips likewise)."""

_LEAST = 0.05
"""Standard deviation, in sigma, that every family is given in every channel beside its own."""


@dataclass(frozen=True, slots=True)
class BestLife:
    """What the best detector saw on one life; each a value a shot.

    `log_ratio`: change against none. `group`: the likeliest group of causes, if there is a change; `weight`: its
    probability. `onset`: the likeliest first shot, from 0.
    `healthy`: the highest log ratio of each of some healthy lives of the same press and length. `tails`: of its noise.
    """

    log_ratio: NDArray[np.float64]
    group: tuple[str, ...]
    weight: NDArray[np.float64]
    onset: NDArray[np.int64]
    healthy: NDArray[np.float64]
    tails: str

    def called(self, threshold: Mapping[str, float], since: int = 0) -> int | None:
        """Return the age (from 0) at which the ratio passes the threshold of its tails first, from `since` on."""
        over = np.flatnonzero(self.log_ratio[since:] > threshold[self.tails])
        return int(over[0]) + since if over.size else None


def threshold_of(lives: Sequence[BestLife], rate: float = FALSE_RATE) -> dict[str, float]:
    """Return, for each kind of tails, the log ratio that a share `rate` of the healthy lives of all presses passes."""
    return {
        kind: float(np.quantile(np.concatenate([life.healthy for life in lives if life.tails == kind]), 1.0 - rate))
        for kind in {life.tails for life in lives}
    }


@dataclass(frozen=True, slots=True)
class _Family:
    """Changes of one fault, one shape and one sign: in sigma, normal with `mean` and `precision`; `share` of all."""

    group: int
    shape: str
    share: float
    mean: NDArray[np.float64]
    precision: NDArray[np.float64]
    log_det: float


def _families(press: Press, fault: Fault, share: float, rng: np.random.Generator) -> list[_Family]:
    """Describe how a fault moves this press: a family for each of its shapes and for up and down."""
    out = []
    least = np.eye(len(press.channels)) * _LEAST**2
    for shape in sorted(set(fault.shapes)):
        of_shape = share * fault.shapes.count(shape) / len(fault.shapes)
        changes = [draw_change(press, fault, _OVER, 0, rng, shape=shape).mean_course[-1] for _ in range(_N_DRAWN)]
        moved = np.array(changes) / press.spread
        up = moved[np.arange(len(moved)), np.abs(moved).argmax(axis=1)] > 0
        for some in (moved[up], moved[~up]):
            if len(some) > 3:
                covariance = np.cov(some.T) + least
                log_det = float(np.linalg.slogdet(covariance)[1])
                of_sign = of_shape * len(some) / len(moved)
                precision = np.linalg.inv(covariance)
                group = _GROUPS.index(fault.group)
                out.append(_Family(group, shape, of_sign, some.mean(axis=0), precision, log_det))
    return out


_Weighed = tuple[int, NDArray[np.int64], NDArray[np.float64]]
"""Group of causes, onsets tried, and the log ratio of each after each shot, shape (n_shots, n_onsets)."""


class BestDetector:
    """Knows one press, and lives of `n_shots` on it.

    Onsets are tried at every shot for what comes at once, and at every other one for what grows.
    """

    def __init__(
        self, press: Press, n_shots: int, rng: np.random.Generator, *, off_table: bool = False, odd: float = 0.0
    ) -> None:
        self._press, self._n_shots, self._rng = press, n_shots, rng
        self._root = np.linalg.cholesky(press.covariance(n_shots))
        self._faults = shares_of(press, off_table=off_table, odd=odd)
        self._families = [family for fault, share in self._faults for family in _families(press, fault, share, rng)]
        shapes = {family.shape for family in self._families}
        self._onsets = {shape: np.arange(0, n_shots - 1, 1 if shape in _AT_ONCE else 2) for shape in shapes}
        self._white = {shape: self._whitened(shape) for shape in shapes}
        gram = {
            shape: np.cumsum(np.einsum("tcki,tckj->tkij", white, white), axis=0) for shape, white in self._white.items()
        }
        self._lossy = self._lossy_channels()
        self._spreads, self._constants = [], []
        for family in self._families:
            total = gram[family.shape] + family.precision
            self._spreads.append(np.linalg.inv(total))
            about = family.mean @ family.precision @ family.mean + family.log_det
            prior = np.log(family.share / len(self._onsets[family.shape]))
            self._constants.append(prior - 0.5 * (about + np.linalg.slogdet(total)[1]))

    def watch(self, values: NDArray[np.float64], n_healthy: int = 6) -> BestLife:
        """Look at one life, shape (n_shots, n_channels), and at some simulated healthy ones."""
        each = self._log_ratios(values)
        of_group = np.array([group for group, _, _ in each])
        by_family = np.array([np.logaddexp.reduce(ratios, axis=1) for _, _, ratios in each])
        by_group = np.array([np.logaddexp.reduce(by_family[of_group == g], axis=0) for g in range(len(_GROUPS))])
        by_onset = np.full((self._n_shots, self._n_shots), -np.inf)
        for _, onsets, ratios in each:
            by_onset[:, onsets] = np.logaddexp(by_onset[:, onsets], ratios)
        log_ratio = np.logaddexp.reduce(by_family, axis=0)
        return BestLife(
            log_ratio,
            tuple(_GROUPS[g] for g in by_group.argmax(axis=0)),
            np.exp(by_group.max(axis=0) - log_ratio),
            by_onset.argmax(axis=1).astype(np.int64),
            np.array([self._highest(self._healthy()) for _ in range(n_healthy)]),
            self._press.tails,
        )

    def _highest(self, values: NDArray[np.float64]) -> float:
        return float(
            np.logaddexp.reduce([np.logaddexp.reduce(r, axis=1) for _, _, r in self._log_ratios(values)]).max()
        )

    def _lossy_channels(self) -> list[tuple[int, float, NDArray[np.float64]]]:
        """Return group, share and whitened unit shift of one shot, (n_shots, n_channels), of faults that scatter."""
        out = []
        n_channels = len(self._press.channels)
        for fault, share in self._faults:
            if fault.spreads:
                at = self._press.channels.index(fault.spreads)
                rows = np.arange(self._n_shots) * n_channels
                own = [np.linalg.inv(self._root[r : r + n_channels, r : r + n_channels])[:, at] for r in rows]
                out.append((_GROUPS.index(fault.group), share, np.array(own) * self._press.spread[at]))
        return out

    def _scatter_ratios(self, white: NDArray[np.float64]) -> list[_Weighed]:
        """Return what each wider spread weighs after each shot."""
        out = []
        onsets = np.arange(self._n_shots - 1)
        after = np.arange(self._n_shots)[:, None] >= onsets
        for group, share, unit in self._lossy:
            size = np.sum(unit**2, axis=1)
            along = np.sum(unit * white, axis=1) ** 2
            for wider in _WIDER:
                each = 0.5 * (wider**2 * along / (1.0 + wider**2 * size) - np.log1p(wider**2 * size))
                prior = np.log(share / (len(_WIDER) * len(onsets)))
                out.append((group, onsets, prior + np.cumsum(each[:, None] * after, axis=0)))
        return out

    def _healthy(self) -> NDArray[np.float64]:
        return self._press.rounded(self._press.life(self._n_shots, self._rng))

    def _whitened(self, shape: str) -> NDArray[np.float64]:
        """Return a unit change of each channel from each onset, whitened: (n_shots, n_channels, n_onsets, n_channels).

        Whitening by the root of the whole covariance looks back only: its first rows are those of the first shots.
        """
        n_channels = len(self._press.channels)
        over = _SMEARED if shape == "smeared" else _OVER
        courses = np.array([shape_of(shape, self._n_shots, int(onset), over) for onset in self._onsets[shape]])
        unit = np.einsum("kt,ci->tcki", courses, np.diag(self._press.spread))
        flat = solve_triangular(self._root, unit.reshape(self._n_shots * n_channels, -1), lower=True)
        return np.asarray(flat.reshape(unit.shape))

    def _log_ratios(self, values: NDArray[np.float64]) -> list[_Weighed]:
        """Return what each family and onset weighs after each shot."""
        off = (values - self._press.mean_life(self._n_shots)).ravel()
        white = solve_triangular(self._root, off, lower=True).reshape(self._n_shots, -1)
        if self._press.tails != "gauss":
            white = np.clip(white, -_MOST, _MOST)
        along = {shape: np.cumsum(np.einsum("tc,tckj->tkj", white, w), axis=0) for shape, w in self._white.items()}
        each: list[_Weighed] = []
        for family, spread, constant in zip(self._families, self._spreads, self._constants, strict=True):
            pull = along[family.shape] + family.precision @ family.mean
            ratios = constant + 0.5 * np.einsum("tki,tkij,tkj->tk", pull, spread, pull, optimize=True)
            each.append((family.group, self._onsets[family.shape], ratios))
        return each + self._scatter_ratios(white)
