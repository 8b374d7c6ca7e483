"""For how long each press has waited for verdicts, counted only while they could be worked out."""

from collections import deque
from collections.abc import Iterable, Mapping

from shotlog.clock import Clock
from shotlog.store.log.how_far import HowFar

__all__ = ["Waits"]

_APART_S = 5.0
_MARKS = 100


class Waits:
    """Counts by the clock that never steps: when a shot was made tells nothing of what kept it from being judged.

    Of a press that is never quite judged to its last shot the wait is that of the oldest shot without a verdict: now
    and then it is marked how far shots were stored, and a mark goes once all up to it are judged.
    """

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._marks: dict[str, deque[tuple[int, float]]] = {}

    def look(self, behind: Mapping[str, HowFar]) -> None:
        """Take note of the presses that have shots without a verdict now; none where nothing can be judged yet."""
        self._marks = {press: self._marked(press, far) for press, far in behind.items()}

    def look_unseen(self, presses: Iterable[str]) -> None:
        """Take note that nobody can tell now how far presses are judged."""
        for press in presses:
            self._marks.setdefault(press, deque([(-1, self._clock.monotonic())]))

    def seconds(self) -> dict[str, float]:
        """Return for how many seconds each press has waited, of those that do."""
        now = self._clock.monotonic()
        return {press: round(now - marks[0][1], 1) for press, marks in self._marks.items()}

    def _marked(self, press: str, far: HowFar) -> deque[tuple[int, float]]:
        marks, now = self._marks.get(press, deque()), self._clock.monotonic()
        while marks and far.through is not None and far.through >= marks[0][0]:
            marks.popleft()
        if not marks or (now - marks[-1][1] >= _APART_S and len(marks) < _MARKS):
            marks.append((far.last or 0, now))
        return marks
