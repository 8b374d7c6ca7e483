"""Which parts are known to be good: so that what was found later goes back no further (the rule stands in `found`)."""

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from itertools import accumulate

from shotlog.parts.inspection import Inspection
from shotlog.parts.told import TAKEN_OUT, Released, Told, Wrong

__all__ = ["KnownGood", "end_of_good"]


def end_of_good(wrong: Wrong) -> int:
    """Return the first shot that a part known to be good before what was found cannot be of."""
    return wrong.shot + 1 if wrong.basis == TAKEN_OUT else wrong.shot


class KnownGood:
    """Which shots are known to be good."""

    def __init__(self, told: Told) -> None:
        self._cavities = told.cavities
        self._said = dict(sorted((shot, place) for place, shot in told.good))
        self._against: dict[int, int] = {}
        for wrong in told.wrong:
            if wrong.basis != TAKEN_OUT:
                self._against[wrong.shot] = max(wrong.place, self._against.get(wrong.shot, 0))
        self._looked = {_of(one) for one in told.results if _tells_good(one)}
        self._looked_shots = sorted({shot for shot, _ in self._looked})
        self._fine = _without_fault(told.results)
        self._decided = _Decided(told.decided)
        self._shots = sorted({*self._said, *(shot for shot, _ in self._fine)})

    def before(self, wrong: Wrong, first: int) -> int | None:
        """Return the last shot known to be good from `first` on and before what was found; None for none."""
        end, last = end_of_good(wrong), first - 1
        for one in self._decided.between(first, end):
            if one.released and one.place < wrong.place:  # of one that came later what is good was so without it
                last = self._last_good(_cut(one, last + 1, end), wrong.place, last)
        last = self._last_good(_between(self._shots, last + 1, end), wrong.place, last)
        return None if last < first else last

    def once(self, wrong: Wrong, first: int) -> bool:
        """Whether anybody ever called a part good that was made before what was found, on an insert in from `first` on.

        Also where it is known better since: what speaks against that part must let no other one go. What was looked at
        or released on earlier inserts says nothing of this one; who names a part as the last good one has answered.
        """
        end = end_of_good(wrong)
        here: list[Iterable[int]] = [_between(self._looked_shots, first, end)]
        let_go = (one for one in self._decided.between(first, end) if one.released and one.place < wrong.place)
        here += [_cut(one, first, end) for one in let_go]
        called = any(shot < end for shot in self._said)
        return called or any(self._once_good(shot, wrong.place) for shots in here for shot in shots)

    def after(self, wrong: Wrong, out: float, end: float) -> float:
        """Return the first shot known to be good from `out` on and before `end`, released ones aside."""
        later = _between(self._shots, out, end)
        return next((float(shot) for shot in later if self._good(shot, wrong.place)), float("inf"))

    def _last_good(self, shots: Sequence[int], place: int, otherwise: int) -> int:
        return next((shot for shot in reversed(shots) if self._good(shot, place)), otherwise)

    def _once_good(self, shot: int, place: int) -> bool:
        let_go = [one for one in self._decided.between(shot, shot + 1) if one.released and one.place < place]
        return all(
            (shot, cavity) in self._looked or any(one.cavity in (None, cavity) for one in let_go)
            for cavity in range(1, self._cavities(shot) + 1)
        )

    def _good(self, shot: int, place: int) -> bool:
        said, against = self._said.get(shot, -1), self._against.get(shot, -1)
        if against >= 0 or said >= 0:
            return said > against
        decided = [one for one in self._decided.between(shot, shot + 1) if one.place < place]
        return all(
            (shot, cavity) in self._fine or _released(decided, cavity) for cavity in range(1, self._cavities(shot) + 1)
        )


class _Decided:
    """What people decided of parts, found by shot: over the years there are thousands, and every finding asks."""

    def __init__(self, decided: Iterable[Released]) -> None:
        self._by_first = sorted(decided, key=lambda one: one.first)
        self._firsts = [one.first for one in self._by_first]
        self._reach = list(accumulate((one.last for one in self._by_first), max))
        """The last shot that those up to each one reach to."""

    def between(self, first: int, end: int) -> list[Released]:
        """Return those that touch shots from `first` on and before `end`, in the order they were made."""
        at, found = bisect_left(self._firsts, end), []
        while at and self._reach[at - 1] >= first:
            at -= 1
            if self._by_first[at].last >= first:
                found.append(self._by_first[at])
        return sorted(found, key=lambda one: one.place) if len(found) > 1 else found


def _released(decided: Sequence[Released], cavity: int) -> bool:
    last = next((one for one in reversed(decided) if one.cavity in (None, cavity)), None)
    return last is not None and last.released


def _of(result: Inspection) -> tuple[int, int]:
    return result.part.shot, result.part.cavity


def _without_fault(results: Sequence[Inspection]) -> set[tuple[int, int]]:
    """Return shot and cavity of the parts that were looked at, or measured within a tolerance, without a bad result."""
    by_part: dict[tuple[int, int], list[Inspection]] = {}
    for one in results:
        by_part.setdefault(_of(one), []).append(one)
    return {
        part for part, found in by_part.items() if not any(one.bad for one in found) and any(map(_tells_good, found))
    }


def _tells_good(result: Inspection) -> bool:
    """Whether a result says by itself that a part is without fault: looked at, or measured within a tolerance."""
    return not result.bad and (result.value is None or result.low is not None or result.high is not None)


def _between(shots: Sequence[int], first: float, end: float) -> Sequence[int]:
    return shots[bisect_left(shots, first) : bisect_left(shots, end)]


def _cut(decided: Released, first: int, end: int) -> Sequence[int]:
    return range(max(first, decided.first), min(decided.last + 1, end))
