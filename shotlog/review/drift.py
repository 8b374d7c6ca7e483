"""Drift: the change per shot of each value on each stretch.

With what it adds up to and how far that is on the way to the limit. A straight line by least squares over the shots
that were judged. Shots resemble the ones before them, so the interval counts the shots for less than they are: an
effective number from the lag-1 correlation of what the line leaves over.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from shotlog.channels import ALWAYS_CHARTED
from shotlog.review.episodes import Episode
from shotlog.review.quantiles import student
from shotlog.review.source import MountedStretch, PressRecord
from shotlog.settings import Bound

__all__ = ["Drift", "DriftLine", "drifts_of", "fitted_line"]

F = NDArray[np.float64]

FEWEST = 8
_LIMIT_SPREADS = 6.0


@dataclass(frozen=True, slots=True)
class DriftLine:
    """A fitted line: `slope` per shot with its 95 % interval, fitted values at both ends, what the line leaves over."""

    slope: float
    low: float
    high: float
    start: float
    end: float
    spread: float
    n: int
    n_effective: float


@dataclass(frozen=True, slots=True)
class Drift:
    """One value on one stretch. `part` is ``whole`` or ``since onset``; the rest is in the channel's unit.

    Per shot for slopes. `limit` is the action limit lying ahead, `share` the part of the way to it that was gone;
    `limit_from` says where the limit comes from: ``design``, ``level`` (six spreads from the level the line began at)
    or empty when no way was gone.
    """

    press: str
    insert: str
    first: int
    last: int
    part: str
    channel: str
    line: DriftLine
    limit: float | None
    limit_from: str
    share: float | None


def fitted_line(shots: NDArray[np.int64], values: F) -> DriftLine | None:
    """Fit a line, or None when there are fewer than eight values.

    References
    ----------
    Effective number n (1 - r) / (1 + r) for lag-1 correlation r > 0: Santer et al. 2000, J. Geophys. Res. 105, 7337
    (from memory). r is raised by (1 + 4 r) / n against its bias in short series (Kendall 1954, from memory).
    """
    n = len(values)
    if n < FEWEST:
        return None
    x = shots - shots.mean()
    sxx = float(x @ x)
    slope = float(x @ values) / sxx
    left = values - values.mean() - slope * x
    total = float(left @ left)
    r = float(left[1:] @ left[:-1]) / total if total > 0 else 0.0
    r = min(max(r + (1.0 + 4.0 * r) / n, 0.0), 0.95)
    effective = max(n * (1.0 - r) / (1.0 + r), 3.0)
    error = sqrt(total / (effective - 2.0) / sxx)
    reach = student(0.975, effective - 2.0) * error
    ends = values.mean() + slope * x[[0, -1]]
    spread = sqrt(total / (n - 2.0))
    return DriftLine(slope, slope - reach, slope + reach, float(ends[0]), float(ends[1]), spread, n, effective)


def drifts_of(
    record: PressRecord, stretch: MountedStretch, insert: str, limits: Mapping[str, Bound], episode: Episode | None
) -> list[Drift]:
    """Return the drift of each charted value over a stretch, and since the onset where a change was called on it."""
    found = []
    for channel in (name for name in ALWAYS_CHARTED if name in record.channels):
        parts = [("whole", stretch.first)]
        if episode is not None and episode.onset is not None and episode.onset > stretch.first:
            parts.append(("since onset", episode.onset))
        for part, since in parts:
            shots, values = record.settled(channel, since, stretch.last)
            line = fitted_line(shots, values)
            if line is not None:
                limit, source = _ahead(line, limits.get(channel))
                share = _share(line, limit)
                ends = int(shots[0]), int(shots[-1])
                found.append(Drift(record.press, insert, *ends, part, channel, line, limit, source, share))
    return found


def _ahead(line: DriftLine, bound: Bound | None) -> tuple[float | None, str]:
    """Return the limit the line runs towards."""
    if line.end == line.start:
        return None, ""
    given = None if bound is None else (bound.high if line.end > line.start else bound.low)
    if given is not None:
        return given, "design"
    reach = _LIMIT_SPREADS * line.spread
    return (line.start + reach if line.end > line.start else line.start - reach), "level"


def _share(line: DriftLine, limit: float | None) -> float | None:
    way = None if limit is None else limit - line.start
    return (line.end - line.start) / way if way else None
