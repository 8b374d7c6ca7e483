"""Whether each press is logged: what stands, retained, under ``online``. Pure: how it stands with the logger goes in.

`online` is true only while the logger is known to be at work and to read the press: a lamp may go dark for nothing, and
must not be lit for nothing. Whether the press answers is another matter, and stands under ``link``.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal

from shotlog.clock import iso_utc
from shotlog.notify.documents import Document
from shotlog.store.asked.logger_state import LoggerState
from shotlog.wording.online import online_said

__all__ = ["Online", "OnlineState", "end_of", "last_will", "online_of"]

OnlineState = Literal["at work", "starting", "ended", "dead", "stale", "silent press", "unknown", "gone"]
_FAILED: dict[str, OnlineState] = {"ended": "ended", "stale": "stale"}


@dataclass(frozen=True, slots=True)
class Online:
    """How it stands with one press (None: with the logger) and since when."""

    press: str | None
    state: OnlineState
    since: datetime | None = None

    @property
    def document(self) -> Document:
        """What is sent of it."""
        return {
            "type": "online",
            "press": self.press,
            "time": None if self.since is None else iso_utc(self.since),
            "online": self.state == "at work",
            "state": self.state,
            "text": online_said(self.state, self.since, self.press),
        }


def online_of(press: str | None, logger: LoggerState | None, is_new: bool) -> Online:
    """Return how it stands while the logger's process is there.

    Parameters
    ----------
    logger
        How it stands with the logger; None where neither the log nor the journal can be read.
    is_new
        Whether the logger was started a moment ago: then a sign of life of an earlier run says nothing of this one.
    """
    if logger is None:
        return Online(press, "starting" if is_new else "unknown")
    sign = logger.sign
    if logger.state in ("running", "log not written", "silent press") and sign is not None:
        silent_s = None if press is None else sign.silent.get(press)
        if silent_s is not None:
            return Online(press, "silent press", sign.time - timedelta(seconds=silent_s))
        return Online(press, "at work", sign.since)
    if is_new:
        return Online(press, "starting")
    return Online(press, _FAILED.get(logger.state, "unknown"), logger.seen)


def end_of(press: str | None, has_died: bool, now: datetime) -> Online:
    """Return how it stands once the logger's process is gone."""
    return Online(press, "dead" if has_died else "ended", now)


def last_will(press: str | None) -> Online:
    """Return what the broker says by itself once nothing more comes from us: nobody knows since when."""
    return Online(press, "gone")
