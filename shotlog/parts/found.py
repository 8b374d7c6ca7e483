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

from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import inf

from shotlog.parts.ending import words_in
from shotlog.parts.known_good import KnownGood, end_of_good
from shotlog.parts.told import FINDING, INSPECTION, NOTE, TAKEN_OUT, Sound, Told, Wrong
from shotlog.records import EVER, VERDICTS, Stay

__all__ = ["FoundWrong", "Held", "damages", "found_wrong", "verdict_beside"]


@dataclass(frozen=True, slots=True)
class Held:
    """Parts of shots `first` to `last` of one insert, held for what was found; `serial` empty where none is on record.

    `last_good`: the last shot before them known to be good, None where none is. `goes_on`: the next shot's is as well.
    `out`: the first shot without it, where that is all that ended it: it was not cleared, and is suspected still.
    """

    serial: str
    half: str
    first: int
    last: int
    last_good: int | None
    goes_on: bool
    out: int | None = None


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


def found_wrong(told: Told, first: int = 0, last: int = EVER) -> list[FoundWrong]:
    """Return what was found wrong on a press, in the order of the log; of what holds no part of shots `first` to
    `last`, some may be left out.
    """
    known, stays = KnownGood(told), _Stays(told.stays)
    none_good = _none_good(told, stays)
    mounted: dict[str, list[int]] = {}
    for place, half in sorted(told.mounted):
        mounted.setdefault(half, []).append(place)
    found = []
    for wrong in sorted(told.wrong, key=lambda one: one.place):
        if not stays.may_hold(wrong, first, last):
            continue
        none = wrong.place in none_good
        held = tuple(_held(wrong, told, stays, known, none))
        stands = any(one.goes_on for one in held) or _just_made(wrong, held, told)
        bounded = all(one.last_good == wrong.shot - 1 for one in held if one.first <= wrong.shot)
        good = any(place > wrong.place and shot < end_of_good(wrong) for place, shot in told.good)
        # why an insert came out was mostly found before, and answered then
        good = good or (wrong.basis == TAKEN_OUT and any(one.last_good is not None for one in held))
        asks = not (bounded or none or good) and (stands or _left_lately(wrong, held, stays, mounted))
        found.append(FoundWrong(wrong, held, stands, asks))
    return found


def _left_lately(wrong: Wrong, held: Sequence[Held], stays: "_Stays", mounted: Mapping[str, Sequence[int]]) -> bool:
    """Whether what was found is of an insert that is out, and its half was entered as swapped once since at most.

    By then somebody still knows. It counts from when it was found: a bad part is found days and inserts later.
    """
    out = [mounted.get(one.half, ()) for one in held if stays.ended(one.serial, one.last + 1)]
    return any(len(places) - bisect_right(places, wrong.place) <= 1 for places in out)


def _none_good(told: Told, stays: "_Stays") -> set[int]:
    """Return the places of what was found of which somebody answered that no part before is known to be good.

    An answer is about what was found on an insert that was in at its shot, else about the newest found before it.
    """
    answered: set[int] = set()
    for place, shot in told.none_good:
        asked = [one for one in told.wrong if one.place < place and one.basis != NOTE]
        here = [one for one in asked if any(stay.first <= shot < stay.end for stay in stays.suspects(one))]
        answered.update(one.place for one in here or sorted(asked, key=lambda one: one.place)[-1:])
    return answered


def damages(found: FoundWrong) -> bool:
    """Whether damage to an insert itself was seen, so that it must come out: a fault may come from the press.

    A piece that left with its part has nothing held for it.
    """
    return bool(found.held) and "seen on the insert" in words_in(found.wrong.text)


def verdict_beside(verdict: str, found: Sequence[FoundWrong]) -> str:
    """Return the verdict beside what people found that stands: never keep; swap where damage to an insert was seen."""
    standing = [one for one in found if one.stands]
    least = "swap" if any(damages(one) for one in standing) else "watch" if standing else "keep"
    return max(verdict, least, key=VERDICTS.index)


def _just_made(wrong: Wrong, held: Sequence[Held], told: Told) -> bool:
    """Whether it is about the part just made, and about no insert that is still there."""
    own = wrong.basis in (FINDING, INSPECTION) and not held and wrong.shot == told.newest
    return own and not any(one.place > wrong.place and one.shot >= wrong.shot for one in told.sound)


def _held(wrong: Wrong, told: Told, stays: "_Stays", known: KnownGood, none: bool) -> Iterator[Held]:
    if wrong.basis == NOTE:
        return
    named = stays.suspects(wrong)
    for stay in named:
        if not stay.mounting.single_use:
            others = [one for one in named if one is not stay]
            good, begins = _begins(wrong, stay.first, known, none)
            later = stays.later(stay) if wrong.basis != TAKEN_OUT else []
            yield from _on([stay, *later], begins, good, wrong, told, _cleared(stay, others, wrong, known))
    if not wrong.half and not stays.at(wrong.shot):
        yield from _on_nothing_known(wrong, told, known, none)


def _begins(wrong: Wrong, first: int, known: KnownGood, none: bool) -> tuple[int | None, int]:
    """Return the last part known to be good since `first`, None for none, and the shot to hold from.

    Where none is known, that is the shot it was found on until that is answered, and then `first`.
    """
    good = known.before(wrong, first)
    if good is not None:
        return good, good + 1
    return None, first if none or known.once(wrong, first) else max(first, wrong.shot)


def _on(
    stays: Sequence[Stay], begins: int, good: int | None, wrong: Wrong, told: Told, cleared: float
) -> Iterator[Held]:
    """Yield what is held of an insert's stay, and of its later ones should it come back before it is found sound."""
    for one in stays:
        first = begins if one is stays[0] else one.first
        sound = _sound_at(one, wrong, told.sound)
        ends = min(one.end - 1, sound, cleared - 1)
        last = int(min(ends, told.newest))
        if first <= last:
            serial, half = one.mounting.insert.serial, one.mounting.half
            out = int(one.end) if one.end < inf and one.end <= min(sound, cleared) else None
            yield Held(serial, half, first, last, good if one is stays[0] else None, ends == inf, out)
        if min(sound, cleared) < inf:
            return


def _on_nothing_known(wrong: Wrong, told: Told, known: KnownGood, none: bool) -> Iterator[Held]:
    """Yield what is held while no insert is on record: as if one had been in since the last that was."""
    first = max((int(one.end) for one in told.stays if one.end <= wrong.shot), default=told.first)
    end = min((one.first for one in told.stays if one.first > wrong.shot), default=inf)
    good, begins = _begins(wrong, first, known, none)
    answers = [max(one.shot, wrong.shot) for one in told.sound if one.place > wrong.place and one.shot >= wrong.shot]
    ends = min([end - 1, *answers])
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


def _cleared(stay: Stay, others: Sequence[Stay], wrong: Wrong, known: KnownGood) -> float:
    """Return the first known good shot made on an insert after all other suspects had left; infinite for none."""
    if not others:
        return inf
    out = max(wrong.shot + 1 if one.mounting.single_use else one.end for one in others)
    return known.after(wrong, out, stay.end)


class _Stays:
    """The stays of a press, found by shot and by serial: a long log has thousands, and every finding asks."""

    def __init__(self, stays: Sequence[Stay]) -> None:
        self._halves: dict[str, list[Stay]] = {}
        self._serials: dict[str, list[Stay]] = {}
        for stay in sorted(stays, key=lambda one: one.first):
            self._halves.setdefault(stay.mounting.half, []).append(stay)
            self._serials.setdefault(stay.mounting.insert.serial, []).append(stay)
        self._starts = {half: [stay.first for stay in held] for half, held in self._halves.items()}

    def at(self, shot: int) -> list[Stay]:
        """Return the stays in force at a shot."""
        here = []
        for half, starts in self._starts.items():
            n = bisect_right(starts, shot)
            if n and shot < self._halves[half][n - 1].end:
                here.append(self._halves[half][n - 1])
        return sorted(here, key=lambda one: one.first)

    def suspects(self, wrong: Wrong) -> list[Stay]:
        """Return the stays that what was found speaks against: those of the named half, else all in force."""
        return [one for one in self.at(wrong.shot) if wrong.half in ("", one.mounting.half)]

    def later(self, stay: Stay) -> list[Stay]:
        """Return the later stays of the insert of one, empty ones aside."""
        return [one for one in self._serials[stay.mounting.insert.serial] if stay.end <= one.first < one.end]

    def may_hold(self, wrong: Wrong, first: int, last: int) -> bool:
        """Say whether what was found may hold a part of shots `first` to `last`: its own, or one made on an insert."""
        suspects = self.suspects(wrong)
        if first <= wrong.shot <= last or not suspects:
            return True
        stays = (one for stay in suspects for one in (stay, *self.later(stay)))
        return any(one.first <= last and one.end > first for one in stays)

    def ended(self, serial: str, end: int) -> bool:
        """Say whether an insert came out just before the shot `end`."""
        return any(one.end == end for one in self._serials.get(serial, ()))
