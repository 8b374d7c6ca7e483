"""The life of each reused insert: all its stays together, how it ended, and since when it had gone off.

A life that ended by failure is dated, in this order: by the first part found bad; by the onset of the change called on
it, or the first finding noted on it if that came earlier; by its removal, when only the words of the reason tell of a
failure. A part found bad a day later so re-dates the life. What people and what the shots say of its end is kept for
where the two differ. The call may have been made while a sister in another half was judged: where a swap left the level
as it was, the change is carried over to what stayed in the press.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf
from typing import Protocol

from shotlog.entries import KINDS
from shotlog.parts.ending import decide, tells_damage
from shotlog.parts.ends import InsertEnd, blamed_half
from shotlog.records import Event, Stay
from shotlog.review.episodes import Call
from shotlog.review.source import Seen
from shotlog.review.swaps import Swap
from shotlog.store.asked.state import EntryRow

__all__ = ["Life", "Told", "lives_of"]


@dataclass(frozen=True, slots=True)
class Life:
    """One insert's life, in shots on the insert (gaps counted, dry shots not).

    `n_shots`: made on it. `sound`: made before it went off, with both ends of its onset; equals `n_shots` when the life
    is censored. `since_shot`: the press's number of the first shot after it had gone off, with `dated_by`, how that is
    known. `reason`: why it came out, in a person's words; `replaced_by`: the insert whose mounting ended it.
    `stays`: (press, first, last) of each stay, `last` included. `people`, `shots`: what either says of its end, of
    `parts.ending.PEOPLE` and `SHOTS`; `differ`: whether they say different things; `called_since`: the press's number
    of the onset by the shots, None where nothing was called that counts. `unsure`: how many shots more and fewer
    it may have made, in gaps of uncertain size.
    """

    serial: str
    design: str
    half: str
    print_batch: str
    stays: tuple[tuple[str, int, int], ...]
    mounted: bool
    reason: str
    replaced_by: str
    n_shots: int
    failed: bool
    ground: str
    sound: int
    sound_low: int
    sound_high: int
    since_shot: int | None
    dated_by: str
    people: str = ""
    shots: str = ""
    differ: bool = False
    called_since: int | None = None
    unsure: tuple[int, int] = (0, 0)

    @property
    def press(self) -> str:
        """The press of the last stay."""
        return self.stays[-1][0]

    def made(self, press: str, shot: int) -> bool:
        """Say whether a shot was made on it."""
        return any(press == where and first <= shot <= last for where, first, last in self.stays)


class Told(Protocol):
    """A press with what its lives are told from: a `History`, or one that was read for that alone."""

    @property
    def record(self) -> Seen:
        """Its shots."""

    @property
    def swaps(self) -> tuple[Swap, ...]:
        """Its swaps, in order."""


class _Press:
    """A press with what its lives ask of it found by shot: in years there are thousands of each."""

    def __init__(self, told: Told) -> None:
        self.record = told.record
        self._standing = [one for one in self.record.episodes if one.stands]
        self._swaps: dict[tuple[str, float], Swap] = {}
        for swap in told.swaps:
            self._swaps.setdefault((swap.out, swap.at_shot), swap)
        self._came_back = sorted(swap.at_shot for swap in told.swaps if swap.outcome == "came back")
        stayed = (swap.called for swap in told.swaps if swap.outcome == "stayed" and swap.called is not None)
        self._outlived = sorted(stayed, key=lambda call: call.last)
        found = (row for row in self.record.entries if not row.taken_back and _tells(row))
        self._found = sorted(found, key=lambda row: row.event.at_shot)
        self._unsure = [gap for gap in self.record.gaps if gap.n_more or gap.n_fewer]

    def swap(self, serial: str, at_shot: float) -> Swap | None:
        """Return the swap by which an insert came out at a shot."""
        return self._swaps.get((serial, at_shot))

    def standing(self, stay: Stay) -> Call | None:
        """Return the call that stood at the end of a stay; None for none, or where another swap brought it back."""
        end = min(stay.end, self.record.last_shot + 1)
        n = bisect_left(self._standing, end, key=lambda call: call.first)
        if n == 0 or self._standing[n - 1].first < stay.first:
            return None
        last = self._standing[n - 1]
        back = bisect_right(self._came_back, last.last)
        return None if back < len(self._came_back) and self._came_back[back] < end else last

    def traced(self, call: Call, first: int) -> Call:
        """Follow a change back over swaps that left the level where it was, no further than shot `first`."""
        n = bisect_left(self._outlived, call.first, key=lambda earlier: earlier.last)
        if n == 0 or self._outlived[n - 1].first < first:
            return call
        return self.traced(self._outlived[n - 1], first)

    def found(self, stay: Stay) -> Sequence[EntryRow]:
        """Return what people noted of inserts during a stay, damage or that one was sound, in order."""
        ends = (bisect_left(self._found, shot, key=lambda row: row.event.at_shot) for shot in (stay.first, stay.end))
        return self._found[slice(*ends)]

    def unsure(self, stay: Stay) -> tuple[int, int]:
        """Return how many shots more and fewer may have been made during a stay, in gaps of uncertain size."""
        gaps = [gap for gap in self._unsure if stay.first <= gap.first < stay.end]
        return sum(gap.n_more for gap in gaps), sum(gap.n_fewer for gap in gaps)


def _tells(row: EntryRow) -> bool:
    effect = KINDS[row.event.kind].effect
    return bool(effect.found or effect.sound)


def lives_of(told: Sequence[Told], ends: Sequence[InsertEnd]) -> tuple[Life, ...]:
    """Return the life of every reused insert that made a shot, in the order they were first mounted on each press."""
    by_press = {one.record.press: _Press(one) for one in told}
    return tuple(_life(end, by_press) for end in ends if end.shots_made > 0)


@dataclass(frozen=True, slots=True)
class _Date:
    """Since when an insert had gone off: press, shot and the ends of its interval."""

    press: str
    shot: int
    low: int
    high: int
    how: str


def _life(end: InsertEnd, by_press: Mapping[str, _Press]) -> Life:
    stay = max(end.stays, key=lambda one: one.mounting.came)
    press = by_press[stay.mounting.press]
    mounted = stay.end == inf
    reason = "" if mounted else stay.reason
    swap = press.swap(end.serial, stay.end)
    called = _called(press, stay, swap)
    found = _first_finding(end, by_press, stay if swap is not None and swap.outcome == "stayed" else None)
    ending = decide(
        reason,
        mounted=mounted,
        bad_part=end.bad is not None,
        called=called is not None,
        refuted=swap is not None and swap.outcome == "stayed",
        confirmed=swap is not None and swap.outcome == "came back",
        found=found is not None,
        elsewhere=_elsewhere(press, stay),
    )
    date = _date(end, called, stay, found) if ending.failed else None
    sound, low, high = (
        (end.shots_made,) * 3
        if date is None
        else (_made_before(end, by_press, date.press, shot) for shot in (date.shot, date.low, date.high))
    )
    return Life(
        end.serial,
        end.design,
        end.half,
        end.print_batch,
        tuple((s.mounting.press, s.first, _last(by_press[s.mounting.press].record, s)) for s in end.stays),
        mounted,
        reason,
        "" if mounted else stay.replaced_by,
        end.shots_made,
        ending.failed,
        ending.ground,
        sound,
        low,
        high,
        None if date is None else date.shot,
        "" if date is None else date.how,
        ending.people,
        ending.shots,
        ending.differ,
        None if called is None else _onset(called),
        _unsure(end, by_press),
    )


def _unsure(end: InsertEnd, by_press: Mapping[str, _Press]) -> tuple[int, int]:
    each = [by_press[stay.mounting.press].unsure(stay) for stay in end.stays]
    return sum(more for more, _ in each), sum(fewer for _, fewer in each)


def _last(record: Seen, stay: Stay) -> int:
    return int(min(stay.end - 1, record.last_shot))


def _called(press: _Press, stay: Stay, swap: Swap | None) -> Call | None:
    """Return the call that counts against an insert: the one that stood at its end, traced back over refuted swaps.

    A call laid to the material or the press does not; one to watch, or made on the sister judged at the time, counts
    only when the insert's own swap brought the level back.
    """
    last = press.standing(stay)
    if last is None:
        return None
    traced = press.traced(last, stay.first)
    if swap is not None and swap.outcome == "came back":
        return traced
    own = last.insert == stay.mounting.insert.serial and last.worst == "swap" and last.group in ("", "insert")
    return traced if own else None


def _elsewhere(press: _Press, stay: Stay) -> bool:
    """Whether what stood open at the end of a stay was laid to the press or the material, which no swap mends."""
    last = press.standing(stay)
    return last is not None and last.group not in ("", "insert")


def _first_finding(
    end: InsertEnd, by_press: Mapping[str, _Press], refuted: Stay | None = None
) -> tuple[str, int] | None:
    """Return press and shot of the first finding noted on an insert that nobody answered by finding it sound.

    `refuted`: a stay that a swap ended and left the level where it was. A finding of which nobody said the half was
    laid to the insert judged at the time; on that stay the swap has shown that it was another's.
    """
    for stay in end.stays:
        press, first = by_press[stay.mounting.press], None
        for row in press.found(stay):
            effect, shot = KINDS[row.event.kind].effect, row.event.at_shot
            if effect.sound:
                first = None
            elif stay == refuted and not row.event.half:
                continue
            elif (
                effect.found
                and first is None
                and tells_damage(row.event.text)
                and _against(press.record, row.event, stay)
            ):
                first = shot
        if first is not None:
            return stay.mounting.press, first
    return None


def _against(record: Seen, event: Event, stay: Stay) -> bool:
    """Say whether a finding speaks against the insert of a stay, as a bad part does."""
    shot = event.at_shot
    stays, judged = record.timeline.stays_at(shot), record.judged(shot, shot)
    half = blamed_half(
        record.timeline.halves(shot), event.half, judged, {name: one.first for name, one in stays.items()}
    )
    return half == stay.mounting.half


def _onset(called: Call) -> int:
    return called.first if called.onset is None else called.onset


def _date(end: InsertEnd, called: Call | None, stay: Stay, found: tuple[str, int] | None) -> _Date:
    if end.bad is not None:
        part = end.bad.part
        return _Date(part.press, part.shot, part.shot, part.shot, "first part found bad")
    if found is not None and (called is None or found[1] < _onset(called)):
        return _Date(found[0], found[1], found[1], found[1], "first finding noted")
    if called is not None:
        onset = _onset(called)
        high = max(onset, called.onset_high or onset)
        return _Date(called.press, onset, called.early_edge, high, "onset of the change called")
    at = int(stay.end)
    return _Date(stay.mounting.press, at, at, at, "its removal; no earlier sign known")


def _made_before(end: InsertEnd, by_press: Mapping[str, _Press], press: str, shot: int) -> int:
    """Return how many shots were made on the insert before a shot, over all its stays."""
    n = 0
    for stay in end.stays:
        record = by_press[stay.mounting.press].record
        here = stay.mounting.press == press and stay.first <= shot <= stay.end
        upto = shot if here else int(min(stay.end, record.last_shot + 1))
        n += record.timeline.n_taken(stay, upto)
        if here:
            break
    return n
