"""The messages beside the logging: a process of their own, which alone knows the broker and whoever else is told."""

import os
import subprocess
import threading
from collections.abc import Iterator
from contextlib import contextmanager

from shotlog.cli.beside import Beside
from shotlog.errors import UsageError
from shotlog.extras import need
from shotlog.own_python import own_environment, own_python
from shotlog.settings import Settings

__all__ = ["FAREWELL", "broker_said", "check_messages", "messages"]

FAREWELL = b"farewell\n"
"""What the process knows by that we end as asked; without it we have died. `shotlog.notify.lifeline` has the same (a
test compares): nothing of that room is loaded here."""
_LET_GO_S = 6.0
"""What is left is sent meanwhile; a broker that does not answer costs half of that."""


def check_messages(settings: Settings) -> None:
    """Refuse messages that cannot be sent from here.

    Raises
    ------
    UsageError
        What sends them is not installed; or two presses would send under one name.
    """
    if settings.messages is None:
        return
    need("messages", f"{settings.file}: [messages]")
    if settings.messages.broker is not None:
        from shotlog.notify.topics import refuse_alike

        try:
            refuse_alike([press.name for press in settings.presses])
        except UsageError as error:
            raise UsageError(f"{settings.file}: {error}") from error


def broker_said(settings: Settings) -> Iterator[str]:
    """Yield which broker is told of each press, and under which topics."""
    if settings.messages is None or settings.messages.broker is None:
        return
    from shotlog.notify.topics import all_below

    yield f"messages: to the broker {settings.messages.broker.shown}"
    for press in settings.presses:
        yield f"  {press.name}: {all_below(settings.messages.site, press.name)}"


@contextmanager
def messages(settings: Settings) -> Iterator[None]:
    """Send messages for the length of the block, where any are configured."""
    if settings.messages is None:
        yield
        return
    command = own_python("-m", "shotlog.notify", str(settings.file), "--logger", str(os.getpid()))

    def begin() -> "subprocess.Popen[bytes]":
        return subprocess.Popen(  # noqa: S603  (our own Python, its arguments ours; no shell)
            command, stdin=subprocess.PIPE, stderr=subprocess.PIPE, env=own_environment()
        )

    kept = Beside("the messages", begin, threading.Event(), farewell=FAREWELL, let_go_s=_LET_GO_S)
    kept.start()
    try:
        yield
    finally:
        kept.end()
