"""Two ways in which a press seems to live and does not. Pure.

*Frozen*: the counter runs and the values stay the same to the last digit, shot after shot. Real values never do over
pressure, time and position together; a gateway that serves an old copy does.

*Stuck*: the counter stands and the values change. A press may write the values of a shot some time before it counts
it, so one change proves nothing; a second change under the same count does.
"""

from collections.abc import Hashable

__all__ = ["Frozen", "Stuck"]

_EQUAL_SHOTS = 5


class Frozen:
    """Counts equal shots in a row. State: the last shot's values and a count."""

    def __init__(self) -> None:
        self._last: Hashable = None
        self._n_equal = 0

    def after_shot(self, values: Hashable) -> bool:
        """Take a shot's values; True once per episode, at the fifth equal shot."""
        self._n_equal = self._n_equal + 1 if values == self._last else 1
        self._last = values
        return self._n_equal == _EQUAL_SHOTS


class Stuck:
    """Counts changes of the values while the count stands. State: the last values and a count."""

    def __init__(self) -> None:
        self._last: Hashable = None
        self._n_changes = 0

    def after_shot(self, values: Hashable) -> None:
        """Take the values that belong to the count; whatever was suspected is over."""
        self._last = values
        self._n_changes = 0

    def while_idle(self, values: Hashable) -> bool:
        """Take the values read under an unmoved count; True once per episode, at the second change."""
        if self._last is None or values == self._last:
            self._last = values
            return False
        self._last = values
        self._n_changes += 1
        return self._n_changes == 2
