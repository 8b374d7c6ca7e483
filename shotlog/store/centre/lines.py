"""The connections to a centre, which another thread may cut: a server that takes questions and never answers, for its
processes stand still, is waited for without end, and nobody who waits for the driver hears that they are to leave.
"""

import socket
import threading
from contextlib import suppress
from typing import Any

from sqlalchemy import Engine, event

from shotlog.errors import CentreAway

__all__ = ["Lines"]


class Lines:
    """The connections of engines that are watched; once cut, whatever waits on them fails, and no new one is made."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._open: dict[int, Any] = {}
        self._cut = False

    @property
    def are_cut(self) -> bool:
        """Whether they were cut."""
        return self._cut

    def watch(self, engine: Engine, where: str) -> None:
        """Take note of every connection of an engine; `where`: the server, as it may be shown."""

        @event.listens_for(engine, "do_connect")
        def refuse(*_: object) -> None:
            if self._cut:
                raise CentreAway(f"centre {where}: left, for it did not answer")

        @event.listens_for(engine, "connect", insert=True)  # before anything is asked
        def opened(connection: Any, _: object) -> None:
            with self._lock:
                self._open[id(connection)] = connection

        @event.listens_for(engine, "close")
        def closed(connection: Any, _: object) -> None:
            with self._lock:
                self._open.pop(id(connection), None)

    def cut(self) -> None:
        """Cut them all, from another thread than those that wait."""
        with self._lock:
            self._cut = True
            for connection in self._open.values():
                with suppress(Exception):  # it may be closed at this moment
                    _shut(connection.pgconn.socket)


def _shut(number: int) -> None:
    """End both directions of a socket, whose number stays with the driver."""
    line = socket.socket(fileno=number)
    try:
        line.shutdown(socket.SHUT_RDWR)
    finally:
        line.detach()
