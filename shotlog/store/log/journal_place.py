"""Where the journal of a configuration lies now, and where it may have lain before."""

from pathlib import Path

from shotlog.settings import Settings
from shotlog.store.log.journal import journal_path, spool_path
from shotlog.store.log.journal_note import Note, read_note

__all__ = ["earlier_places", "journal_place", "noted", "spare_note"]


def journal_place(settings: Settings) -> Path:
    """Return the path of the journal: in the folder that is configured where it is there, else beside the log."""
    folder = settings.journal
    return journal_path(settings.store, settings.file, folder if folder is not None and folder.is_dir() else None)


def earlier_places(settings: Settings) -> tuple[Path, ...]:
    """Return where shots may wait besides: from an earlier release, or from while the folder was not there."""
    now, folder = journal_place(settings), settings.journal
    places = [spool_path(settings.store, settings.file), journal_path(settings.store, settings.file)]
    if folder is not None:
        places.append(journal_path(settings.store, settings.file, folder))
    return tuple(place for place in places if place != now)


def spare_note(settings: Settings) -> Path:
    """Return where the logger notes how things stand while its journal cannot be written, as on a disk that is full."""
    return settings.text_log.with_suffix(".note")


def noted(settings: Settings) -> Note | None:
    """Return what the logger of a configuration noted last, None where it noted nothing that reads."""
    found = [read_note(place) for place in (journal_place(settings), spare_note(settings))]
    return max((note for note in found if note is not None), key=lambda note: note.time, default=None)
