"""What waits in the journal of a configuration, and what the logger noted there of the disks."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from shotlog.settings import Settings
from shotlog.store.log.journal import Journal
from shotlog.store.log.journal_note import Disk
from shotlog.store.log.journal_place import journal_place, noted

__all__ = ["KeptNow", "kept_now"]

_FRESH_S = 15.0
"""The logger notes every 5 s: a newer note is exact enough. Without one the journal itself is read."""


@dataclass(frozen=True, slots=True)
class KeptNow:
    """What waits: `shots` on disk in the journal at `place`, None where that cannot be told, and `unsafe` in memory.

    `since`, `why`: since when the log could not be written, and what was said of it. `disks`: as noted last.
    `set_aside`: where a damaged line of the journal lies, None where there is none. `alive`: the logger noted all this
    a moment ago. `kind`: what keeps the log from being written, see `recorder.outbox.KINDS`. `by_press`: the shots in
    the journal of each press, empty where that is not told.
    """

    place: Path
    shots: int | None = 0
    unsafe: int = 0
    since: datetime | None = None
    why: str = ""
    disks: tuple[Disk, ...] = ()
    set_aside: Path | None = None
    alive: bool = False
    kind: str = ""
    by_press: Mapping[str, int] = field(default_factory=dict)


def kept_now(settings: Settings, now: datetime) -> KeptNow:
    """Return what waits; quick while the logger is at work, however much that is."""
    place = journal_place(settings)
    note = noted(settings)
    damaged = Journal(place).damaged
    aside = damaged if damaged.exists() else None
    fresh = note is not None and abs((now - note.time).total_seconds()) < _FRESH_S
    if note is not None and fresh:
        return KeptNow(
            place, note.waiting, note.unsafe, note.since, note.why, note.disks, aside, True, note.kind, note.by_press
        )
    try:
        waiting = Journal(place).waiting
    except OSError:
        return KeptNow(place, None, set_aside=aside)
    since, why = (waiting.since, "") if note is None or note.since is None else (note.since, note.why)
    disks = () if note is None else note.disks
    since, kind = (since if waiting.shots else None), "" if note is None else note.kind
    return KeptNow(place, waiting.shots, 0, since, why, disks, aside, kind=kind, by_press=dict(waiting.by_press))
