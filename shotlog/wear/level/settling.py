"""Settling: the curve of warming up and the curve after a pause, as columns that a level may follow without being
called.

A printed insert warms up along an exponential (time constant 1.5 to 12 shots); after a pause the insert has cooled and
the melt has waited, and the two oppose each other. Neither is wear. Instead of throwing those shots away, both curves
enter the model with free amplitudes, whose prior is learnt from sister inserts: beside them an insert is judged from
its first shot, by a curve as uncertain as they leave it.
"""

from collections.abc import Sequence
from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from shotlog.wear.constants import AT_SPEED_S, PAUSE_TAUS, RHYTHM, WAIT_INTERVALS, WARM_TAUS
from shotlog.wear.plain import from_plain

__all__ = [
    "N_PAUSE",
    "N_WARM",
    "CadenceWatch",
    "pause_columns",
    "warm_columns",
]

F = NDArray[np.float64]

N_WARM, N_PAUSE = len(WARM_TAUS), len(PAUSE_TAUS)


def warm_columns(n: F) -> F:
    """Return the warm-up columns, shape (n_shots, N_WARM), for shots on the insert `n` counted from 1."""
    return np.asarray(np.exp(-(np.asarray(n, float)[:, None] - 1.0) / np.array(WARM_TAUS)))


def pause_columns(since: F) -> F:
    """Return the after-pause columns, shape (n_shots, N_PAUSE).

    `since` counts shots after the pause from 0, < 0 before.
    """
    since = np.asarray(since, float)[:, None]
    return np.where(since >= 0, np.exp(-np.maximum(since, 0.0) / np.array(PAUSE_TAUS)), 0.0)


class CadenceWatch:
    """Tells a pause from the usual rhythm by the time between shots; recordings may be replayed at any speed.

    State: the last shot's time and number, and the last nine intervals per shot, in seconds. `took_s`: the time per
    shot up to the last one, None where that was a wait, is not known, or tells of a recording played at speed.
    """

    def __init__(self) -> None:
        self._last: tuple[int, float] | None = None
        self._usual: list[float] = []
        self.took_s: float | None = None
        self.at_speed = False

    def waited(self, shot: int, time: datetime, set_s: float | None = 0.0) -> float | None:
        """Return the wait before this shot in minutes, beyond the usual rhythm and missed shots; None for none.

        `set_s`: by how much the clock that gave the times was set since the shot before, forward where positive; None
        where nobody knows, and then the time between the two shots is not known either.

        A wait is over four usual intervals. No press makes printed-insert parts every few seconds: such a rhythm is a
        recording played at speed, and its waits are given as at a shot a minute.
        """
        now, wait, self.took_s = time.timestamp(), None, None
        if self._last is not None and shot > self._last[0] and set_s is not None:
            steps, took = shot - self._last[0], now - self._last[1] - set_s
            usual = sorted(self._usual)[len(self._usual) // 2] if len(self._usual) >= RHYTHM[0] else 0.0
            if 0 < usual * (steps + WAIT_INTERVALS) < took:
                wait = (took - usual * steps) / (usual if usual < AT_SPEED_S else 60.0)
            elif took > 0:
                self._usual = [*self._usual[-RHYTHM[1] :], took / steps]
                self.at_speed = took / steps < AT_SPEED_S
                self.took_s = None if self.at_speed else took / steps
        self._last = (shot, now)
        return wait

    def save(self) -> list[object]:
        """Return the state."""
        return [list(self._last) if self._last else None, list(self._usual)]

    def restore(self, state: Sequence[object]) -> None:
        """Take up a saved state."""
        last, usual = from_plain(tuple[tuple[int, float] | None, list[float]], state)
        self._last, self._usual = last, usual
