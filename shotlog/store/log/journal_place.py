"""Where the journal of a configuration lies now, and where it may have lain before."""

from pathlib import Path

from shotlog.settings import Settings
from shotlog.store.log.journal import journal_path, spool_path

__all__ = ["earlier_places", "journal_place"]


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
