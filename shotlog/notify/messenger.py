"""The process beside `shotlog run` that sends: it reads the log as it grows, and the logger waits for nothing of it."""

import logging
import threading
import traceback
from collections.abc import Callable
from datetime import timedelta

from shotlog.clock import Clock
from shotlog.errors import StoreError
from shotlog.notify.lifeline import Lifeline
from shotlog.notify.online import end_of, online_of
from shotlog.notify.own_log import OwnLog
from shotlog.notify.sender import Sender
from shotlog.notify.shop_facts import Gone
from shotlog.notify.teller import Teller
from shotlog.settings import Settings
from shotlog.store.asked.heartbeat import STALE_S
from shotlog.store.asked.logger_state import Listening, LoggerState
from shotlog.store.log.journal_place import noted

__all__ = ["Messenger"]

_LOOK_S = 0.1
"""How often the log is looked into: what a message waits for at most, beside the broker."""
_HEAR_S = 1.0
_END_S = 3.0
"""How long what is left may take when the logger has ended as asked: whoever ended it waits."""
_DEAD_S = 600.0
"""The same when it has died: nobody waits, and a broker that is away still shows it as at work."""

logger = logging.getLogger(__name__)


class Messenger:
    """Sends until the logger's process is gone.

    Parameters
    ----------
    sender
        What sends to the broker; None where none is configured.
    teller
        What tells people; None where nobody is to be told.
    log
        The log of the teller; the sender, which works in a thread of its own, has its own.
    process
        The number of the logger's.
    asked
        Whether this process alone was asked to end, as by a signal.
    """

    def __init__(
        self,
        settings: Settings,
        clock: Clock,
        lifeline: Lifeline,
        sender: Sender | None,
        teller: Teller | None,
        log: OwnLog,
        wake: threading.Event,
        process: int,
        asked: Callable[[], bool] = lambda: False,
    ) -> None:
        self._settings, self._clock, self._lifeline = settings, clock, lifeline
        self._sender, self._teller, self._log = sender, teller, log
        self._wake, self._process, self._asked = wake, process, asked
        self._listening = Listening(clock, noted=lambda: noted(settings))
        self._began = clock.monotonic()
        self._stop = threading.Event()
        self._complained: set[tuple[object, ...]] = set()
        self._sending = threading.Thread(target=self._send_on, name="sending", daemon=True)
        self.presses: tuple[str | None, ...] = (*(one.name for one in settings.presses), None)

    def run(self) -> None:
        """Send until the logger has ended or died, or this process is asked to end."""
        if self._sender is not None:
            self._sender.start()
            self._sending.start()
        while not self._lifeline.ended.is_set() and not self._asked():
            self.turn()
            self._clock.wait(self._lifeline.ended, _HEAR_S)
        self._stop.set()
        self._wake.set()
        if self._sender is not None:
            self._sending.join()
        self.finish()

    def turn(self) -> None:
        """Look how it stands with the logger, and what people are to be told; about once a second."""
        state = self.hear()
        self._tell(self._gone(state))
        if self._sender is not None:
            for press in self.presses:
                self._sender.say(online_of(press, state, self._is_new))

    @property
    def _is_new(self) -> bool:
        """Whether the logger may have been started a moment ago, and gave no sign of life yet."""
        return self._clock.monotonic() - self._began < STALE_S

    def _send_on(self) -> None:
        """Send to the broker, apart from all else: a question to the log that takes long must delay no message."""
        while self._sender is not None and not self._stop.is_set():
            try:
                if not self._sender.turn():
                    self._wake.wait(_LOOK_S)
            except Exception as error:  # noqa: BLE001  (told below, with where)
                self._complain("sending to the broker", error)
                self._clock.wait(self._stop, _HEAR_S)
            self._wake.clear()

    def finish(self) -> None:
        """Say how it ended, and end."""
        is_gone, now = self._lifeline.ended.is_set(), self._clock.now()
        has_died = is_gone and not self._lifeline.said_farewell
        if has_died:
            logger.error("the logger has died, or was killed: it said nothing of its end; nothing is logged")
        dead = Gone(now, "it died or was killed, and said nothing of its end") if has_died else None
        self._tell(dead)
        if self._sender is not None:
            stands = [end_of(press, has_died, now) for press in self.presses] if is_gone else []
            self._sender.end(stands, *((_DEAD_S, self._has_successor) if has_died else (_END_S,)))
        self._tell_the_rest(dead)
        self._log.close()

    def _gone(self, state: LoggerState | None) -> Gone | None:
        """Return what is wrong with the logger: it hangs, or does not read a press."""
        if state is None or state.sign is None or self._is_new:
            return None
        if state.state == "stale":
            return Gone(state.sign.time, "it hangs: it gave no sign of life since, and did not say that it ends")
        if state.state == "silent press":
            since = state.sign.time - timedelta(seconds=max(state.sign.silent.values()))
            return Gone(since, "what reads it hangs, while the logger is at work", tuple(sorted(state.sign.silent)))
        return None

    def _tell(self, gone: Gone | None) -> None:
        """Tell people what changed; nothing that goes wrong with it may end this."""
        if self._teller is None:
            return
        try:
            self._teller.look(gone)
        except StoreError as error:
            self._log.forget(error)
        except Exception as error:  # noqa: BLE001  (told below, with where)
            self._complain("telling people", error)

    def _complain(self, what: str, error: Exception) -> None:
        """Say once how a mistake of ours came about: it may come again each second for days."""
        place = traceback.extract_tb(error.__traceback__)[-1]
        kind = (what, type(error).__name__, place.filename, place.lineno)
        if kind not in self._complained:
            self._complained.add(kind)
            logger.error("%s failed; it is tried again, and this is said once", what, exc_info=error)

    def _tell_the_rest(self, dead: Gone | None) -> None:
        """Let the last messages out: of a dead logger until they are taken, for nobody waits for this to end."""
        if self._teller is None:
            return
        until = self._clock.monotonic() + (_DEAD_S if dead is not None else _END_S / 2)
        while self._teller.waits and self._clock.monotonic() < until:
            if dead is not None and self._has_successor():
                break
            self._clock.wait(threading.Event(), _LOOK_S)
            self._tell(dead)
        self._teller.close(_END_S / 2)

    def _has_successor(self) -> bool:
        """Say whether another logger is at work, whose own messenger says how it stands."""
        now = self.hear()
        is_at_work = now is not None and now.state in ("running", "log not written", "silent press")
        return is_at_work and now is not None and now.sign is not None and now.sign.process != self._process

    def hear(self) -> LoggerState | None:
        """Return how it stands with the logger; None where neither its log nor its journal can be read."""
        try:
            return self._listening.look(self._log())
        except StoreError as error:
            self._log.forget(error)
        state = self._listening.look(None)
        return None if state.sign is None else state
