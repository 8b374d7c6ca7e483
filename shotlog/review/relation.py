"""How a weight or dimension of the part goes with the values of its shot, within a run and between runs.

Within a run both are taken about their own mean, so that nothing but shot-to-shot variation is left; often there is no
relation then, although runs differ together. A coefficient of many is large by chance: with twelve of them, two in
five sets hold one whose 95 % interval excludes zero.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import atanh, sqrt, tanh

import numpy as np
from numpy.typing import NDArray

__all__ = ["Relation", "relations"]

F = NDArray[np.float64]

FEWEST = 10
_Z = 1.959963984540054


@dataclass(frozen=True, slots=True)
class Relation:
    """Correlation of a part's quantity with one channel.

    Within runs (95 % interval) and between run means (None under four runs). `slope` is the change of the quantity per
    unit of the channel, within runs. `n_effective` counts for neighbours resembling each other.
    """

    quantity: str
    channel: str
    n: int
    n_runs: int
    n_effective: float
    within: float
    low: float
    high: float
    slope: float
    between: float | None

    @property
    def told(self) -> bool:
        """Whether the interval of the relation within runs excludes none."""
        return self.low > 0.0 or self.high < 0.0


def relations(
    quantity: str, measured: Sequence[float], runs: Sequence[int], channels: Mapping[str, Sequence[float]]
) -> list[Relation]:
    """Return the relation of a quantity to each channel; all sequences in the order of the shots, NaN where missing.

    References
    ----------
    Interval: Fisher 1921 (z), with n - number of runs - 2 in place of n - 3. Effective number for two autocorrelated
    series, n (1 - r1 r2) / (1 + r1 r2): Bartlett 1935 (from memory), applied when it lowers n.
    """
    y, run = np.asarray(measured, dtype=np.float64), np.asarray(runs)
    found = []
    for name, values in channels.items():
        x = np.asarray(values, dtype=np.float64)
        seen = np.isfinite(x) & np.isfinite(y)
        one = _relation(quantity, name, x[seen], y[seen], run[seen])
        if one is not None:
            found.append(one)
    return found


def _relation(quantity: str, channel: str, x: F, y: F, run: NDArray[np.int64]) -> Relation | None:
    labels = [label for label in dict.fromkeys(run.tolist()) if (run == label).sum() >= 2]
    kept = np.isin(run, labels)
    x, y, run = x[kept], y[kept], run[kept]
    if len(x) - len(labels) < FEWEST:
        return None
    dx, dy = _about_own(x, run), _about_own(y, run)
    sxx, syy = float(dx @ dx), float(dy @ dy)
    if sxx == 0.0 or syy == 0.0:
        return None
    r = float(dx @ dy) / sqrt(sxx * syy)
    both = _lag_one(dx) * _lag_one(dy)
    freedom = len(x) - len(labels) + 1.0
    effective = freedom * min(1.0, (1.0 - both) / (1.0 + both))
    reach = _Z / sqrt(max(effective - 3.0, 1.0))
    z = atanh(max(-0.999999, min(0.999999, r)))
    means = [(x[run == label].mean(), y[run == label].mean()) for label in labels]
    between = float(np.corrcoef(np.array(means).T)[0, 1]) if len(means) >= 4 and _varies(means) else None
    return Relation(
        quantity,
        channel,
        len(x),
        len(labels),
        effective,
        r,
        tanh(z - reach),
        tanh(z + reach),
        float(dx @ dy) / sxx,
        between,
    )


def _varies(means: list[tuple[float, float]]) -> bool:
    return bool((np.ptp(np.array(means), axis=0) > 0).all())


def _about_own(values: F, run: NDArray[np.int64]) -> F:
    out = values.copy()
    for label in dict.fromkeys(run.tolist()):
        out[run == label] -= values[run == label].mean()
    return out


def _lag_one(values: F) -> float:
    return float(values[1:] @ values[:-1]) / float(values @ values)
