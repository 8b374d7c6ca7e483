"""Backups that are made as a routine, in words."""

from datetime import datetime

from shotlog.wording.times import clock_time

__all__ = ["backup_in_short", "backup_trouble", "last_backup"]

_NOW = "shotlog backup CONFIG makes one now"
_AGAIN = "shotlog backup CONFIG tries again"


def last_backup(done: datetime | None, file: str) -> str:
    """Say which backup is the last good one.

    Examples
    --------
    >>> last_backup(None, "")
    'no backup yet'
    """
    return "no backup yet" if done is None else f"last backup {file}, at {clock_time(done)}, read back and verified"


def backup_trouble(
    done: datetime | None, file: str, failed: datetime | None, why: str, is_due: bool, every_h: float
) -> str:
    """Say what is wrong with the backups and what to do; empty where nothing is.

    Examples
    --------
    >>> print(backup_trouble(None, "", None, "", True, 24.0))
    NO BACKUP yet, and one is wanted every 24 h: shotlog backup CONFIG makes one now; what starts it by itself is told \
by shotlog service CONFIG
    >>> backup_trouble(None, "", None, "", False, 24.0)
    ''
    """
    if failed is not None:
        return f"BACKUP FAILED since {clock_time(failed)}: {why}; {last_backup(done, file)}; {_AGAIN}"
    if not is_due:
        return ""
    since = "yet" if done is None else f"since {clock_time(done)}"
    starts = "what starts it by itself is told by shotlog service CONFIG"
    return f"NO BACKUP {since}, and one is wanted every {every_h:g} h: {_NOW}; {starts}"


def backup_in_short(failed: str, is_due: bool) -> str:
    """Say the same to who stands at a press; `failed`: since when, as it is said there, or empty.

    Examples
    --------
    >>> backup_in_short("19:12", True), backup_in_short("", True), backup_in_short("", False)
    ('Backups fail since 19:12; why is told on Presses', 'No backup is made any more; more on Presses', '')
    """
    if failed:
        return f"Backups fail since {failed}; why is told on Presses"
    return "No backup is made any more; more on Presses" if is_due else ""
