"""Reaching the log at a start: at once where that can be done, else later, with shots waiting in the journal meanwhile.

After a power failure the server of the log may come back long after the press. Whoever logged into a log before goes on
without it. What never was reached is more likely written wrongly in the configuration, and is said at once. A log that
has to be put right is left to whoever delivers to it: the presses do not wait for that.
"""

from shotlog.errors import StoreError, StoreHeld, StoreUnreachable
from shotlog.recorder.put_right import say_put_right
from shotlog.settings import Settings
from shotlog.store.log.held_log import HeldLog
from shotlog.store.log.journal_note import Note, read_note
from shotlog.store.log.journal_place import journal_place

__all__ = ["reach"]


def reach(log: HeldLog, settings: Settings) -> None:
    """Open the log of a configuration; leave it in trouble where it is damaged, or was reached before and is not now.

    Raises
    ------
    StoreUnreachable
        It is out of reach, and this configuration never logged into it; or another process holds it.
    StoreDamaged
        It is no log, or a newer release wrote it.
    """
    note = _note_of(settings)
    if note is not None and note.seen is not None:
        log.expect(note.seen)
    try:
        say_put_right(log.open())
    except StoreHeld:
        raise
    except StoreUnreachable:
        if not _was_reached(settings, log):
            raise


def _was_reached(settings: Settings, log: HeldLog) -> bool:
    """Say whether the log was there before: it can still be read, or the journal tells of it."""
    if _note_of(settings) is not None:
        return True
    try:
        log.presses()
    except StoreError:
        return False
    return True


def _note_of(settings: Settings) -> Note | None:
    """Return what was noted of the log that is configured now; of another one it says nothing."""
    note = read_note(journal_place(settings))
    return None if note is None or note.store != settings.store_shown else note
