"""What the page of parts and baths shows, read from the log: held parts, baths with what is in them, last entries."""

import hashlib
from collections.abc import Hashable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TypeVar

from dashboard.parts.cards import HeldCard, held_cards
from dashboard.parts.places import PlaceView, placed_in
from dashboard.shared.held import HeldReader
from dashboard.shared.source import Source
from shotlog.parts.doubt import Lifted
from shotlog.parts.standing import Decision
from shotlog.records import Who
from shotlog.store.asked import state
from shotlog.store.asked.who import makers
from shotlog.store.log.log import Log
from shotlog.store.parts import baths, dispositions, inspections, soaks
from shotlog.store.parts import places as placing
from shotlog.store.parts.baths import Bath
from shotlog.store.parts.places import Place, WhereIs
from shotlog.store.parts.soaks import Soak
from shotlog.wording.numbers import shots_named
from shotlog.wording.parts import result_text
from shotlog.wording.where import bath_named

__all__ = ["BathView", "PartsReader", "PartsView", "Recent", "Soaking"]

T = TypeVar("T", Decision, Soak, Place)

_RECENT = 6
_LOOKED_BACK = 3_000
"""Shots of a press among which the last inspections are looked for."""


@dataclass(frozen=True, slots=True)
class Soaking:
    """Parts of a press that went into a bath together: a run of shots, and when they are due."""

    press: str
    first: int
    last: int
    n_parts: int
    went_in: datetime
    due: datetime

    @property
    def named(self) -> str:
        """The parts as a person names them."""
        return f"{self.first}" if self.first == self.last else f"{self.first}-{self.last}"


@dataclass(frozen=True, slots=True)
class BathView:
    """A filling of a bath and what is in it, what is due first on top."""

    bath: Bath
    inside: tuple[Soaking, ...]


@dataclass(frozen=True, slots=True)
class Recent:
    """An entry in force that can be taken back; of several made at once `who` made the first."""

    entry: str
    time: datetime
    text: str
    who: Who | None = None


@dataclass(frozen=True, slots=True)
class PartsView:
    """All of the page. `held` is None while it is worked out for the first time.

    `lifted`: what was held once and is no longer."""

    held: tuple[HeldCard, ...] | None
    lifted: tuple[Lifted, ...]
    baths: tuple[BathView, ...]
    places: tuple[PlaceView, ...]
    recent: tuple[Recent, ...]

    @property
    def digest(self) -> str:
        """A digest of all of it: a browser that shows it needs nothing sent."""
        return hashlib.blake2b(repr(self).encode(), digest_size=12).hexdigest()


class PartsReader:
    """Reads the view of one configuration, anew when something was entered, logged or judged, or a minute has gone."""

    def __init__(self, source: Source, held: HeldReader | None = None) -> None:
        self._source = source
        self._held = HeldReader(source) if held is None else held
        self._kept: tuple[Hashable, PartsView] | None = None
        self._entered = 0

    def entered(self) -> None:
        """Say that an entry was made here: the next view shows it."""
        self._entered += 1
        self._held.entered()

    def view(self) -> PartsView:
        """Return what there is to show.

        Raises
        ------
        StoreError
            The log cannot be read.
        """
        log = self._source.reading()
        minute = self._source.clock.now().replace(second=0, microsecond=0)
        against = self._held.doubts()
        mark = (state.change_mark(log), self._entered, minute, id(against))
        if self._kept is None or self._kept[0] != mark:
            presses = log.presses()
            decided = {press: dispositions.decisions(log, press) for press in presses}
            held = None
            if against is not None:
                held = tuple(run for one in against for run in held_cards(one, decided.get(one.press, [])))
            where = WhereIs(placing.places(log), soaks.soaks(log))
            view = PartsView(
                held,
                tuple(lifted for one in against or () for lifted in reversed(one.lifted)),
                _baths(baths.baths(log), where.soaking),
                placed_in(where),
                _recent(log, presses, [one for said in decided.values() for one in said], where),
            )
            self._kept = (mark, view)
        return self._kept[1]


def _baths(found: list[Bath], soaked: Sequence[Soak]) -> tuple[BathView, ...]:
    """Return the fillings in use, and older ones that still hold parts."""
    inside: dict[int, list[Soak]] = {}
    for soak in soaked:
        inside.setdefault(soak.bath_id, []).append(soak)
    shown = [bath for bath in found if not bath.old or bath.bath_id in inside]
    return tuple(BathView(bath, _together(inside.get(bath.bath_id, []))) for bath in shown)


def _together(inside: list[Soak]) -> tuple[Soaking, ...]:
    """Join the parts that went in together and follow each other."""
    runs: list[list[Soak]] = []
    for soak in sorted(inside, key=lambda one: (one.due, one.went_in, one.part)):
        before = runs[-1][-1] if runs else None
        alike = before is not None and (
            (before.part.press, before.went_in, before.due) == (soak.part.press, soak.went_in, soak.due)
            and soak.part.shot - before.part.shot <= 1
        )
        runs[-1].append(soak) if alike else runs.append([soak])
    return tuple(
        Soaking(run[0].part.press, run[0].part.shot, run[-1].part.shot, len(run), run[0].went_in, run[0].due)
        for run in runs
    )


def _recent(log: Log, presses: list[str], decided: list[Decision], where: WhereIs) -> tuple[Recent, ...]:
    made = [
        _joined(
            "dispositions", one, [f"{said.press} {_shots(said)}: {said.decision} {said.reason}".strip() for said in one]
        )
        for one in _at_once(decided)
    ]
    made += [
        _joined("soaks", one, [f"{run.press} {run.named} into {bath_named(one[0].bath)}" for run in _together(one)])
        for one in _at_once(list(where.soaking))
    ]
    made += [
        _joined("places", one, [f"{said.press} {_shots(said)} in {said.place}" for said in one])
        for one in _at_once(list(where.places))
    ]
    for press in presses:
        newest = log.last_shot(press)
        first = 0 if newest is None else max(0, newest[0] - _LOOKED_BACK)
        made += [
            Recent(f"inspections:{one.entry_id}", one.entered, f"{one.part}: {result_text(one)}")
            for one in inspections.inspections(log, press, first)
        ]
    for bath in baths.baths(log):
        made += [
            Recent(f"bath_checks:{one.entry_id}", one.checked, f"{bath_named(bath.name)} checked")
            for one in bath.checks
        ]
    with log.reading() as connection:
        order = log.order(connection)

    def place(one: Recent) -> int:
        table, _, numbers = one.entry.partition(":")
        return max(order.place(table, int(number)) for number in numbers.split(","))

    shown = sorted(made, key=place, reverse=True)[:_RECENT]
    who = makers(log, [_first(one) for one in shown])
    return tuple(replace(one, who=who.get(_first(one))) for one in shown)


def _first(one: Recent) -> tuple[str, int]:
    table, _, numbers = one.entry.partition(":")
    return table, int(numbers.partition(",")[0])


def _at_once(entries: list[T]) -> list[list[T]]:
    """Return the newest entries, those entered at one time together."""
    groups: dict[datetime, list[T]] = {}
    for one in entries:
        groups.setdefault(_time(one), []).append(one)
    return sorted(groups.values(), key=lambda group: max(one.entry_id for one in group))[-_RECENT:]


def _time(one: Decision | Soak | Place) -> datetime:
    if isinstance(one, Place):
        return one.entered
    return one.went_in if isinstance(one, Soak) else one.time


def _joined(table: str, entries: Sequence[Decision | Soak | Place], told: list[str]) -> Recent:
    numbers = ",".join(str(one.entry_id) for one in entries)
    more = f" and {len(told) - 1} more" if len(told) > 1 else ""
    return Recent(f"{table}:{numbers}", _time(entries[0]), told[0] + more)


def _shots(one: Decision | Place) -> str:
    named = shots_named(one.first, one.last)
    return named if one.cavity in (None, 1) else f"{named}, cavity {one.cavity}"
