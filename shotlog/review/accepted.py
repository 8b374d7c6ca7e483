"""Levels accepted: where a changed level was taken as the normal one of the same insert from then on."""

from itertools import pairwise

from shotlog.records import Verdict

__all__ = ["AcceptedLevels"]


class AcceptedLevels:
    """The levels accepted at one press, from its verdicts taken one by one in order.

    A verdict without a change knows the shot since when there is none; where that shot moves on, a change has been
    taken as the new level.
    """

    def __init__(self) -> None:
        self._quiet: list[tuple[str, int, int]] = []

    def take(self, verdict: Verdict) -> None:
        """Take the next verdict."""
        since = None if verdict.facts is None else verdict.facts.quiet_since
        if since is not None and (not self._quiet or self._quiet[-1][:2] != (verdict.insert, since)):
            self._quiet.append((verdict.insert, since, verdict.shot))

    @property
    def found(self) -> tuple[tuple[int, int], ...]:
        """The shot from where on each level was taken as normal, and the shot that was first said at."""
        pairs = pairwise(self._quiet)
        return tuple((now[1], now[2]) for before, now in pairs if now[0] == before[0] and now[1] > before[1])
