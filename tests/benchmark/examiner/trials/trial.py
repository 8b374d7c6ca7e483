"""A trial as it is fed to the call: its shots, and where the first shot of the trade notes stands among them."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from shotlog.channels import CHANNELS
from shotlog.records import LoggedShot
from shotlog.settings import DesignSettings

__all__ = ["PRESS", "Trial", "autoregressive", "shown"]

PRESS = "press-1"


@dataclass(frozen=True, slots=True)
class Trial:
    """Shots of one press. Shot 1 of the trade notes is number `before` + 1: so many were logged before the day."""

    shots: tuple[LoggedShot, ...]
    designs: Mapping[str, DesignSettings]
    before: int = 0


def shown(values: Mapping[str, float], g_per_mm: float, dose_mm: float) -> dict[str, float]:
    """Return what a press shows and a log holds: rounded as screens do, with the mass balance of the shot (g)."""
    seen = {channel: round(float(value), CHANNELS[channel].decimals) for channel, value in values.items()}
    seen["mass_balance"] = round(g_per_mm * (dose_mm - seen["cushion"]) - seen["part_weight"], 6)
    return seen


def autoregressive(n: int, phi: float, innovation: float, rng: np.random.Generator) -> NDArray[np.float64]:
    """Return x' = phi x + N(0, innovation), shape (n,), begun in its steady state."""
    course = np.empty(n)
    last = rng.normal(0.0, innovation / np.sqrt(1.0 - phi**2))
    for at, step in enumerate(rng.normal(0.0, innovation, n)):
        last = course[at] = last if at == 0 else phi * last + step
    return course
