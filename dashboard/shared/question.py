"""The one question the verdict may ask: was an insert changed, and nobody entered it? Pure."""

import re
from collections.abc import Iterable

from dashboard.shared.views import Mounted
from shotlog.records import Verdict
from shotlog.store.asked.state import EntryRow

__all__ = ["answered_no", "asked", "open_question"]

_ASKED = re.compile(r"was an insert changed before shot (\d+)\?")
"""The words of `shotlog.wear.monitor`; a test asks the monitor itself."""


def asked(sentence: str) -> int | None:
    """Return the shot that a verdict's sentence asks about, or None.

    Examples
    --------
    >>> asked("no change seen in these values since shot 30; was an insert changed before shot 52?")
    52
    """
    found = _ASKED.search(sentence)
    return int(found.group(1)) if found else None


def answered_no(shot: int) -> str:
    """Return the note that answers no, so that it is not asked again."""
    return f"no insert was changed before shot {shot}"


def open_question(verdict: Verdict | None, judged: Mounted | None, entries: Iterable[EntryRow]) -> int | None:
    """Return the shot still asked about: the verdict is on the insert mounted now, and no note in force says no."""
    shot = asked(verdict.sentence) if verdict is not None else None
    if shot is None or verdict is None or judged is None or verdict.insert != judged.serial:
        return None
    no = any(row.event.text == answered_no(shot) and not row.taken_back for row in entries)
    return None if no else shot
