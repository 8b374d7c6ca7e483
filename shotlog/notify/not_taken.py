"""Why a message was not taken, in words of our own.

What the library says of a failure may hold any part of an address, and goes nowhere. It is only searched for what kind
of failure it is, and that is said in words that are all written here.
"""

import logging
import re
import threading
from collections.abc import Iterator
from contextlib import contextmanager

__all__ = ["NotTaken", "listened", "why_not"]

_LIBRARY = "apprise"
_LONGEST = 2_000
_KINDS = (
    (r"connection refused|errno 111|winerror 10061", "connection refused: nothing listens there"),
    (r"timed out|timeout", "no answer in time"),
    (r"failed to resolve|name resolution|getaddrinfo|not known|nodename", "its name is found by no name server"),
    (r"certificate", "its certificate is not believed"),
    (r"error=40[13]\b|\(53[45],|authentication", "it refuses the user, password or token"),
    (r"unreachable|no route to host", "no way through the network"),
    (r"connection (?:reset|aborted)|unexpectedly closed", "it hung up"),
)
_STATUS = re.compile(r"\berror=([1-5]\d\d)\b")
_UNKNOWN = "the library that sends it does not say why"


class NotTaken(Exception):
    """A receiver did not take a message; `why`, in a few words that show nothing of its address."""

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why


def why_not(heard: list[str]) -> str:
    """Return why a message was not taken, from what the library said.

    Examples
    --------
    >>> why_not(["Socket Exception: host hush: [Errno 111] Connection refused"])
    'connection refused: nothing listens there'
    >>> why_not(["Failed to send JSON POST notification: error=503."]), why_not(["hush"])
    ('it answered with error 503', 'the library that sends it does not say why')
    """
    text = "\n".join(heard)
    for pattern, said in _KINDS:
        if re.search(pattern, text, re.IGNORECASE):
            return said
    status = _STATUS.search(text)
    return _UNKNOWN if status is None else f"it answered with error {status[1]}"


class _Ear(logging.Handler):
    """Takes what is said in a thread that listens, and drops all else."""

    def __init__(self) -> None:
        super().__init__()
        self.now = threading.local()

    def emit(self, record: logging.LogRecord) -> None:
        heard: list[str] | None = getattr(self.now, "heard", None)
        if heard is not None:
            heard.append(record.getMessage()[:_LONGEST])


_EAR = _Ear()


@contextmanager
def listened() -> Iterator[list[str]]:
    """Yield a list that takes what the library says in this thread; nobody else hears it."""
    library = logging.getLogger(_LIBRARY)
    library.propagate, library.handlers = False, [_EAR]
    library.setLevel(logging.DEBUG)
    heard: list[str] = []
    _EAR.now.heard = heard
    try:
        yield heard
    finally:
        _EAR.now.heard = None
