"""For how long each press has waited for verdicts, counted only while they could be worked out."""

from collections.abc import Collection

from shotlog.clock import Clock

__all__ = ["Waits"]


class Waits:
    """Counts by the clock that never steps: when a shot was made tells nothing of what kept it from being judged."""

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._since: dict[str, float] = {}

    def look(self, behind: Collection[str]) -> None:
        """Take note of the presses that have shots without a verdict now; none where nothing can be judged yet."""
        now = self._clock.monotonic()
        self._since = {press: self._since.get(press, now) for press in behind}

    def seconds(self) -> dict[str, float]:
        """Return for how many seconds each press has waited, of those that do."""
        now = self._clock.monotonic()
        return {press: round(now - since, 1) for press, since in self._since.items()}
