"""The best possible detector of a simulated life: it knows level, noise, direction and course, not the onset."""

import numpy as np
from numpy.typing import NDArray

from tests.benchmark.lives.faults import Fault
from tests.benchmark.lives.press import Habits, Life

F = NDArray[np.float64]


def delay(life: Life, false_calls: float, seed: int = 5, runs: int = 300) -> float | None:
    """Shots from the onset to the best detector's call, both counted; None where it misses the fault.

    The detector is the largest log likelihood ratio over onsets, with its bar set so that a share `false_calls` of
    `runs` healthy lives is called. A growing spread has no such detector here.
    """
    fault, p = life.fault, life.habits.n_channels
    if fault is None or fault.shape == "ring":
        raise ValueError(f"{life.serial}: no fault that moves a level")
    n = len(life.residual)
    shots = life.first + np.arange(n)
    roots = [_noise_root(life.habits, c, n) for c in range(p)]
    responses = _responses(fault, roots, n)
    weighted = responses @ np.linalg.inv(life.habits.correlation[:p, :p])
    seen = np.isin(shots, life.seen)[:, None]
    info = np.cumsum((weighted * responses).sum(axis=2) * seen, axis=0)
    begun = np.tril(np.ones((n, n), bool))

    def ratio(x: F) -> F:
        score = np.cumsum(np.einsum("...np,ntp->...nt", x, weighted) * seen, axis=-2)
        return np.asarray(np.where(begun, score - 0.5 * info, -np.inf).max(axis=-1))

    correlated = np.linalg.cholesky(life.habits.correlation[:p, :p]).T
    healthy = np.random.default_rng(seed).normal(size=(runs, n, p)) @ correlated
    bar = np.quantile(ratio(healthy).max(axis=1), 1 - false_calls)
    at = np.flatnonzero((ratio(_whitened(life, fault, roots)) >= bar) & (shots >= fault.onset))
    return float(shots[at[0]] - fault.onset + 1) if len(at) else None


def _noise_root(h: Habits, c: int, n: int) -> F:
    """Root of the covariance over shots of channel `c`: noise, slow wander and rounding."""
    lag = np.abs(np.subtract.outer(np.arange(n), np.arange(n)))
    rounding = (h.digits[c] / h.sigma[c]) ** 2 / 12
    return np.linalg.cholesky(h.phi[c] ** lag + h.wander[c] ** 2 * 0.95**lag + np.eye(n) * rounding)


def _responses(fault: Fault, roots: list[F], n: int) -> F:
    """Whitened course of the fault, shape (n_shots, n_onsets, n_channels)."""
    courses = np.stack(
        [np.concatenate([np.zeros(t), fault.curve(fault.onset + np.arange(n - t))]) for t in range(n)], axis=1
    )
    return np.stack([np.linalg.solve(root, courses * fault.direction[c]) for c, root in enumerate(roots)], axis=2)


def _whitened(life: Life, fault: Fault, roots: list[F]) -> F:
    h, n, p = life.habits, len(life.residual), life.habits.n_channels
    effect = fault.curve(life.first + np.arange(n))[:, None] * fault.direction[:p]
    rounding = np.random.default_rng(1).uniform(-0.5, 0.5, (n, p)) * (h.digits / h.sigma)[:p]
    seen = life.residual[:, :p] + effect + rounding
    return np.stack([np.linalg.solve(root, seen[:, c]) for c, root in enumerate(roots)], axis=1)
