"""What is wrong with the backups that are made as a routine, for every page that has to say it."""

from datetime import datetime

from dashboard.shared.source import Source
from shotlog.store.asked.backed_up import backed_up
from shotlog.wording.backups import backup_in_short, backup_trouble
from shotlog.wording.times import at_time

__all__ = ["backup_notices"]


def backup_notices(source: Source, now: datetime, in_short: bool = False) -> list[str]:
    """Return a sentence where a backup failed or is long due; `in_short`: for who stands at a press.

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
    if in_short:
        said = backup_in_short("" if state.failed is None else at_time(state.failed, now), due)
    else:
        said = backup_trouble(state.done, state.file, state.failed, state.why, due, wanted.every_h)
    return [said] if said else []
