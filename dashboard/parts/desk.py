"""Entries about parts, baths and inspections made at the screen: stored as the commands store them, and taken back.

Every call opens the log, enters one thing and closes it. All raise `UsageError` for an entry that cannot be made and
`StoreError` where the log cannot be written.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from math import inf, isfinite

from dashboard.shared.bath_check import checked_words
from dashboard.shared.part_path import named_in
from dashboard.shared.person import act_of
from dashboard.shared.source import Source
from dashboard.shared.stored import Stored
from shotlog.errors import UsageError
from shotlog.parts.part import MadePart, Part
from shotlog.parts.standing import PartStanding
from shotlog.recording import NUMBER
from shotlog.records import Stay
from shotlog.settings import Bound, DesignSettings
from shotlog.store.log.log import Log
from shotlog.store.log.numbering import shot_typed
from shotlog.store.log.timeline import Timeline, piece
from shotlog.store.parts import baths, dispositions, inspections, places, soaks
from shotlog.store.parts.dispositions import part_standings
from shotlog.store.parts.inspections import WEIGHT
from shotlog.store.parts.parts import parts_meant
from shotlog.store.undo import take_back
from shotlog.wording.numbers import some
from shotlog.wording.parts import result_text
from shotlog.wording.where import bath_named

__all__ = ["NamedPart", "PartsDesk", "ToMeasure", "number", "piece_taken", "range_of"]

_NAMED = re.compile(r"(?P<shot>[0-9]{1,18})(?:/(?P<cavity>[0-9]{1,3}))?")


@dataclass(frozen=True, slots=True)
class ToMeasure:
    """A quantity to measure on a part: its unit, and its tolerance in that unit."""

    quantity: str
    unit: str
    tolerance: Bound


@dataclass(frozen=True, slots=True)
class NamedPart:
    """A part that was named or scanned: how it stands, where it is, what there is to measure on it."""

    standing: PartStanding
    bath: str
    place: str
    asked: tuple[ToMeasure, ...]

    @property
    def made(self) -> MadePart:
        """The part with what made it."""
        return self.standing.made

    @property
    def part(self) -> Part:
        """The part."""
        return self.made.part


def number(text: str, what: str) -> float | None:
    """Return a typed number, with a point or a comma; None where nothing was typed.

    Examples
    --------
    >>> number("10,25", "wall"), number(" ", "wall")
    (10.25, None)
    """
    plain = (text or "").strip().replace(",", ".")
    if not plain:
        return None
    found = float(plain) if NUMBER.fullmatch(plain) else inf
    if not isfinite(found):
        raise UsageError(f"{what}: given {text.strip()!r}, allowed: a number, or nothing")
    return found


def range_of(low: str, high: str, what: str) -> Bound:
    """Return a range of which either end may be left out."""
    return Bound(number(low, f"{what}, lowest"), number(high, f"{what}, highest"))


def piece_taken(timeline: Timeline, serial: str) -> tuple[int, str] | None:
    """Return the shot that took a single-use piece, and its half; None where no series on record holds it."""
    for stay in reversed(timeline.stays):
        n = _place(timeline, stay, serial) if stay.mounting.single_use else None
        if n is None:
            continue
        shot = stay.first + n
        while timeline.n_taken(stay, shot) < n or shot in timeline.dry_shots:
            shot += 1
        if shot < stay.end:
            return shot, stay.mounting.half
    return None


def _place(timeline: Timeline, stay: Stay, serial: str) -> int | None:
    """Return how many pieces of a series are taken before the one named."""
    queue, first = timeline.queue(stay), stay.mounting.insert.serial
    if queue is not None:
        return next((n for n, one in enumerate(queue) if one.serial == serial), None)
    stem = first.rstrip("0123456789")
    digits = serial[len(stem) :]
    if not serial.startswith(stem) or not digits.isdecimal() or len(digits) > 18:
        return None
    n = int(digits) - int(first[len(stem) :] or 0)
    return n if n >= 0 and piece(first, n) == serial else None


class PartsDesk:
    """Takes entries about parts and baths."""

    def __init__(self, source: Source) -> None:
        self._source = source

    @property
    def _designs(self) -> Mapping[str, DesignSettings]:
        return self._source.settings.designs

    def find(self, press: str, text: str) -> NamedPart:
        """Return the part that was typed or scanned.

        ``SHOT``, ``SHOT/CAVITY``, ``PRESS/SHOT/CAVITY``, the serial of the single-use piece it was moulded in, or the
        address of the part's page, as a label's code may hold it.
        """
        log = self._source.reading()
        part = self._named(log, press, named_in(text))
        stands = part_standings(log, part.press, self._designs, part.shot, part.shot)
        if not stands:
            raise UsageError(f"part {part}: the press has counted no such shot, or it was noted as dry")
        found = next((one for one in stands if one.part == part), None)
        if found is None:
            raise UsageError(f"part {part}: allowed: cavity 1 to {len(stands)} (design setting cavities)")
        where = places.where_is(log, part.press).of(part)
        bath = where.name if where is not None and where.how == "in bath" else ""
        place = where.name if where is not None and where.how == "placed" else ""
        return NamedPart(found, bath, place, self._to_measure(found.made))

    def _named(self, log: Log, press: str, text: str) -> Part:
        allowed = "a shot number, SHOT/CAVITY, PRESS/SHOT/CAVITY, or the serial of its single-use piece"
        if not text:
            raise UsageError(f"part: given nothing, allowed: {allowed}")
        named = next((name for name in self._source.presses if text.startswith(f"{name}/")), None)
        found = _NAMED.fullmatch(text if named is None else text[len(named) + 1 :])
        if found is not None:
            cavity = int(found["cavity"] or 1)
            if named is not None:  # a label names the log's own number, whatever the press's display shows
                return Part(named, int(found["shot"]), cavity)
            with log.reading() as connection:
                return Part(press, shot_typed(connection, press, found["shot"], what="part", made=True).shot, cavity)
        known = log.presses()
        for name in dict.fromkeys(one for one in (press, *known) if one in known):
            if (taken := piece_taken(log.timeline(name), text)) is not None:
                return Part(name, taken[0], 1)
        raise UsageError(f"part: given {text!r}, allowed: {allowed}")

    def _to_measure(self, made: MadePart) -> tuple[ToMeasure, ...]:
        tolerances: dict[str, Bound] = {}
        for held in made.halves.values():
            if held.design in self._designs:
                tolerances = {**self._designs[held.design].tolerance, **tolerances}
        weight = ToMeasure(WEIGHT, "g", tolerances.pop(WEIGHT, Bound()))
        return (*(ToMeasure(name, "mm", ends) for name, ends in tolerances.items()), weight)

    def inspect(
        self,
        part: Part,
        values: Mapping[str, float],
        tolerances: Mapping[str, Bound],
        *,
        finding: str = "",
        initials: str = "",
    ) -> Stored:
        """Enter what was found on a part: each value, and a finding; without either, that nothing was found."""
        now = self._source.clock.now()
        added = []
        with self._source.entering("enter", initials) as (log, who):
            for quantity, value in values.items():
                ends = tolerances.get(quantity, Bound())
                result = inspections.inspect(
                    log, part, now, quantity=quantity, value=value, tolerance=ends, initials=who
                )
                added.append(result)
            if finding or not values:
                added.append(inspections.inspect(log, part, now, finding=finding, initials=who))
            edge = log.edge
        words = "; ".join(result_text(one).replace(WEIGHT, "weight") for one in added)
        return Stored(f"{part}: {words}", _entry("inspections", [one.entry_id for one in added])).waiting(edge)

    def decide(self, press: str, parts: str, decision: str, reason: str, initials: str = "") -> Stored:
        """Release, scrap or hold parts, with the reason."""
        now = self._source.clock.now()
        with self._source.entering(act_of("dispositions", decision), initials) as (log, who):
            chosen = self._chosen(log, press, parts)
            made = dispositions.enter_decision(log, chosen, decision, now, reason=reason, initials=who)
            edge = log.edge
        named = f"part {chosen[0]}" if len(chosen) == 1 else f"{some(len(chosen), 'part')} of {press}, {parts.strip()}"
        why = f": {made[0].reason}" if made[0].reason else ""
        return Stored(f"{named}: {decision}{why}", _entry("dispositions", [one.entry_id for one in made])).waiting(edge)

    def put_in(self, bath: str, press: str, parts: str, initials: str = "") -> Stored:
        """Enter that parts went into a bath now."""
        now = self._source.clock.now()
        with self._source.entering("enter", initials) as (log, who):
            chosen = self._chosen(log, press, parts)
            put = soaks.put_in(log, bath, chosen, now, self._designs, initials=who)
        last = max(soak.due for soak in put).astimezone()
        words = f"{some(len(put), 'part')} of {press}, {parts.strip()}: in {bath_named(bath)}, due {last:%d %b %H:%M}"
        return Stored(words, _entry("soaks", [soak.entry_id for soak in put]))

    def put_at(self, press: str, parts: str, place: str, due: str, initials: str = "") -> Stored:
        """Enter where parts were put now, and when something is due with them (``24h``, ``14:30``, or nothing)."""
        now = self._source.clock.now()
        with self._source.entering("enter", initials) as (log, who):
            chosen = self._chosen(log, press, parts)
            put = places.put_at(log, chosen, place, now, due=places.due_from(due, now), initials=who)
        until = "" if put[0].due is None else f", due {put[0].due.astimezone():%d %b %H:%M}"
        words = f"{some(len(set(chosen)), 'part')} of {press}, {parts.strip()}: in {put[0].place}{until}"
        return Stored(words, _entry("places", [one.entry_id for one in put]))

    def take_out(
        self, press: str, parts: str, *, cleared: bool, remark: str = "", place: str = "", initials: str = ""
    ) -> Stored:
        """Enter that parts came out of their bath now, and where they were put, where somebody says so.

        `cleared`: nothing of the half is left on them.
        """
        now = self._source.clock.now()
        with self._source.entering("enter", initials) as (log, who):
            chosen = self._chosen(log, press, parts)
            out = soaks.take_out(log, chosen, now, cleared=cleared, remark=remark, initials=who)
            put = places.put_at(log, chosen, place, now, initials=who) if place.strip() else []
        early = sum(soak.came_out is not None and soak.came_out < soak.due for soak in out)
        said = ["nothing of the half left" if cleared else "something of the half is LEFT"]
        said += [f"{early} before due"] if early else []
        said += [f"now in {put[0].place}"] if put else []
        return Stored(
            f"{some(len(out), 'part')} of {press}, {parts.strip()}: out of {bath_named(out[0].bath)}, {', '.join(said)}"
        )

    def check_bath(self, bath: str, concentration: str, temperature: str, initials: str = "") -> Stored:
        """Enter what was measured in a bath."""
        content, warmth = number(concentration, "concentration"), number(temperature, "temperature")
        now = self._source.clock.now()
        with self._source.entering("enter", initials) as (log, who):
            check = baths.check_bath(log, bath, now, concentration=content, temperature=warmth, initials=who)
        return Stored(f"{bath_named(bath)}: {checked_words(check)}", _entry("bath_checks", [check.entry_id]))

    def make_up(self, bath: str, concentration: Bound, temperature: Bound, initials: str = "") -> Stored:
        """Enter that a bath was filled anew; a later filling takes its place, it is not taken back."""
        now = self._source.clock.now()
        with self._source.entering("enter", initials) as (log, who):
            baths.make_up(log, bath, now, concentration=concentration, temperature=temperature, initials=who)
        return Stored(f"{bath_named(bath)}: made up")

    def undo(self, entry: str, initials: str = "") -> Stored:
        """Take back an entry (``dispositions:4,5``): it stays on record and is no longer in force."""
        table, _, numbers = entry.partition(":")
        if not re.fullmatch("[0-9]{1,18}(,[0-9]{1,18})*", numbers):
            raise UsageError(f"entry: given {entry!r}, allowed: one that is shown with a button to take it back")
        named = [int(one) for one in numbers.split(",")]
        self._source.need_to_take_back(table, named)
        with self._source.entering("enter", initials) as (log, who):
            for one in named:
                take_back(log, table, one, self._source.clock.now(), "taken back at the screen", who)
            edge = log.edge
        return Stored("Taken back").waiting(edge)

    def _chosen(self, log: Log, press: str, text: str) -> list[Part]:
        """Return the parts somebody names, every cavity where none is named, single-use pieces by their serial."""
        if not text.strip():
            raise UsageError("parts: given nothing, allowed: SHOT, SHOT-SHOT or SHOT/CAVITY, with commas between")
        found: list[Part] = []
        timeline = log.timeline(press) if press in log.presses() else Timeline()
        for scanned in text.replace(",", " ").split():
            word = named_in(scanned).removeprefix(f"{press}/")
            taken = None if word[0].isdecimal() else piece_taken(timeline, word)
            if taken is not None:
                found.append(Part(press, taken[0], 1))
                continue
            found += parts_meant(log, press, self._designs, word)
        return found


def _entry(table: str, numbers: list[int]) -> str:
    return f"{table}:{','.join(map(str, numbers))}"
