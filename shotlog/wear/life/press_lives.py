"""How long inserts of a design live on one press, from lives that ended on it and on others.

Lives of a press are Weibull, of one shape on all presses and a scale of its own; the logarithms of the scales are
normal about a mean that nobody knows, with a spread between presses that the lives tell where they are of several
presses, and a stated prior where not. So lives elsewhere say where the scale here may lie and how surely, and no more:
however many they are, some lives here outweigh them, the sooner the more presses differ. All three (shape, spread,
scale) are summed over a grid, and what is not known of them is part of how far lives may differ.

References
----------
Weibull lives with a frailty shared by a group: Hougaard 2000, Analysis of Multivariate Survival Data, chapter 7; groups
of which each is partly known, and a spread between them with a prior: Gelman 2006, Bayesian Analysis 1, 515 (both from
memory). The grids are own.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.constants import (
    LIFE_SHAPE,
    LIFE_SHAPE_SPREAD,
    PLANNED_LIFE,
    PLANNED_LIFE_SPREAD,
    PRESS_OTHERWISE,
    PRESSES_APART,
    PRESSES_APART_SPREAD,
)
from shotlog.wear.life.lifetimes import Weibull

__all__ = ["Lived", "LivesHere", "lives_here"]

F = NDArray[np.float64]
Lived = tuple[float, bool]
"""Shots that an insert lived, and whether it had then gone off (else it would have lived longer)."""

_SHAPES = np.exp(np.linspace(np.log(0.8), np.log(6.5), 15))
_APART = np.exp(np.linspace(np.log(0.03), np.log(1.6), 9))
_SCALES = np.linspace(log(1.5), log(6000.0), 140)


@dataclass(frozen=True, slots=True)
class LivesHere:
    """What shape and log scale on a press may be, with weights that sum to 1, (k,) each."""

    shapes: F
    log_scales: F
    weights: F

    def reached(self, shots: float) -> float:
        """Return the chance that an insert lives beyond so many shots."""
        return float(self.weights @ np.exp(-np.exp(self.shapes * (log(max(shots, 1e-9)) - self.log_scales))))

    def quantile(self, share: float) -> float:
        """Return the life, in shots, that a share of inserts does not reach."""
        low, high = 0.0, 20.0
        for _ in range(50):
            middle = (low + high) / 2.0
            low, high = (middle, high) if self.reached(np.exp(middle)) > 1.0 - share else (low, middle)
        return float(np.exp(high))

    def as_one(self) -> Weibull:
        """Return the one distribution of lives that has its median and its 80 % interval as wide: what is not known of
        the scale makes lives differ more, so its shape is flatter.
        """
        low, middle, high = (log(self.quantile(share)) for share in (0.1, 0.5, 0.9))
        shape = (log(-log(0.1)) - log(-log(0.9))) / max(high - low, 1e-6)
        return Weibull(exp(middle) / log(2.0) ** (1.0 / shape), shape)


def lives_here(own: Sequence[Lived], others: Sequence[Sequence[Lived]]) -> LivesHere:
    """Return what lives on this press and on `others`, one list a press, say of lives on this one."""
    alike = -0.5 * ((np.log(_SHAPES) - log(LIFE_SHAPE)) / LIFE_SHAPE_SPREAD) ** 2
    apart = -0.5 * ((np.log(_APART) - log(PRESSES_APART)) / PRESSES_APART_SPREAD) ** 2
    usual = -0.5 * ((_SCALES - log(PLANNED_LIFE)) / PLANNED_LIFE_SPREAD) ** 2
    between = np.exp(-0.5 * ((_SCALES[:, None] - _SCALES) / _APART[:, None, None]) ** 2)
    between /= between.sum(axis=2, keepdims=True)
    otherwise = np.exp(-0.5 * ((_SCALES[:, None] - _SCALES) / PRESS_OTHERWISE[1]) ** 2)
    otherwise /= otherwise.sum(axis=1, keepdims=True)
    between = (1.0 - PRESS_OTHERWISE[0]) * between + PRESS_OTHERWISE[0] * otherwise
    here = _likelihood(own)
    weights = np.empty((len(_SHAPES), len(_APART), len(_SCALES)))
    there = [_likelihood(press) for press in others if press]
    for s in range(len(_SHAPES)):
        each = [np.exp(one[s] - one[s].max()) for one in there]
        top = sum(float(one[s].max()) for one in there)
        # the mean of the presses, by what each of them says of its own scale
        mean = usual + sum(np.log(between @ one + 1e-300) for one in each) if each else np.tile(usual, (len(_APART), 1))
        best = mean.max(axis=1, keepdims=True)
        scale = np.einsum("am,amg->ag", np.exp(mean - best), between)
        weights[s] = np.log(scale + 1e-300) + best + here[s] + (top + alike[s]) + apart[:, None]
    weights = np.exp(weights - weights.max()).sum(axis=1)
    shapes, scales = np.meshgrid(_SHAPES, _SCALES, indexing="ij")
    kept = weights > 1e-6 * weights.max()
    return LivesHere(shapes[kept], scales[kept], weights[kept] / weights[kept].sum())


def _likelihood(lives: Sequence[Lived]) -> F:
    """Return the log likelihood of some lives of one press, (shapes, scales)."""
    if not lives:
        return np.zeros((len(_SHAPES), len(_SCALES)))
    logs = np.log([max(shots, 1.0) for shots, _ in lives])
    failed = np.array([gone for _, gone in lives])
    k = _SHAPES[:, None]
    total = np.log(np.exp(k * (logs - logs.max())).sum(axis=1, keepdims=True)) + k * logs.max()
    r, ended = float(failed.sum()), float(logs[failed].sum())
    return np.asarray(
        r * np.log(k) - r * k * _SCALES + (k - 1.0) * ended - np.exp(np.minimum(total - k * _SCALES, 700.0))
    )
