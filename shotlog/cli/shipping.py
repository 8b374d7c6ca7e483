"""The shipping beside the logging: a process of its own, which alone waits for the centre."""

import subprocess
import threading
from collections.abc import Iterator
from contextlib import contextmanager

from shotlog.cli.beside import Beside
from shotlog.cli.messages import FAREWELL
from shotlog.own_python import own_environment, own_python
from shotlog.settings import Settings

__all__ = ["shipping"]

_LET_GO_S = 3.0
"""What came last goes to the centre meanwhile; it waits in the log otherwise."""


@contextmanager
def shipping(settings: Settings) -> Iterator[None]:
    """Ship the log for the length of the block, where that is configured."""
    if settings.ship is None:
        yield
        return
    command = own_python("-m", "shotlog", "ship", str(settings.file), "--beside")

    def begin() -> "subprocess.Popen[bytes]":
        return subprocess.Popen(  # noqa: S603  (our own Python, its arguments ours; no shell)
            command, stdin=subprocess.PIPE, stderr=subprocess.PIPE, env=own_environment()
        )

    kept = Beside("the shipments", begin, threading.Event(), farewell=FAREWELL, let_go_s=_LET_GO_S)
    kept.start()
    try:
        yield
    finally:
        kept.end()
