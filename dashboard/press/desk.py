"""Entries made at the screen: put into the log, and told in the words of what was stored."""

from datetime import timedelta

from dashboard.shared.source import Source
from dashboard.shared.stored import Stored
from shotlog.records import Event, Mounting
from shotlog.store.asked import state
from shotlog.store.inserts import entries
from shotlog.store.log.log import Log
from shotlog.store.log.numbering import shot_typed
from shotlog.store.log.timeline import piece
from shotlog.store.undo import take_back
from shotlog.wording.entries import at_the_shot, display_said, entry_text, since_shot

__all__ = ["Desk", "next_serial"]

_SAME_TOUCH = timedelta(seconds=2)
"""A second touch of a gloved finger on the same button within this time is the same entry."""


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

    All raise `UsageError` for an entry that cannot be made and `StoreError` where the log cannot be written.
    """

    def __init__(self, source: Source) -> None:
        self._source = source

    def swap(
        self,
        press: str,
        serial: str,
        half: str,
        *,
        design: str = "",
        single_use: bool = False,
        at_shot: str = "",
    ) -> Stored:
        """Enter that an insert was put in, from `at_shot` on as it was typed (empty: the next shot)."""
        serial = serial.strip()
        with self._source.writing() as log:
            shot, heard = _shot(log, press, at_shot)
            made = entries.mount(
                log,
                press,
                serial,
                self._source.clock.now(),
                half=half,
                at_shot=shot,
                design="" if _on_record(log, serial) else design,
                single_use=single_use,
            )
        once = ", a new piece every shot" if made.record.single_use else ""
        return Stored(f"{heard}{_told(made.record)}{once}", f"mountings:{made.entry_id}")

    def note(self, press: str, kind: str, text: str, at_shot: str = "") -> Stored:
        """Enter an event; what was seen belongs to the last shot unless `at_shot`, as typed, says otherwise."""
        now = self._source.clock.now()
        with self._source.writing() as log:
            for row in state.entries(log, press):
                before = row.event
                same = (before.kind, before.text) == (kind, text.strip()) and not row.taken_back
                if same and now - before.time < _SAME_TOUCH:
                    return Stored(_told(before), f"events:{row.entry_id}")
            shot, heard = _shot(log, press, at_shot)
            made = entries.note(log, press, kind, text, now, at_shot=shot)
        return Stored(f"{heard}{_told(made.record)}", f"events:{made.entry_id}")

    def undo(self, entry: str) -> Stored:
        """Take back an event or a mounting (``events:17``): it stays on record and is no longer in force."""
        table, _, number = entry.partition(":")
        with self._source.writing() as log:
            record = take_back(log, table, int(number), self._source.clock.now(), "taken back at the screen")
        return Stored(f"Taken back: {_told(record)}" if isinstance(record, Event | Mounting) else "Taken back")


def _shot(log: Log, press: str, typed: str) -> tuple[int | None, str]:
    """Return the shot that was typed, None where nothing was, and words where the press's display was meant."""
    if not typed.strip():
        return None, ""
    with log.reading() as connection:
        found = shot_typed(connection, press, typed, what="shot")
    return found.shot, "" if found.display is None else f"{display_said(found.display, found.shot)}; "


def _on_record(log: Log, serial: str) -> bool:
    return any(stay.mounting.insert.serial == serial for press in log.presses() for stay in log.timeline(press).stays)


def _told(record: Event | Mounting) -> str:
    if isinstance(record, Event):
        return f"{entry_text(record.kind, record.text)}, {at_the_shot(record.at_shot)}"
    return f"{record.insert.serial} in {record.half} {since_shot(record.at_shot)}"
