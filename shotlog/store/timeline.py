"""Which inserts were in force at which shot, worked out from what people entered. Pure: entries in, answers out.

A mounting holds its half from its shot until the next mounting on that half or the removal of that insert, whichever
comes first. Because this is worked out afresh from the entries in force, an entry made late, or taken back,
re-attributes the shots it concerns without a row being changed.
"""

from bisect import bisect_right
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import inf

from shotlog.errors import UsageError
from shotlog.recording import one_line
from shotlog.records import Event, InForce, Mounting, Removal

__all__ = ["Stay", "Timeline", "piece"]


@dataclass(frozen=True, slots=True)
class Stay:
    """One insert's stay in one half: from shot `first` up to, not including, shot `end` (inf while mounted)."""

    mounting: Mounting
    first: int
    end: float
    reason: str = ""


def piece(serial: str, n: int) -> str:
    """Return the serial of the n-th single-use piece after `serial` (n = 0 is `serial` itself).

    Examples
    --------
    >>> piece("S-009", 1)
    'S-010'
    """
    stem = serial.rstrip("0123456789")
    digits = serial[len(stem) :]
    if not digits:
        raise UsageError(f"serial of a single-use half: given {serial!r}, allowed: one that ends in a number")
    return f"{stem}{int(digits) + n:0{len(digits)}d}"


class Timeline:
    """The stays and events of one press."""

    def __init__(
        self, mountings: Iterable[Mounting] = (), removals: Iterable[Removal] = (), events: Iterable[Event] = ()
    ) -> None:
        taken_out: dict[str, list[Removal]] = {}
        for removal in removals:
            taken_out.setdefault(removal.serial, []).append(removal)
        by_half: dict[str, list[Mounting]] = {}
        for mounting in mountings:
            by_half.setdefault(mounting.half, []).append(mounting)
        self._stays: dict[str, list[Stay]] = {}
        for half, entries in by_half.items():
            entries.sort(key=lambda entry: entry.at_shot)
            self._stays[half] = [
                _stay(entry, entries[n + 1 : n + 2], taken_out.get(entry.insert.serial, []))
                for n, entry in enumerate(entries)
            ]
        self._starts = {half: [stay.first for stay in stays] for half, stays in self._stays.items()}
        self._events = sorted(events, key=lambda entry: entry.at_shot)
        self._event_shots = [entry.at_shot for entry in self._events]

    @property
    def stays(self) -> list[Stay]:
        """Every stay, in order of first shot."""
        return sorted((stay for stays in self._stays.values() for stay in stays), key=lambda stay: stay.first)

    def stays_at(self, shot: int) -> dict[str, Stay]:
        """Return the stay in force in each half at `shot`."""
        found = {}
        for half, starts in self._starts.items():
            n = bisect_right(starts, shot) - 1
            if n >= 0 and shot < self._stays[half][n].end:
                found[half] = self._stays[half][n]
        return found

    def halves(self, shot: int) -> Mapping[str, InForce]:
        """Return the insert in force in each half at `shot`; a single-use half shows the piece of that shot."""
        return {half: _in_force(stay, shot) for half, stay in sorted(self.stays_at(shot).items())}

    def events_between(self, after: int, upto: int) -> tuple[tuple[str, str], ...]:
        """Return (kind, text) of the events in force from a shot in `after` < shot <= `upto`, in order.

        The text is as a recording keeps it, so that what is judged live and what is replayed are equal.
        """
        first, last = bisect_right(self._event_shots, after), bisect_right(self._event_shots, upto)
        return tuple((event.kind, one_line(event.text)) for event in self._events[first:last])


def _stay(entry: Mounting, following: list[Mounting], removals: list[Removal]) -> Stay:
    end, reason = inf, ""
    for replacement in following:
        end, reason = replacement.at_shot, f"replaced by {replacement.insert.serial}"
    for removal in removals:
        after = (removal.at_shot, removal.time) >= (entry.at_shot, entry.time)
        if after and removal.at_shot <= end:
            end, reason = removal.at_shot, removal.reason
    return Stay(entry, entry.at_shot, end, reason)


def _in_force(stay: Stay, shot: int) -> InForce:
    insert = stay.mounting.insert
    serial = piece(insert.serial, shot - stay.first) if stay.mounting.single_use else insert.serial
    return InForce(serial, insert.design, insert.print_batch, stay.mounting.single_use)
