"""The one question the verdict may ask: was an insert changed, and nobody entered it? Pure."""

from collections.abc import Iterable

from dashboard.shared.views import Mounted
from shotlog.entries import UNCHANGED
from shotlog.records import Verdict
from shotlog.store.asked.state import EntryRow

__all__ = ["open_question"]


def open_question(verdict: Verdict | None, judged: Mounted | None, entries: Iterable[EntryRow]) -> int | None:
    """Return the shot still asked about: the verdict is on the insert mounted now, and no entry in force says no."""
    shot = verdict.facts.asked_shot if verdict is not None and verdict.facts is not None else None
    if shot is None or verdict is None or judged is None or verdict.insert != judged.serial:
        return None
    no = any((row.event.kind, row.event.at_shot) == (UNCHANGED, shot) and not row.taken_back for row in entries)
    return None if no else shot
