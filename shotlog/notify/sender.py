"""What comes into the log, sent to a broker in its order; how far, the log itself knows, by a cursor.

The cursor moves only behind what the broker has acknowledged. So an outage of the broker, of this process or of the
logger leaves nothing out: what came meanwhile is read from the log again. Twice comes what was acknowledged and not yet
written down as such when this process was killed (a second's worth, some hundred at most), and what was on its way when
a connection was lost; its ``id`` is the same then.

A broker that meets this log for the first time is sent what comes from the start of this logger on, and how each press
stands; no history, however long that is.
"""

import json
import logging
from collections import deque
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field
from math import inf
from threading import Event

from shotlog.clock import Clock
from shotlog.errors import StoreError
from shotlog.notify.documents import Document
from shotlog.notify.feed import Feed, Item
from shotlog.notify.mqtt_line import Line, Will
from shotlog.notify.online import Online, last_will
from shotlog.notify.own_log import OwnLog
from shotlog.notify.topics import topic
from shotlog.settings import DesignSettings
from shotlog.store.asked.cursors import cursor, note_broker, save_cursor
from shotlog.store.asked.log_place import Place, stands_in, start_place
from shotlog.store.log.log import Log

__all__ = ["RECEIVER", "Sender", "payload_of"]

RECEIVER = "mqtt"
"""The cursor's name, and that of the receiver whose messages are sent here."""

_SAVE_S, _SAVE_SOON_S, _SAVE_ITEMS = 1.0, 0.1, 200
"""How often the cursor is written, and how often where so many were acknowledged since, as after an outage: each time
takes the log's lock for some milliseconds."""
_AGAIN_S = 5.0
"""Pause after the log could not be read or written."""
_PATIENCE_S = 3.0
"""How long a broker may be away before a word is said of it."""
_SAVING_PATIENCE_S = 60.0
"""The same of the cursor: the logger says itself that the log cannot be written, and mostly it can be again soon."""
_TURN_S, _AWAY_S = 0.02, 0.5

_RETAINED = {"link", "verdict"}

logger = logging.getLogger(__name__)


@dataclass(slots=True)
class _End:
    """One press's line, and what the broker lacks that is at the other end of it."""

    line: Line
    online: Online
    greeted: bool = True
    lacks: set[str] = field(default_factory=set)


class Sender:
    """Sends what comes into the log of some presses; every call returns soon, whatever the broker does.

    Parameters
    ----------
    shown
        The broker, as it may be named to people.
    log
        The log, open for writing.
    line
        Makes what sends for a press, or, for None, for the logger itself.
    process
        That of the logger whose shots are sent.
    """

    def __init__(
        self,
        shown: str,
        site: str,
        presses: Collection[str],
        designs: Mapping[str, DesignSettings],
        log: OwnLog,
        line: Callable[[str | None, Will], Line],
        clock: Clock,
        process: int,
    ) -> None:
        self._shown, self._site, self._presses, self._designs = shown, site, presses, designs
        self._log, self._clock, self._process = log, clock, process
        self._ends = {
            press: _End(line(press, self._will(press)), Online(press, "starting")) for press in (*presses, None)
        }
        self._said: dict[str | None, Online] = {}
        self._open: Log | None = None
        self._feed: Feed | None = None
        self._place: Place | None = None
        self._read = Place()
        self._queue: deque[Item] = deque()
        self._out: deque[tuple[Place, Callable[[], bool]]] = deque()
        self._saved: Place | None = None
        self._n_unsaved = 0
        self._save_due = self._read_due = -inf
        self._trouble = self._noted = ""
        self._trouble_since: float | None = None
        self._unsaved_since: float | None = None
        self._complained: set[str] = set()
        self._has_noted = self._is_caught_up = False

    def start(self) -> None:
        """Begin to connect."""
        for end in self._ends.values():
            end.line.start()

    def say(self, online: Online) -> None:
        """Take how it stands with a press, from any thread; it is sent where that has changed."""
        self._said[online.press] = online

    def _take_said(self) -> None:
        for press, end in self._ends.items():
            online = self._said.pop(press, None)
            if online is not None and online.state != end.online.state:
                end.online, end.greeted = online, False

    def turn(self) -> bool:
        """Send what there is room for; return whether there may be more to send at once."""
        self._take_said()
        for end in self._ends.values():
            knew_us = end.line.came_up()
            if knew_us is not None:
                end.greeted = False
                if not knew_us:  # it may have lost what it retained as well
                    end.lacks = set(_RETAINED) if end.online.press is not None else set()
        self._greet()
        self._take_acknowledged()
        sent = False
        if self._clock.monotonic() >= self._read_due:
            try:
                sent = self._send_on()
                self._complained.discard("reading")
            except StoreError as error:
                self._log.forget(error)
                self._read_due = self._clock.monotonic() + _AGAIN_S
                self._complain("reading", f"{error}; what comes is sent to {self._shown} once it can be read")
        self._save()
        self._tell_of_broker()
        return sent

    def end(self, onlines: Collection[Online], seconds: float, is_over: Callable[[], bool] | None = None) -> None:
        """Send what is still to be sent, and then how it stands from now on, for up to `seconds`; then disconnect.

        `is_over`: asked now and then whether a broker that is away need not be waited for any more; None: it is not.
        """
        until = self._clock.monotonic() + seconds
        self._go_on_until(lambda: self._is_caught_up, until, is_over)
        for online in onlines:
            self.say(online)
        self._go_on_until(self._is_told, until, is_over)
        self._save_due = -inf
        self._save()
        for end in self._ends.values():
            end.line.end(cleanly=end.greeted and end.line.is_idle)

    def _is_told(self) -> bool:
        return all(end.greeted and end.line.is_idle for end in self._ends.values())

    def _go_on_until(self, is_done: Callable[[], bool], until: float, is_over: Callable[[], bool] | None) -> None:
        self.turn()
        while not is_done() and self._clock.monotonic() < until:
            is_away = all(end.line.trouble for end in self._ends.values())
            if is_away and (is_over is None or is_over()):
                return
            self._clock.wait(Event(), _AWAY_S if is_away else _TURN_S)
            self.turn()

    def _will(self, press: str | None) -> Will:
        return topic(self._site, press, "online"), payload_of(last_will(press).document)

    def _greet(self) -> None:
        """Say how it stands where that has changed, or the broker was away; after all that was sent before."""
        for press, end in self._ends.items():
            if not end.greeted and end.line.is_idle:
                end.line.send(topic(self._site, press, "online"), payload_of(end.online.document), retain=True)
                end.greeted = True

    def _take_acknowledged(self) -> None:
        while self._out and self._out[0][1]():
            self._place = self._out.popleft()[0]
            self._n_unsaved += 1
        if self._place is not None and not self._out and not self._queue:
            self._place = self._read

    def _send_on(self) -> bool:
        feed = self._feed_of(self._log())
        if not self._queue:
            if not any(end.line.has_room for end in self._ends.values()):
                return False  # nobody is there: what comes stays in the log
            items, behind = feed.after(self._read)
            self._queue.extend(items)
            moved, self._read = behind != self._read, behind
            self._is_caught_up = not moved and not self._out
            if not moved:
                self._send_standing(feed)
                return False
        while self._queue:
            item = self._queue[0]
            end = self._ends[item.press]
            if not (end.greeted and end.line.has_room):
                return False
            self._out.append((item.place, self._send(end, item)))
            self._queue.popleft()
        return True

    def _send_standing(self, feed: Feed) -> None:
        """Send what a broker that has forgotten us retains no more, and what has not come by itself meanwhile."""
        if self._out:
            return
        for press, end in self._ends.items():
            if press is not None and end.lacks and end.greeted and end.line.has_room:
                for item in feed.standing(press):
                    if item.document["type"] in end.lacks:
                        self._send(end, item)
                end.lacks.clear()

    def _send(self, end: _End, item: Item) -> Callable[[], bool]:
        what = item.document["type"]
        if what == "verdict" and not item.document["newest"]:
            what = "rejudged"
        end.lacks.discard(what)
        return end.line.send(topic(self._site, item.press, what), payload_of(item.document), what in _RETAINED)

    def _feed_of(self, log: Log) -> Feed:
        """Return the feed of the log as it is open now; another one in its place is begun as one never met."""
        if self._feed is not None and log is self._open:
            return self._feed
        place = self._place if self._place is not None else cursor(log, RECEIVER)
        with log.reading() as connection:
            if place is None or not stands_in(connection, place):
                place = start_place(connection, self._process)
                self._queue.clear()
                self._out.clear()
                self._read = place
            elif self._place is None:
                self._read = place
        self._place = place
        self._open, self._feed = log, Feed(log, self._presses, self._designs, self._site)
        return self._feed

    def _save(self) -> None:
        now = self._clock.monotonic()
        soon_s = _SAVE_S - _SAVE_SOON_S if self._n_unsaved >= _SAVE_ITEMS else 0.0
        if self._place is None or self._place == self._saved or now < self._save_due - soon_s:
            return
        try:
            save_cursor(self._log(), RECEIVER, self._place, self._clock.now())
            self._saved, self._save_due, self._n_unsaved = self._place, now + _SAVE_S, 0
            self._unsaved_since = None
            self._complained.discard("saving")
        except StoreError as error:
            self._save_due = now + _AGAIN_S
            if self._unsaved_since is None:
                self._unsaved_since = now
            if now - self._unsaved_since >= _SAVING_PATIENCE_S:
                told = f"nothing that comes is missed by {self._shown}, and some comes twice if this is ended meanwhile"
                self._complain("saving", f"{error}; until it can be written, {told}")

    def _tell_of_broker(self) -> None:
        """Say once that the broker is away, and that it is back; `status` and the pages read it from the log."""
        trouble = next((end.line.trouble for end in self._ends.values() if end.line.trouble), "")
        now = self._clock.monotonic()
        since = self._trouble_since if self._trouble_since is not None else now
        self._trouble_since = since if trouble else None
        if (trouble and now - since < _PATIENCE_S) or (self._has_noted and trouble == self._noted):
            return
        if trouble and not self._noted:
            said = "the broker %s cannot be told (%s); what comes stays in the log and is sent once it answers"
            logger.error(said, self._shown, trouble)
        elif self._noted and not trouble:
            logger.error("the broker %s is reached again; what came meanwhile is sent now", self._shown)
        self._noted, self._has_noted = trouble, True
        try:
            note_broker(self._log(), trouble, self._clock.now())
        except StoreError:
            self._has_noted = False

    def _complain(self, about: str, said: str) -> None:
        if about not in self._complained:
            self._complained.add(about)
            logger.error("%s", said)


def payload_of(document: Document) -> bytes:
    """Return a document as it goes over the wire: JSON in UTF-8, on one line."""
    return json.dumps(document, ensure_ascii=False, allow_nan=False, separators=(",", ":")).encode()
