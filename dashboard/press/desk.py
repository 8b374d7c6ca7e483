"""Entries made at the screen: put into the log, and told in the words of what was stored."""

import re
import threading
from collections.abc import Sequence
from math import inf

from dashboard.shared.person import act_of
from dashboard.shared.source import Source
from dashboard.shared.stored import Stored
from shotlog.entries import KINDS
from shotlog.errors import UsageError
from shotlog.records import Event, MadeEntry, Mounting, Removal
from shotlog.store.asked.entries_made import made_entry
from shotlog.store.asked.told import acknowledge, spells_now
from shotlog.store.inserts import entries
from shotlog.store.inserts import queue as queues
from shotlog.store.inserts.series import is_doubtful, next_pieces
from shotlog.store.log.log import Log
from shotlog.store.log.numbering import shot_typed
from shotlog.store.log.timeline import piece
from shotlog.store.parts.checked import checked_parts
from shotlog.store.undo import UNDO, enter_again, take_back
from shotlog.wording.entries import (
    at_the_shot,
    checked_said,
    display_said,
    entry_text,
    half_named,
    made_said,
    series_asked,
    series_said,
    since_shot,
)
from shotlog.wording.messages import short_of
from shotlog.wording.numbers import some
from shotlog.wording.verdicts import understood

__all__ = ["AsksFirst", "Desk", "next_serial"]

_SAME_TOUCH_S = 2.0
"""A second touch of a gloved finger on the same button within this time is the same entry. It is told by the clock that
nobody sets: set back, the other would take all that is seen again for the same touch.
"""


class AsksFirst(UsageError):
    """An entry that is made once somebody has said yes to what it does; `yes` is what that button says."""

    def __init__(self, asked: str, yes: str) -> None:
        self.yes = yes
        super().__init__(asked)


def next_serial(serial: str) -> str:
    """Return the serial that follows in a series, or nothing where it ends in no number.

    Examples
    --------
    >>> next_serial("B-11"), next_serial("left")
    ('B-12', '')
    """
    return piece(serial, 1) if serial[-1:].isdigit() else ""


class Desk:
    """Takes the entries of one screen. Every call opens the log, enters one thing and closes it.

    `at_shot` is as it was typed, empty for the next shot, or for the last where something was seen. All raise
    `UsageError` for an entry that cannot be made, `AsksFirst` for one that asks first and was not said yes to (`sure`),
    and `StoreError` where the log cannot be written.
    """

    def __init__(self, source: Source) -> None:
        self._source = source
        self._touching = threading.Lock()
        self._touched: tuple[tuple[str, ...], float, Stored | None] = ((), -inf, None)

    def swap(
        self,
        press: str,
        serial: str,
        half: str,
        *,
        design: str = "",
        single_use: bool = False,
        at_shot: str = "",
        reason: str = "",
        initials: str = "",
        sure: bool = False,
    ) -> Stored:
        """Enter that an insert was put in; with `reason`, why the one that it replaces came out."""
        serial = serial.strip()
        if single_use and not sure and is_doubtful(serial):
            raise AsksFirst(_sentence(series_asked(next_pieces(serial))), "Yes, single pieces")
        with self._source.entering("enter", initials) as (log, who):
            shot, heard = _shot(log, press, at_shot)
            made = entries.mount(
                log,
                press,
                serial,
                self._source.clock.now(),
                half=half or _half_of(log, press, serial),
                at_shot=shot,
                design="" if _on_record(log, serial) else design,
                single_use=single_use,
                reason=reason,
                initials=who,
            )
        once = f", {series_said(next_pieces(serial)).rstrip(',')}" if made.record.single_use else ""
        more = understood(reason) if reason else ""
        return Stored(f"{heard}{_told(made.record)}{once}", f"mountings:{made.entry_id}", more=more)

    def remove(self, press: str, half: str, reason: str, at_shot: str = "", initials: str = "") -> Stored:
        """Enter that the insert in a half came out, and why."""
        with self._source.entering("enter", initials) as (log, who):
            shot, heard = _shot(log, press, at_shot)
            last = log.last_shot(press)
            upcoming = 1 if last is None else last[0] + 1
            held = log.timeline(press).stays_at(upcoming if shot is None else max(shot - 1, 0)).get(half)
            if held is None:
                which = f"nothing is in the {half_named(half)} there" if half else "say which insert came out"
                raise UsageError(f"{which}, allowed: one that is mounted")
            serial = held.mounting.insert.serial
            now = self._source.clock.now()
            made = entries.remove(log, press, serial, now, reason=reason, at_shot=shot, initials=who)
        return Stored(f"{heard}{_told(made.record)}", f"removals:{made.entry_id}", more=understood(reason))

    def note(
        self,
        press: str,
        kind: str,
        text: str,
        at_shot: str = "",
        *,
        half: str = "",
        initials: str = "",
        sure: bool = False,
    ) -> Stored:
        """Enter an event, about one `half` where that was said."""
        with self._touching, self._source.entering("enter", initials) as (log, who):
            touch, at = (press, kind, text.strip(), half, who), self._source.clock.monotonic()
            before, when, stored = self._touched
            again = before == touch and at - when < _SAME_TOUCH_S
            if stored is not None and again and (log.edge or _stands(log, stored)):
                return stored
            now = self._source.clock.now()
            shot, heard = _shot(log, press, at_shot)
            n = 0 if sure else checked_parts(log, press, kind, text, shot)
            if n:
                word = KINDS[kind].word
                yes = f"Yes, change the {word} of {some(n, 'checked part')}"
                raise AsksFirst(_sentence(f"{checked_said(word, n)}."), yes)
            made = entries.note(log, press, kind, text, now, at_shot=shot, half=half, initials=who)
            finding = made.entry_id if KINDS[kind].effect.found else None
            stored = Stored(f"{heard}{_told(made.record)}", f"events:{made.entry_id}", finding=finding)
            stored = stored.waiting(log.edge)
            self._touched = touch, at, stored
        return stored

    def add_pieces(self, press: str, half: str, serials: str, print_batch: str, initials: str = "") -> Stored:
        """Queue single-use pieces, behind those that wait in the half."""
        named = queues.serials_named(serials.replace(",", " ").split())
        said: dict[str, str | float] = {"print_batch": print_batch} if print_batch.strip() else {}
        with self._source.entering("enter", initials) as (log, who):
            now = self._source.clock.now()
            queues.enqueue(log, press, named, now, half=half, said=said, initials=who)
        return Stored(f"{some(len(named), 'piece')} added in {half}: {_span(named)}")

    def drop_piece(self, press: str, serial: str, reason: str, initials: str = "") -> Stored:
        """Enter that a single-use piece is not used: the shots from its own on move up."""
        with self._source.entering("enter", initials) as (log, who):
            queues.drop(log, press, serial, self._source.clock.now(), reason, who)
        return Stored(f"{serial} dropped: {reason}")

    def seen(self, press: str, upto: str, initials: str = "") -> Stored:
        """Enter that somebody has seen what people are told of this press, and of the logger and the shop.

        `upto`: number of the newest state that was shown: what began since has not been seen.
        """
        messages = self._source.settings.messages
        if messages is None or not re.fullmatch("[0-9]{1,18}", upto):
            raise UsageError(f"seen: given {upto!r}, allowed: what is shown at the press; load the page anew")
        with self._source.entering("enter", initials) as (log, who):
            shown = [one for one in spells_now(log, [press], messages.site) if one.number <= int(upto)]
            new = [one for one in shown if one.seen is None]
            if not new:
                return Stored("Seen before: no more messages of it")
            numbers = acknowledge(log, new, self._source.clock.now(), who)
        if len(numbers) > 1:
            return Stored(f"Seen: no more messages of these {len(numbers)}")
        return Stored(f"Seen, no more messages: {short_of(new[0].said)}", f"acknowledgements:{numbers[0]}")

    def asked_of(self, entry: str) -> str:
        """Return what would be taken back, in words."""
        kind, number = _named(entry)
        log = self._source.reading()
        found = _found(log, kind, number)
        self._source.need_to_take_back(UNDO[kind].name, [number])
        told = made_said(found)
        if kind != "mounting":
            return told
        with log.reading() as connection:
            gone = [one for one, _ in entries.entered_with(connection, number)]
        return "; and with it: ".join([told, *(made_said(_found(log, "removal", one)) for one in gone)])

    def undo(self, entry: str, initials: str = "") -> Stored:
        """Take back an event, a mounting or a removal (``events:17``): it stays on record and is out of force."""
        table, number = entry.partition(":")[0], _named(entry)[1]
        self._source.need_to_take_back(table, [number])
        with self._source.entering("enter", initials) as (log, who):
            now = self._source.clock.now()
            record = take_back(log, table, number, now, "taken back at the screen", who)
            edge = log.edge
        return Stored(f"Taken back: {'' if record is None else _told(record)}", entry, taken_back=True).waiting(edge)

    def again(self, entry: str, initials: str = "") -> Stored:
        """Enter once more what was taken back, as an entry of its own."""
        table, number = entry.partition(":")[0], _named(entry)[1]
        with self._source.entering(act_of(table), initials) as (log, who):
            made, record = enter_again(log, table, number, self._source.clock.now(), who)
            edge = log.edge
        return Stored(f"Entered again: {'' if record is None else _told(record)}", f"{table}:{made}").waiting(edge)


def _named(entry: str) -> tuple[str, int]:
    """Return kind and number of an entry that is named by its table."""
    table, _, number = entry.partition(":")
    kinds = [kind for kind, one in UNDO.items() if one.name == table]
    if not kinds or not re.fullmatch("[0-9]{1,18}", number):
        raise UsageError(f"entry: given {entry!r}, allowed: one that is shown with a button to take it back")
    return kinds[0], int(number)


def _found(log: Log, kind: str, number: int) -> MadeEntry:
    found = made_entry(log, kind, number)
    if found is None:
        raise UsageError(f"{kind} {number}: there is none")
    return found


def _stands(log: Log, stored: Stored) -> bool:
    return _found(log, *_named(stored.entry)).taken_back is None


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:]}"


def _span(serials: Sequence[str]) -> str:
    return serials[0] if len(serials) == 1 else f"{serials[0]} to {serials[-1]}"


def _shot(log: Log, press: str, typed: str) -> tuple[int | None, str]:
    """Return the shot that was typed, None where nothing was, and words where the press's display was meant."""
    if not typed.strip():
        return None, ""
    with log.reading() as connection:
        found = shot_typed(connection, press, typed, what="shot")
    return found.shot, "" if found.display is None else f"{display_said(found.display, found.shot)}; "


def _half_of(log: Log, press: str, serial: str) -> str:
    """Return the half that a serial belongs to where nobody said: where it was, or where its sisters by name are.

    Raises
    ------
    UsageError
        Neither is known.
    """
    stem = serial.rstrip("0123456789")
    known = [(stay.mounting.insert.serial, stay.mounting.half) for stay in log.timeline(press).stays]
    was_in = {half for one, half in known if one == serial}
    alike = {half for one, half in known if one.rstrip("0123456789") == stem}
    for halves in (was_in, alike):
        if len(halves) == 1:
            return halves.pop()
    raise UsageError(f"half of {serial or 'the insert'}: given nothing, allowed: one of the buttons under Half")


def _on_record(log: Log, serial: str) -> bool:
    return any(stay.mounting.insert.serial == serial for press in log.presses() for stay in log.timeline(press).stays)


def _told(record: Event | Mounting | Removal) -> str:
    match record:
        case Event():
            half = f", {half_named(record.half)}" if record.half else ""
            return f"{entry_text(record.kind, record.text)}{half}, {at_the_shot(record.at_shot)}"
        case Removal():
            return f"{record.serial} out {since_shot(record.at_shot)}: {record.reason}"
        case Mounting():
            return f"{record.insert.serial} in {record.half} {since_shot(record.at_shot)}"
