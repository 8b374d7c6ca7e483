"""Looking at every page of the log's file, beside the logging: once at each start, and once a day.

A damaged page that no question meets would stay, and the log go on over it. Found here it is put right as one that was
met by a question is.
"""

import logging
import threading

from shotlog.errors import StoreDamaged
from shotlog.store.log.engine import file_of
from shotlog.store.log.every_page import EveryPage
from shotlog.store.log.log import Log

__all__ = ["Looking"]

_EVERY_S = 86_400.0
_AGAIN_S = 60.0
"""After a look that came to no end, or found something: what is put in its place is looked at as well."""
_LAST_S, _STEP_S = 1.0, 0.05
"""At the end no longer than this, in seconds, asked again each step: a disk that hangs holds up no stop."""

logger = logging.getLogger(__name__)


class Looking:
    """Looks at the pages of the log that lies at `store`; of a server, which looks itself, nothing is asked."""

    def __init__(self, log: Log, store: str) -> None:
        path = file_of(store)
        self._log, self._pages = log, None if path is None else EveryPage(path)
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._go_on, name="looking", daemon=True)
        self._found = ""

    def start(self) -> None:
        """Begin, beside whoever calls."""
        if self._pages is not None:
            self._thread.start()

    def finish(self) -> None:
        """Break off what is under way, and end."""
        self._stop.set()
        for _ in range(round(_LAST_S / _STEP_S)):
            if self._pages is None or not self._thread.is_alive():
                return
            self._pages.break_off()
            self._thread.join(_STEP_S)

    def turn(self) -> StoreDamaged | None:
        """Return what was found since the last turn; a log that is in trouble already is not looked at any more."""
        if self._pages is None:
            return None
        found, self._found = self._found, ""
        if self._log.trouble is not None:
            self._pages.break_off()  # another file is to take its place
            return None
        return StoreDamaged(f"log {self._log.url}: a page of its file is damaged ({found})") if found else None

    def look(self) -> bool:
        """Look now, and keep what is found for the next turn; return whether all of it is whole."""
        if self._pages is None or self._stop.is_set() or self._log.trouble is not None:
            return False
        damage = self._pages.damage()
        self._found = damage or ""
        return damage == ""

    def _go_on(self) -> None:
        while True:
            try:
                whole = self.look()
            except Exception:
                logger.exception("looking at the pages of the log failed; logging goes on")
                whole = True
            # not by the clock: one that is driven by hand would be moved on by this
            if self._stop.wait(_EVERY_S if whole else _AGAIN_S):
                return
