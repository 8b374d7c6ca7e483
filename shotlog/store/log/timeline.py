"""Which inserts were in force at which shot, worked out from what people entered. Pure: entries in, answers out.

A mounting holds its half from its shot until the next mounting on that half or the removal of that insert, whichever
comes first; of one shot, what was entered later in the log is later. Because this is worked out afresh from the entries
in force, an entry made late, or taken back, re-attributes the shots it concerns without a row being changed.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from copy import copy
from math import inf
from typing import Self

from shotlog.entries import KINDS
from shotlog.errors import UsageError
from shotlog.recording import one_line
from shotlog.records import Event, InForce, Insert, Mounting, Removal, Stay

__all__ = ["Timeline", "piece"]


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
    """The stays and events of one press.

    `queues` holds, by the serial a single-use half was mounted with, the pieces in the order they are taken. A shot
    noted as dry takes none; the pieces of a series without a queue are numbered on from its serial.
    """

    def __init__(
        self,
        mountings: Iterable[Mounting] = (),
        removals: Iterable[Removal] = (),
        events: Iterable[Event] = (),
        queues: Mapping[str, Sequence[Insert]] | None = None,
    ) -> None:
        self._queues = queues or {}
        taken_out: dict[str, list[Removal]] = {}
        for removal in removals:
            taken_out.setdefault(removal.serial, []).append(removal)
        by_half: dict[str, list[Mounting]] = {}
        for mounting in mountings:
            by_half.setdefault(mounting.half, []).append(mounting)
        stays = []
        for entries in by_half.values():
            entries.sort(key=lambda entry: entry.at_shot)
            stays += [
                _stay(entry, entries[n + 1 : n + 2], taken_out.get(entry.insert.serial, []))
                for n, entry in enumerate(entries)
            ]
        self._hold(stays)
        said = [stay for stay in stays if stay.reason and not stay.mounting.single_use]
        self._removed = sorted((int(stay.end), stay.mounting.insert.serial, one_line(stay.reason)) for stay in said)
        self._removed_shots = [shot for shot, _, _ in self._removed]
        self._events = sorted(events, key=lambda entry: entry.at_shot)
        self._event_shots = [entry.at_shot for entry in self._events]
        self.dry_shots = sorted({entry.at_shot for entry in self._events if KINDS[entry.kind].effect.no_part})

    def _hold(self, stays: Iterable[Stay]) -> None:
        self._stays: dict[str, list[Stay]] = {}
        for stay in stays:
            self._stays.setdefault(stay.mounting.half, []).append(stay)
        self._starts = {half: [stay.first for stay in held] for half, held in self._stays.items()}

    @property
    def stays(self) -> list[Stay]:
        """Every stay, in order of first shot."""
        return sorted((stay for stays in self._stays.values() for stay in stays), key=lambda stay: stay.first)

    @property
    def events(self) -> list[Event]:
        """Every event, in order of shot."""
        return list(self._events)

    def within(self, first: int, last: int) -> Self:
        """Return this timeline with only the stays that touch shots `first` to `last`, and the events since these.

        A long log has thousands of stays, and who works on a window asks every one. Dry shots are all kept: the pieces
        taken before are counted by them.
        """
        cut = copy(self)
        cut._hold(stay for stays in self._stays.values() for stay in _touching(stays, first, last))
        since = min((starts[0] for starts in cut._starts.values()), default=last + 1)
        upto = bisect_left(self._event_shots, since), bisect_right(self._event_shots, last)
        cut._events, cut._event_shots = self._events[slice(*upto)], self._event_shots[slice(*upto)]
        return cut

    def stays_at(self, shot: int) -> dict[str, Stay]:
        """Return the stay in force in each half at `shot`."""
        found = {}
        for half, starts in self._starts.items():
            n = bisect_right(starts, shot) - 1
            if n >= 0 and shot < self._stays[half][n].end:
                found[half] = self._stays[half][n]
        return found

    def halves(self, shot: int) -> Mapping[str, InForce]:
        """Return the insert in force in each half at `shot`; a single-use half shows the piece of that shot.

        A half whose queue has run out is left out: nobody said which piece it was. At a dry shot it is the piece that
        waits for the next one.
        """
        return self._held(sorted(self.stays_at(shot).items()), shot)

    def _held(self, stays: Iterable[tuple[str, Stay]], shot: int) -> Mapping[str, InForce]:
        found = ((half, self._in_force(stay, shot)) for half, stay in stays)
        return {half: held for half, held in found if held is not None}

    def halves_of(self, shots: Iterable[int]) -> Iterator[Mapping[str, InForce]]:
        """Yield `halves` of each of some shots, which rise; the same mapping again for as long as nothing changes."""
        until, stays = -inf, list[tuple[str, Stay]]()
        halves: Mapping[str, InForce] = {}
        for shot in shots:
            if shot >= until:
                until, stays = self._next_change(shot), sorted(self.stays_at(shot).items())
                halves = self._held(stays, shot)
            elif any(stay.mounting.single_use for _, stay in stays):
                halves = self._held(stays, shot)
            yield halves

    def _next_change(self, shot: int) -> float:
        """Return the first shot after `shot` at which another stay begins or one ends; inf where none does."""
        ends = [stay.end for stay in self.stays_at(shot).values()]
        coming = ((starts, bisect_right(starts, shot)) for starts in self._starts.values())
        return min([*ends, *(starts[n] for starts, n in coming if n < len(starts))], default=inf)

    def n_taken(self, stay: Stay, shot: int) -> int:
        """Return how many pieces the shots of a single-use stay before `shot` took."""
        return stay.n_taken(shot, self.dry_shots)

    def queue(self, stay: Stay) -> Sequence[Insert] | None:
        """Return the pieces of a single-use stay in the order they are taken; None where they are numbered on."""
        return self._queues.get(stay.mounting.insert.serial)

    def _in_force(self, stay: Stay, shot: int) -> InForce | None:
        insert = stay.mounting.insert
        if not stay.mounting.single_use:
            return InForce(insert.serial, insert.design, insert.print_batch)
        n = self.n_taken(stay, shot)
        queue = self.queue(stay)
        if queue is None:
            return InForce(piece(insert.serial, n), insert.design, insert.print_batch, True)
        if n >= len(queue):
            return None
        return InForce(queue[n].serial, queue[n].design, queue[n].print_batch, True)

    def events_between(self, after: int, upto: int) -> tuple[tuple[str, str], ...]:
        """Return (kind, text) of the events in force from a shot in `after` < shot <= `upto`, in order.

        The text is as a recording keeps it, so that what is judged live and what is replayed are equal.
        """
        first, last = bisect_right(self._event_shots, after), bisect_right(self._event_shots, upto)
        return tuple((event.kind, one_line(event.text)) for event in self._events[first:last])

    def about_between(self, after: int, upto: int) -> tuple[str, ...]:
        """Return the half that each of those events is about, as `LoggedShot.about` tells it."""
        first, last = bisect_right(self._event_shots, after), bisect_right(self._event_shots, upto)
        about = tuple(event.half for event in self._events[first:last])
        return about if any(about) else ()

    def told_between(self, after: int, upto: int) -> list[int]:
        """Return the shots in `after` < shot <= `upto` from which events are in force, or inserts missing."""
        events = bisect_right(self._event_shots, after), bisect_right(self._event_shots, upto)
        removed = bisect_right(self._removed_shots, after), bisect_right(self._removed_shots, upto)
        return self._event_shots[slice(*events)] + self._removed_shots[slice(*removed)]

    def removed_between(self, after: int, upto: int) -> tuple[tuple[str, str], ...]:
        """Return (serial, reason) of the reused inserts first missing at a shot in `after` < shot <= `upto`, in order.

        Those of which nobody said why are left out.
        """
        first, last = bisect_right(self._removed_shots, after), bisect_right(self._removed_shots, upto)
        return tuple((serial, reason) for _, serial, reason in self._removed[first:last])


def _touching(stays: Sequence[Stay], first: int, last: int) -> list[Stay]:
    return [stay for stay in stays if stay.first <= last and max(stay.end, stay.first + 1) > first]


def _stay(entry: Mounting, following: list[Mounting], removals: list[Removal]) -> Stay:
    end, reason, replaced_by = inf, "", ""
    for replacement in following:
        end, replaced_by = replacement.at_shot, replacement.insert.serial
    for removal in removals:
        same = removal.at_shot == entry.at_shot
        after = removal.came_after(entry) if same else removal.at_shot > entry.at_shot
        if after and removal.at_shot <= end:
            end, reason, replaced_by = removal.at_shot, removal.reason, ""
    return Stay(entry, entry.at_shot, end, reason, replaced_by)
