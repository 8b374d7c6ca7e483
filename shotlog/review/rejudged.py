"""Calls that were changed by judging again: taken back, dated otherwise, laid to something else, or made only then.

An entry made late (a lot, a mounting, a weight) or a new release has shots judged again. What was said at the time is
what people acted on, so it is shown beside what is said now.
"""

from bisect import bisect_left, insort
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from shotlog.records import Verdict
from shotlog.review.episodes import Episode, episodes
from shotlog.store.asked.history import Judging

__all__ = ["Rejudged", "rejudged"]

_MOVED = 3
"""Shots an onset must move by to be told of: less is the same date with other digits (judgement)."""


@dataclass(frozen=True, slots=True)
class Rejudged:
    """A call before and after a judging from shot `from_shot` on; None where there was none, or is none any more."""

    press: str
    time: datetime
    from_shot: int
    reason: str
    was: Episode | None
    now: Episode | None

    @property
    def last(self) -> int:
        """The last shot of the call, before or after."""
        return max(one.last for one in (self.was, self.now) if one is not None)

    @property
    def outcome(self) -> str:
        """What became of the call, in words."""
        if self.was is None:
            return "called only then"
        if self.now is None:
            return "no longer called"
        if self.was.group != self.now.group:
            return f"laid to {self.now.group or 'no group'}, before to {self.was.group or 'no group'}"
        if self.was.onset != self.now.onset:
            return f"dated to shot {self.now.onset}, before to {self.was.onset}"
        return f"{self.now.worst}, before {self.was.worst}"


def rejudged(press: str, judgings: Iterable[Judging]) -> tuple[Rejudged, ...]:
    """Return the calls that judging again changed, in the order of the judgings."""
    found: list[Rejudged] = []
    told: dict[int, Verdict] = {}
    order: list[int] = []
    for judging in judgings:
        again = {verdict.shot: verdict for verdict in judging.verdicts}
        start = bisect_left(order, judging.from_shot)
        if again and start < len(order):
            while start and told[order[start - 1]].verdict != "keep":
                start -= 1
            span = order[start:]
            was = episodes(told[shot] for shot in span)
            now = episodes(again.get(shot, told[shot]) for shot in span)
            about = (press, judging.time, judging.from_shot, judging.reason)
            found += [Rejudged(*about, *pair) for pair in _changed(was, now)]
        for shot in again:
            if shot not in told:
                insort(order, shot)
        told |= again
    return tuple(found)


def _changed(was: tuple[Episode, ...], now: tuple[Episode, ...]) -> list[tuple[Episode | None, Episode | None]]:
    pairs: list[tuple[Episode | None, Episode | None]] = []
    left = list(now)
    for old in was:
        same = next((new for new in left if new.first <= old.last and old.first <= new.last), None)
        if same is None:
            pairs.append((old, None))
            continue
        left.remove(same)
        if _differs(old, same):
            pairs.append((old, same))
    return [*pairs, *((None, new) for new in left)]


def _differs(old: Episode, new: Episode) -> bool:
    if (old.group, old.worst) != (new.group, new.worst) or (old.onset is None) != (new.onset is None):
        return True
    return old.onset is not None and new.onset is not None and abs(old.onset - new.onset) >= _MOVED
