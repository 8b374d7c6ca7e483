"""What people found holds parts at once, by what they said alone: nothing here waits for a verdict or asks a chart.

A finding of damage, or a bad result of an inspection, holds the part it is about. It speaks against the insert as well,
so it also holds what that insert made since the last part that was known to be good, up to now while the insert stays:
the named half, or every reused half in the mould where none was named. An insert taken out for damage holds in the same
way what it made until then. A note on damage to one part holds that part and nothing else.

Until anybody has said which part was the last known to be good, or that none is, what was found goes no further back
than its own part, of an insert taken out the last it made: that is asked at the press, a call holds what it dates back
to by itself, and who finds whole lives held on nobody's word soon believes no hold.

Known to be good is a part that a person said is good, that was looked at or measured within a tolerance and found
without fault, or that was released *before* the finding. Who releases a part after it has decided on that part alone:
its neighbours stay held. What was said wrong of a part later in the log than it was said to be good outweighs that.

It ends for the parts to come when a person finds the insert sound, when the insert comes out, or, where the half was
not named, when a part made without the other suspects is known to be good. The parts it holds stay held until a person
releases or scraps them. What came first is asked of the log's order (`place`) and never of a clock.
"""

from bisect import bisect_left
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from math import inf

from shotlog.parts.ending import words_in
from shotlog.parts.inspection import Inspection
from shotlog.parts.part import Part
from shotlog.records import VERDICTS, Stay

__all__ = [
    "FINDING", "INSPECTION", "NOTE", "TAKEN_OUT", "FoundWrong", "Held", "Released", "Sound", "Told", "Wrong",
    "damages", "found_wrong", "verdict_beside",
]  # fmt: skip

FINDING, INSPECTION, NOTE, TAKEN_OUT = "finding", "inspection", "note", "taken out"
"""How people came to say that something is wrong."""


@dataclass(frozen=True, slots=True)
class Wrong:
    """Something a person found wrong with the part of `shot`, or with what made it.

    `basis`: one of the four above. `half`: the half that is to blame, empty where nobody said; of an insert taken out,
    the half it came out of, after `shot`. `bad`: the result, of an inspection. `place`: where it stands in the log.
    """

    place: int
    basis: str
    shot: int
    half: str
    text: str
    initials: str
    time: datetime
    bad: Inspection | None = None


@dataclass(frozen=True, slots=True)
class Sound:
    """A person looked at the insert in a half, or at all where none is named, after `shot` and found it sound."""

    place: int
    shot: int
    half: str = ""


@dataclass(frozen=True, slots=True)
class Released:
    """What a person decided of shots `first` to `last` (`cavity` None: all), released or not."""

    place: int
    first: int
    last: int
    cavity: int | None
    released: bool


def _one_cavity(_shot: int) -> int:
    return 1


@dataclass(frozen=True, slots=True)
class Told:
    """All that people said of the parts of one press and of what made them.

    `good`: (place, shot) of each part said to be known good; `none_good`: places of answers that none is known.
    `results`: every result of an inspection in force. `first`, `newest`: the first shot and the newest.
    `cavities` of a shot.
    """

    wrong: Sequence[Wrong]
    stays: Sequence[Stay]
    newest: int
    good: Sequence[tuple[int, int]] = ()
    none_good: Sequence[int] = ()
    sound: Sequence[Sound] = ()
    decided: Sequence[Released] = ()
    results: Sequence[Inspection] = ()
    first: int = 1
    cavities: Callable[[int], int] = _one_cavity


@dataclass(frozen=True, slots=True)
class Held:
    """Parts of shots `first` to `last` of one insert, held for what was found; `serial` empty where none is on record.

    `last_good`: the last shot before them known to be good, None where none is. `goes_on`: the next shot's is as well.
    """

    serial: str
    half: str
    first: int
    last: int
    last_good: int | None
    goes_on: bool


@dataclass(frozen=True, slots=True)
class FoundWrong:
    """What was found, and what is held for it beside its own part.

    `stands`: it speaks against an insert that is still in, or against the part just made. `asks`: nobody has said since
    which part before it was the last known to be good; of an insert that is out it is asked until the next one goes.
    """

    wrong: Wrong
    held: tuple[Held, ...]
    stands: bool
    asks: bool


def found_wrong(told: Told) -> list[FoundWrong]:
    """Return what was found wrong on a press, in the order of the log."""
    known = _KnownGood(told)
    found = []
    for wrong in sorted(told.wrong, key=lambda one: one.place):
        held = tuple(_held(wrong, told, known))
        stands = any(one.goes_on for one in held) or _just_made(wrong, held, told)
        bounded = all(one.last_good == wrong.shot - 1 for one in held if one.first <= wrong.shot)
        open_ = stands or any(_just_left(one, told) for one in held)
        found.append(FoundWrong(wrong, held, stands, open_ and not bounded and not _answered(wrong, told)))
    return found


def _just_left(held: Held, told: Told) -> bool:
    """Whether the insert is out, and the one that came in after it is still in that half, or none came in yet."""
    here = [one for one in told.stays if one.mounting.half == held.half]
    out = any(one.mounting.insert.serial == held.serial and one.end == held.last + 1 for one in here)
    return out and all(one.end == inf for one in here if one.first > held.last)


def _answered(wrong: Wrong, told: Told) -> bool:
    """Whether somebody who knew of it has said which part before it was known to be good, or that none is."""
    good = any(place > wrong.place and shot < _end(wrong) for place, shot in told.good)
    return good or any(place > wrong.place for place in told.none_good)


def _end(wrong: Wrong) -> int:
    """Return the first shot that a part known to be good before what was found cannot be of."""
    return wrong.shot + 1 if wrong.basis == TAKEN_OUT else wrong.shot


def damages(found: FoundWrong) -> bool:
    """Whether damage to the insert itself was seen, so that it must come out: a fault may come from the press."""
    return "seen on the insert" in words_in(found.wrong.text)


def verdict_beside(verdict: str, found: Sequence[FoundWrong]) -> str:
    """Return the verdict beside what people found that stands: never keep; swap where damage to an insert was seen."""
    standing = [one for one in found if one.stands]
    least = "swap" if any(damages(one) for one in standing) else "watch" if standing else "keep"
    return max(verdict, least, key=VERDICTS.index)


def _just_made(wrong: Wrong, held: Sequence[Held], told: Told) -> bool:
    """Whether it is about the part just made, and about no insert that is still there."""
    own = wrong.basis in (FINDING, INSPECTION) and not held and wrong.shot == told.newest
    return own and not any(one.place > wrong.place and one.shot >= wrong.shot for one in told.sound)


def _held(wrong: Wrong, told: Told, known: "_KnownGood") -> Iterator[Held]:
    if wrong.basis == NOTE:
        return
    suspects = [one for one in told.stays if one.first <= wrong.shot < one.end]
    named = [one for one in suspects if wrong.half in ("", one.mounting.half)]
    for stay in named:
        if not stay.mounting.single_use:
            others = [one for one in named if one is not stay]
            yield from _on(stay, wrong, told, known, _cleared(stay, others, wrong, known))
    if not suspects and not wrong.half:
        yield from _on_nothing_known(wrong, told, known)


def _on(stay: Stay, wrong: Wrong, told: Told, known: "_KnownGood", cleared: float) -> Iterator[Held]:
    """Yield what is held of an insert's stay, and of its later ones should it come back before it is found sound."""
    insert, good = stay.mounting.insert.serial, known.before(wrong, stay.first)
    later = [one for one in told.stays if one.mounting.insert.serial == insert and stay.end <= one.first < one.end]
    begins = max(stay.first, known.since(wrong, stay.first)) if good is None else good + 1
    for one in [stay, *(later if wrong.basis != TAKEN_OUT else ())]:
        first = begins if one is stay else one.first
        sound = _sound_at(one, wrong, told.sound)
        ends = min(one.end - 1, sound, cleared - 1)
        last = int(min(ends, told.newest))
        if first <= last:
            yield Held(insert, one.mounting.half, first, last, good if one is stay else None, ends == inf)
        if min(sound, cleared) < inf:
            return


def _on_nothing_known(wrong: Wrong, told: Told, known: "_KnownGood") -> Iterator[Held]:
    """Yield what is held while no insert is on record: as if one had been in since the last that was."""
    first = max((int(one.end) for one in told.stays if one.end <= wrong.shot), default=told.first)
    end = min((one.first for one in told.stays if one.first > wrong.shot), default=inf)
    good = known.before(wrong, first)
    answers = [max(one.shot, wrong.shot) for one in told.sound if one.place > wrong.place and one.shot >= wrong.shot]
    ends = min([end - 1, *answers])
    begins = max(first, known.since(wrong, first)) if good is None else good + 1
    yield Held("", "", begins, int(min(ends, told.newest)), good, ends == inf)


def _sound_at(stay: Stay, wrong: Wrong, sound: Sequence[Sound]) -> float:
    """Return the shot after which a person who knew of it found the insert of a stay sound; infinite where none did."""
    return min(
        (
            max(one.shot, wrong.shot)
            for one in sound
            if one.place > wrong.place
            and one.half in ("", stay.mounting.half)
            and max(stay.first, wrong.shot) <= one.shot < stay.end
        ),
        default=inf,
    )


def _cleared(stay: Stay, others: Sequence[Stay], wrong: Wrong, known: "_KnownGood") -> float:
    """Return the first known good shot made on an insert after all other suspects had left; infinite for none."""
    if not others:
        return inf
    out = max(wrong.shot + 1 if one.mounting.single_use else one.end for one in others)
    return known.after(wrong, out, stay.end)


class _KnownGood:
    """Which shots are known to be good."""

    def __init__(self, told: Told) -> None:
        self._cavities, self._none_good = told.cavities, told.none_good
        self._said = dict(sorted((shot, place) for place, shot in told.good))
        self._against: dict[int, int] = {}
        for wrong in told.wrong:
            if wrong.basis != TAKEN_OUT:
                self._against[wrong.shot] = max(wrong.place, self._against.get(wrong.shot, 0))
        self._looked = {Part("", one.part.shot, one.part.cavity) for one in told.results if _tells_good(one)}
        self._fine = _without_fault(told.results)
        self._decided = sorted(told.decided, key=lambda one: one.place)
        self._shots = sorted({*self._said, *(part.shot for part in self._fine)})

    def before(self, wrong: Wrong, first: int) -> int | None:
        """Return the last shot known to be good from `first` on and before what was found; None for none."""
        end = _end(wrong)
        shots = set(self._shots[bisect_left(self._shots, first) : bisect_left(self._shots, end)])
        for one in self._decided:
            if one.released:
                shots.update(range(max(first, one.first), min(one.last + 1, end)))
        return next((shot for shot in sorted(shots, reverse=True) if self._good(shot, wrong.place)), None)

    def since(self, wrong: Wrong, first: int) -> int:
        """Return the shot to hold from where none is known good on an insert in from `first` on: while nobody has
        answered, its own.

        Who once said that a part is good has answered, also where it is known better since: what speaks against that
        part must let no other one go. What was looked at or released on earlier inserts is no answer.
        """
        shots = {part.shot for part in self._looked}
        for one in self._decided:
            if one.released and one.place < wrong.place:
                shots.update(range(max(first, one.first), min(one.last + 1, _end(wrong))))
        here = {*self._said, *(shot for shot in shots if shot >= first)}
        answered = any(place > wrong.place for place in self._none_good)
        answered = answered or any(self._once_good(shot, wrong.place) for shot in here if shot < _end(wrong))
        return 0 if answered else wrong.shot

    def _once_good(self, shot: int, place: int) -> bool:
        let_go = [one for one in self._decided if one.released and one.place < place and one.first <= shot <= one.last]
        return shot in self._said or all(
            Part("", shot, cavity) in self._looked or any(one.cavity in (None, cavity) for one in let_go)
            for cavity in range(1, self._cavities(shot) + 1)
        )

    def after(self, wrong: Wrong, out: float, end: float) -> float:
        """Return the first shot known to be good from `out` on and before `end`, released ones aside."""
        later = self._shots[bisect_left(self._shots, out) : bisect_left(self._shots, end)]
        return next((shot for shot in later if self._good(shot, wrong.place)), inf)

    def _good(self, shot: int, place: int) -> bool:
        said, against = self._said.get(shot, -1), self._against.get(shot, -1)
        if against >= 0 or said >= 0:
            return said > against
        decided = [one for one in self._decided if one.place < place and one.first <= shot <= one.last]
        return all(
            Part(press="", shot=shot, cavity=cavity) in self._fine or _released(decided, cavity)
            for cavity in range(1, self._cavities(shot) + 1)
        )


def _released(decided: Sequence[Released], cavity: int) -> bool:
    last = next((one for one in reversed(decided) if one.cavity in (None, cavity)), None)
    return last is not None and last.released


def _without_fault(results: Sequence[Inspection]) -> set[Part]:
    """Return the parts that were looked at, or measured within a tolerance, and have no bad result in force."""
    by_part: dict[Part, list[Inspection]] = {}
    for one in results:
        by_part.setdefault(Part("", one.part.shot, one.part.cavity), []).append(one)
    return {
        part for part, found in by_part.items() if not any(one.bad for one in found) and any(map(_tells_good, found))
    }


def _tells_good(result: Inspection) -> bool:
    """Whether a result says by itself that a part is without fault: looked at, or measured within a tolerance."""
    return not result.bad and (result.value is None or result.low is not None or result.high is not None)
