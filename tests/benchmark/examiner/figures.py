"""A figure with its n and standard error; lives of one press are not independent, so errors go by press."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

__all__ = ["Figure", "mean_of", "median_of", "ratio_of"]

Group = Sequence[float]


@dataclass(frozen=True, slots=True)
class Figure:
    """`value` +- `error` from `n` single outcomes."""

    value: float
    n: int
    error: float


def _pooled(groups: Sequence[Group], of: Callable[[Sequence[Group]], float]) -> Figure:
    kept = [group for group in groups if len(group)]
    n = sum(len(group) for group in kept)
    if not n:
        return Figure(float("nan"), 0, float("nan"))
    rng = np.random.default_rng(20240304)
    again = [of([kept[i] for i in rng.integers(0, len(kept), len(kept))]) for _ in range(200)]
    return Figure(of(kept), n, float(np.std(again)))


def mean_of(groups: Sequence[Group]) -> Figure:
    """Return the mean (a share, for outcomes 0 and 1) over all outcomes; `groups` holds those of each press."""
    figure = _pooled(groups, lambda some: float(np.mean(np.concatenate([np.asarray(g, float) for g in some]))))
    if figure.n and figure.value in (0.0, 1.0):  # no bootstrap sees what never came: one more of the other kind
        return Figure(figure.value, figure.n, 1.0 / (figure.n + 2))
    return figure


def median_of(groups: Sequence[Group]) -> Figure:
    """Return the median over all outcomes."""
    return _pooled(groups, lambda some: float(np.median(np.concatenate([np.asarray(g, float) for g in some]))))


def ratio_of(above: Sequence[float], below: Sequence[float]) -> Figure:
    """Return mean of `above` over mean of `below`, paired by life, one life a press."""
    pairs = [[(a, b)] for a, b in zip(above, below, strict=True)]

    def ratio(some: Sequence[Group]) -> float:
        both = np.array([pair for group in some for pair in group], float)
        return float(both[:, 0].mean() / both[:, 1].mean())

    return _pooled(pairs, ratio)  # type: ignore[arg-type]
