"""Entries made at the screen: put into the log, read back, and told in the words of what was stored."""

from dataclasses import dataclass
from datetime import timedelta

from dashboard.shared.source import Source
from shotlog.entries import told
from shotlog.records import Event
from shotlog.store.asked import state
from shotlog.store.inserts import entries
from shotlog.store.log.log import Log
from shotlog.store.log.timeline import piece

__all__ = ["Desk", "Stored", "next_serial"]

_SAME_TOUCH = timedelta(seconds=2)
"""A second touch of a gloved finger on the same button within this time is the same entry."""


@dataclass(frozen=True, slots=True)
class Stored:
    """What an entry became: the words to confirm it with, and its table and number where it can be taken back."""

    words: str
    entry: str = ""


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
        at_shot: int | None = None,
    ) -> Stored:
        """Enter that an insert was put in, from `at_shot` on (default: the next shot)."""
        serial = serial.strip()
        with self._source.writing() as log:
            made = entries.mount(
                log,
                press,
                serial,
                self._source.clock.now(),
                half=half,
                at_shot=at_shot,
                design="" if _on_record(log, serial) else design,
                single_use=single_use,
            )
            entry_id = max(
                row.entry_id
                for row in state.mountings(log, press)
                if (row.half, row.at_shot) == (made.half, made.at_shot) and not row.taken_back
            )
        return _mounted(made.insert.serial, made.half, made.at_shot, made.single_use, entry_id)

    def note(self, press: str, kind: str, text: str, at_shot: int | None = None) -> Stored:
        """Enter an event; a finding or note belongs to the last shot unless `at_shot` says otherwise."""
        now = self._source.clock.now()
        with self._source.writing() as log:
            for row in state.entries(log, press):
                before = row.event
                same = (before.kind, before.text) == (kind, text.strip()) and not row.taken_back
                if same and now - before.time < _SAME_TOUCH:
                    return _told(row.event, row.entry_id)
            event = entries.note(log, press, kind, text, now, at_shot=at_shot)
            stored = [row.entry_id for row in state.entries(log, press, event.at_shot, event.at_shot)]
        return _told(event, max(stored))

    def undo(self, press: str, entry: str) -> Stored:
        """Take back an event or a mounting (``events:17``): it stays on record and is no longer in force."""
        table, _, number = entry.partition(":")
        entry_id = int(number)
        with self._source.writing() as log:
            entries.take_back(log, table, entry_id, self._source.clock.now(), "taken back at the screen")
            told = [_told(row.event, 0) for row in state.entries(log, press) if row.entry_id == entry_id]
            if table == "mountings":
                rows = [row for row in state.mountings(log, press) if row.entry_id == entry_id]
                told = [_mounted(row.serial, row.half, row.at_shot, False, 0) for row in rows]
        return Stored(f"Taken back: {', '.join(stored.words for stored in told)}")


def _on_record(log: Log, serial: str) -> bool:
    return any(stay.mounting.insert.serial == serial for press in log.presses() for stay in log.timeline(press).stays)


def _told(event: Event, entry_id: int) -> Stored:
    return Stored(f"{told(event.kind, event.text)}, at shot {event.at_shot}", f"events:{entry_id}")


def _mounted(serial: str, half: str, at_shot: int, single_use: bool, entry_id: int) -> Stored:
    once = ", a new piece every shot" if single_use else ""
    return Stored(f"{serial} in {half} from shot {at_shot}{once}", f"mountings:{entry_id}")
