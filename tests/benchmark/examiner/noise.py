"""Shot-to-shot noise: independent sources, each with a course in time and tails of its own, that channels share.

Trade notes: pressures have lag-1 autocorrelation 0.3-0.5 from barrel temperature cycling; cushion and shot weight go
against each other (about -0.6); cushion is skewed low, fill time high; melt wanders as m' = 0.9 m + N(0, 0.25) degC.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["HEATER_SHOTS", "Source", "covariance_of", "series"]

HEATER_SHOTS = 40
"""Period of the slow heater cycle."""


@dataclass(frozen=True, slots=True)
class Source:
    """One source of noise. `load`: shape (n_channels,), in each channel's unit per sigma of the source.

    `course`: ``short`` (lag-1 autocorrelation `phi`), ``walk`` (a random walk; `load` is its step) or ``heater`` (a
    sine of `HEATER_SHOTS` at any phase; `load` is its standard deviation). `tails`: ``gauss``, ``t4`` (Student's t with
    4 degrees of freedom, scaled to spread 1) or ``skewed`` (gamma, skewness 1.15, scaled likewise).
    """

    load: NDArray[np.float64]
    course: str = "short"
    phi: float = 0.0
    tails: str = "gauss"


def _shocks(source: Source, n_shots: int, rng: np.random.Generator) -> NDArray[np.float64]:
    if source.tails == "t4":
        return np.asarray(rng.standard_t(4, n_shots) / np.sqrt(2.0))
    if source.tails == "skewed":
        return np.asarray((rng.gamma(3.0, 1.0, n_shots) - 3.0) / np.sqrt(3.0))
    return rng.standard_normal(n_shots)


def series(source: Source, n_shots: int, rng: np.random.Generator) -> NDArray[np.float64]:
    """Return one course of the source, shape (n_shots,), with spread 1 (a walk: with steps of spread 1)."""
    if source.course == "heater":
        turn = rng.uniform(0.0, 2.0 * np.pi) + 2.0 * np.pi * np.arange(n_shots) / HEATER_SHOTS
        return np.asarray(np.sqrt(2.0) * np.sin(turn))
    shocks = _shocks(source, n_shots, rng)
    if source.course == "walk":
        return np.asarray(np.cumsum(shocks))
    out = np.empty(n_shots)
    now = shocks[0]
    keep = np.sqrt(1.0 - source.phi**2)
    for i, shock in enumerate(shocks):
        now = shock if i == 0 else source.phi * now + keep * shock
        out[i] = now
    return out


def covariance_of(source: Source, n_shots: int) -> NDArray[np.float64]:
    """Return the covariance over time of what `series` gives, shape (n_shots, n_shots)."""
    at = np.arange(n_shots, dtype=float)
    lag = np.abs(at[:, None] - at[None, :])
    if source.course == "heater":
        return np.asarray(np.cos(2.0 * np.pi * lag / HEATER_SHOTS))
    if source.course == "walk":
        return np.asarray(np.minimum(at[:, None], at[None, :]) + 1.0)
    return np.asarray(np.power(source.phi, lag)) if source.phi else np.eye(n_shots)
