"""What people found, and shots that lay far out alone, as what speaks against parts."""

from collections.abc import Sequence

from shotlog.parts.doubt import Doubt, Since
from shotlog.parts.far import FarOut
from shotlog.parts.found import FoundWrong
from shotlog.parts.told import TAKEN_OUT

__all__ = ["FAR_OUT", "by_far_out", "by_found"]

FAR_OUT = "far out"
"""The basis of a doubt about one shot that lay far out alone."""


def by_found(press: str, found: Sequence[FoundWrong]) -> list[Doubt]:
    """Return the doubts for what people found: of each the part it is about, and what is held of the inserts.

    Where something found later on one insert holds all that an earlier one does, it speaks for both.
    """
    doubts: list[Doubt] = []
    told: dict[str, list[tuple[int, int]]] = {}
    for one in sorted(found, key=lambda one: one.wrong.place, reverse=True):
        wrong, known = one.wrong, Since(one.wrong.place, one.wrong.time)
        spans: list[tuple[str, int, int, int | None]] = []
        if wrong.basis != TAKEN_OUT:
            spans.append(("", wrong.shot, wrong.shot, None))
        for held in one.held:
            newer = told.setdefault(held.serial, [])
            if not any(first <= held.first and held.last <= last for first, last in newer):
                newer.append((held.first, held.last))
                spans.append((held.serial, held.first, held.last, held.last_good))
        for serial, first, last, good in spans:
            since = dict.fromkeys(range(first, last + 1), known)
            doubts.append(Doubt(press, wrong.basis, serial, first, last, since, wrong=wrong, last_good=good))
    return doubts


def by_far_out(press: str, shots: Sequence[FarOut]) -> list[Doubt]:
    """Return a doubt for each shot that lay so far out alone that its part is held."""
    first: dict[int, FarOut] = {}
    for one in shots:
        if one.holds and (one.shot not in first or one.place < first[one.shot].place):
            first[one.shot] = one
    return [
        Doubt(press, FAR_OUT, one.insert, shot, shot, {shot: Since(one.place, one.said)}, far=one)
        for shot, one in sorted(first.items())
    ]
