"""The server of the pages: how many may be connected, how long a request may take to arrive, and how large it may be.

Whoever opens connections and says nothing, or a byte a second, holds nobody up: a request that is not whole in time is
dropped, and where an address has more connections than it may, or all together have, the one goes that has waited
longest with no whole request, or else the one that has taken nothing of its answer for longest; never the newest. So
somebody new always gets in, and is answered before others are done being slow.
"""

import logging
import socket
import ssl
from collections import Counter
from contextlib import suppress
from copy import copy
from functools import cache
from pathlib import PurePath
from time import time
from typing import Any

from waitress.adjustments import Adjustments
from waitress.channel import HTTPChannel
from waitress.parser import HTTPRequestParser, ParsingError
from waitress.server import MultiSocketServer, TcpWSGIServer
from waitress.task import ThreadedTaskDispatcher
from waitress.wasyncore import close_all

from dashboard.health import PATH as HEALTH
from dashboard.shared.picture_route import PATH as PICTURES
from dashboard.walls.refusing import Refusing, one_line
from dashboard.walls.sealed import SealedChannel
from shotlog.settings import WallSettings
from shotlog.store.parts.picture_bytes import MOST_BYTES

__all__ = ["MOST_BODY", "MOST_CONNECTIONS", "MOST_OF_ONE", "server"]

MOST_CONNECTIONS = 120
MOST_OF_ONE = 30
"""Connections in all, and of one address: a browser opens six, and a screen in the office has a few tabs. A proxy in
front, from which all come, may have as many as all together."""
HEAD_S = 10.0
WHOLE_S = 120.0
"""Seconds from the first byte of a request, or from the connection, until its head is there, and until all of it is: a
picture of 8 MB over a poor wireless network takes a minute."""
_IDLE_S = 60
MOST_BODY = 256 * 1024
"""Bytes of a request that brings no picture; the largest that a page sends is a list of trials."""
_MOST_HEAD = 32 * 1024
_THREADS = 8

_waiting = logging.getLogger("waitress.queue")


class _Request(HTTPRequestParser):  # type: ignore[misc]  # the library has no types
    """A request as it comes in: only one for pictures may be large."""

    adj: Any
    path = ""
    """Of what is no request there is none, and the library asks for it all the same."""

    def parse_header(self, header_plus: bytes) -> None:
        try:
            super().parse_header(header_plus)
        except ValueError as error:  # of an address that the library takes apart and does not check
            raise ParsingError("no address") from error
        if not self.path.startswith(PICTURES):
            self.adj = _small(self.adj)


@cache
def _small(adjusted: Any) -> Any:
    small = copy(adjusted)
    small.max_request_body_size = MOST_BODY
    return small


class _Channel(HTTPChannel):  # type: ignore[misc]
    """A connection, which knows since when a request is under way."""

    parser_class = _Request

    def __init__(self, *how: Any, **more: Any) -> None:
        super().__init__(*how, **more)
        self.begun: float | None = self.creation_time

    def is_idle(self, now: float) -> bool:
        """Say whether nothing is to be done for it: it has sent no whole request, or does not take its answer."""
        if self.total_outbufs_len:
            return bool(now - self.last_activity > HEAD_S)
        return not self.requests

    def received(self, data: bytes) -> bool:
        if self.begun is None:
            self.begun = time()
        taken = bool(super().received(data))
        if self.request is None:
            self.begun = None
        return taken

    def drop(self) -> None:
        """Have the loop close it at its next turn, which has the sockets in its hands now.

        It turns to those that can be written to: whose other side takes nothing becomes one by being shut.
        """
        self.will_close = True
        with suppress(OSError):
            socket.socket.shutdown(self.socket, socket.SHUT_RDWR)  # not as TLS does it, in the midst of another thread

    def handle_error(self) -> None:
        """Close it on what nobody foresaw, which is told now and then: who sent that may send it again and again."""
        (file, function, line), kind, error, _ = self.compact_traceback()
        where = f"{function}, {PurePath(file).name} line {line}"
        self.server.refusing.note(
            f"a connection by a mistake of ours ({kind.__name__} in {where})", one_line(str(error))
        )
        self.handle_close()

    def is_late(self, now: float) -> bool:
        """Say whether a request takes longer than it may."""
        if self.begun is None or self.requests:
            return False
        has_head = self.request is not None and self.request.headers_finished
        return now - self.begun > (WHOLE_S if has_head else HEAD_S)


class _SealedChannel(SealedChannel, _Channel):
    """A connection over TLS."""


class _Server(TcpWSGIServer):  # type: ignore[misc]
    """Listens at one address."""

    channel_class = _Channel
    tls: ssl.SSLContext | None = None
    proxy = ""
    refusing = Refusing()

    def accept(self) -> Any:
        taken = super().accept()
        if taken is None or self.tls is None:
            return taken
        connection, address = taken
        connection.setblocking(False)
        return self.tls.wrap_socket(connection, server_side=True, do_handshake_on_connect=False), address

    def handle_accept(self) -> None:
        super().handle_accept()
        here = [one for one in self._map.values() if isinstance(one, _Channel) and not one.will_close]
        of_one = Counter(one.addr[0] for one in here)
        crowded = {address for address, n in of_one.items() if n > MOST_OF_ONE and address != self.proxy}
        if crowded or len(here) > MOST_CONNECTIONS:
            now, newest = time(), here[-1]
            found = [one for one in here if one is not newest and (not crowded or one.addr[0] in crowded)]
            # those that are served go last, and of each kind the one first that has done nothing for longest
            out = min(found, key=lambda one: (not one.is_idle(now), one.begun or one.last_activity))
            self.refusing.note("more connections than there may be", f"{of_one[out.addr[0]]} of {out.addr[0]}")
            out.drop()

    def maintenance(self, now: float) -> None:
        super().maintenance(now)
        for one in self.active_channels.values():
            if one.will_close:  # and is there yet: for the library it was idle for too long
                one.drop()
            elif one.is_late(now):
                self.refusing.note("a request that took too long to come", one.addr[0])
                one.drop()


class _Lanes:
    """The threads that answer; machines that watch the logger have one of their own, however busy the others are."""

    def __init__(self) -> None:
        self._all, self._health = ThreadedTaskDispatcher(), ThreadedTaskDispatcher()

    def begin(self) -> None:
        """Start the threads."""
        self._all.set_thread_count(_THREADS)
        self._health.set_thread_count(1)

    def add_task(self, channel: _Channel) -> None:
        """Have the first request of a connection answered."""
        (self._health if channel.requests[0].path == HEALTH else self._all).add_task(channel)

    def shutdown(self, cancel_pending: bool = True, timeout: float = 5.0) -> bool:
        """Let the threads end."""
        self._health.shutdown(cancel_pending, timeout)
        return bool(self._all.shutdown(cancel_pending, timeout))


def server(app: Any, host: str, port: int, walls: WallSettings, tls: ssl.SSLContext | None = None) -> Any:
    """Return a server that listens at every address that a host has.

    Raises
    ------
    ValueError
        The host has no address.
    OSError
        One of them cannot be listened on.
    """
    _waiting.setLevel(logging.ERROR)  # else each request that waits for a thread is a line in the log
    trusted: dict[str, Any] = {}
    if walls.proxy:
        said = {"x-forwarded-for", "x-forwarded-proto", "x-forwarded-host", "x-forwarded-port"}
        trusted = {"trusted_proxy": walls.proxy, "trusted_proxy_headers": said}
    adjusted = Adjustments(
        host=host,
        port=port,
        ident=None,
        url_scheme="http" if tls is None else "https",
        # counted here: the library would let nobody in any more
        connection_limit=10 * MOST_CONNECTIONS,
        cleanup_interval=1,
        channel_timeout=_IDLE_S,
        max_request_header_size=_MOST_HEAD,
        max_request_body_size=MOST_BYTES + 1024,
        log_socket_errors=False,
        clear_untrusted_proxy_headers=True,
        **trusted,
    )
    everything: dict[int, Any] = {}
    lanes, listening = _Lanes(), []
    try:
        for sockinfo in adjusted.listen:
            listening.append(_Server(app, everything, dispatcher=lanes, adj=adjusted, sockinfo=sockinfo))
    except OSError:
        close_all(everything, ignore_all=True)
        raise
    for one in listening:
        one.tls, one.proxy = tls, walls.proxy
        one.channel_class = _Channel if tls is None else _SealedChannel
    lanes.begin()
    if len(listening) == 1:
        return listening[0]
    effective = [(one.effective_host, one.effective_port) for one in listening]
    return MultiSocketServer(everything, adjusted, effective, lanes, listening[0].log_info)
