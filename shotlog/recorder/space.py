"""Watching the free space under the log and its journal, beside the logging: a disk that hangs holds up nothing.

How long it is enough is told by the log's own growth in this run, and before there is much of that by what a shot takes
as measured with three channels and their verdicts.
"""

import logging
import shutil
import threading
from pathlib import Path

from shotlog.clock import Clock
from shotlog.settings import Settings
from shotlog.store.log.engine import file_of
from shotlog.store.log.journal_note import LOW_BYTES, Disk
from shotlog.store.log.journal_place import journal_place
from shotlog.wording.kept import space_said

__all__ = ["LOW_BYTES", "Space", "lowness"]

_EVERY_S = 10.0
_SHOT_BYTES = 3_600
_LINE_BYTES = 400
"""What a shot takes in the log, and in the journal: there without indices and verdicts."""
_ENOUGH_SHOTS, _ENOUGH_S = 500, 600.0
"""From so much on the growth of this run tells more than the usual."""

logger = logging.getLogger(__name__)


def lowness(free_bytes: int) -> int:
    """Return how low a disk is: 0 not, 1 low, 2 nearly full."""
    return sum(free_bytes < bound for bound in LOW_BYTES)


class Space:
    """Looks every few seconds, in a thread of its own; says once each when a disk gets low, and when nearly full.

    Who logs sets `n_logged`, the shots of this run, and `reserved`, the bytes that the journal has left beforehand.
    """

    def __init__(self, settings: Settings, clock: Clock) -> None:
        self._file, self._clock = file_of(settings.store), clock
        self._folders = {"the log": self._file.parent} if self._file is not None else {}
        self._folders["the journal"] = journal_place(settings).parent
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._go_on, name="space", daemon=True)
        self._began: tuple[float, int] | None = None
        self._said: dict[str, int] = {}
        self.n_logged = 0
        self.reserved = 0
        self.disks: tuple[Disk, ...] = ()

    def start(self) -> None:
        """Begin, beside whoever calls."""
        self._thread.start()

    def finish(self) -> None:
        """End; a disk that does not answer is not waited for."""
        self._stop.set()
        self._thread.join(_EVERY_S / 10)

    def look(self) -> tuple[Disk, ...]:
        """Look now; what cannot be looked at is left out."""
        size = 0 if self._file is None else _size(self._file)
        began_s, began_bytes = self._began = self._began or (self._clock.monotonic(), size)
        took_s, grown = self._clock.monotonic() - began_s, max(0, size - began_bytes)
        each = grown / self.n_logged if self.n_logged >= _ENOUGH_SHOTS and grown else _SHOT_BYTES
        rate = grown / took_s if took_s >= _ENOUGH_S else 0.0
        found: dict[int, Disk] = {}
        for what, folder in self._folders.items():
            reserve = self.reserved // _LINE_BYTES if what == "the journal" else None
            try:
                free, device = shutil.disk_usage(folder).free, folder.stat().st_dev
            except OSError:
                continue
            if device in found:
                what = f"{found[device].what} and {what}"
                folder = Path(found[device].folder)
            hours = free / rate / 3600.0 if rate else None
            found[device] = Disk(what, str(folder), free, int(free / each), hours, lowness(free), reserve)
        self.disks = tuple(found.values())
        self._say()
        return self.disks

    def _say(self) -> None:
        for disk in self.disks:
            said = self._said.get(disk.folder, 0)
            if disk.low > said:
                about = (disk.what, disk.folder, disk.free_bytes, disk.shots, disk.hours, disk.low, disk.reserve)
                logger.error("%s", space_said(*about))
            # only where there is room again by a margin may it be said anew: it goes up and down around a bound
            if disk.low > said or disk.free_bytes > 1.2 * LOW_BYTES[0]:
                self._said[disk.folder] = disk.low

    def _go_on(self) -> None:
        while True:
            try:
                self.look()
            except Exception:
                logger.exception("looking at the free space failed; logging goes on")
            if self._stop.wait(_EVERY_S):  # not by the clock: one that is driven by hand would be moved on by this
                return


def _size(file: Path) -> int:
    try:
        return file.stat().st_size
    except OSError:
        return 0
