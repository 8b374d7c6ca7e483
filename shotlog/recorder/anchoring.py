"""Writing the head of the log down outside of it: at the start, every quarter of an hour while it grows, at the end.

Beside the logging and never before it: the folder may be on another machine, and a network that hangs holds up nothing
but this.
"""

import logging
import threading
from pathlib import Path

from shotlog.clock import Clock
from shotlog.errors import StoreDamaged, StoreError, StoreGone
from shotlog.store.keeping.anchors import enter_anchor, is_there, standing_against, write_anchor
from shotlog.store.keeping.head import Head, head_of, uid_of
from shotlog.store.log.log import Log

__all__ = ["EVERY_S", "Anchoring"]

EVERY_S = 15 * 60.0
_SOON_S = 5.0
"""How often it is tried until the log is there to be written down: it may be opened, or begun, after this."""
_LAST_S = 2.0
"""At the end no longer than this: a folder that hangs holds up no stop."""

logger = logging.getLogger(__name__)


class Anchoring:
    """Writes the head of a log down in `folder` now and then; does nothing without one."""

    def __init__(self, log: Log, folder: Path | None, clock: Clock) -> None:
        self._log, self._folder, self._clock = log, folder, clock
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._go_on, name="anchoring", daemon=True)
        self._mine: Head | None = None
        self._complained = ""

    def start(self) -> None:
        """Begin, beside whoever calls."""
        if self._folder is not None:
            self._thread.start()

    def finish(self) -> None:
        """Write the last head down, and end."""
        self._stop.set()
        if self._thread.is_alive():
            self._thread.join(_LAST_S)

    def turn(self) -> bool:
        """Write the head down now, where it moved on by more than the entry that said so last time.

        Returns whether there was a log to write down, and a folder: a log that is just begun has no name before its
        first transaction, and one that is out of reach is opened later. The folder is looked at first, so that one that
        is misspelt is told at once.
        """
        if self._folder is None:
            return True
        if wrong := standing_against(self._folder):
            self._complain(_not_written(f"anchor {self._folder}: {wrong}"))
            return False
        new = not is_there(self._folder)
        try:
            head = head_of(self._log)
            if not head.links or uid_of(self._log) is None:
                return False
            if head == self._mine:
                return True
            anchor = write_anchor(self._log, self._folder, "run", self._clock.now())
            if new:
                logger.warning("%s was not there and is made: the head of the log is written down in it", self._folder)
            if anchor is not None:
                enter_anchor(self._log, anchor)
            after = head_of(self._log)
            self._mine = after if anchor is None or after.links == anchor.head.links + 1 else None
        except StoreGone:
            return False  # whoever stores says so
        except StoreDamaged as error:
            self._complain(f"{error}; nothing is written down of it any more: run `shotlog verify`")
        except StoreError as error:
            self._complain(_not_written(error))
        else:
            self._complained = ""
        return True

    def _go_on(self) -> None:
        while True:
            there = self.turn()
            if self._clock.wait(self._stop, EVERY_S if there else _SOON_S):
                break
        self.turn()

    def _complain(self, text: str) -> None:
        if text != self._complained:
            logger.error("%s", text)
        self._complained = text


def _not_written(why: object) -> str:
    return f"the head of the log is not written down outside: {why}; logging goes on, tried again later"
