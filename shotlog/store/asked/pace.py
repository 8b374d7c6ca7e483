"""At what pace a press made its shots: read once for many spans of them, where each by itself is a question."""

from math import inf

import numpy as np
from numpy.typing import NDArray
from sqlalchemy import select

from shotlog.records import EVER
from shotlog.store.log import schema
from shotlog.store.log.clock_steps import Steady
from shotlog.store.log.log import Log
from shotlog.store.log.prepared import of_press
from shotlog.store.log.shots import columns

__all__ = ["Pace"]


class Pace:
    """When the shots of a press from shot `first` on were made."""

    def __init__(self, log: Log, press: str, first: int) -> None:
        table = schema.shots
        with log.reading() as connection:
            self._shots, self._times, values = columns(connection, press, ("cycle_time",), first)
            self._steady = Steady(connection)
            self._ids: NDArray[np.int64] = np.zeros(len(self._shots), dtype=np.int64)
            if self._steady.stepped:
                query = select(table.c.id).where(of_press(table, press), table.c.shot >= first).order_by(table.c.shot)
                self._ids = np.array(connection.execute(query).scalars().all(), dtype=np.int64)
        self._cycle_s = values[:, 0]

    def between(self, first: int, last: float) -> tuple[NDArray[np.int64], NDArray[np.float64], NDArray[np.float64]]:
        """Return shots `first` to `last`, when they were made as if nobody had ever set the clock, in s, and the cycle
        times that the press gave, in s, NaN where it gave none; each (n_shots,).
        """
        end = EVER if last == inf else int(last) + 1
        where = slice(*np.searchsorted(self._shots, np.array([first, end])).tolist())
        return self._shots[where], self._steady.shots(self._ids[where], self._times[where]), self._cycle_s[where]
