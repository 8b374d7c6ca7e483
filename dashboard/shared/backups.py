"""What is wrong with the backups that are made as a routine, for every page that has to say it."""

from datetime import datetime

from dashboard.shared.source import Source
from shotlog.store.asked.backed_up import backed_up
from shotlog.wording.backups import backup_trouble

__all__ = ["backup_notices"]


def backup_notices(source: Source, now: datetime) -> list[str]:
    """Return a sentence where a backup failed or is long due.

    Raises
    ------
    StoreError
        The log cannot be read.
    """
    wanted = source.settings.backup
    if wanted is None:
        return []
    state = backed_up(source.reading())
    due = state.is_due(wanted, now)
    return [*filter(None, [backup_trouble(state.done, state.file, state.failed, state.why, due, wanted.every_h)])]
