"""What a start of the recorder puts on record: the configuration in force, and the channels that are read otherwise.

A level that jumps because a scale was corrected looks like any other change. So each channel is held against how it was
read when the press made its last shot, and what differs is entered before its next one: the call and the charts begin
anew there, and hold nothing learnt in the old scale against the new.
"""

import hashlib
import json
import logging
import os
import platform
from collections.abc import Sequence
from datetime import datetime
from math import inf

from shotlog import __version__
from shotlog.clock import Clock
from shotlog.collectors.channel_maps import channel_maps, map_changes, set_point_maps
from shotlog.entries import MAP
from shotlog.errors import StoreError
from shotlog.recorder.basis import basis
from shotlog.records import Event, Shot, Start
from shotlog.settings import Settings
from shotlog.store.inserts.entries import note
from shotlog.store.log.journal import Spooled
from shotlog.store.log.log import Log
from shotlog.store.log.starts import map_before
from shotlog.withheld import without_secrets

__all__ = ["Started", "start_of"]

_AGAIN_S = 5.0
"""Pause after the log could not be read, in seconds."""

logger = logging.getLogger(__name__)


def start_of(settings: Settings, time: datetime, put_right: bool = False) -> Start:
    """Return the record of a start under a configuration, whose text is read again from its file.

    `put_right`: it is no start of the process, which goes on in a log that was put right.
    """
    try:
        text = without_secrets(settings.file.read_text(encoding="utf-8", errors="replace"))
    except OSError as error:
        text = f"# could not be read at the start: {error.strerror}"
    text = text.replace("\0", "")
    return Start(
        time,
        __version__,
        basis(settings.designs, settings.false_calls),
        text,
        hashlib.sha256(text.encode()).hexdigest(),
        json.dumps(_maps(settings), sort_keys=True),
        platform.node(),
        f"{os.getpid()}, going on in a log that was put right" if put_right else str(os.getpid()),
    )


def _maps(settings: Settings) -> dict[str, dict[str, dict[str, object]]]:
    """Return how each channel and each set-point of each press is read."""
    set_points = set_point_maps(settings)
    return {press: own | set_points[press] for press, own in channel_maps(settings).items()}


class Started:
    """Holds the channel maps in force against those before, and tells each press at its first shot what differs.

    While the log is out of reach nobody knows how a press was read before. That is looked up once the log can be read,
    and then entered for the first shot that was read otherwise, which nobody has judged yet.
    """

    def __init__(self, log: Log, settings: Settings, clock: Clock, start: Start) -> None:
        self._log, self._clock, self._maps, self._start = log, clock, channel_maps(settings), start
        self._unknown = set(self._maps)
        self._changed: dict[str, str] = {}
        self._due = -inf

    def look_up(self) -> None:
        """Read how the presses were read before, of those of which it is not known yet.

        To be asked while nothing waits for the log: what waits was read before as well.
        """
        if not self._unknown or self._clock.monotonic() < self._due:
            return
        try:
            for press in sorted(self._unknown):
                self._look_up(press)
                self._unknown.discard(press)
        except StoreError as error:
            self._due = self._clock.monotonic() + _AGAIN_S
            logger.error("%s; whether a channel is read otherwise than before is looked up later", error)

    def beside(self, batch: Sequence[Spooled]) -> list[Spooled]:
        """Return a batch with the entry of each press whose channels are read otherwise before its first shot."""
        found: list[Spooled] = []
        for record in batch:
            if isinstance(record, Shot) and record.press in self._changed:
                said = self._changed.pop(record.press)
                found.append(Event(record.press, record.shot, MAP, said, record.time))
            found.append(record)
        return found

    def _look_up(self, press: str) -> None:
        now = self._maps[press]
        before, first = map_before(self._log, press, set(now), self._start)
        said = ", ".join(map_changes(before, now))
        if said and first is not None:
            note(self._log, press, MAP, said, self._clock.now(), at_shot=first)
        elif said:
            self._changed[press] = said
