"""How it stands with the backups of a log: the last good one, and what kept the newest from being made."""

import json
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from sqlalchemy import select

from shotlog.clock import iso_utc, parse_utc
from shotlog.settings import BackupSettings
from shotlog.store.asked.presence import touch
from shotlog.store.log import schema
from shotlog.store.log.log import Log

__all__ = ["BackedUp", "backed_up", "note_backup", "note_failure"]

_ROLE = "backup"


@dataclass(frozen=True, slots=True)
class BackedUp:
    """The last good backup, `file` at `done`, and since when none could be made, and why; None or empty where never."""

    done: datetime | None = None
    file: str = ""
    failed: datetime | None = None
    why: str = ""

    def is_due(self, wanted: BackupSettings, now: datetime) -> bool:
        """Say whether one should long have been made: there is none, or it is half as old again as is wanted."""
        return self.done is None or now - self.done > timedelta(hours=1.5 * wanted.every_h)


def backed_up(log: Log) -> BackedUp:
    """Return how it stands."""
    table = schema.presence
    with log.reading() as connection:
        found = connection.execute(select(table.c.detail).where(table.c.role == _ROLE)).scalar()
    try:
        plain = json.loads(found or "{}")
        done, failed = (parse_utc(plain[name]) if plain.get(name) else None for name in ("done", "failed"))
        return BackedUp(done, str(plain.get("file", "")), failed, str(plain.get("why", "")))
    except (ValueError, TypeError, AttributeError):  # of another release
        return BackedUp()


def note_backup(log: Log, file: str, now: datetime) -> None:
    """Note that a backup was made, read back and verified."""
    _note(log, BackedUp(now, file), now)


def note_failure(log: Log, why: str, now: datetime) -> None:
    """Note that none could be made; since when stays that of the first after a good one."""
    before = backed_up(log)
    _note(log, replace(before, failed=before.failed or now, why=why), now)


def _note(log: Log, state: BackedUp, now: datetime) -> None:
    times = {name: iso_utc(at) for name, at in (("done", state.done), ("failed", state.failed)) if at is not None}
    touch(log, _ROLE, json.dumps({**times, "file": state.file, "why": state.why}), now)
