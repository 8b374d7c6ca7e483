"""When something that ended by itself is started again: soon, later each time, and slowly once it does not hold."""

from collections import deque

__all__ = ["Restarts"]

_FIRST_S = 1.0
_LONGEST_S = 60.0
_MOST = 5
_WITHIN_S = 600.0
_SLOW_S = 300.0


class Restarts:
    """The ends of one thing; times are seconds on a scale that never steps back."""

    def __init__(self) -> None:
        self._ends: deque[float] = deque(maxlen=_MOST + 1)

    def ended(self, now: float) -> float:
        """Take an end; return in how many seconds it should be started again."""
        self._ends.append(now)
        n = sum(now - end < _WITHIN_S for end in self._ends)
        return _SLOW_S if n > _MOST else min(_FIRST_S * 2.0 ** (n - 1), _LONGEST_S)
