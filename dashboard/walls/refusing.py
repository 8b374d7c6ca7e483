"""How a request is refused: one plain line to whoever asked, and now and then one in the log.

Whoever asks again and again must not fill the text log, in which what happened on the day is kept: of each kind of
refusal the first is told, and from then on one in a while, with how many there were.
"""

import logging
import threading
from collections.abc import Callable
from time import monotonic

import flask

__all__ = ["Refusing", "one_line"]

_QUIET_S = 60.0
_LONGEST = 100
"""Characters of what was sent that are shown: enough to see what it is."""

logger = logging.getLogger(__name__)


class Refusing:
    """Makes the answers to what is refused. `clock` in seconds, `tell` takes a line for the log."""

    def __init__(self, clock: Callable[[], float] = monotonic, tell: Callable[[str], None] = logger.warning) -> None:
        self._clock, self._tell = clock, tell
        self._lock = threading.Lock()
        self._told: dict[str, tuple[float, int]] = {}

    def refuse(self, status: int, what: str, words: str) -> flask.Response:
        """Return the answer to a request that is refused; `what` names the kind, for the log."""
        self.note(what, f"{flask.request.method} {one_line(flask.request.path)} from {flask.request.remote_addr}")
        return flask.Response(f"{words}\n", status, mimetype="text/plain")

    def note(self, what: str, about: str) -> None:
        """Tell the log that something was refused, unless it was told lately."""
        now = self._clock()
        with self._lock:
            last, since = self._told.get(what, (-_QUIET_S, 0))
            if now - last < _QUIET_S:
                self._told[what] = (last, since + 1)
                return
            self._told[what] = (now, 0)
        more = f", and {since} more since it was told last" if since else ""
        self._tell(f"the pages refused {what}: {about}{more}")


def one_line(text: str) -> str:
    """Return what somebody sent as it may be shown: on one line, in ASCII, cut short.

    Examples
    --------
    >>> one_line("evil\\ntest\\u2028")
    'evil\\\\ntest\\\\u2028'
    """
    plain = ascii(text)[1:-1]
    return plain if len(plain) <= _LONGEST else f"{plain[:_LONGEST]}..."
