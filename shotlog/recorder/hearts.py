"""Whether what has to go on goes on: whatever works counts its turns, and whoever looks sees which count stands still.

How long one stands still is summed up from look to look, and a look that is late counts for no more than one in time.
So a computer that was suspended, or a process that was halted and goes on, is no standstill: the looking stood as well.
"""

from collections.abc import Hashable, Mapping

__all__ = ["Heart", "Stillness"]


class Heart:
    """Counts the turns of one thread, and says what it is at."""

    __slots__ = ("count", "doing")

    def __init__(self, doing: str) -> None:
        self.count, self.doing = 0, doing

    def beat(self, doing: str | None = None) -> None:
        """Count one more turn, `doing` this from now on where that is another thing."""
        self.count += 1
        if doing is not None:
            self.doing = doing


class Stillness:
    """For how long counts stand still.

    Parameters
    ----------
    most_s
        What one look counts for at most, in seconds: twice the time between two looks.
    """

    def __init__(self, most_s: float) -> None:
        self._most_s = most_s
        self._looked: float | None = None
        self._last: dict[str, Hashable] = {}
        self._still: dict[str, float] = {}

    def look(self, counts: Mapping[str, Hashable], now: float) -> Mapping[str, float]:
        """Return for how many seconds each of `counts` has stood still; `now`: seconds on a scale that never steps."""
        passed = 0.0 if self._looked is None else min(now - self._looked, self._most_s)
        for name, count in counts.items():
            moved = name not in self._last or self._last[name] != count
            self._still[name] = 0.0 if moved else self._still[name] + passed
        self._looked, self._last = now, dict(counts)
        return {name: self._still[name] for name in counts}
