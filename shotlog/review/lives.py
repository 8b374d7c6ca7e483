"""The life of each reused insert: all its stays together, how it ended, and since when it had gone off.

A life that ended by failure is dated, in this order: by the first part found bad; by the onset of the change called on
it, or the first finding noted on it if that came earlier; by its removal, when only the words of the reason tell of a
failure. A part found bad a day later so re-dates the life. What people and what the shots say of its end is kept for
where the two differ. The call may have been made while a sister in another half was judged: where a swap left the level
as it was, the change is carried over to what stayed in the press.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf

from shotlog.entries import KINDS
from shotlog.parts.ending import decide, tells_damage
from shotlog.parts.ends import InsertEnd, blamed_half
from shotlog.records import Event, Stay
from shotlog.review.episodes import Episode
from shotlog.review.history import History
from shotlog.review.source import PressRecord
from shotlog.review.swaps import Swap

__all__ = ["Life", "lives_of"]


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


def lives_of(histories: Sequence[History], ends: Sequence[InsertEnd]) -> tuple[Life, ...]:
    """Return the life of every reused insert that made a shot, in the order they were first mounted on each press."""
    by_press = {history.record.press: history for history in histories}
    return tuple(_life(end, by_press) for end in ends if end.shots_made > 0)


@dataclass(frozen=True, slots=True)
class _Date:
    """Since when an insert had gone off: press, shot and the ends of its interval."""

    press: str
    shot: int
    low: int
    high: int
    how: str


def _life(end: InsertEnd, by_press: Mapping[str, History]) -> Life:
    stay = max(end.stays, key=lambda one: one.mounting.came)
    history = by_press[stay.mounting.press]
    mounted = stay.end == inf
    reason = "" if mounted else stay.reason
    swap = next((one for one in history.swaps if one.out == end.serial and one.at_shot == stay.end), None)
    episode = _episode(history, stay, swap)
    found = _first_finding(end, by_press, stay if swap is not None and swap.outcome == "stayed" else None)
    ending = decide(
        reason,
        mounted=mounted,
        bad_part=end.bad is not None,
        called=episode is not None,
        refuted=swap is not None and swap.outcome == "stayed",
        confirmed=swap is not None and swap.outcome == "came back",
        found=found is not None,
        elsewhere=_elsewhere(history, stay),
    )
    date = _date(end, episode, stay, found) if ending.failed else None
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
        None if episode is None else _onset(episode),
        _unsure(end, by_press),
    )


def _unsure(end: InsertEnd, by_press: Mapping[str, History]) -> tuple[int, int]:
    gaps = [
        gap
        for stay in end.stays
        for gap in by_press[stay.mounting.press].record.gaps
        if stay.first <= gap.first < stay.end
    ]
    return sum(gap.n_more for gap in gaps), sum(gap.n_fewer for gap in gaps)


def _last(record: PressRecord, stay: Stay) -> int:
    return int(min(stay.end - 1, record.last_shot))


def _episode(history: History, stay: Stay, swap: Swap | None) -> Episode | None:
    """Return the call that counts against an insert: the one that stood at its end, traced back over refuted swaps.

    A call laid to the material or the press does not; one to watch, or made on the sister judged at the time, counts
    only when the insert's own swap brought the level back.
    """
    last = _standing(history, stay)
    if last is None:
        return None
    traced = _traced(history, last, stay.first)
    if swap is not None and swap.outcome == "came back":
        return traced
    own = last.insert == stay.mounting.insert.serial and last.worst == "swap" and last.group in ("", "insert")
    return traced if own else None


def _standing(history: History, stay: Stay) -> Episode | None:
    """Return the call that stood at the end of a stay; None for none, or where another swap brought the level back."""
    end = min(stay.end, history.record.last_shot + 1)
    standing = [one for one in history.episodes if one.stands and stay.first <= one.first < end]
    last = standing[-1] if standing else None
    if last is None or any(s.outcome == "came back" and last.last < s.at_shot < end for s in history.swaps):
        return None
    return last


def _elsewhere(history: History, stay: Stay) -> bool:
    """Whether what stood open at the end of a stay was laid to the press or the material, which no swap mends."""
    last = _standing(history, stay)
    return last is not None and last.group not in ("", "insert")


def _traced(history: History, episode: Episode, first: int) -> Episode:
    """Follow a change back over swaps that left the level where it was, no further than shot `first`."""
    before = [swap.called for swap in history.swaps if swap.outcome == "stayed" and swap.called is not None]
    earlier = [one for one in before if first <= one.first and one.last < episode.first]
    return _traced(history, earlier[-1], first) if earlier else episode


def _first_finding(
    end: InsertEnd, by_press: Mapping[str, History], refuted: Stay | None = None
) -> tuple[str, int] | None:
    """Return press and shot of the first finding noted on an insert that nobody answered by finding it sound.

    `refuted`: a stay that a swap ended and left the level where it was. A finding of which nobody said the half was
    laid to the insert judged at the time; on that stay the swap has shown that it was another's.
    """
    for stay in end.stays:
        record, first = by_press[stay.mounting.press].record, None
        for row in record.entries:
            effect, shot = KINDS[row.event.kind].effect, row.event.at_shot
            if row.taken_back or not stay.first <= shot < stay.end:
                continue
            if effect.sound:
                first = None
            elif stay == refuted and not row.event.half:
                continue
            elif effect.found and first is None and tells_damage(row.event.text) and _against(record, row.event, stay):
                first = shot
        if first is not None:
            return stay.mounting.press, first
    return None


def _against(record: PressRecord, event: Event, stay: Stay) -> bool:
    """Say whether a finding speaks against the insert of a stay, as a bad part does."""
    shot = event.at_shot
    stays, judged = record.timeline.stays_at(shot), record.judged(shot, shot)
    half = blamed_half(
        record.timeline.halves(shot), event.half, judged, {name: one.first for name, one in stays.items()}
    )
    return half == stay.mounting.half


def _onset(episode: Episode) -> int:
    return episode.first if episode.onset is None else episode.onset


def _date(end: InsertEnd, episode: Episode | None, stay: Stay, found: tuple[str, int] | None) -> _Date:
    if end.bad is not None:
        part = end.bad.part
        return _Date(part.press, part.shot, part.shot, part.shot, "first part found bad")
    if found is not None and (episode is None or found[1] < _onset(episode)):
        return _Date(found[0], found[1], found[1], found[1], "first finding noted")
    if episode is not None:
        onset = _onset(episode)
        high = max(onset, episode.onset_high or onset)
        return _Date(episode.press, onset, episode.early_edge, high, "onset of the change called")
    at = int(stay.end)
    return _Date(stay.mounting.press, at, at, at, "its removal; no earlier sign known")


def _made_before(end: InsertEnd, by_press: Mapping[str, History], press: str, shot: int) -> int:
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
