"""When inserts ended: at their removal, or at the first bad part they made, whichever came first.

A bad part is found a day late, when the insert has long been taken out or, worse, is still in. The end of its life is
the shot of that part all the same. Which insert a bad part speaks against is worked out: the half the person named;
else the insert the verdict of that shot judged; else the half that is judged by the rule.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import inf

from shotlog.parts.inspection import Inspection
from shotlog.records import HALVES, InForce, Stay, half_judged

__all__ = ["BadPart", "InsertEnd", "PressStays", "blamed_half", "ends_of", "first_bad"]


@dataclass(frozen=True, slots=True)
class BadPart:
    """A bad result with what made the part: the insert and its stay in each half, and the serial judged, if any."""

    result: Inspection
    halves: Mapping[str, InForce]
    stays: Mapping[str, Stay]
    judged: str

    def blamed(self) -> Stay | None:
        """Return the stay of the insert it speaks against, None where none was on record."""
        since = {half: stay.first for half, stay in self.stays.items()}
        return self.stays.get(blamed_half(self.halves, self.result.half, self.judged, since))


@dataclass(frozen=True, slots=True)
class PressStays:
    """What is known of one press: stays in order, its dry shots, its newest shot (-1 for none), bad parts in order."""

    stays: Sequence[Stay]
    dry: Sequence[int]
    newest: int
    bad: Sequence[BadPart]


@dataclass(frozen=True, slots=True)
class InsertEnd:
    """The life of one reused insert, over all its stays in presses.

    `shots`: shots it made up to its end, gaps included, dry ones not. `ended`: ``mounted`` (still in: the life is not
    over), ``removed`` (its last stay says why) or ``bad part`` (`bad` says what was found, `shots` counts the
    shots before that part). `at_shot`: first shot after its life, on `press`; None while mounted. `shots_made`: shots
    it made in all, past its end as well.
    """

    serial: str
    design: str
    print_batch: str
    half: str
    press: str
    first: int
    shots: int
    shots_made: int
    ended: str
    at_shot: int | None
    bad: Inspection | None
    stays: tuple[Stay, ...]


def ends_of(presses: Iterable[PressStays]) -> list[InsertEnd]:
    """Return the life of every reused insert, in the order they were first mounted within each press."""
    found: dict[str, InsertEnd] = {}
    for press in presses:
        bad = first_bad(press.bad)
        for stay in press.stays:
            if stay.mounting.single_use or stay.end <= stay.first:
                continue
            serial = stay.mounting.insert.serial
            life = _life(press, stay, bad.get(stay))
            found[serial] = _joined(found[serial], life) if serial in found else life
    return list(found.values())


def first_bad(bad: Iterable[BadPart]) -> dict[Stay, Inspection]:
    """Return the first bad part of each stay that one speaks against."""
    found: dict[Stay, Inspection] = {}
    for one in bad:
        stay = one.blamed()
        if stay is not None:
            found.setdefault(stay, one.result)
    return found


def blamed_half(halves: Mapping[str, InForce], named: str, judged: str, since: Mapping[str, int]) -> str:
    """Return the half a bad part speaks against, empty where no insert was on record.

    Parameters
    ----------
    named
        The half the person named, or empty.
    judged
        Serial of the insert that the verdict of the shot judged, or empty.
    since
        The shot each half's insert came in at.
    """
    if named:
        return named if named in halves else ""
    for half in HALVES:
        if half in halves and judged and halves[half].serial == judged:
            return half
    reused = [half for half in halves if not halves[half].single_use]
    return half_judged({half: since.get(half, 0) for half in reused or halves})


def _life(press: PressStays, stay: Stay, bad: Inspection | None) -> InsertEnd:
    insert = stay.mounting.insert
    made = stay.n_taken(int(min(stay.end, max(press.newest + 1, stay.first))), press.dry)
    mounted = stay.end == inf
    life = InsertEnd(
        insert.serial,
        insert.design,
        insert.print_batch,
        stay.mounting.half,
        stay.mounting.press,
        stay.first,
        made,
        made,
        "mounted" if mounted else "removed",
        None if mounted else int(stay.end),
        None,
        (stay,),
    )
    if bad is None:
        return life
    return replace(life, shots=stay.n_taken(bad.part.shot, press.dry), ended="bad part", at_shot=bad.part.shot, bad=bad)


def _joined(before: InsertEnd, now: InsertEnd) -> InsertEnd:
    """Return two stays of one insert as one life; after a bad part the life is over, whatever came later."""
    made, stays = before.shots_made + now.shots_made, (*before.stays, *now.stays)
    if before.ended == "bad part":
        return replace(before, shots_made=made, stays=stays)
    return replace(now, first=before.first, shots=before.shots_made + now.shots, shots_made=made, stays=stays)
