"""What waits in the journal and how full the disks are, as screens say it; read anew only when the journal changed."""

import threading
from pathlib import Path

from shotlog.clock import Clock
from shotlog.settings import Settings
from shotlog.store.asked.kept import KeptNow, kept_now
from shotlog.store.log.journal_place import journal_place, spare_note
from shotlog.wording.kept import set_aside_said, space_said

__all__ = ["KeptReader", "low_disks"]

_ALIVE_S = 5.0


class KeptReader:
    """Reads what waits for the log of a configuration."""

    def __init__(self, settings: Settings, clock: Clock) -> None:
        self._settings, self._clock = settings, clock
        self._reading = threading.Lock()
        self._found: tuple[tuple[int, ...], KeptNow] | None = None
        self._read = 0.0

    def now(self) -> KeptNow:
        """Return what waits now."""
        place = journal_place(self._settings)
        mark = (*_mark(place), *_mark(spare_note(self._settings)))
        if not any(mark):
            return KeptNow(place)
        with self._reading:
            # a logger that is killed writes no more: that it was at work is true for some seconds only
            old = self._clock.monotonic() - self._read > _ALIVE_S
            if self._found is None or self._found[0] != mark or (old and self._found[1].alive):
                self._found = (mark, kept_now(self._settings, self._clock.now()))
                self._read = self._clock.monotonic()
            return self._found[1]


def _mark(file: Path) -> tuple[int, int]:
    """Return what changes when a file is written, zeros where there is none."""
    try:
        there = file.stat()
    except OSError:
        return 0, 0
    return there.st_mtime_ns, there.st_size


def low_disks(kept: KeptNow) -> list[str]:
    """Return a sentence for each disk that is low, and for what of the journal did not read."""
    said = [
        space_said(disk.what, disk.folder, disk.free_bytes, disk.shots, disk.hours, disk.low, disk.reserve)
        for disk in kept.disks
        if disk.low
    ]
    return said if kept.set_aside is None else [*said, set_aside_said(kept.set_aside)]
